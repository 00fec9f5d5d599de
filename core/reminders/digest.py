"""What goes into one message to a chat: the reminders due there, joined, in order, with how each of them is said.

Rules
1. All that is due for one chat at a minute is one message: running timers first, then by hour, then the day's list by
   tray, the longest overdue first. The same asked of several trays or lots is one line.
2. Soft kinds due within half an hour share a message; a running timer never waits and is never sent early.
3. Unanswered after three hours, it is said once more the same day; then it stands in the morning list with its days. A
   cover off or plants out are said again after ten minutes to all at the bench, after twenty to the lead.
4. An early warning is said once, without a button, and is never late.
5. What fell due more than ten minutes ago, unsaid, is told as such: it ended, it does not end.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any, Final
from zoneinfo import ZoneInfo

from core.reminders import clock
from core.reminders.kinds import kinds
from core.reminders.lasting import useful_until
from core.reminders.values import Due
from core.treatments import Protocol

MOST_BUTTONS: Final = 6
_OWN: Final = frozenset(
    {
        "lots",
        "plants",
        "trays",
        "when",
        "source",
        "day",
        "done",
        "counted_on",
        "since",
        "left",
        "up",
        "rooted",
        "living",
    }
)
"""Facts in which reminders may differ and still ask the same."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Waiting:
    """An open reminder that is to be said: its number in the books, when it comes (later than `due` where it was put
    off), how often it was said, and whether it was missed: no longer useful before anybody heard of it."""

    number: int
    due: Due
    comes_at: datetime
    said_times: int = 0
    missed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One line of a message: reminders that ask the same, and how it is said.

    `how` is `due`, `again` (once more), `all` (to all at the bench), `lead`, `late` (fell due while nobody was told),
    `past` (and is no longer worth doing) or `question` (nobody answered). `days_late` counts local days.
    """

    how: str
    waiting: tuple[Waiting, ...]
    days_late: int = 0

    @property
    def kind(self) -> str:
        return self.waiting[0].due.kind

    @property
    def dues(self) -> tuple[Due, ...]:
        return tuple(one.due for one in self.waiting)

    @property
    def numbers(self) -> tuple[int, ...]:
        """The reminders that a button of this line answers: none where it is only told."""
        return (
            ()
            if self.how in ("past", "question") or kinds()[self.kind].once
            else tuple(one.number for one in self.waiting)
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Digest:
    """One message: its lines, to whom (names; none: all), whether it is the day's list, or told after a silence."""

    lines: tuple[Line, ...]
    to: tuple[str, ...] = ()
    morning: bool = False
    away: bool = False

    @property
    def numbers(self) -> tuple[int, ...]:
        return tuple(number for line in self.lines for number in line.numbers)

    @property
    def kinds(self) -> frozenset[str]:
        return frozenset(line.kind for line in self.lines)


def group(
    waiting: Iterable[Waiting],
    now: datetime,
    zone: ZoneInfo,
    protocol: Protocol,
    *,
    to: Sequence[str] = (),
    unanswered: Iterable[Waiting] = (),
    for_lead: bool = False,
) -> Digest | None:
    """The message for one chat of what waits there; `unanswered` are past and become questions. None where there is
    nothing to say."""
    lines: dict[tuple[Any, ...], list[Waiting]] = {}
    order = sorted(waiting, key=lambda one: _place(one, now, zone))
    for one in order:
        how = "lead" if for_lead else _how(one, now, zone, protocol)
        lines.setdefault(_sameness(one, how, now, zone), []).append(one)
    for one in sorted(unanswered, key=lambda one: one.comes_at):
        lines.setdefault(_sameness(one, "question", now, zone), []).append(one)
    if not lines:
        return None
    joined = tuple(Line(how=key[0], waiting=tuple(found), days_late=key[1]) for key, found in lines.items())
    return Digest(
        lines=joined,
        to=tuple(to),
        morning=not for_lead and any(_is_listed(line) for line in joined),
        away=any(line.how in ("late", "past") for line in joined),
    )


def says_early(one: Waiting, now: datetime, protocol: Protocol) -> bool:
    """True where a soft reminder that falls due within half an hour may come with what is said now."""
    row = kinds()[one.due.kind]
    soon = now < one.comes_at <= now + protocol.length("together")
    return soon and row.timed and row.soft and not row.running and not one.said_times


def next_saying(one: Waiting, now: datetime, zone: ZoneInfo, protocol: Protocol) -> datetime | None:
    """When a reminder that is said now is looked at again: said once more, listed, told to others, or past."""
    kind = kinds()[one.due.kind]
    if kind.once:
        return None
    last = useful_until(one.due, one.comes_at, zone)
    tomorrow = clock.wall(clock.day_of(now, zone) + timedelta(days=1), protocol.hour("morning_list"), zone)
    again = tomorrow
    if kind.repeats_while_open and one.said_times < 2:
        first, second = protocol.length("open_to_all"), protocol.length("open_to_lead")
        wait = first if one.said_times == 0 else second
        # told late, the others hear of it as long after it was told as they would have after it fell due
        again = max(one.comes_at + wait, now + (first if one.said_times == 0 else second - first))
    elif kind.timed and one.said_times == 0:
        later = now + protocol.length("say_again")
        same_day = clock.day_of(later, zone) == clock.day_of(now, zone)
        if same_day and clock.hour_of(later, zone) <= protocol.hour("bench_close"):
            again = later
    return again if last is None else min(again, last)


def goes_to_lead(one: Waiting, now: datetime, zone: ZoneInfo, protocol: Protocol) -> bool:
    """True where the lead is to be told: a cover off for twenty minutes, or a critical kind late for two bench days."""
    kind = kinds()[one.due.kind]
    if kind.repeats_while_open and one.said_times == 2:
        return now >= one.comes_at + protocol.length("open_to_lead")
    return kind.critical and one.said_times > 0 and days_late(one, now, zone) == protocol.days("lead_after")


def days_late(one: Waiting, now: datetime, zone: ZoneInfo) -> int:
    """How many local days ago the reminder fell due; an early warning is never late."""
    if kinds()[one.due.kind].once:
        return 0
    return max((clock.day_of(now, zone) - clock.day_of(one.comes_at, zone)).days, 0)


def _is_listed(line: Line) -> bool:
    """True for a line of the day's list: a kind without an hour, or one that has been due for days."""
    return line.how not in ("late", "past") and (not line.dues[0].timed or bool(line.days_late))


def _how(one: Waiting, now: datetime, zone: ZoneInfo, protocol: Protocol) -> str:
    if one.missed:
        return "past"
    kind = kinds()[one.due.kind]
    if one.said_times == 0:
        return "late" if kind.timed and not kind.once and one.comes_at + protocol.length("away") < now else "due"
    if kind.repeats_while_open and not days_late(one, now, zone):
        return "all" if one.said_times == 1 else "again"
    return "due" if days_late(one, now, zone) else "again"


def _place(one: Waiting, now: datetime, zone: ZoneInfo) -> tuple[Any, ...]:
    """Running timers, then by hour, then the list: by tray, the longest overdue first."""
    kind = kinds()[one.due.kind]
    trays = one.due.facts.get("trays") or one.due.facts.get("lots") or [one.due.subject.name]
    if not kind.soft:
        return (0, one.comes_at, one.due.key())
    if kind.timed and not days_late(one, now, zone):
        return (1, one.comes_at, one.due.kind, _by_number(trays[0]), one.due.key())
    return (2, -days_late(one, now, zone), _by_number(trays[0]), one.due.key())


def _by_number(name: str) -> tuple[int, str]:
    digits = "".join(letter for letter in name if letter.isdigit())
    return (int(digits) if digits else 0, name)


def _sameness(one: Waiting, how: str, now: datetime, zone: ZoneInfo) -> tuple[Any, ...]:
    """What two reminders must share to stand in one line."""
    due = one.due
    late = days_late(one, now, zone)
    rest = tuple(sorted((name, str(value)) for name, value in due.facts.items() if name not in _OWN))
    at = due.facts.get("when") if due.timed else None
    return (how, late, due.kind, due.subject.kind, due.to, at, rest)
