"""A list of who is there, by days: `on sat: mei, bram, kit`, `sat bram and mei, sun kit`, `tues 9-12 bao`.

Rules
1. Nothing but days, names and hours stands in it, and it opens with a day.
2. One name by itself beside a day is no roster: it needs hours or others with it.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import Any, Final

from core.notes.days.again import is_plural_day
from core.notes.days.moments import Moment, resolve_coming
from core.notes.days.roster_hours import hours_of
from core.notes.days.who import day_named, may_be_who
from core.notes.details.drafts import Draft
from core.notes.parting.clauses import Clause
from core.notes.words.pieces import Piece
from core.vocabulary.loading import small_words

_LEADS: Final = small_words("rosters", "leads")
_PARTS: Final = frozenset({",", ";", "and", "&", "+", "\n", ":", ".", "-", "n"})
_IN_HOURS: Final = frozenset({"-", "to", "till", "til", "until", "am", "pm"})


@dataclass(slots=True)
class _Shift:
    """The people of one day, or of some hours of it."""

    day: Moment
    who: list[str] = field(default_factory=list)
    hours: list[Piece] = field(default_factory=list)
    hours_last: bool = False


def listed_by_day(pieces: list[Piece], now: datetime, *, alone: bool = False) -> list[Draft] | None:
    """The rosters of a list that opens with a day; None where it holds anything else.

    `alone`: one name by itself is enough.
    """
    shifts: list[_Shift] = []
    place = 0
    while place < len(pieces):
        piece = pieces[place]
        day = day_named(piece)
        if is_plural_day(piece):
            return None
        end = _hours_end(pieces, place) if shifts else place
        if end > place:
            shifts[-1].hours.extend(pieces[place:end])
            shifts[-1].hours_last = bool(shifts[-1].who)
            place = end
            continue
        if day is not None:
            shifts.append(_Shift(day))
        elif piece.kind == "fraction" and shifts and day_named(pieces[place - 1]) is not None:
            shifts[-1].day = replace(shifts[-1].day, month=piece.value[0], day=piece.value[1])
        elif shifts and may_be_who(piece):
            if shifts[-1].hours_last:
                shifts.append(_Shift(shifts[-1].day))
            shifts[-1].who.append(piece.low)
        elif not (piece.low in _PARTS or (piece.low in _LEADS and not (shifts and shifts[-1].who))):
            return None
        place += 1
    named = [shift for shift in shifts if shift.who]
    if len(named) != len(shifts) or not (any(shift.hours for shift in shifts) or len(_everyone(shifts)) > (not alone)):
        return None
    drafts = [_draft(shift, now) for shift in shifts]
    return [draft for draft in drafts if draft is not None] if all(drafts) else None


def _hours_end(pieces: list[Piece], place: int) -> int:
    """Where hours end that begin at a place (`9-12`, `12-2`, `9 to 12`, `1-4 pm`); the place itself where none do."""
    end = place
    while end < len(pieces) and (_is_clock(pieces[end]) or (end > place and pieces[end].low in _IN_HOURS)):
        end += 1
    clocks = sum(
        1 + (piece.kind == "number" and piece.value.high is not None) for piece in pieces[place:end] if _is_clock(piece)
    )
    told = clocks > 1 or any(piece.kind == "moment" or piece.low in ("am", "pm") for piece in pieces[place:end])
    return end if told else place


def _everyone(shifts: list[_Shift]) -> list[str]:
    return [name for shift in shifts for name in shift.who]


def _is_clock(piece: Piece) -> bool:
    if piece.kind == "moment":
        return piece.value.hour is not None and not piece.value.names_day
    return piece.kind in ("number", "colon")


def _draft(shift: _Shift, now: datetime) -> Draft | None:
    found = resolve_coming(replace(shift.day, hour=None, minute=0, half="", part=""), now)
    if found is None:
        return None
    told: dict[str, Any] = {
        "who": tuple(shift.who),
        "on": found.date() if isinstance(found, datetime) else found,
    }
    begins, ends = hours_of(shift.hours) or (None, None)
    told.update({name: hour for name, hour in (("from_time", begins), ("until", ends)) if hour is not None})
    draft = Draft("roster", None, [Clause("", [])])
    draft.extra = told
    return draft
