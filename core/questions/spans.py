"""Which days a question means: "this week", "the last 10 days", "since friday", "in february"; the door to spans.toml.

Rules
1. A month without its year is the latest one that has begun, or the next one for what is still to come.
2. "Since" a day or a span is from its first day on, "before" it is all that was until the day before.
"""

from __future__ import annotations

import re
from calendar import month_abbr, month_name, monthrange
from datetime import date, datetime, timedelta
from functools import cache
from typing import Any

from core.questions.asked_words import page

_NUMBERS = {"two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "ten": 10}
_LONGEST = 400
_MONTHS = {name.lower(): number for names in (month_name, month_abbr) for number, name in enumerate(names) if name}
_MONTH = re.compile(
    r"\b(?:in|since|before|during|until|till|by|last|this|through) (?:the )?(?P<part>early |mid |late )?"
    rf"(?P<month>{'|'.join(sorted(_MONTHS, key=len, reverse=True))})(?: (?P<year>20\d\d))?\b(?! ?\d)"
)
_PARTS = {"early ": (1, 10), "mid ": (11, 20), "late ": (21, 31)}
_SINCE = re.compile(r"\bsince\b")
_WEEKDAY = re.compile(r"\b(?:mon|tue|tues|wed|wednes|thu|thur|thurs|fri|sat|satur|sun)(?:day)?\b")
_BEFORE = re.compile(r"\bbefore\b")
_UNTIL = re.compile(r"\b(?:until|till|up to|as of)\b|\bby (?:the )?(?:end of )?(?:last|(?:mon|tues|wednes|thurs|fri|satur|sun)day|\d|[a-z]+ \d)")


@cache
def _rows() -> tuple[tuple[re.Pattern[str], dict[str, Any]], ...]:
    """Each phrase, ready to be looked for, with its row, the longest first."""
    table = page("spans")
    number = rf"(?P<number>\d{{1,3}}|{'|'.join(_NUMBERS)})"
    found = [(phrase, row) for row in table["span"] for phrase in row["says"]]
    return tuple(
        (re.compile(rf"\b{re.escape(phrase).replace(re.escape('{number}'), number)}\b"), row)
        for phrase, row in sorted(found, key=lambda one: -len(one[0]))
    )


def days_meant(words: str, today: date, *, ahead: bool = False) -> tuple[date, date] | None:
    """The first and the last day of the span that some words name, or None where they name none; `ahead` is asked of
    what is to come."""
    for pattern, row in _rows():
        found = pattern.search(words)
        if found is None:
            continue
        named = found.groupdict().get("number")
        number = min(_NUMBERS.get(named) or int(named), _LONGEST) * int(row.get("times", 1)) if named else 0
        begin = _anchor(row["anchor"], today)
        ends = row.get("last", _days_from(row["anchor"], begin) - 1)
        first = -number if row["first"] == "number" else int(row["first"])
        last = number if ends == "number" else int(ends)
        return begin + timedelta(days=first), begin + timedelta(days=last)
    month = _MONTH.search(words)
    return None if month is None else _days_of_month(month, today, ahead=ahead)


def span_asked(on: date | datetime | None, words: str, today: date) -> tuple[date, date] | None:
    """The days that a question of the past asks of: the day or span that it names, since that, or before it; None where
    it names none. Before a day is from `date.min` on.
    """
    day = on.date() if isinstance(on, datetime) else on
    named = (day, day) if day is not None else days_meant(words, today)
    if named is None:
        return None
    if _SINCE.search(words):
        again = named[0] == today and _WEEKDAY.search(words) is not None
        return named[0] - timedelta(days=7 * again), today
    if _BEFORE.search(words):
        return date.min, named[0] - timedelta(days=1)
    if _UNTIL.search(words):
        return date.min, named[1]
    return named


def _anchor(name: str, today: date) -> date:
    month = today.replace(day=1)
    return {
        "day": today,
        "week": today - timedelta(days=today.weekday()),
        "month": month,
        "last_month": (month - timedelta(days=1)).replace(day=1),
        "next_month": (month + timedelta(days=32)).replace(day=1),
        "year": today.replace(month=1, day=1),
        "last_year": date(today.year - 1, 1, 1),
    }[name]


def _days_from(anchor: str, begin: date) -> int:
    """How many days the month or the year has that begins on a day."""
    if anchor.endswith("year"):
        return (date(begin.year + 1, 1, 1) - begin).days
    return monthrange(begin.year, begin.month)[1]


def _days_of_month(found: re.Match[str], today: date, *, ahead: bool) -> tuple[date, date]:
    month = _MONTHS[found["month"]]
    over = month < today.month if ahead else month > today.month
    turned = (1 if ahead else -1) if over else 0
    year = int(found["year"]) if found["year"] else today.year + turned
    first, last = _PARTS.get(found["part"] or "", (1, 31))
    return date(year, month, first), date(year, month, min(last, monthrange(year, month)[1]))
