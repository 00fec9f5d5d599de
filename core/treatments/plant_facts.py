"""What is known of a plant on the bench: the lines of plants.csv, looked up by species, then genus, then `default`.

Rules
1. At each of these levels the line of the same wood wins over the line for any wood. Where nobody said the wood, the
   level's earliest line serves: a look too early costs a minute, one too late a tray.
2. A name that may be several plants is looked up by their genus, where they share one.
"""

from __future__ import annotations

import csv
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Final

from core.errors import BadTradeFile
from core.vocabulary.plants import botanical_name, genus, split_cultivar

ANY_PLANT: Final = "default"


@dataclass(frozen=True, slots=True, kw_only=True)
class PlantFact:
    """One line of plants.csv: a range in a unit, words that narrow it (wood, form) or say it, and its source."""

    plant: str
    fact: str
    low: float | None
    high: float | None
    unit: str
    words: str
    source: str
    how_known: str

    def cite(self) -> str:
        """The source with how it is known, where that is not plain."""
        return self.source if self.how_known == "published" else f"{self.source} ({self.how_known})"


@cache
def plant_facts() -> dict[str, dict[str, tuple[PlantFact, ...]]]:
    """Every fact, by plant in lower case and name of the fact. Raises BadTradeFile for a line that cannot be read."""
    text = files("core.treatments").joinpath("plants.csv").read_text(encoding="utf-8")
    found: dict[str, dict[str, list[PlantFact]]] = {}
    for row in csv.DictReader(line for line in text.splitlines() if line.strip() and not line.startswith("#")):
        try:
            one = _read_line(row)
        except (KeyError, TypeError, ValueError) as wrong:
            raise BadTradeFile(f"plants.csv: {row} cannot be read", hint="mend the line as the header says") from wrong
        found.setdefault(one.plant.lower(), {}).setdefault(one.fact, []).append(one)
    return {plant: {fact: tuple(lines) for fact, lines in facts.items()} for plant, facts in found.items()}


def _read_line(row: dict[str, str]) -> PlantFact:
    return PlantFact(
        plant=row["plant"].strip(),
        fact=row["fact"].strip(),
        low=float(row["low"]) if row["low"] else None,
        high=float(row["high"]) if row["high"] else None,
        unit=row["unit"].strip(),
        words=row["words"].strip(),
        source=row["source"].strip(),
        how_known=row["how_known"].strip(),
    )


def names_of(plant: str | None) -> Iterator[str]:
    """The names under which a plant as texted is looked up, nearest first, `default` last; all lower case."""
    if plant:
        plain = " ".join(split_cultivar(plant.lower())[0].split())
        yield plain
        accepted = botanical_name(plain)
        if accepted:
            yield accepted.lower()
        kind = genus(plain) or (plain.split(" ")[0] if plain else "")
        if kind:
            yield kind.lower()
    yield ANY_PLANT


def fact_of(plant: str | None, fact: str, wood: str | None = None) -> PlantFact | None:
    """The line that holds for this plant (as texted, or None) and wood, or None where not even `default` has one."""
    facts = plant_facts()
    for name in names_of(plant):
        lines = facts.get(name, {}).get(fact, ())
        for words in (wood, ""):
            same = next((line for line in lines if line.words == words), None) if words is not None else None
            if same is not None:
                return same
        if lines and wood is None:
            return min(lines, key=lambda line: (line.low is None, line.low or 0))
    return None


def known_of(plant: str, facts: Iterable[str]) -> tuple[PlantFact, ...]:
    """Of each of these facts the nearest lines of the plant's species or genus (`default` tells nothing of it)."""
    known = plant_facts()
    names = [name for name in names_of(plant) if name != ANY_PLANT]
    nearest = (next((lines for name in names if (lines := known.get(name, {}).get(fact))), ()) for fact in facts)
    return tuple(line for lines in nearest for line in lines)
