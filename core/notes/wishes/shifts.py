"""Shifts one after another, each with people and hours of its own: `on sat ana is on from 9 until 11, bo from 11 to 2`.

Rules
1. Nothing but days, names, hours and small words of being there stands in it, and there are two shifts at least.
2. The people of each stand before its hours, or all of them after theirs (`sat 9-11 ana, 11-1 bo`).
3. A day that heads them holds until another is named; one that follows hours holds for those before it without a day.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import Any, Final

from core.entries import WEEKDAYS
from core.notes.days.again import EVERY, is_plural_day
from core.notes.days.moments import Moment, resolve_coming
from core.notes.days.roster_hours import hours_of
from core.notes.days.who import day_named, may_be_who
from core.notes.details.drafts import Draft
from core.notes.names.people import NAMELIKE
from core.notes.parting.clauses import Clause
from core.notes.words.pieces import Piece
from core.vocabulary.everyday import is_given_name
from core.vocabulary.loading import small_words

_SMALL: Final = frozenset().union(
    *(small_words("rosters", name) for name in ("verbs", "small", "leads", "shift", "around_shifts"))
)
_AND: Final = frozenset({",", "and", "&", "+", "/"})
_MARKS: Final = _AND | {";", "\n", ":", ".", "-", "(", ")"}
_TO: Final = frozenset({"-", "to", "till", "til", "until"})
_HALVES: Final = frozenset({"am", "pm"})
_BEFORE_HOUR: Final = frozenset({"from", "at", "@", "till", "til", "until", "by"})
_MOST: Final = 6
"""So many people are on one shift at most."""


@dataclass(slots=True)
class _Shift:
    """The people of some hours, and their days."""

    days: list[Moment] = field(default_factory=list)
    every: bool = False
    who: list[str] = field(default_factory=list)
    hours: list[Piece] = field(default_factory=list)

    def is_whole(self) -> bool:
        return bool(self.who and self.hours)


def shifts_told(pieces: list[Piece], now: datetime) -> list[Draft] | None:
    """The rosters of two shifts or more; None where anything else is told, or one lacks people, a day or hours."""
    shifts = _shifts(pieces)
    if shifts is None or len(shifts) < 2 or not all(shift.is_whole() and len(shift.who) <= _MOST for shift in shifts):
        return None
    return [draft for shift in shifts for draft in _drafts(shift, now)] if _give_days(shifts) else None


def _shifts(pieces: list[Piece]) -> list[_Shift] | None:
    """The shifts as they are told, each with the days that are told with it; None where anything else is told."""
    kinds = [kind for place in range(len(pieces)) if (kind := _kind(pieces, place)) in ("day", "name", "hours")]
    hours_first = "hours" in kinds and "name" not in kinds[: kinds.index("hours")]
    told = _Told(leads_with_day=kinds[:1] == ["day"], hours_first=hours_first)
    place = 0
    while place < len(pieces):
        kind, end = _kind(pieces, place), place + 1
        if kind == "hours":
            end = _hours_end(pieces, place)
            fits = told.hours(pieces[place:end])
        elif kind == "day":
            fits = told.day(pieces[place])
        elif kind == "name":
            fits = told.name(pieces[place])
        else:
            fits = kind == "small" and told.small(pieces[place])
        if not fits:
            return None
        place = end
    return told.shifts


def _kind(pieces: list[Piece], place: int) -> str | None:
    """What a piece tells of a shift: its day, hours or somebody's name, or that it is a small word; else None."""
    piece = pieces[place]
    if _hours_end(pieces, place) > place:
        return "hours"
    if day_named(piece) is not None:
        return "day" if piece.low not in NAMELIKE else None
    if piece.low in _SMALL | _MARKS | EVERY or (piece.roles and piece.roles.keys() <= {"filler"}):
        return "small"
    known = piece.kind in ("word", "phrase") and (piece.low in NAMELIKE or is_given_name(piece.low))
    return "name" if known or piece.kind == "person" or may_be_who(piece) else None


def _hours_end(pieces: list[Piece], place: int) -> int:
    """Where hours end that begin at a place (`9-12`, `9 to 12`, `8am until noon`); the place itself where none do."""
    clocks, end = 0, place
    while end < len(pieces) and clocks < 2:
        if _is_clock(pieces[end]):
            clocks += 1 + (pieces[end].kind == "number" and pieces[end].value.high is not None)
            end += 1 + (end + 1 < len(pieces) and pieces[end + 1].low in _HALVES)
        elif clocks and pieces[end].low in _TO and end + 1 < len(pieces) and _is_clock(pieces[end + 1]):
            end += 1
        else:
            break
    bare = clocks == 1 and pieces[place].kind == "number" and pieces[end - 1].low not in _HALVES
    return place if bare and not (place and pieces[place - 1].low in _BEFORE_HOUR) else end


def _is_clock(piece: Piece) -> bool:
    if piece.kind == "moment":
        return piece.value.hour is not None and not piece.value.names_day
    return piece.kind == "colon" or (piece.kind == "number" and piece.value.whole is not None)


class _Told:
    """The shifts told so far; each step says whether what comes next fits."""

    def __init__(self, *, leads_with_day: bool, hours_first: bool) -> None:
        self.shifts: list[_Shift] = [_Shift()]
        self._leads_with_day = leads_with_day
        self._hours_first = hours_first
        self._every = False
        self._before: list[Piece] = []
        self._last = ""

    def name(self, piece: Piece) -> bool:
        """Somebody of the shift that is told, or of the next one; two names beside each other are not two people."""
        shift = self._next() if self.shifts[-1].is_whole() and not self._hours_first else self.shifts[-1]
        fits = self._last != "name"
        shift.who.append(piece.low.removesuffix("'s"))
        self._before, self._last = [], "name"
        return fits

    def hours(self, pieces: list[Piece]) -> bool:
        """Hours of the people named before them, or of those to come."""
        shift = self._next() if self.shifts[-1].is_whole() and self._hours_first else self.shifts[-1]
        fits = not shift.hours and (bool(shift.who) or self._hours_first)
        shift.hours = [*self._before, *pieces]
        self._before, self._last = [], "hours"
        return fits and hours_of(shift.hours) is not None

    def day(self, piece: Piece) -> bool:
        """A day of the next shift where days lead, or where the one told has its own; else of the one told."""
        shift = self.shifts[-1]
        if shift.is_whole() and self._last != "day" and (self._leads_with_day or shift.days):
            shift = self._next()
        day = day_named(piece) or Moment()
        fits = not shift.days or (self._last == "day" and all(one.weekday is not None for one in (*shift.days, day)))
        shift.days.append(day)
        shift.every = shift.every or self._every or is_plural_day(piece)
        self._every, self._last = False, "day"
        return fits

    def small(self, piece: Piece) -> bool:
        """A mark or a small word; what leads to hours is kept for them."""
        self._every = self._every or piece.low in EVERY
        self._before.append(piece)
        if not (self._last == "day" and piece.low in _AND):
            self._last = ""
        return True

    def _next(self) -> _Shift:
        self.shifts.append(_Shift())
        return self.shifts[-1]


def _give_days(shifts: list[_Shift]) -> bool:
    """Gives each shift without a day that of the one before it, the first ones that of the next, in place; False where
    no day is told, or where either may be meant.
    """
    for place, shift in enumerate(shifts):
        after = next((one for one in shifts[place:] if one.days), None)
        before = shifts[place - 1] if place else None
        given = before or after
        if given is None:
            return False
        if not shift.days:
            shift.days, shift.every = given.days, given.every
    return True


def _drafts(shift: _Shift, now: datetime) -> list[Draft]:
    """The rosters of a shift: one for each of its days, or one for those of every week."""
    begins, ends = hours_of(shift.hours) or (None, None)
    told: dict[str, Any] = {"who": tuple(shift.who)}
    told.update({name: hour for name, hour in (("from_time", begins), ("until", ends)) if hour is not None})
    if shift.every:
        every = tuple(WEEKDAYS[day.weekday] for day in shift.days if day.weekday is not None)
        return [_draft({**told, "every": every})]
    found = [resolve_coming(replace(day, hour=None, minute=0, half="", part=""), now) for day in shift.days]
    return [_draft({**told, "on": day.date() if isinstance(day, datetime) else day}) for day in found]


def _draft(told: dict[str, Any]) -> Draft:
    draft = Draft("roster", None, [Clause("", [])])
    draft.extra = told
    return draft
