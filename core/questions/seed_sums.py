"""How much seed to sow for so many plants, and how many seeds to a cell.

Rules
1. Germination is the crew's own (a test, or seed lots counted), else the published share, else a plain half, said as such.
2. Grams are told only where the seeds in a gram are known.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import datetime

from core.answers import Answer, FiguresTold, Refused
from core.entries import Entry
from core.errors import BenchError
from core.figures import defaults
from core.figures.seed import CellSowing, GerminationTest, fill_cells, grams_of, seeds_per_cell, sow_for_chance
from core.figures.values import rooted_tallies
from core.questions.figured_lots import figured, of_plant, time_to_root
from core.storage import Books
from core.treatments.plant_facts import fact_of
from core.vocabulary.plants import candidates, genus, same_plant

_TEST = re.compile(r"\b(\d+)\s*(?:/|of|out of)\s*(\d+)\b")
_SHARE = re.compile(r"\b(\d{1,2}(?:\.\d+)?)\s*%")
_CELLS = re.compile(r"\b(\d+)\s*(?:-\s*)?cells?\b")
_LEAST_TESTED, _MOST_TESTED = 10, 400


@dataclass(frozen=True, slots=True, kw_only=True)
class Germination:
    """A share that comes up (or the test that says so), and what it rests on."""

    value: float | GerminationTest
    basis: str  # said | own | published | unknown
    hits: int = 0
    tried: int = 0
    source: str = ""

    @property
    def share(self) -> float:
        return self.value.share if isinstance(self.value, GerminationTest) else self.value


def how_much_seed(books: Books, entry: Entry, words: str, now: datetime) -> Answer:
    """Seeds, and grams where known, for the plants asked for; 9 in 10, beside plain division."""
    plant = entry.plant or plant_in(entry.rest or words)
    if plant is None or entry.count is None:
        return Refused(why="name_plant", facts={"example": "how much toyon seed for 60 plants"})
    germination = germination_of(books, plant, words)
    survival = defaults.number("stages", "growing_on", "mean")
    per_gram = fact_of(plant, "seeds_per_gram")
    try:
        need = sow_for_chance(entry.count, germination=germination.value, survival=survival)
    except BenchError as wrong:
        return Refused(why="sum_impossible", facts={"hint": str(wrong)})
    grams = [
        grams_of(need.seeds, per_gram=count) for count in (per_gram.high, per_gram.low) if count
    ] if per_gram is not None else []  # fmt: skip
    return FiguresTold(
        kind="seed",
        facts={
            "plant": plant,
            "wanted": entry.count,
            "seeds": need.seeds,
            "division": need.by_division,
            "grams": sorted(set(grams)),
            "per_gram_source": per_gram.cite() if per_gram else None,
            "survival": survival,
            "untrue": _untrue(plant),
        }
        | _germination_facts(germination),
    )


def how_many_to_a_cell(books: Books, entry: Entry, words: str, now: datetime) -> Answer:
    """Seeds to each cell for the usual share of filled cells, and what is left to thin."""
    plant = entry.plant or plant_in(entry.rest or words)
    share = _SHARE.search(words)
    if plant is None and share is None:
        return Refused(why="name_plant", facts={"example": "how many seeds per cell for toyon"})
    germination = germination_of(books, plant or "", words)
    found = seeds_per_cell(germination=germination.value)
    cells_said = _CELLS.search(words)
    cells = int(cells_said.group(1)) if cells_said else int(defaults.number("trays", "cells"))
    facts: dict[str, object] = {"plant": plant, "cells": cells, "filled": found.filled_share}
    facts |= _germination_facts(germination)
    if isinstance(found, CellSowing):
        filled = fill_cells(cells, seeds_each=found.seeds, germination=germination.share)
        facts |= {"seeds": found.seeds, "expected": round(filled.filled), "thin": round(filled.to_thin)}
    else:
        facts |= {"seeds": None, "most": found.most_seeds}
    return FiguresTold(kind="cells", facts=facts)


def germination_of(books: Books, plant: str, words: str) -> Germination:
    """What share comes up, by the best that is known of it."""
    test = _TEST.search(words)
    if test and _LEAST_TESTED <= int(test.group(2)) <= _MOST_TESTED and int(test.group(1)) <= int(test.group(2)):
        hits, tried = int(test.group(1)), int(test.group(2))
        return Germination(value=GerminationTest(germinated=hits, tested=tried), basis="said", hits=hits, tried=tried)
    said = _SHARE.search(words)
    if said and 0 < float(said.group(1)) < 100:
        return Germination(value=float(said.group(1)) / 100, basis="said")
    zone = books.crew.zone
    own = [lot for lot in of_plant(figured(books.lots(open_only=False), zone), plant) if lot.kind == "seed"]
    counts = rooted_tallies(own, settled_day=time_to_root(plant, own, kind="seed").day_of(0.9)) if own else None
    tried = sum(tally.tried for tally in counts.tallies) if counts else 0
    if counts and tried >= _LEAST_TESTED:
        hits = sum(tally.hits for tally in counts.tallies)
        if hits:
            test_of_ours = GerminationTest(germinated=hits, tested=tried)
            return Germination(value=test_of_ours, basis="own", hits=hits, tried=tried)
    fact = fact_of(plant, "germination_share")
    if fact is not None and fact.low is not None and fact.high is not None:
        middle = min((fact.low + fact.high) / 2, 0.98)
        return Germination(value=middle, basis="published", source=fact.cite())
    return Germination(value=0.5, basis="unknown")


def plant_in(words: str) -> str | None:
    """The plant that some words of a question name, the longest name first, or None."""
    row = words.lower().split()
    for length in (4, 3, 2, 1):
        for start in range(len(row) - length + 1):
            name = " ".join(row[start : start + length]).strip("?,.")
            if len(name) > 3 and (candidates(name) or genus(name)):
                return name
    return None


def _germination_facts(germination: Germination) -> dict[str, object]:
    test = germination.value if isinstance(germination.value, GerminationTest) else None
    ends = test.interval() if test else None
    return {
        "germination": germination.share,
        "basis": germination.basis,
        "hits": germination.hits,
        "tried": germination.tried,
        "source": germination.source,
        "range": [ends.low, ends.high] if ends else None,
    }


def _untrue(plant: str) -> str | None:
    """Seed of a cultivar or a hybrid does not come true."""
    if "'" in plant:
        return "cultivar"
    return "hybrid" if re.search(r"\bx\b|×|\bhybrid\b", plant) and not same_plant(plant, "") else None
