"""Who is at the bench, and when is somebody on: from the roster as the crew told it.

Rules
1. A day or a week is told with everybody's hours; without one it is who is there now.
2. Somebody's next shift is looked for some weeks ahead; one that is on now counts.
"""

from __future__ import annotations

import re
from datetime import date, datetime, timedelta
from typing import Final

from core.answers import Answer, ShiftsTold, WhoTold
from core.entries import Entry
from core.lots.phrases import says
from core.questions.asked_words import asked_words
from core.questions.spans import days_meant
from core.records import local_day
from core.reminders.roster import on_shift, shifts
from core.storage import Books
from core.vocabulary.everyday import is_given_name

_AHEAD: Final = 35
"""So many days ahead the next shift of somebody is looked for."""
_WHEN_ON: Final = re.compile(
    r"^(?:so |and |hey )*when(?:'s|s)? (?:is |are |am |does |do |will |should )?(?P<who>[a-z][a-z' -]*?) (?:next )?"
    r"(?:be |get |have )?(?:on|here|in|there|coming|come|comes|working|work|works|back|rostered|scheduled|due|at the bench|"
    r"a shift|(?:the|my|their|his|her) (?:next )?shift)(?: next| again| in| to work| this week| next week)?\??$"
)


def who_is_on(books: Books, entry: Entry, words: str, now: datetime) -> Answer:
    """Who is at the bench now, on the day or in the week that the question names, or next."""
    zone = books.crew.zone
    today = local_day(now, zone)
    day = entry.on.date() if isinstance(entry.on, datetime) else entry.on
    span = days_meant(words, today, ahead=True) if day is None else None
    told = books.records(acts=("roster",))
    if span is not None:
        first = max(span[0], today) if span[1] >= today else span[0]
        days = [first + timedelta(days=number) for number in range((span[1] - first).days + 1)]
        return ShiftsTold(shifts=shifts(told, days, zone), span=(first, span[1]))
    if day is None and says(words, asked_words()["shift"]["next"]):
        return _next(books, None, now)
    names = on_shift(told, now, zone, day=day)
    that_day = [one for one in shifts(told, [day or today], zone) if one.who in names] if day is not None else []
    return WhoTold(
        names=names, asked="bench", facts={"day": day.isoformat() if day else None}, shifts=tuple(that_day)
    )


def shift_asked(books: Books, entry: Entry, words: str, by: str) -> str | None:
    """Whose next shift a question asks for ("when is thea on", "when am i on"): "" for anybody's; None for no shift."""
    if entry.about not in ("due", "how", "history", "plan") or entry.lots or entry.trays:
        return None
    if says(words, asked_words()["shift"]["following"]):
        return ""
    found = _WHEN_ON.search(words)
    if found is None:
        return None
    low = found["who"]
    if low in ("i", "me"):
        return by or None
    known = {name.lower(): name for name in books.names().people}
    if low in known:
        return known[low]
    return low if entry.plant is None and is_given_name(low) else None


def when_is_on(books: Books, who: str, now: datetime) -> Answer:
    """The next shift of somebody, or of anybody where nobody is named."""
    return _next(books, who or None, now)


def _next(books: Books, who: str | None, now: datetime) -> ShiftsTold:
    local = now.astimezone(books.crew.zone).replace(tzinfo=None)
    days = [local.date() + timedelta(days=number) for number in range(_AHEAD)]
    coming = [
        one
        for one in shifts(books.records(acts=("roster",)), days, books.crew.zone)
        if (one.until is None or datetime.combine(one.on, one.until) > local)
        and (who is None or one.who.lower() == who.lower())
    ]
    first: date | None = coming[0].on if coming else None
    alike = tuple(one for one in coming if one.on == first and one.from_time == coming[0].from_time)
    return ShiftsTold(shifts=alike[: 1 if who else None], who=who or "", following=True)
