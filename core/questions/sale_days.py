"""For which day, and for how many, is a question asked: said in it, else as the crew's targets say."""

from __future__ import annotations

import calendar
import re
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from core.entries import Entry
from core.records import in_order, local_day
from core.storage import Books
from core.vocabulary.plants import same_plant

_MONTHS = {name.lower(): number for number, name in enumerate(calendar.month_name) if name}
_MONTH = re.compile(rf"\b({'|'.join(_MONTHS)})\b")


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """A target in force: so many of a plant by a day."""

    plant: str
    count: int
    due: date


def targets(books: Books, now: datetime) -> tuple[Wanted, ...]:
    """The targets still to come, one a plant (its latest word counts), the latest told last."""
    today = local_day(now, books.crew.zone)
    found: list[Wanted] = []
    for record in in_order(books.records(acts=("target",))):
        entry = record.entry
        if entry.plant and entry.count is not None and entry.due:
            found = [one for one in found if not same_plant(one.plant, entry.plant)]
            found.append(Wanted(plant=entry.plant, count=entry.count, due=entry.due))
    return tuple(one for one in found if one.count and one.due >= today)


def target_of(books: Books, plant: str | None, now: datetime) -> Wanted | None:
    """The target of a plant; without a plant the one that was told last."""
    known = targets(books, now)
    if plant is None:
        return known[-1] if known else None
    return next((one for one in known if same_plant(one.plant, plant)), None)


def day_asked(books: Books, entry: Entry, words: str, now: datetime) -> date | None:
    """The day that a question is about: said, else the day of the plant's target, else of any target, else None.

    A month alone means the target's day in that month, else its first day.
    """
    if entry.on is not None:
        day = entry.on.date() if isinstance(entry.on, datetime) else entry.on
        return _still_to_come(day, words, local_day(now, books.crew.zone))
    if entry.due is not None:
        return entry.due
    known = targets(books, now)
    month = _MONTH.search(words)
    if month and _is_month(words, month):
        return _in_month(_MONTHS[month.group(1)], [one.due for one in known], local_day(now, books.crew.zone))
    own = target_of(books, entry.plant, now) if entry.plant else None
    return own.due if own else known[-1].due if known else None


def _still_to_come(day: date, words: str, today: date) -> date:
    """ "100 potted by october 1", asked in march: what is wanted by a day without a year is for the one to come."""
    told_so = re.search(r"\bby\b", words) is None or str(day.year) in words
    leap_day = (day.month, day.day) == (2, 29)
    if told_so or leap_day or day >= today or today - day < timedelta(days=31):
        return day
    return min(one for year in (today.year, today.year + 1) if (one := day.replace(year=year)) >= today)


def _is_month(words: str, found: re.Match[str]) -> bool:
    """`may` and `march` are verbs as well: only after a word that leads to a day."""
    if found.group(1) not in ("may", "march"):
        return True
    return bool(re.search(r"\b(by|for|in|until|before|early|late|next|of|mid)\s*$", words[: found.start()]))


def _in_month(month: int, dues: list[date], today: date) -> date:
    same = [due for due in dues if due.month == month]
    if same:
        return same[-1]
    first = date(today.year, month, 1)
    return first if first >= today else date(today.year + 1, month, 1)
