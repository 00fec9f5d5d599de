"""How it stands now: counts, places, what is open, what is due."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from core.answers import Answer, BatchTold, DueTold, OpenTold, Refused, WhereTold
from core.entries import Entry
from core.lots import Cover, fold_batches, fold_cover, open_states
from core.lots.phrases import says
from core.questions.asked_words import asked_words
from core.questions.spans import days_meant
from core.questions.subjects import asked_lots
from core.records import in_order, local_day
from core.reminders import Due
from core.storage import Books
from core.treatments import protocols

_ORIGIN = re.compile(r"\b(from|mother|source|origin|provenance|parent)\b")
_EVERY_DAY = frozenset({"daily_look"})
"""What comes every day is told of today once it was said and as long as nobody has answered it, and of a day to come."""
_STEPS_OF_A_TRAY = frozenset({"wean", "vent", "shade_out", "cover_off"})
_DAILY_SAID_AHEAD = timedelta(days=7)
"""What is due every day is said of a day so near; by a later one the cover may be off for good."""
_MOST_PLANNED = 8
_MOST_OF_A_STEP = 4


def where_is(books: Books, entry: Entry, words: str, now: datetime) -> Answer:
    """Where lots stand and are from; for a tray, what stands in it and whether its cover is on."""
    asked = asked_lots(books, entry, now)
    if asked.unknown:
        return Refused(why="no_lot", facts={"unknown": asked.unknown})
    covers = tuple((tray, cover_of(books, tray, now)) for tray in entry.trays if tray != "all")
    return WhereTold(lots=asked.lots, trays=entry.trays, covers=covers, asked=entry.plant or "", origin=bool(_ORIGIN.search(words)))


def what_is_due(books: Books, entry: Entry, words: str, now: datetime) -> Answer:
    """What is to be done: now and overdue, on a day, within some days, or for a lot or tray whenever it comes."""
    zone = books.crew.zone
    day = entry.on.date() if isinstance(entry.on, datetime) else entry.on
    asked = asked_lots(books, entry, now)
    if asked.unknown:
        return Refused(why="no_lot", facts={"unknown": asked.unknown})
    open_ones = books.open_reminders()
    dues = [row.due for row in open_ones if row.due.kind not in _EVERY_DAY]
    if entry.lots or entry.trays or entry.plant:
        names = (
            {lot.number for lot in asked.lots} | set(entry.trays) | {tray for lot in asked.lots for tray in lot.trays}
        )
        dues = [due for due in dues if due.subject.name in names or due.subject.name == entry.plant]
        if step_asked(entry, words):
            dues = [due for due in dues if due.kind in _steps_in(words)]
        return DueTold(dues=_soonest(dues), about="subject", lots=asked.lots, day=day)
    local_today = now.astimezone(zone).date()
    if day is not None and day != local_today:
        dues = [due for due in dues if due.due_at.astimezone(zone).date() == day]
        daily = [row.due for row in open_ones if row.due.kind in _EVERY_DAY]
        dues += [_on_day(due, day, zone) for due in daily if local_today < day <= local_today + _DAILY_SAID_AHEAD]
        return DueTold(dues=_soonest(dues), about="day", day=day)
    span = days_meant(words, local_today, ahead=True) if day is None else None
    if span is not None and span[1] >= local_today:
        first = max(span[0], local_today)
        overdue = first == local_today
        days = [(due, due.due_at.astimezone(zone).date()) for due in dues]
        dues = [due for due, on in days if on <= span[1] and (overdue or on >= first)]
        return DueTold(dues=_soonest(dues), about="days", day=first, until=span[1])
    if says(words, asked_words()["planned"]["reminders"]):
        return DueTold(dues=_asked_for_first(dues), about="subject")
    steps = _steps_in(words) if words.startswith("when") else frozenset()
    if steps:
        return DueTold(dues=_soonest([due for due in dues if due.kind in steps])[:_MOST_OF_A_STEP], about="subject")
    if words.startswith("when") and not says(words, asked_words()["planned"]["due"]):
        # "Nothing is due today" would be no answer to "when is the next newsletter".
        return Refused(why="unclear_question")
    dues += [row.due for row in open_ones if row.due.kind in _EVERY_DAY and row.sent_at is not None]
    dues = [due for due in dues if due.due_at.astimezone(zone).date() <= local_today]
    return DueTold(dues=_soonest(dues), about="today", day=local_today)


def _on_day(due: Due, day: date, zone: ZoneInfo) -> Due:
    """What is due every day, as it is on a day to come."""
    at = due.due_at.astimezone(zone)
    return replace(due, due_at=datetime.combine(day, at.time(), tzinfo=zone))


def step_asked(entry: Entry, words: str) -> bool:
    """Whether a question asks when a step under the cover or in the shade comes ("when does weaning start for sage")."""
    if entry.about == "plan":
        return words.startswith("when") and says(words, asked_words()["told_by_plan"]["says"])
    return entry.about == "due" and words.startswith("when") and bool(_steps_in(words) & _STEPS_OF_A_TRAY)


def needs_asked(entry: Entry, words: str) -> bool:
    """Whether a question asks for which lots or trays a step is due ("which lots need a root check")."""
    page = asked_words()["needing"]
    opens = any(words.startswith(f"{one} ") for one in page["opens"])
    return entry.about in ("list", "due") and opens and says(words, page["lacks"]) and bool(_steps_needed(words))


def what_needs_it(books: Books, entry: Entry, words: str, now: datetime) -> Answer:
    """Where the step that a question names is due by now; where it is due nowhere, when it comes next."""
    zone = books.crew.zone
    kinds, asked = _steps_needed(words), asked_lots(books, replace(entry, state=None), now)
    names = {name for lot in asked.lots for name in (lot.number, *lot.trays)} | set(entry.trays)
    dues = _soonest([row.due for row in books.open_reminders() if row.due.kind in kinds and row.due.subject.name in names])
    today = tuple(due for due in dues if due.due_at.astimezone(zone).date() <= local_day(now, zone))
    first: dict[object, Due] = {}
    for due in dues:
        first.setdefault((due.subject, due.kind), due)
    return DueTold(dues=today or tuple(first.values())[:_MOST_OF_A_STEP], about="step")


def _steps_needed(words: str) -> frozenset[str]:
    page = asked_words()["needing"]
    return _steps_in(words) | {kind for kind in ("old_count", "mist") if says(words, page[kind])}


def _steps_in(words: str) -> frozenset[str]:
    return frozenset(kind for kind, said in asked_words()["steps"].items() if says(words, said))


def _asked_for_first(dues: list[Due]) -> tuple[Due, ...]:
    """The soonest of all that is planned, and whatever somebody asked to be reminded of, in the order of time."""
    asked = [due for due in dues if due.kind == "as_asked"]
    others = [due for due in _soonest(dues) if due.kind != "as_asked"][: max(_MOST_PLANNED - len(asked), 0)]
    return _soonest([*asked, *others])


def _soonest(dues: list[Due]) -> tuple[Due, ...]:
    return tuple(sorted(dues, key=lambda due: due.due_at))


def what_is_open(books: Books, entry: Entry, now: datetime) -> Answer:
    """What stands open now and must be closed again."""
    return OpenTold(opens=tuple(open_states(books.records(), books.lots(), books.crew.zone, now)))


def is_it_good(books: Books, entry: Entry, now: datetime) -> Answer:
    """Whether a solution is still good, by the rule in force; no record of a batch is said as such."""
    solution = entry.solution or "bleach"
    records = in_order(books.records(acts=("mix", "pour_out")))
    batches = [batch for batch in fold_batches(records, now) if batch.solution == solution]
    if not batches:
        return BatchTold(solution=solution, facts={"known": False})
    latest = batches[-1]
    hours = protocols().working_hours(solution)
    return BatchTold(
        solution=solution,
        facts={
            "known": True,
            "mixed_at": latest.mixed_at.astimezone(books.crew.zone).isoformat(),
            "poured_out": latest.poured_out_at is not None,
            "age_minutes": int((now - latest.mixed_at).total_seconds() // 60),
            "good_for_hours": hours,
            "parts": list(latest.parts),
            "by": latest.by,
        },
    )


def cover_of(books: Books, tray: str, now: datetime) -> Cover:
    """The cover of a tray as its records tell it."""
    return fold_cover(books.tray_records(tray), books.crew.zone, now)
