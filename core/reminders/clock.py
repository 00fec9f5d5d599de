"""When is ten o'clock on that day: wall-clock hours of the crew's zone to instants, and bench hours.

Rules
1. An hour of the day is kept as wall time and becomes an instant only here, so a clock change moves no reminder off it.
2. An hour that a clock change skips becomes the same distance after the gap; one that comes twice is the first.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo


def wall(day: date, hour: time, zone: ZoneInfo) -> datetime:
    """The UTC instant at which it is `hour` on `day` in `zone`."""
    return datetime.combine(day, hour, zone).astimezone(UTC)


def day_of(instant: datetime, zone: ZoneInfo) -> date:
    """The local calendar day of an aware instant."""
    return instant.astimezone(zone).date()


def hour_of(instant: datetime, zone: ZoneInfo) -> time:
    """The local wall-clock time of an aware instant."""
    return instant.astimezone(zone).time()


def end_of_day(day: date, zone: ZoneInfo) -> datetime:
    """The first instant of the day after."""
    return wall(day + timedelta(days=1), time(0), zone)


def local_text(instant: datetime, zone: ZoneInfo) -> str:
    """The local wall-clock moment of an instant, to the minute, as ISO 8601 writes it."""
    return instant.astimezone(zone).replace(tzinfo=None).isoformat(timespec="minutes")


def within_bench(instant: datetime, opens: time, closes: time, zone: ZoneInfo) -> datetime:
    """The instant itself where the bench is open (its closing minute included), else the next opening."""
    day, hour = day_of(instant, zone), hour_of(instant, zone)
    if hour < opens:
        return wall(day, opens, zone)
    if hour > closes:
        return wall(day + timedelta(days=1), opens, zone)
    return instant


def local_after(start: datetime, length_end: datetime, zone: ZoneInfo) -> datetime:
    """The UTC instant of a naive local moment `length_end`, never before `start`."""
    return max(start.astimezone(UTC), length_end.replace(tzinfo=zone).astimezone(UTC))
