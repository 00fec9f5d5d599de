"""How dates, numbers and lots are written in a sentence."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime, timedelta

from core.lengths import Length
from core.lots import Lot, There


def day_of(moment: date | datetime) -> str:
    """A day with its weekday: "Tue 10 Mar"; the year only by `day_with_year`."""
    return f"{moment:%a} {moment.day} {moment:%b}"


def day_with_year(moment: date) -> str:
    """A day with its weekday and year: "Sat 17 Apr 2027"."""
    return f"{day_of(moment)} {moment.year}"


def near_day(moment: date | datetime, today: date) -> str:
    """A day as people say it: today, yesterday, tomorrow, else with its weekday; a far one with its year."""
    day = moment.date() if isinstance(moment, datetime) else moment
    names = {today: "today", today - timedelta(days=1): "yesterday", today + timedelta(days=1): "tomorrow"}
    return names.get(day) or (day_of(day) if abs((day - today).days) < 300 else day_with_year(day))


def days_text(span: tuple[date, date] | None, today: date) -> str:
    """The days of a span, to stand behind words: " yesterday", " from Mon 2 Mar to today", " before today"."""
    if span is None:
        return ""
    if span[0] == date.min:
        return f" before {near_day(span[1] + timedelta(days=1), today)}"
    if span[0] == span[1]:
        return f" {near_day(span[0], today)}"
    if span[1] == today:
        return f" since {near_day(span[0], today)}"
    return f" from {day_of(span[0])} to {day_of(span[1])}"


def opening(words: str) -> str:
    """The words with a capital at their head."""
    return words[:1].upper() + words[1:]


def clock(moment: datetime) -> str:
    """A wall-clock time: "09:30"."""
    return f"{moment:%H:%M}"


def age(length: timedelta) -> str:
    """How long ago, in the largest unit that says it: "20 min", "3 h", "12 days"."""
    minutes = int(length.total_seconds() // 60)
    if minutes < 90:
        return f"{max(minutes, 0)} min"
    if minutes < 48 * 60:
        return f"{minutes // 60} h" + (f" {minutes % 60} min" if minutes % 60 and minutes < 600 else "")
    return f"{minutes // 1440} days"


def length_text(length: Length) -> str:
    """A length of time as people text it: "20 min", "3 h", "90 days", "3 months"."""
    parts = []
    if length.months:
        parts.append(f"{length.months} month{'s' * (length.months != 1)}")
    if length.days:
        parts.append(f"{length.days} day{'s' * (length.days != 1)}")
    hours, seconds = divmod(length.seconds, 3600)
    if hours and not seconds:
        parts.append(f"{hours} h")
    elif length.seconds:
        minutes, rest = divmod(length.seconds, 60)
        parts.append((f"{minutes} min" if minutes else "") + (f"{rest} s" if rest else ""))
    return " ".join(parts)


def percent(share: float) -> str:
    """A share in whole percent: "43 %"."""
    return f"{share * 100:.0f} %"


def listed(words: Sequence[str], last: str = "and") -> str:
    """Words in a row: "a, b and c"."""
    if len(words) <= 1:
        return "".join(words)
    return f"{', '.join(words[:-1])} {last} {words[-1]}"


def named(lot: Lot) -> str:
    """A lot by number and plant: "26-001 coyote brush"."""
    return f"{lot.number} {lot.plant}"


def plural(count: int, word: str) -> str:
    """A count with its noun: "1 day", "3 days"."""
    return f"{count} {word}" if count == 1 else f"{count} {word}s"


def share_there(lot: Lot, there: There) -> str:
    """How much of a lot stands in one place: "72 left", "20 of the 72 left", or a part that nobody counted."""
    left = "no record of how many" if lot.left is None else f"{lot.left} left"
    if there.whole:
        return left
    if there.count is not None and there.sure:
        return f"{there.count} of the {left}" if lot.left is not None else f"{there.count}"
    moved = f"part of it, {there.count} there before" if there.count is not None else "part of it"
    return f"{moved}; {left} in all" if lot.left is not None else moved


def kept_line(kept: Sequence[Sequence[str | int]]) -> str:
    """For whom plants are kept, and how many: "10 for mia and 6 for mrs dunn"; "nothing" where none are."""
    return listed([f"{count} for {name}" if name else str(count) for name, count in kept]) or "nothing"


def free_line(free: int | None) -> str:
    """How many of a lot are kept for nobody, as the end of a sentence; nothing where nobody has counted them."""
    return "" if free is None else f"; {free} free"
