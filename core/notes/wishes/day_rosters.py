"""A list of who is there, by days: `on sat: mei, bram, kit`, `sat bram and mei, sun kit`, `tues 9-12 bao`.

`wk of 8/24: mon jo, wed sam` tells the week first, `sub for bea on 8/22: leo` whose day it was.

Rules
1. Nothing but days, names and hours stands in it, and it opens with a day.
2. One name by itself beside a day is no roster: it needs hours or others with it.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import date, datetime, time, timedelta
from typing import Any, Final

from core.notes.days.again import EVERY, is_plural_day
from core.notes.days.moments import Moment, resolve_coming
from core.notes.days.roster_hours import half_day_of, hours_of
from core.notes.days.who import day_named, may_be_who
from core.notes.details.drafts import Draft, as_typed
from core.notes.parting.clauses import Clause
from core.notes.words.pieces import Piece
from core.notes.words.tokens import Token
from core.vocabulary.everyday import is_given_name
from core.vocabulary.loading import small_words

_LEADS: Final = small_words("rosters", "leads")
_WEEK: Final = small_words("rosters", "week")
_SUBS: Final = small_words("rosters", "subs")
_PRESENT: Final = small_words("rosters", "verbs") | small_words("rosters", "small") | {"be"}
_BEING_THERE: Final = _PRESENT.union(*(phrase.split(" ") for phrase in _PRESENT))
_OPENS_AND_CLOSES: Final = small_words("rosters", "opens_and_closes")
_PARTS: Final = frozenset({",", ";", "and", "&", "+", "\n", ":", ".", "-", "n"})
_IN_HOURS: Final = frozenset({"-", "to", "till", "til", "until", "am", "pm"})


@dataclass(slots=True)
class _Shift:
    """The people of one day, or of some hours of it."""

    day: Moment
    who: list[str] = field(default_factory=list)
    hours: list[Piece] = field(default_factory=list)
    hours_last: bool = False
    halves: list[Piece] = field(default_factory=list)
    """What names a half of the day (`sat morning`, `am`)."""


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
            shifts.append(_Shift(day, halves=[piece]))
        elif shifts and not shifts[-1].who and half_day_of([piece]) is not None:
            shifts[-1].halves.append(piece)
        elif piece.kind == "fraction" and shifts and day_named(pieces[place - 1]) is not None:
            shifts[-1].day = replace(shifts[-1].day, month=piece.value[0], day=piece.value[1])
        elif shifts and (may_be_who(piece) or ("month" in piece.roles and is_given_name(piece.low))):
            if shifts[-1].hours_last:
                shifts.append(_Shift(shifts[-1].day, halves=shifts[-1].halves))
            shifts[-1].who.append(piece.low)
        elif not (piece.low in _PARTS or (piece.low in _LEADS and not (shifts and shifts[-1].who))):
            return None
        place += 1
    named = [shift for shift in shifts if shift.who]
    if len(named) != len(shifts) or not (any(shift.hours for shift in shifts) or len(_everyone(shifts)) > (not alone)):
        return None
    drafts = [_draft(shift, now) for shift in shifts]
    return [draft for draft in drafts if draft is not None] if all(drafts) else None


def who_opens_and_closes(pieces: list[Piece], now: datetime) -> list[Draft] | None:
    """`sat: bea opening, lou closing`, `opening: bea. closing: lou. sat`: who is there on the one day that is named;
    who does which stays in the words.
    """
    days = [piece for piece in pieces if day_named(piece) is not None]
    parts = [piece for piece in pieces if piece.low in _OPENS_AND_CLOSES]
    names = [piece for piece in pieces if piece not in (*days, *parts) and may_be_who(piece)]
    told = {*map(id, (*days, *parts, *names))}
    small = all(id(piece) in told or piece.low in _PARTS | _LEADS | {"is"} for piece in pieces)
    if not small or len(days) != 1 or not 1 < len(parts) <= len(names) or is_plural_day(days[0]):
        return None
    drafts = listed_by_day([*days, *names], now)
    for draft in drafts or ():
        draft.extra["rest"] = " ".join(part.low for part in parts)
    return drafts


def names_first(pieces: list[Piece]) -> list[Piece]:
    """`every wed 9-12: jo, sam`, `every wed 9-12 jo is at the bench` as `jo, sam every wed 9-12`."""
    mark = next((at for at, piece in enumerate(pieces) if piece.low == ":"), 0)
    told = pieces[mark + 1 :]
    weekly = pieces[0].low in EVERY or is_plural_day(pieces[0])
    if mark and weekly and told and all(_names(piece) for piece in told):
        return [*told, *pieces[:mark]]
    return _being_there_first(pieces) if weekly and not mark else pieces


def _being_there_first(pieces: list[Piece]) -> list[Piece]:
    """Who is there and that they are, before the days and hours that stood first."""
    end = next((at for at, piece in enumerate(pieces) if not _is_time(piece)), len(pieces))
    told = pieces[end:]
    names = next((at for at, piece in enumerate(told) if not _names(piece)), len(told))
    there = names and all(piece.low in _BEING_THERE for piece in told[names:]) and len(told) > names
    return [*told, *pieces[:end]] if there and hours_of(pieces[:end]) is not None else pieces


def _is_time(piece: Piece) -> bool:
    timed = piece.kind in ("moment", "number", "colon", "dash", "fraction") or day_named(piece) is not None
    return timed or piece.low in EVERY or piece.low in _IN_HOURS or piece.low in ("from", "at", ",")


def _names(piece: Piece) -> bool:
    return may_be_who(piece) or piece.low in _PARTS


def by_week_or_for_another(
    text: str, tokens: list[Token], pieces: list[Piece], now: datetime
) -> list[Draft] | None:
    """The rosters of a list whose week is told first, or of somebody who stands in for another."""
    head = next((at for at, piece in enumerate(pieces) if "filler" not in piece.roles), 0)
    if pieces[head].low in _WEEK:
        return _in_week(pieces[head + 1 :], now)
    mark = next((at for at, piece in enumerate(pieces) if piece.low == ":"), 0)
    if pieces[0].low not in _SUBS or mark + 2 != len(pieces) or not may_be_who(pieces[-1]) or mark < 4:
        return None
    day = pieces[mark - 1]
    last = mark - 1 - (pieces[mark - 2].low == "on")
    if pieces[1].low != "for" or day_named(day) is None or not all(may_be_who(one) for one in pieces[2:last]):
        return None
    drafts = listed_by_day([day, pieces[-1]], now, alone=True)
    for draft in drafts or ():
        draft.extra["rest"] = as_typed(text, tokens, pieces[0].first, pieces[last - 1].last)
    return drafts


def _in_week(pieces: list[Piece], now: datetime) -> list[Draft] | None:
    """`wk of 8/24: mon jo, wed sam`, `week of 9/7 jo tues sam thurs`: days of the week that is told first."""
    told = [piece for piece in pieces if piece.low != "of"]
    first = _week_of(told[0], now) if told else None
    if first is None:
        return None
    told = told[1:]
    while told and told[0].low in (":", ",", "-"):
        told = told[1:]
    days = [day_named(piece) for piece in told]
    if not any(days) or any(day is not None and day.weekday is None for day in days):
        return None
    if days[0] is None:
        told = _days_first(told)
    return listed_by_day(told, datetime.combine(first, time(12)) - timedelta(days=1), alone=True)


def _week_of(piece: Piece, now: datetime) -> date | None:
    """The first day of the week of a date (its Monday; a Sunday is the first of its own)."""
    moment = Moment(month=piece.value[0], day=piece.value[1]) if piece.kind == "fraction" else day_named(piece)
    if moment is None or moment.day is None:
        return None
    found = resolve_coming(moment, now)
    day = found.date() if isinstance(found, datetime) else found
    return day - timedelta(days=day.weekday() if day.weekday() < 6 else 0) if day is not None else None


def _days_first(told: list[Piece]) -> list[Piece]:
    """`jo mon, sam and lou wed` as `mon jo, wed sam and lou`."""
    turned: list[Piece] = []
    names: list[Piece] = []
    for piece in told:
        if day_named(piece) is not None:
            turned.extend([piece, *names])
            names = []
        elif may_be_who(piece):
            names.append(piece)
        elif piece.low not in (*_PARTS, "on"):
            return []
    return turned if not names else []


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
    begins, ends = hours_of(shift.hours) or half_day_of(shift.halves) or (None, None)
    told.update({name: hour for name, hour in (("from_time", begins), ("until", ends)) if hour is not None})
    draft = Draft("roster", None, [Clause("", [])])
    draft.extra = told
    return draft
