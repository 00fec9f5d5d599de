"""Of which scale degrees are that somebody texted without it: "its 88 in there", "hot water 180 on lot 31".

Rules
1. A number that nothing on a bench ever has in Celsius is Fahrenheit; water is never hotter than it boils.
2. Of any other number the scale is the one that the crew told of last, of the air or of a fridge; else it is asked.
3. The receipt says which was taken.
"""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Final

from core.conversation.heard import page
from core.entries import Act, Entry
from core.figures.measures import to_celsius
from core.notes import Reading
from core.records import in_order
from core.storage import Books

_NUMBER: Final = re.compile(r"(?<![\w./-])-?\d+(?:\.\d+)?(?![\w/-])")
_DEGREES: Final = re.compile(r"(?<![\w.])-?\d+(?:\.\d+)?")
"""A number that may have its scale after it (`88f`)."""
_HOTTEST_AIR: Final[float] = page("answers_heard")["degrees"]["hottest_air_c"]
_HOTTEST_WATER: Final = 100
"""Water boils there."""


def in_scale(books: Books, reading: Reading) -> tuple[Reading, tuple[str, ...]]:
    """The reading with the degrees whose scale is plain or known, and what the receipt tells of them."""
    entries, asks, took = list(reading.entries), list(reading.asks), list[str]()
    for place, entry in enumerate(entries):
        asked = [ask for ask in asks if ask.kind == "unit" and ask.entry in (place, None)]
        degrees = _degrees(entry) if asked and entry.temp_c is None else None
        scale = _scale(books, entry, degrees) if degrees is not None else None
        if degrees is None or scale is None:
            continue
        entries[place] = replace(entry, temp_c=in_celsius(degrees, scale), rest=_without(entry, degrees))
        asks = [ask for ask in asks if ask not in asked]
        took.append(f"{degrees:g} taken as {scale.title()}")
    return replace(reading, entries=tuple(entries), asks=tuple(asks)), tuple(dict.fromkeys(took))


def in_celsius(degrees: float, scale: str) -> float:
    """The degrees of a scale ("fahrenheit", "celsius") in Celsius, as a record has them."""
    return round(degrees if scale == "celsius" else to_celsius(degrees), 1)


def _degrees(entry: Entry) -> float | None:
    """The one number that the words left over have; None for any other entry than a reading or hot water."""
    if entry.act is not Act.TEMP and entry.treatment != "hot_water":
        return None
    numbers = _NUMBER.findall(entry.rest or "")
    return float(numbers[0]) if len(numbers) == 1 else None


def _scale(books: Books, entry: Entry, degrees: float) -> str | None:
    if degrees >= (_HOTTEST_AIR if entry.act is Act.TEMP else _HOTTEST_WATER + 1):
        return "fahrenheit"
    if entry.act is not Act.TEMP:
        return None
    told = [one for one in in_order(books.records(acts=("temp",))) if one.entry.temp_c is not None]
    return next((scale for one in reversed(told) if (scale := _scale_of(one.said, one.entry.temp_c or 0.0))), None)


def _scale_of(said: str, celsius: float) -> str | None:
    """The scale in which some words have the degrees of their record."""
    for number in _DEGREES.findall(said):
        for scale in ("fahrenheit", "celsius"):
            if in_celsius(float(number), scale) == celsius:
                return scale
    return None


def _without(entry: Entry, degrees: float) -> str | None:
    """The words left over without the degrees; of a reading nothing, as little words alone stand around them."""
    if entry.act is Act.TEMP:
        return None
    return re.sub(rf"(?<![\w.])-?{degrees:g}(?![\w.])", "", entry.rest or "").strip() or None


def degrees_in(said: str, rest: str) -> float | None:
    """The number that the words left over have, else that of the whole note; None where neither has one alone."""
    for words in (rest, said):
        numbers = _DEGREES.findall(words)
        if len(numbers) == 1:
            return float(numbers[0])
    return None
