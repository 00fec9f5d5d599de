"""What did somebody ask to be reminded of, and when does a shift end?

Rules
1. A reminder asked for comes at its own time, in or out of bench hours; without a time, with the morning list.
2. It is addressed to whom it was asked for, else to who asked; one told in a private chat stays there.
3. A weekly one is asked again each week, a day at a time; it is of use until its next time comes.
4. A hand-over is planned for every shift of the week to come; what is open then is looked up when it is sent.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, datetime, time, timedelta

from core.entries import WEEKDAYS, Act
from core.records import Record
from core.reminders.ground import Ground
from core.reminders.roster import Shift, shifts
from core.reminders.values import Due

_ITSELF = frozenset({"me", "us", "everyone", "all", "i"})


def as_asked(ground: Ground) -> tuple[Due, ...]:
    """Every reminder that somebody asked for, each until it is answered."""
    dues: list[Due] = []
    for record in ground.of(Act.REMIND):
        for person in _people(record):
            dues += ground.first_open(_times(ground, record, person))
    return tuple({due.key(): due for due in dues}.values())


def hand_over(ground: Ground) -> tuple[Due, ...]:
    """A word to whoever is on shift, some minutes before the shift ends."""
    before = timedelta(minutes=ground.protocol.minutes("hand_over_before"))
    days = [ground.today + timedelta(days=number) for number in range(8)]
    ending: dict[datetime, list[Shift]] = {}
    for shift in shifts(ground.of(Act.ROSTER), days, ground.zone):
        if shift.until is not None:
            ending.setdefault(ground.wall(shift.on, shift.until), []).append(shift)
    dues = []
    for ends_at, ended in sorted(ending.items()):
        names = sorted({shift.who for shift in ended})
        facts = {"who": names, "until": ends_at.astimezone(ground.zone).strftime("%H:%M")}
        step = ground.numbered(0, *names)
        dues.append(ground.due("hand_over", ends_at - before, step=step, facts=facts, to=names[0]))
    return ground.all_open(dues)


def _people(record: Record) -> tuple[str, ...]:
    asked_for = tuple(record.told_by if name.lower() in _ITSELF else name for name in record.entry.who)
    return asked_for or (record.told_by,)


def _times(ground: Ground, record: Record, person: str) -> Iterator[Due]:
    entry = record.entry
    facts = {
        "text": entry.text or "",
        "by": record.told_by,
        "lots": list(entry.lots),
        "trays": list(entry.trays),
        "weekly": bool(entry.every),
    }
    private = ground.history.private.get(record.message)
    step = ground.numbered(0, entry.text or "", person)
    instants = _instants(ground, record)
    due_at = next(instants, None)
    while due_at is not None:
        due = ground.due("as_asked", due_at, step=step, facts=facts, to=person, chat=private)
        due_at = next(instants, None)
        lasts = due.last_useful_at
        yield replace(due, last_useful_at=min(lasts, due_at)) if lasts is not None and due_at is not None else due


def _instants(ground: Ground, record: Record) -> Iterator[datetime]:
    entry = record.entry
    hour, first = _hour_and_day(ground, record)
    if not entry.every:
        if first is not None:
            yield ground.wall(first, hour)
        return
    wanted = {WEEKDAYS.index(day) for day in entry.every if day in WEEKDAYS}
    day = max(first or ground.day(record.at), ground.today - timedelta(days=7))
    while wanted:
        if day.weekday() in wanted and ground.wall(day, hour) > record.at:
            yield ground.wall(day, hour)
        day += timedelta(days=1)


def _hour_and_day(ground: Ground, record: Record) -> tuple[time, date | None]:
    at = record.entry.at
    usual = ground.protocol.hour("as_asked_hour")
    if isinstance(at, datetime):
        return at.time(), at.date()
    return record.entry.from_time or usual, at
