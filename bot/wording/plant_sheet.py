"""What the bench's table knows of a plant, a fact a line: its range, its words, and where that is from."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from core.treatments.plant_facts import PlantFact

_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
_NAMES = {
    "pretreatment": "Seed first",
    "warm_days": "Warm",
    "cold_days": "Cold",
    "germination_days": "Germinates in",
    "cutting_season": "Cuttings in",
    "wood": "Wood",
    "hormone": "Hormone",
    "medium": "Medium",
    "weeks_to_root": "Roots in",
    "weaning_start": "Weaning from day",
}
_UNITS = {"per gram": "a gram", "celsius": "C"}


def sheet_lines(plant: str, facts: Sequence[PlantFact]) -> list[str]:
    """A line for each fact and one that says where they are from; nothing where nothing is known."""
    if not facts:
        return []
    lines = [f"{plant[:1].upper()}{plant[1:]}, by our table:"]
    for name, group in groupby(facts, key=lambda one: one.fact):
        lines.append(f"{_NAMES[name]}: {'; '.join(map(_said, group))}.")
    sources = dict.fromkeys(_how_known(one) for one in facts)
    lines.append(f"From {', '.join(sources)}. Your own records and the product's label win.")
    return lines


def _said(fact: PlantFact) -> str:
    if fact.fact == "cutting_season" and fact.low and fact.high:
        low, high = (_MONTHS[(int(month) - 1) % 12] for month in (fact.low, fact.high))
        return " ".join(filter(None, (low if low == high else f"{low} to {high}", _narrowed(fact))))
    if fact.low is None or fact.high is None:
        return fact.words.removeprefix("none: ").replace("_", " ") if fact.words != "none" else "nothing"
    if fact.high == 0:
        return "none needed"
    span = f"{fact.low:,g}" if fact.low == fact.high else f"{fact.low:,g} to {fact.high:,g}"
    unit = "" if fact.fact == "weaning_start" else _UNITS.get(fact.unit, fact.unit)
    return " ".join(filter(None, (span, unit, _narrowed(fact))))


def _narrowed(fact: PlantFact) -> str:
    return f"({fact.words})" if fact.words and fact.fact != "hormone" else fact.words


def _how_known(fact: PlantFact) -> str:
    return {"published": "published protocols", "from memory": "handbooks from memory"}.get(
        fact.how_known, fact.how_known
    )
