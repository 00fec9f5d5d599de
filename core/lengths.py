"""How long is it: a length of time as a volunteer says it, written as ISO 8601 writes it.

Rules
1. Months stay months (`P3M`), because no number of days is right for them; weeks become days; hours and minutes stay
   clock time.
2. Days and months move the local calendar date and keep the wall clock; minutes are elapsed time.
"""

from __future__ import annotations

import calendar
import re
from dataclasses import dataclass
from datetime import datetime, timedelta

from core.errors import BadLength

_ISO = re.compile(
    r"P(?:(?P<years>\d+)Y)?(?:(?P<months>\d+)M)?(?:(?P<weeks>\d+)W)?(?:(?P<days>\d+)D)?"
    r"(?:T(?:(?P<hours>\d+)H)?(?:(?P<minutes>\d+)M)?(?:(?P<seconds>\d+)S)?)?"
)
LONGEST_DAYS = 3660


@dataclass(frozen=True, slots=True, kw_only=True, order=True)
class Length:
    """A length of time of at least a second and at most ten years: whole months, days and seconds, each kept apart."""

    months: int = 0
    days: int = 0
    seconds: int = 0

    def __post_init__(self) -> None:
        if min(self.months, self.days, self.seconds) < 0 or not (self.months or self.days or self.seconds):
            raise BadLength("a length of time is longer than nothing", words=repr(self))
        if self.months * 30 + self.days + self.seconds / 86400 > LONGEST_DAYS:
            raise BadLength("a length of time is at most ten years", words=repr(self))

    @classmethod
    def of_minutes(cls, minutes: int) -> Length:
        return cls(seconds=minutes * 60)

    @classmethod
    def from_iso(cls, text: str) -> Length:
        """The length that `text` writes, such as `PT20M`, `P90D`, `P12W`, `P3M`. Raises BadLength for anything else."""
        found = _ISO.fullmatch(text)
        if found is None or text in ("P", "PT"):
            raise BadLength(f"not a length of time: {text}", words=text, hint="write it like PT20M or P90D")
        part = {name: int(digits) for name, digits in found.groupdict(default="0").items()}
        return cls(
            months=part["years"] * 12 + part["months"],
            days=part["weeks"] * 7 + part["days"],
            seconds=part["hours"] * 3600 + part["minutes"] * 60 + part["seconds"],
        )

    def iso(self) -> str:
        """The length in ISO 8601: hours where the minutes are whole hours (`PT12H`), else minutes (`PT90M`)."""
        date_part = (f"{self.months}M" if self.months else "") + (f"{self.days}D" if self.days else "")
        if not self.seconds:
            return f"P{date_part}"
        minutes, seconds = divmod(self.seconds, 60)
        if minutes and not seconds and not minutes % 60:
            return f"P{date_part}T{minutes // 60}H"
        return f"P{date_part}T" + (f"{minutes}M" if minutes else "") + (f"{seconds}S" if seconds else "")

    def minutes(self) -> float:
        """The length in minutes, for lengths that name neither days nor months. Raises BadLength for those."""
        if self.months or self.days:
            raise BadLength("days are not minutes: the clock may change between", words=self.iso())
        return self.seconds / 60

    def day_count(self) -> int:
        """Whole days, a month counted as 30 (for comparing lengths; dates are counted with `after`)."""
        return self.months * 30 + self.days + self.seconds // 86400

    def after(self, start: datetime) -> datetime:
        """The local moment (naive wall clock) at which this length, begun at `start`, ends."""
        months = start.month - 1 + self.months
        year, month = start.year + months // 12, months % 12 + 1
        day = min(start.day, calendar.monthrange(year, month)[1])
        moved = start.replace(year=year, month=month, day=day)
        return moved + timedelta(days=self.days, seconds=self.seconds)
