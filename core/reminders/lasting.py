"""Until when is a reminder that comes later than planned still worth saying?

Rules
1. What is useful for some minutes is useful as long after it was put off. What is useful until the end of a day stays
   so: a look of today, put off by an hour, is over at midnight; put off to tomorrow, it is over when tomorrow is.
"""

from __future__ import annotations

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from core.reminders import clock
from core.reminders.kinds import kinds
from core.reminders.values import Due


def useful_until(due: Due, comes_at: datetime, zone: ZoneInfo) -> datetime | None:
    """The last useful instant of a reminder that comes at `comes_at`; None where it has none."""
    last = due.last_useful_at
    if last is None or comes_at <= due.due_at:
        return last
    if kinds()[due.kind].useful_for is not None:
        return last + (comes_at - due.due_at)
    days = clock.day_of(comes_at, zone) - clock.day_of(due.due_at, zone)
    return clock.wall(clock.day_of(last, zone) + timedelta(days=days.days), clock.hour_of(last, zone), zone)
