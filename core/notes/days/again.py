"""On which days again and again: `every monday`, `each tue and thu`, `every day at 4pm`, `mondays and thursdays`."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import time
from typing import Final

from core.entries import WEEKDAYS
from core.notes.days.moments import Moment
from core.notes.words.pieces import Piece

EVERY: Final = frozenset({"every", "each"})
_DAILY: Final = frozenset({"day", "daily", "morning", "evening", "afternoon", "night"})
WHOLE_WEEK: Final = frozenset({"every day", "daily", "every morning", "every evening", "everyday", "each day"})


@dataclass(frozen=True, slots=True)
class Again:
    """The weekdays, the hour if one is said, and which pieces say so (from one place to before another)."""

    days: tuple[str, ...]
    clock: time | None
    spans: tuple[tuple[int, int], ...]


def find_again(pieces: list[Piece]) -> Again | None:
    """The days that come again and again, or None where none are named."""
    for place, piece in enumerate(pieces):
        end = place
        days: list[str] = []
        if piece.low in WHOLE_WEEK:
            days, end = list(WEEKDAYS), place + 1
        elif piece.low in EVERY and place + 1 < len(pieces):
            if pieces[place + 1].low in _DAILY:
                days, end = list(WEEKDAYS), place + 2
            else:
                days, end = _listed(pieces, place + 1)
        elif is_plural_day(piece):
            days, end = _listed(pieces, place)
        if days:
            start = place - 1 if place and pieces[place - 1].low in ("on", "for") else place
            clock, at = _clock(pieces, end, days_at=pieces[place:end])
            spans = ((start, end), at) if at is not None else ((start, end),)
            return Again(tuple(dict.fromkeys(days)), clock, spans)
    return None


def _listed(pieces: list[Piece], at: int) -> tuple[list[str], int]:
    days: list[str] = []
    end = at
    while end < len(pieces):
        moment = pieces[end].value if pieces[end].kind == "moment" else None
        if isinstance(moment, Moment) and moment.weekday is not None:
            days.append(WEEKDAYS[moment.weekday])
            end += 1
        elif days and pieces[end].low in ("and", "&", ",", "+", "every", "each") and is_weekday(pieces, end + 1):
            end += 1
        else:
            break
    return days, end


def is_weekday(pieces: list[Piece], at: int) -> bool:
    """Whether a day of the week stands at a place, which may lie past the end."""
    return at < len(pieces) and pieces[at].kind == "moment" and pieces[at].value.weekday is not None


def is_plural_day(piece: Piece) -> bool:
    """`saturdays`, `sats`: each of them; `tues` is one."""
    weekly = piece.kind == "moment" and piece.value.weekday is not None and piece.low.endswith("s")
    return weekly and piece.low not in ("tues", "thurs", "weds")


def _clock(pieces: list[Piece], end: int, days_at: list[Piece]) -> tuple[time | None, tuple[int, int] | None]:
    """The hour that goes with the days: said with them, or anywhere else."""
    for piece in days_at:
        if piece.kind == "moment" and piece.value.hour is not None:
            return _time(piece.value), None
    for place, piece in enumerate(pieces):
        if piece.kind == "moment" and piece.value.hour is not None and piece not in days_at:
            start = place - 1 if place and pieces[place - 1].low in ("at", "by") else place
            return _time(piece.value), (start, place + 1)
    return None, None


def _time(moment: Moment) -> time | None:
    hour = moment.hour or 0
    if moment.half in ("am", "pm"):
        hour = hour % 12 + (12 if moment.half == "pm" else 0)
    elif not moment.half and hour < 7:
        hour += 12
    return time(hour, moment.minute) if hour < 24 else None
