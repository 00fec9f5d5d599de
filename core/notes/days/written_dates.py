"""The door to dateparser: a short span of date words that our own arithmetic has no rule for, to a local date.

Rules
1. Only a span after a trigger word comes here (date_spans.py), never a note; moments.py checks the result.
2. English only, month before day, naive local time, no timestamps; a result that does not name a day is none.
3. dateparser is imported at the first span, so that the program starts without it.
"""

from __future__ import annotations

import re
from datetime import date, datetime, time
from functools import lru_cache
from typing import Any, Final

_LONGEST: Final = 40
_DOTTED: Final = re.compile(r"\d+\.\d+")
_SETTINGS: Final = {
    "DATE_ORDER": "MDY",
    "PARSERS": ["relative-time", "absolute-time"],
    "RETURN_AS_TIMEZONE_AWARE": False,
    "RETURN_TIME_AS_PERIOD": True,
    "PREFER_DAY_OF_MONTH": "first",
}


@lru_cache(maxsize=4)
def _reader(base: datetime, direction: str) -> Any:
    from dateparser.date import DateDataParser

    settings = {**_SETTINGS, "RELATIVE_BASE": base, "PREFER_DATES_FROM": direction}
    return DateDataParser(languages=["en"], settings=settings)


def read_written(words: str, now: datetime, *, ahead: bool) -> date | datetime | None:
    """The local date (or date and time) that `words` name, looking ahead or back from `now`; None where dateparser
    reads no one day, or the order of day and month is not sure (`3.5.26`).
    """
    if len(words) > _LONGEST or _DOTTED.search(words):
        return None
    base = datetime.combine(now.date(), time())
    try:
        found = _reader(base, "future" if ahead else "past").get_date_data(words)
    except (ValueError, OverflowError, TypeError, AttributeError, KeyError, IndexError):
        return None
    if found.date_obj is None or found.period not in ("day", "time"):
        return None
    told: datetime = found.date_obj.replace(tzinfo=None)
    return told if found.period == "time" else told.date()
