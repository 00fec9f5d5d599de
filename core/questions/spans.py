"""Which days a question means: "this week", "the last 10 days"; the door to spans.toml."""

from __future__ import annotations

import re
import tomllib
from calendar import monthrange
from datetime import date, timedelta
from functools import cache
from importlib.resources import files
from typing import Any

_NUMBERS = {"two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "ten": 10}
_LONGEST = 400


@cache
def _rows() -> tuple[tuple[re.Pattern[str], dict[str, Any]], ...]:
    """Each phrase, ready to be looked for, with its row, the longest first."""
    table = tomllib.loads(files("core.questions").joinpath("spans.toml").read_text(encoding="utf-8"))
    number = rf"(?P<number>\d{{1,3}}|{'|'.join(_NUMBERS)})"
    found = [(phrase, row) for row in table["span"] for phrase in row["says"]]
    return tuple(
        (re.compile(rf"\b{re.escape(phrase).replace(re.escape('{number}'), number)}\b"), row)
        for phrase, row in sorted(found, key=lambda one: -len(one[0]))
    )


def days_meant(words: str, today: date) -> tuple[date, date] | None:
    """The first and the last day of the span that some words name, or None where they name none."""
    for pattern, row in _rows():
        found = pattern.search(words)
        if found is None:
            continue
        named = found.groupdict().get("number")
        number = min(_NUMBERS.get(named) or int(named), _LONGEST) * int(row.get("times", 1)) if named else 0
        anchor = {"day": today, "week": today - timedelta(days=today.weekday()), "month": today.replace(day=1)}
        begin = anchor[row["anchor"]]
        ends = row.get("last", monthrange(today.year, today.month)[1] - 1)
        first = -number if row["first"] == "number" else int(row["first"])
        last = number if ends == "number" else int(ends)
        return begin + timedelta(days=first), begin + timedelta(days=last)
    return None
