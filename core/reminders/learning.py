"""On which day do roots show with this crew: the first day of looking, learned from its own lots.

Rules
1. A lot counts from sticking to the first look that found roots; lots from a split, or without a look, teach nothing.
2. From `learned_from` lots on, the learned day is the lower quarter of theirs: a look too early costs a minute, one too
   late a tray.
3. It rests on what was noted, in whatever order that came; the same lots always teach the same day.
"""

from __future__ import annotations

from collections.abc import Iterable
from zoneinfo import ZoneInfo

from core.entries import Act
from core.lots import Lot
from core.records import Record, in_order, local_day

_ROOTS = frozenset({"rooted", "roots_out"})


def first_roots_on_day(lot: Lot, records: Iterable[Record], zone: ZoneInfo) -> int | None:
    """The day after sticking on which roots were first seen in a lot of cuttings, or None where nobody saw any."""
    if lot.kind != "cuttings" or lot.parent is not None:
        return None
    for record in in_order(records):
        if record.at >= lot.opened_at and shows_roots(record):
            return max((local_day(record.at, zone) - local_day(lot.opened_at, zone)).days, 1)
    return None


def shows_roots(record: Record) -> bool:
    """True for a look that found roots, not for one that found none yet."""
    entry = record.entry
    if entry.act is not Act.CHECK or entry.state not in _ROOTS:
        return False
    return entry.state == "roots_out" or bool(entry.count) or bool(entry.share) or entry.all_of


def learn_first_look(days: Iterable[int], *, fewest: int) -> int | None:
    """The day on which to look first, from the days on which roots were first seen in lots of one plant; None where
    fewer than `fewest` lots tell."""
    known = sorted(days)
    return known[(len(known) - 1) // 4] if len(known) >= max(fewest, 1) else None
