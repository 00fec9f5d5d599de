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
from core.figures.seed import (
    CellSowing,
    GerminationTest,
    fill_cells,
    grams_of,
    live_share,
    seeds_per_cell,
    sow_for_chance,
)
from core.figures.values import rooted_tallies
from core.questions.figured_lots import figured, of_plant, time_to_root
from core.storage import Books
from core.treatments.plant_facts import fact_of
from core.vocabulary.plants import candidates, genus, same_plant

_TEST = re.compile(r"\b(\d+)\s*(?:/|of|out of)\s*(\d+)\b")
_SHARE = re.compile(r"\b(\d{1,2}(?:\.\d+)?)\s*%")


def _percent_of(what: str) -> re.Pattern[str]:
    """A percent said of something, before or after its name: "purity 95%", "95% pure"."""
    number = r"(\d{1,3}(?:\.\d+)?)\s*%"
    return re.compile(rf"\b(?:{what})\b(?:\s+(?:is|of|at|test|rate))*\W{{0,3}}{number}|{number}\s*(?:of them\s+)?(?:{what})\b")


_OF_GERMINATION = _percent_of(r"germ\w*|viab\w*|up|came")
_OF_PURITY = _percent_of("pure|purity")
_OF_SURVIVAL = _percent_of(r"surviv\w*|live on|make it")
_A_GRAM = re.compile(r"\b(\d[\d,]*)\s*(?:seeds?\s*)?(?:per|/|to the|a|to a)\s*(?:g|gram|gramme)\b")
_AMOUNT = re.compile(r"\b(\d+(?:\.\d+)?)\s*(g|grams?|kg|oz|ounces?|lb|lbs|pounds?)\b")
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
    told_survival = _share_said(_OF_SURVIVAL, words)
    survival = told_survival or defaults.number("stages", "growing_on", "mean")
    told_a_gram = _A_GRAM.search(words)
    per_gram = None if told_a_gram else fact_of(plant, "seeds_per_gram")
    purity = _share_said(_OF_PURITY, words)
    try:
        need = sow_for_chance(entry.count, germination=germination.value, survival=survival)
    except BenchError as wrong:
        return Refused(why="sum_impossible", facts={"hint": str(wrong)})
    counts = [float(told_a_gram.group(1).replace(",", ""))] if told_a_gram else []
    if per_gram is not None:
        counts = [count for count in (per_gram.high, per_gram.low) if count]
    grams = [grams_of(need.seeds, per_gram=count, purity=purity or 1.0) for count in counts]
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
            "survival_said": told_survival is not None,
            "purity": purity,
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
    told = _share_said(_OF_GERMINATION, words)
    said = _SHARE.search(_OF_SURVIVAL.sub(" ", _OF_PURITY.sub(" ", words)))
    if told is None and said and 0 < float(said.group(1)) < 100:
        told = float(said.group(1)) / 100
    if told is not None:
        return Germination(value=told, basis="said")
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


def pure_live_seed(books: Books, entry: Entry, words: str, now: datetime) -> Answer:
    """Pure live seed of a bulk lot from its purity and germination, and the bulk for an amount of it."""
    purity, germination = _share_said(_OF_PURITY, words), _share_said(_OF_GERMINATION, words)
    shares = [float(one) / 100 for one in _SHARE.findall(words)]
    if len(shares) == 2 and (purity is None or germination is None):
        purity, germination = shares
    if purity is None or germination is None:
        return Refused(why="live_needs", facts={})
    amount = _AMOUNT.search(words)
    try:
        live = live_share(purity, germination)
    except BenchError as wrong:
        return Refused(why="sum_impossible", facts={"hint": str(wrong)})
    return FiguresTold(
        kind="live_seed",
        facts={
            "purity": purity,
            "germination": germination,
            "live": live,
            "amount": [float(amount.group(1)), amount.group(2)] if amount else None,
        },
    )


def will_it_come_true(books: Books, entry: Entry, words: str, now: datetime) -> Answer:
    """Whether seedlings of a plant are what their parent was: not of a cultivar, not of a hybrid."""
    plant = entry.plant or plant_in(entry.rest or words)
    if plant is None:
        return Refused(why="name_plant", facts={"example": "will seed of toyon come true"})
    return FiguresTold(kind="untrue", facts={"plant": plant, "why": _untrue(plant) or ""})


def _share_said(pattern: re.Pattern[str], words: str) -> float | None:
    found = pattern.search(words)
    if found is None:
        return None
    percent = float(next(filter(None, found.groups())))
    return percent / 100 if 0 < percent <= 100 else None


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
