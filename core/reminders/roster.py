"""Who is at the bench, and when does a shift end: from what the crew said of its roster.

Rules
1. A shift is on one day (`on`) or every week on its days (`every`), from an hour until an hour; without hours, all day.
2. What is said of a person for one day takes the place of that person's weekly shift on that day; so does that this
   person is off (`ends`).
3. The later word wins over the earlier about the same person and day (or weekday). No hours after hours mean all day.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from core.entries import WEEKDAYS, Act, Entry
from core.records import Record, in_order, local_day


@dataclass(frozen=True, slots=True, kw_only=True)
class Shift:
    """One person at the bench on one local day, from and until an hour of the wall clock (None: not said)."""

    who: str
    on: date
    from_time: time | None = None
    until: time | None = None

    def covers(self, local: datetime) -> bool:
        """True where the naive local moment lies in the shift; its last minute is no longer in it."""
        if local.date() != self.on:
            return False
        hour = local.time()
        return (self.from_time is None or self.from_time <= hour) and (self.until is None or hour < self.until)


def shifts(records: Iterable[Record], days: Iterable[date], zone: ZoneInfo) -> tuple[Shift, ...]:
    """The shifts of these days, by hour and name."""
    said: dict[tuple[str, date], list[Entry]] = {}
    weekly: dict[tuple[str, int], list[Entry]] = {}
    for record in in_order(record for record in records if record.entry.act is Act.ROSTER):
        entry = record.entry
        for who in entry.who or (record.told_by,):
            name = record.told_by if who.lower() in ("me", "i") else who
            if entry.every:
                for weekday in entry.every:
                    if weekday in WEEKDAYS:
                        _add(weekly.setdefault((name, WEEKDAYS.index(weekday)), []), entry)
            else:
                on = entry.on.date() if isinstance(entry.on, datetime) else entry.on
                _add(said.setdefault((name, on or local_day(record.said_at, zone)), []), entry)
    names = dict.fromkeys([who for who, _ in weekly] + [who for who, _ in said])
    found = [
        Shift(who=who, on=day, from_time=entry.from_time, until=entry.until)
        for day in days
        for who in names
        for entry in said.get((who, day), weekly.get((who, day.weekday()), []))
    ]
    return tuple(sorted(found, key=lambda shift: (shift.on, shift.from_time or time(0), shift.who)))


def _add(entries: list[Entry], entry: Entry) -> None:
    """Adds a shift of the same day; one that overlaps an earlier word takes its place. Who is off has none."""
    if entry.ends:
        entries.clear()
        return
    entries[:] = [other for other in entries if not _overlap(other, entry)] + [entry]


def _overlap(one: Entry, other: Entry) -> bool:
    first, last = one.from_time or time(0), one.until or time.max
    return first < (other.until or time.max) and (other.from_time or time(0)) < last


def on_shift(records: Iterable[Record], now: datetime, zone: ZoneInfo, *, day: date | None = None) -> tuple[str, ...]:
    """The names of those at the bench at `now`, or at any hour of `day` where one is given."""
    local = now.astimezone(zone).replace(tzinfo=None)
    found = shifts(records, [day or local.date()], zone)
    present = found if day is not None else tuple(shift for shift in found if shift.covers(local))
    return tuple(dict.fromkeys(shift.who for shift in present))


def next_on(records: Iterable[Record], after: datetime, zone: ZoneInfo, *, within: int = 7) -> Shift | None:
    """The next shift that begins at or after `after`, within so many days, or None."""
    local = after.astimezone(zone).replace(tzinfo=None)
    days = [local.date() + timedelta(days=number) for number in range(within + 1)]
    for shift in shifts(records, days, zone):
        if datetime.combine(shift.on, shift.from_time or time(0)) >= local:
            return shift
    return None
