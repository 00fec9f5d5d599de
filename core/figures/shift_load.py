"""Is there more work than hands this shift, what can wait, and what cannot?

Rules
1. Minutes due against minutes there: people x the time each is there. Rates are the crew's; the book's are a start.
2. Work at a fixed hour is placed first. Where more of it falls together than there are people, that is a clash,
   however many minutes are left over.
3. What waits goes by the cost of waiting, the least first, the longest first among equals; the rest never waits.
"""

from __future__ import annotations

import math
import tomllib
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum
from functools import cache
from importlib.resources import files
from typing import Final

from core.errors import BadTradeFile
from core.figures.measures import BadMeasure
from core.figures.trade_blocks import read_blocks

_FILE: Final = "shift_load.toml"
_MINUTE: Final = timedelta(minutes=1)


class LoadState(StrEnum):
    """How loaded a shift is."""

    LIGHT = "light"
    FULL = "full"
    OVER = "over"


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """The book's figures for one act: minutes for one `each` (a plant, a bench …), and the cost of waiting (0-3)."""

    act: str
    each: str
    minutes_each: float
    slip_cost: int
    may_slip: bool
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Duty:
    """A piece of work due in the shift: its words, person-minutes, what putting it off costs, and its hour if fixed.

    `people` is how many it takes at once. Raises BadMeasure for minutes below nothing.
    """

    name: str
    minutes: float
    slip_cost: int = 1
    may_slip: bool = True
    fixed_at: datetime | None = None
    people: int = 1

    def __post_init__(self) -> None:
        if not (math.isfinite(self.minutes) and self.minutes >= 0 and self.people >= 1):
            raise BadMeasure(f"{self.name} cannot take {self.minutes:g} minutes", words=self.name)


@dataclass(frozen=True, slots=True, kw_only=True)
class Presence:
    """One person's time in the shift."""

    who: str
    from_at: datetime
    until_at: datetime

    def __post_init__(self) -> None:
        if self.until_at < self.from_at:
            raise BadMeasure(f"{self.who} leaves before coming", words=self.who)


@dataclass(frozen=True, slots=True, kw_only=True)
class Clash:
    """A moment at which fixed work needs more people than are there."""

    at: datetime
    duties: tuple[str, ...]
    needed: int
    there: int


@dataclass(frozen=True, slots=True, kw_only=True)
class ShiftLoad:
    """Minutes due and there, the share of them, and the state; `waits` is what to put off so that the rest fits,
    `could_wait` all that may, in the order to put it off, `stays` what may not. `short_by` is what is still too much
    when all that may wait does, minutes."""

    due_minutes: float
    there_minutes: float
    share: float
    state: LoadState
    stays: tuple[str, ...]
    could_wait: tuple[str, ...]
    waits: tuple[str, ...]
    short_by: float
    clashes: tuple[Clash, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadBook:
    """The whole of shift_load.toml."""

    full_share: float
    works: tuple[Work, ...]

    def work_of(self, act: str) -> Work:
        """The book's figures for that act. Raises BadMeasure where it has none."""
        for one in self.works:
            if one.act == act:
                return one
        raise BadMeasure(f"no minutes known for {act}", words=act, hint="say how many minutes it takes")


def duty_of(
    act: str,
    count: float = 1,
    *,
    name: str | None = None,
    own_minutes_each: float | None = None,
    fixed_at: datetime | None = None,
    book: LoadBook | None = None,
) -> Duty:
    """A duty from the book: `count` times its minutes, or the crew's own minutes for one. Raises BadMeasure."""
    work = (book or open_load_book()).work_of(act)
    each = work.minutes_each if own_minutes_each is None else own_minutes_each
    return Duty(
        name=name or act,
        minutes=count * each,
        slip_cost=work.slip_cost,
        may_slip=work.may_slip,
        fixed_at=fixed_at,
    )


def weigh_shift(duties: Sequence[Duty], people: Sequence[Presence], *, book: LoadBook | None = None) -> ShiftLoad:
    """Minutes due against minutes there, what can wait and what cannot. Method: rules above; common practice.

    With nobody there the share is infinite and the state OVER, unless nothing is due.
    """
    full_share = (book or open_load_book()).full_share
    there = sum((one.until_at - one.from_at) / _MINUTE for one in people)
    due = sum(one.minutes for one in duties)
    share = due / there if there else (math.inf if due else 0.0)
    loose = sorted((one for one in duties if one.may_slip), key=lambda one: (one.slip_cost, -one.minutes, one.name))
    waits: list[str] = []
    left = due
    for one in loose:
        if left <= there:
            break
        waits.append(one.name)
        left -= one.minutes
    return ShiftLoad(
        due_minutes=due,
        there_minutes=there,
        share=share,
        state=LoadState.OVER if due > there else LoadState.FULL if share > full_share else LoadState.LIGHT,
        stays=tuple(one.name for one in duties if not one.may_slip),
        could_wait=tuple(one.name for one in loose),
        waits=tuple(waits),
        short_by=max(left - there, 0.0),
        clashes=_clashes(duties, people),
    )


def _clashes(duties: Sequence[Duty], people: Sequence[Presence]) -> tuple[Clash, ...]:
    """Fixed work begins together or overlaps: at each beginning, and wherever someone leaves, count hands."""
    fixed = [(one, one.fixed_at, one.fixed_at + one.minutes / one.people * _MINUTE) for one in duties if one.fixed_at]
    moments = {began for _, began, _ in fixed}
    moments |= {one.until_at for one in people if any(began < one.until_at < ended for _, began, ended in fixed)}
    found = []
    for moment in sorted(moments):
        running = [one for one, began, ended in fixed if began <= moment < ended or began == moment]
        needed = sum(one.people for one in running)
        there = sum(one.from_at <= moment < one.until_at for one in people)
        if needed > there:
            found.append(Clash(at=moment, duties=tuple(one.name for one in running), needed=needed, there=there))
    return tuple(found)


@cache
def open_load_book() -> LoadBook:
    """The book that ships with the program. Raises BadTradeFile where a grower's edit made it unreadable."""
    try:
        page = tomllib.loads(files("core.figures").joinpath(_FILE).read_text(encoding="utf-8"))
        full_share = float(page["full_share"])
    except (tomllib.TOMLDecodeError, KeyError, TypeError, ValueError) as wrong:
        raise BadTradeFile(f"{_FILE} cannot be read: {wrong}", hint="undo the last edit of that file") from wrong
    return LoadBook(full_share=full_share, works=read_blocks(Work, page.get("work"), file=_FILE))
