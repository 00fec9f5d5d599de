"""When was it: dates and times of day as words say them, made into local dates by our own arithmetic.

Rules
1. A moment is read without looking at the present; `resolve_past` and `resolve_coming` place it. What was done lies
   behind (`tue` is the last Tuesday), what is wanted lies ahead.
2. A day without a year is the nearest in that direction; one that would have to be more than ten months away is
   doubtful.
3. What our arithmetic has no rule for is kept as said and read by dateparser, under the same bounds.
4. A date of an act lies in the last two years and not in the future, a wish in the next three years; else None,
   which is asked.
"""

from __future__ import annotations

import calendar
from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta
from typing import Final

from core.lengths import Length

_OLDEST: Final = 731
_FARTHEST: Final = 3 * 366
_DOUBTFUL: Final = 305
_EVENING: Final = 18


@dataclass(frozen=True, slots=True, kw_only=True)
class Moment:
    """A day, a time of day, or both, as said: one way to name the day (or none), and the clock (or none).

    `weeks` and `months` count calendar weeks and months from this one, for a weekday or a day of the month; `nth` is
    which of a month's weekdays (-1 the last); `shift` days are added at the end; `part` is the half of the day that
    its name tells; `said` are words for dateparser, `loose` names no one day.
    """

    days: int | None = None
    weekday: int | None = None
    which: str = ""
    weeks: int | None = None
    year: int | None = None
    month: int | None = None
    months: int | None = None
    day: int | None = None
    nth: int | None = None
    ago: Length | None = None
    ahead: Length | None = None
    ahead_max: Length | None = None
    month_end: bool = False
    shift: int = 0
    said: str = ""
    loose: bool = False
    hour: int | None = None
    minute: int = 0
    half: str = ""
    part: str = ""

    @property
    def names_day(self) -> bool:
        ways = (self.days, self.weekday, self.year, self.month, self.day, self.ago, self.ahead)
        return any(way is not None for way in ways) or self.month_end or bool(self.said) or self.loose

    @property
    def is_to_come(self) -> bool:
        """Whether its own words say that it lies ahead (`tomorrow`, `in 3 days`, `next fri`)."""
        return (self.days or 0) > 0 or self.ahead is not None or self.which in ("next", "coming")

    def joined(self, other: Moment) -> Moment | None:
        """This day with the other's clock, or the other way round; None where both name the same part."""
        if self.names_day and not other.names_day and self.hour is None:
            return _with_clock(self, other)
        if other.names_day and not self.names_day and other.hour is None:
            return _with_clock(other, self)
        return None


def _with_clock(day: Moment, clock: Moment) -> Moment:
    return replace(day, hour=clock.hour, minute=clock.minute, half=clock.half or day.part)


def valid_day(year: int, month: int, day: int) -> date | None:
    """The date, or None where there is no such day."""
    try:
        return date(year, month, day)
    except ValueError:
        return None


def back(length: Length, now: datetime) -> date:
    """The local date a length of time before `now`."""
    months = now.year * 12 + now.month - 1 - length.months
    year, month = divmod(months, 12)
    year = max(year, 1)
    start = now.replace(year=year, month=month + 1, day=min(now.day, calendar.monthrange(year, month + 1)[1]))
    return (start - timedelta(days=length.days, seconds=length.seconds)).date()


def resolve_past(moment: Moment, now: datetime) -> date | datetime | None:
    """The local date, or date and time, of something done; None where the words name none that can be."""
    if moment.said:
        return _bounded_past(_as_said(moment, now, ahead=False), now)
    day = _moved(_past_day(moment, now), moment)
    if day is None:
        return None
    if moment.hour is None:
        if moment.ago is not None and moment.ago.seconds and not moment.ago.days and not moment.ago.months:
            return (now - timedelta(seconds=moment.ago.seconds)).replace(second=0, microsecond=0)
        return _bounded_past(day, now)
    if day > now.date() or (now.date() - day).days > _OLDEST:
        return None
    choices = [datetime.combine(day, time(hour, moment.minute)) for hour in _hours(moment)]
    behind = [choice for choice in choices if choice <= now]
    if len(behind) == 2:
        working = [choice for choice in behind if 6 <= choice.hour <= 18]
        return working[0] if len(working) == 1 else None
    if not behind and moment.weekday is not None and moment.day is None:
        return choices[0] - timedelta(days=7)
    if behind and not moment.half and not 5 <= behind[0].hour <= 21:
        return None
    return behind[0] if behind else None


def _as_said(moment: Moment, now: datetime, *, ahead: bool) -> date | datetime | None:
    from core.notes.days.written_dates import read_written

    found = read_written(moment.said, now, ahead=ahead)
    if found is None or moment.hour is None or isinstance(found, datetime):
        return found
    hours = _hours(moment)
    return datetime.combine(found, time(hours[0], moment.minute)) if len(hours) == 1 else None


def _bounded_past(found: date | datetime | None, now: datetime) -> date | datetime | None:
    """The date where something done can lie: in the last two years and not in the future."""
    if found is None or (isinstance(found, datetime) and found > now):
        return None
    day = found.date() if isinstance(found, datetime) else found
    return found if timedelta(0) <= now.date() - day <= timedelta(days=_OLDEST) else None


def _bounded_coming(found: date | datetime | None, now: datetime) -> date | datetime | None:
    """The date where something wanted can lie: from today to three years on."""
    if found is None or (isinstance(found, datetime) and found < now):
        return None
    day = found.date() if isinstance(found, datetime) else found
    return found if timedelta(0) <= day - now.date() <= timedelta(days=_FARTHEST) else None


def _moved(day: date | None, moment: Moment) -> date | None:
    """The day so many days on, where the weekday that was said with a date is the date's own; else None."""
    if day is None:
        return None
    dated = moment.day is not None and moment.weekday is not None
    if dated and day.weekday() != moment.weekday:
        return None
    try:
        return day + timedelta(days=moment.shift)
    except OverflowError:
        return None


def _counted_day(moment: Moment, today: date) -> tuple[bool, date | None]:
    """Whether the day is counted in calendar weeks or months from this one, and that day."""
    if moment.weeks is not None and moment.weekday is not None:
        return True, today + timedelta(days=7 * moment.weeks + moment.weekday - today.weekday())
    if moment.months is None:
        return False, None
    years, month = divmod(today.year * 12 + today.month - 1 + moment.months, 12)
    if moment.nth is not None and moment.weekday is not None:
        return True, nth_weekday(years, month + 1, moment.weekday, moment.nth)
    if moment.month_end:
        return True, date(years, month + 1, calendar.monthrange(years, month + 1)[1])
    return moment.day is not None, valid_day(years, month + 1, moment.day or 0)


def nth_weekday(year: int, month: int, weekday: int, nth: int) -> date | None:
    """The nth of a month's weekdays (0 is Monday), the last for -1; None where the month has not so many."""
    days = [day for day in calendar.Calendar().itermonthdates(year, month) if day.month == month]
    named = [day for day in days if day.weekday() == weekday]
    if nth == -1:
        return named[-1]
    return named[nth - 1] if 1 <= nth <= len(named) else None


def _hours(moment: Moment) -> tuple[int, ...]:
    hour = moment.hour or 0
    if moment.half == "am":
        return (hour % 12,)
    if moment.half == "pm":
        return (hour % 12 + 12,)
    if moment.half == "24" or hour > 12 or hour == 0:
        return (hour,)
    return (hour % 12, hour % 12 + 12)


def _past_day(moment: Moment, now: datetime) -> date | None:
    today = now.date()
    if not moment.names_day:
        return today
    counted, found = _counted_day(moment, today)
    if counted:
        return found
    if moment.days is not None:
        return today + timedelta(days=moment.days)
    if moment.ago is not None:
        return back(moment.ago, now)
    if moment.nth is not None and moment.month is not None and moment.weekday is not None:
        nth = [nth_weekday(year, moment.month, moment.weekday, moment.nth) for year in (today.year, today.year - 1)]
        found = next((day for day in nth if day is not None and day <= today), None)
        return found if found is not None and (today - found).days <= _DOUBTFUL else None
    if moment.weekday is not None and moment.day is None:
        if moment.which == "next":
            return today + timedelta(days=7)
        behind = (today.weekday() - moment.weekday) % 7
        if moment.which == "last" and behind == 0:
            behind = 7
        return today - timedelta(days=behind)
    if moment.year is not None and moment.month and moment.day:
        return valid_day(moment.year, moment.month, moment.day)
    if moment.month is not None and moment.day is not None:
        for year in (today.year, today.year - 1):
            found = valid_day(year, moment.month, moment.day)
            if found is not None and found <= today:
                return found if (today - found).days <= _DOUBTFUL else None
        return None
    if moment.day is not None:
        for step in (0, 1):
            year, month = divmod(today.year * 12 + today.month - 1 - step, 12)
            found = valid_day(year, month + 1, moment.day)
            if found is not None and found <= today:
                return found
    return None


def resolve_coming(moment: Moment, now: datetime) -> date | datetime | None:
    """The local date, or date and time, of something wanted; None where the words name none that can be."""
    if moment.said:
        return _bounded_coming(_as_said(moment, now, ahead=True), now)
    if moment.ahead is not None and moment.hour is None and moment.ahead.seconds:
        return moment.ahead.after(now).replace(second=0, microsecond=0)
    day = _moved(_coming_day(moment, now), moment)
    if day is None:
        return None
    if moment.hour is None:
        return _bounded_coming(day, now)
    if day < now.date() or (day - now.date()).days > _FARTHEST:
        return None
    choices = [datetime.combine(day, time(hour, moment.minute)) for hour in _hours(moment)]
    if not moment.names_day:
        ahead = [choice for choice in choices if choice > now]
        working = [choice for choice in ahead if 6 <= choice.hour <= 20]
        if working:
            return working[0]
        # Both are over, or one is and the other late at night ("at 10", said at half past 10 in the morning), so that
        # tomorrow's is meant, and of that the one by daylight ("at 4", said at half past 4).
        by_day = [choice for choice in choices if 6 <= choice.hour <= 20]
        if ahead and not (by_day and now.hour < _EVENING):
            return ahead[0]
        return (by_day or choices)[0] + timedelta(days=1)
    if len(choices) == 2:
        working = [choice for choice in choices if 7 <= choice.hour <= 18]
        choices = working or choices
    return choices[0]


def _coming_day(moment: Moment, now: datetime) -> date | None:
    today = now.date()
    counted, found = _counted_day(moment, today)
    if counted:
        return found
    if moment.days is not None:
        return today + timedelta(days=moment.days)
    if moment.ahead is not None:
        return moment.ahead.after(now).date()
    if moment.nth is not None and moment.month is not None and moment.weekday is not None:
        nth = [nth_weekday(year, moment.month, moment.weekday, moment.nth) for year in (today.year, today.year + 1)]
        return next((day for day in nth if day is not None and day >= today), None)
    if moment.weekday is not None and moment.day is None:
        ahead = (moment.weekday - today.weekday()) % 7
        return today + timedelta(days=ahead or 7)
    if moment.month_end:
        year, month = today.year, moment.month or today.month
        year += month < today.month
        return date(year, month, calendar.monthrange(year, month)[1])
    if moment.year is not None and moment.month and moment.day:
        return valid_day(moment.year, moment.month, moment.day)
    if moment.month is not None and moment.day is not None:
        for year in (today.year, today.year + 1, today.year + 2):
            found = valid_day(year, moment.month, moment.day)
            if found is not None and found >= today:
                return found
        return None
    if moment.day is not None:
        for step in (0, 1, 2):
            year, month = divmod(today.year * 12 + today.month - 1 + step, 12)
            found = valid_day(year, month + 1, moment.day)
            if found is not None and found > today:
                return found
    if not moment.names_day and moment.hour is not None:
        return today
    return None
