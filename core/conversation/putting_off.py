"""Until when a reminder is put off: "later", "snooze till thursday", and "tomorrow" alone.

Rules
1. A time alone puts off the reminders replied to, or those that the same person has just put off by another time.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, timedelta

from core.conversation.answer_words import without_closers
from core.conversation.scene import Scene
from core.entries import Act, Entry
from core.lengths import Length
from core.notes import Reading, read, read_answer
from core.storage import Books, StoredReminder

LATER = Length.of_minutes(60)
_SOON = timedelta(minutes=15)


def put_off_until(entry: Entry, local: datetime) -> datetime:
    """The local time until which an answer puts a reminder off; an hour from now where it says none."""
    return _said(entry, local) or (entry.duration or LATER).after(local)


def hear_time_alone(
    books: Books, scene: Scene, reading: Reading
) -> tuple[Entry, tuple[StoredReminder, ...]] | None:
    """The putting off that "tomorrow" or "tomorrow please" is, and of which reminders; None for other words."""
    if any(one.act is not Act.NOTE or one.lots or one.trays or one.plant for one in reading.entries):
        return None
    words = without_closers(scene.message.text)
    if not words or "?" in scene.message.text or words.isdecimal():
        return None
    told = read(f"later {words}", scene.local_now, scene.names).entries
    entry = told[0] if len(told) == 1 and told[0].act is Act.REPLY and told[0].answer == "later" else None
    until = put_off_until(entry, scene.local_now) if entry is not None else None
    if entry is None or until is None or until <= scene.local_now:
        return None
    if entry.duration is None and _said(entry, scene.local_now) is None:
        return None
    meant = _meant(books, scene)
    return (replace(entry, lots=(), trays=()), meant) if meant else None


def _said(entry: Entry, local: datetime) -> datetime | None:
    """The moment that `snooze till thursday` names, at this hour where it is a day; None where it names none."""
    if entry.duration is not None or not entry.rest:
        return None
    words = entry.rest.removeprefix("till ").removeprefix("until ").removeprefix("til ")
    found = (read_answer("date", words, local) or {}).get("at")
    if isinstance(found, date) and not isinstance(found, datetime):
        return datetime.combine(found, local.time())
    return found if isinstance(found, datetime) else None


def _meant(books: Books, scene: Scene) -> tuple[StoredReminder, ...]:
    open_ones = books.open_reminders(chat=scene.chat, sent=True)
    if scene.replied_reminders:
        return tuple(one for one in open_ones if one.number in scene.replied_reminders)
    keys = _just_put_off(books, scene) if open_ones else set()
    return tuple(one for one in open_ones if one.due.key() in keys)


def _just_put_off(books: Books, scene: Scene) -> set[str]:
    """The reminders that this person's last message put off."""
    message = scene.message
    lately = books.said_lately(
        scene.chat, scene.speaker, since=message.said_at - _SOON, until=message.said_at, but=message.message_id
    )
    told = books.records_of_message(lately[0][0]) if lately else ()
    return {one.reminder for one in told if one.holds() and one.entry.answer == "later" and one.reminder is not None}
