"""Which notes were told before, each as it now stands: what corrects a record belongs to the note that it corrects."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import timedelta

from core.conversation.scene import TALK_LASTS, Scene
from core.entries import Act
from core.records import Record
from core.storage import Books

_NO_DEEDS = frozenset({Act.NOTE, Act.ASK, Act.UNDO, Act.AMEND, Act.REPLY})


def first_told(books: Books, record: Record) -> Record:
    """The record that this one corrects, or that one corrects, and so on back to the note itself."""
    while before := [one for one in books.superseded_by(record.number) if one.entry.act not in _NO_DEEDS]:
        record = before[0]
    return record


def notes_told(books: Books, records: Iterable[Record]) -> list[list[Record]]:
    """The records that hold of what was done, by their notes, the note told or corrected last at the end; in each the
    order in which the note told them."""
    notes: dict[str, list[tuple[int, Record]]] = {}
    for record in records:
        if record.holds() and record.entry.act not in _NO_DEEDS:
            first = first_told(books, record)
            notes[first.message] = [*notes.pop(first.message, []), (first.number, record)]
    return [[record for _, record in sorted(note, key=lambda told: told[0])] for note in notes.values()]


def own_notes(books: Books, scene: Scene) -> list[list[Record]]:
    """The note replied to, else this speaker's notes of the talk."""
    if scene.replied_records:
        return notes_told(books, scene.replied_records)
    return notes_told(books, books.told_by(scene.speaker, scene.chat, since=scene.message.said_at - TALK_LASTS))


def own_and_others(books: Books, scene: Scene, reach: timedelta) -> tuple[list[Record], list[Record]]:
    """What was told in this chat in the time before the message: by its speaker, and by others."""
    until = scene.message.said_at
    told = books.told_in(scene.chat, since=until - reach, until=until)
    own = [one for one in told if one.told_by == scene.speaker]
    return own, [one for one in told if one.told_by != scene.speaker]
