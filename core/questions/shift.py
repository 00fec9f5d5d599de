"""Can the work of a day be done by the people there, and what may wait?

Rules
1. Work is what is due or overdue on that day, by the minutes of shift_load.toml; people are those of the roster.
2. With nobody on the roster the minutes due are told, and that nobody is noted; it is no proof that nobody comes.
"""

from __future__ import annotations

import re
from datetime import datetime, time, timedelta

from core.answers import Answer, DueTold, FiguresTold
from core.entries import Entry
from core.errors import BenchError
from core.figures.shift_load import Duty, Presence, duty_of, weigh_shift
from core.questions.present import what_is_due
from core.records import local_day
from core.reminders.roster import shifts
from core.storage import Books

_WORK_OF = {
    "wean": "cover_round", "cover_back": "cover_round", "vent": "cover_round", "vents": "cover_round",
    "water": "water", "root_check": "check", "count": "check", "recount": "check", "full_count": "check",
    "pot": "pot", "pot_up": "pot", "sow": "sow", "cold_look": "check", "cold_end": "sow", "harden": "move",
    "sanitize": "sanitize", "pinch": "tend",
}  # fmt: skip
_POTTING = re.compile(r"\bhow long\b.*\bpot(?:ting)?(?: up)? (\d+)\b")
_WEEKDAY = re.compile(r"\b(mon|tues|wednes|thurs|fri|satur|sun)day\b")
_HOURS = (time(9), time(12))
"""The hours of a shift where the roster says none (common practice)."""


def can_it_be_done(books: Books, entry: Entry, words: str, now: datetime) -> Answer:
    """Minutes due against minutes there on a day, and what to put off first."""
    zone = books.crew.zone
    alone = _POTTING.search(words)
    if alone:
        work = duty_of("pot", float(alone.group(1)))
        return FiguresTold(kind="work", facts={"count": int(alone.group(1)), "minutes": work.minutes})
    today = local_day(now, zone)
    day = (entry.on.date() if isinstance(entry.on, datetime) else entry.on) or today
    while day < today and _WEEKDAY.search(words):
        day += timedelta(days=7)  # "how full is thursday" looks ahead, whatever the reader made of the day
    told = what_is_due(books, Entry(act=entry.act, about="due", on=day), "", now)
    dues = told.dues if isinstance(told, DueTold) else ()
    duties = [_duty(due.kind, due.subject.name, books) for due in dues]
    people = [
        Presence(
            who=one.who,
            from_at=datetime.combine(one.on, one.from_time or _HOURS[0], zone),
            until_at=datetime.combine(one.on, max(one.until or _HOURS[1], one.from_time or _HOURS[0]), zone),
        )
        for one in shifts(books.records(acts=("roster",)), [day], zone)
    ]
    load = weigh_shift([duty for duty in duties if duty is not None], people)
    return FiguresTold(
        kind="shift",
        facts={
            "day": day.isoformat(),
            "due": load.due_minutes,
            "there": load.there_minutes,
            "people": [one.who for one in people],
            "share": load.share if people else None,
            "state": str(load.state),
            "waits": list(load.waits),
            "stays": list(load.stays),
            "short_by": load.short_by,
            "jobs": len(duties),
        },
    )


def _duty(kind: str, subject: str, books: Books) -> Duty | None:
    work = next((act for word, act in _WORK_OF.items() if kind.startswith(word)), None) or "check"
    lot = books.lot(subject)
    count = float(max((lot.rooted or 0) - lot.potted, 1)) if work == "pot" and lot is not None else 1.0
    name = f"{kind.replace('_', ' ')} {subject}"
    try:
        return duty_of(work, count, name=name)
    except BenchError:
        return Duty(name=name, minutes=timedelta(minutes=8).total_seconds() / 60)
