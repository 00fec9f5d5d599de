"""Several reminders in one sentence: `remind me at 10 and 2 to mist tray 6`, `remind me fri to mist tray 3 and sat to
feed lot 9`, `remind us mon, wed and fri at 10 to look at the mat`.
"""

from __future__ import annotations

from typing import Final

from core.notes.days.moments import Moment
from core.notes.days.who import day_named
from core.notes.wishes.reminders import moment_at
from core.notes.words.pieces import Piece

_JOINING: Final = frozenset({"and", "&", "then"})
_BEFORE_HOURS: Final = frozenset({"at", "by", "around"})
_LEADS_TO_TASK: Final = frozenset({"to", "re", "about", "that"})
_LAST_HOUR: Final = 12


def several_reminders(pieces: list[Piece], words: int) -> list[list[Piece]]:
    """The pieces of each reminder that a sentence asks for, each with a time of its own."""
    head, told = pieces[:words], pieces[words:]
    name_hours(told)
    days = _days_in_a_row(told)
    if days is not None:
        listed = [piece for piece in told[slice(*days)] if piece.kind == "moment"]
        return [[*head, *told[: days[0]], day, *told[days[1] :]] for day in listed]
    times = _times_of_one_task(told)
    if len(times) > 1:
        end = told.index(times[-1]) + 1
        return [[*head, time, *told[end:]] for time in times]
    start = _last_times(told)
    if start is not None:
        times = [piece for piece in told[start:] if _is_clock(piece)]
        return [[*head, *told[:start], time] for time in times]
    for place, piece in enumerate(told):
        if piece.low not in _JOINING or not place:
            continue
        before, after = told[:place], told[place + 1 :]
        short = day_named(after[0]) if after and after[0].kind == "phrase" else None
        if short is not None and len(after) > 1 and after[1].low == "to":
            after[0].kind, after[0].value = "moment", short
        while before and before[-1].kind == "break":
            before = before[:-1]
        if _has_time(before) and _has_time(after) and _opens_task(after):
            if all(one.kind == "moment" or one.low in ("at", "on") for one in before):
                task = next(at for at, one in enumerate(after) if one.low == "to")
                before = [*before, *after[task:]]
            return [[*head, *before], *several_reminders([*head, *after], words)]
    return [pieces]


def _days_in_a_row(told: list[Piece]) -> tuple[int, int] | None:
    """Where the days of a list begin and end that hold for one task and one hour (`tue and thu at 10`)."""
    start = next((at for at, piece in enumerate(told) if _is_day_alone(piece)), None)
    if start is None:
        return None
    end, last = start, start
    while end < len(told) and (told[end].low in (*_JOINING, ",") or _is_day_of_list(told[end])):
        last = end if told[end].low not in (*_JOINING, ",") else last
        end += 1
    return (start, last + 1) if last > start else None


def _is_day_of_list(piece: Piece) -> bool:
    """A day alone, also `sat` and `wed` where it is read as another word."""
    short = day_named(piece) if piece.kind == "phrase" else None
    if short is not None:
        piece.kind, piece.value = "moment", short
    return _is_day_alone(piece)


def name_hours(told: list[Piece]) -> None:
    """`by 4 to put lids back on`, `at 10 and 2 to mist`: bare numbers that stand for hours before a task, in place."""
    at = 0
    while at < len(told) and told[at].low != "to":
        piece, before = told[at], told[at - 1].low if at else ""
        after_time = at > 1 and before in (*_JOINING, ",") and _is_clock(told[at - 2])
        after_time = after_time or (at > 0 and _is_day_alone(told[at - 1]) and told[at + 1 : at + 2] != [])
        if _is_hour(piece) and (before in _BEFORE_HOURS or after_time) and _task_follows(told, at + 1):
            piece.value, piece.kind = Moment(hour=int(piece.value.value)), "moment"
        at += 1


def _is_day_alone(piece: Piece) -> bool:
    """The `sat` of `remind me sat 9 to open`."""
    return piece.kind == "moment" and piece.value.names_day and piece.value.hour is None


def _is_hour(piece: Piece) -> bool:
    return piece.kind == "number" and piece.low.isdigit() and 1 <= piece.value.value <= _LAST_HOUR


def _is_clock(piece: Piece) -> bool:
    return piece.kind == "moment" and piece.value.hour is not None


def _task_follows(told: list[Piece], at: int) -> bool:
    """Whether "to" follows, perhaps after more hours."""
    while at < len(told) and (told[at].low in (*_JOINING, ",", "at") or told[at].kind in ("number", "moment")):
        at += 1
    return at < len(told) and told[at].low in _LEADS_TO_TASK


def _times_of_one_task(told: list[Piece]) -> list[Piece]:
    """The hours at the head that all hold for the task after them (`at 10 and 2 to mist tray 6`)."""
    at, times = 0, []
    while at < len(told) and (_is_clock(told[at]) or told[at].low in (*_JOINING, ",", "at")):
        times.extend([told[at]] if _is_clock(told[at]) else [])
        at += 1
    return times if at < len(told) and told[at].low == "to" else []


def _last_times(told: list[Piece]) -> int | None:
    """Where the hours begin that close a reminder (`mist tray 4 at 10 and 2`); None for one hour or none."""
    start = next((at for at, piece in enumerate(told) if _is_clock(piece)), None)
    if start is None or start + 2 >= len(told):
        return None
    for before, piece in zip(told[start:], told[start + 1 :], strict=False):
        if _is_hour(piece) and before.low in (*_JOINING, ",", "at"):
            piece.value, piece.kind = Moment(hour=int(piece.value.value)), "moment"
        elif not (_is_clock(piece) or piece.low in (*_JOINING, ",", "at")):
            return None
    return start if sum(map(_is_clock, told[start:])) > 1 else None


def _has_time(pieces: list[Piece]) -> bool:
    return any(moment_at(pieces, place) is not None for place in range(len(pieces)))


def _opens_task(pieces: list[Piece]) -> bool:
    """`to buy perlite …`, `sat to feed lot 9`: a task, perhaps after its time."""
    at = 0
    while at < len(pieces) and (pieces[at].kind == "moment" or pieces[at].low in ("on", "at", "in")):
        at += 1
    return at < len(pieces) and pieces[at].low == "to" and "plan" not in pieces[at].roles
