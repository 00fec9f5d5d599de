"""How an edited message is read anew: what it had recorded is set aside first.

Rules
1. The old records are superseded by the edit, and a lot that they opened keeps its number.
2. An edited correction corrects what it had corrected before.
3. An edited answer answers the same question anew.
4. The receipt of the new words says what the first ones had recorded, where that is not the same.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from core.answers import Answer, Corrected, Noted, Undone
from core.conversation.answering import answer_with_words
from core.conversation.completing import Answered
from core.conversation.scene import Scene
from core.conversation.taking_back import MARKS, refold_all, taken_back_by_edit, write_mark
from core.entries import Act, Entry
from core.notes import Reading
from core.records import Record
from core.storage import Books

_OPENERS = frozenset({Act.STICK, Act.SOW, Act.DIVIDE, Act.SPLIT, Act.TREAT})


def withdraw(books: Books, scene: Scene, message: str) -> tuple[Record, ...]:
    """Sets aside what an edited message had recorded, and frees the lot numbers that it opened, for the new reading."""
    records = tuple(record for record in books.records_of_message(message) if record.holds())
    opened = [record.lot for record in records if record.lot and record.entry.act in _OPENERS and _opens(books, record)]
    scene.reuse.extend(dict.fromkeys(opened))
    mark = write_mark(books, scene, Entry(act=Act.AMEND))
    books.supersede([record.number for record in records], by=mark.number)
    refold_all(books, scene, records)
    return records


def let_hold_again(books: Books, scene: Scene, withdrawn: tuple[Record, ...]) -> tuple[Record, ...]:
    """The records that these had corrected, which hold again now that these are withdrawn."""
    numbers = [
        before.number
        for record in withdrawn
        if record.entry.act not in MARKS
        for before in books.superseded_by(record.number)
        if before.entry.act not in MARKS and before.message != record.message
    ]
    books.restore(numbers)
    again = tuple(found for found in map(books.record, numbers) if found is not None and found.holds())
    refold_all(books, scene, again)
    return again


def answered_anew(
    books: Books, scene: Scene, original: str | None, withdrawn: tuple[Record, ...], reading: Reading
) -> Answered | None:
    """What the edited words are as an answer, where the first words had answered a question about another note."""
    told = withdrawn[0] if withdrawn else None
    if told is None or len({one.said_at for one in withdrawn}) > 1:
        return None
    for question in books.closed_questions(scene.chat, scene.speaker, since=told.said_at):
        draft = question.draft
        asked = draft["said"] == told.said and datetime.fromisoformat(draft["said_at"]) == told.said_at
        if asked and draft["message"] != original:
            return answer_with_words(books, replace(scene, question=question), question, reading)
    return None


def with_what_stood_before(
    books: Books, scene: Scene, answers: tuple[Answer, ...], withdrawn: tuple[Record, ...]
) -> tuple[Answer, ...]:
    """The answers to an edited note with what the first words had recorded and the new ones do not say."""
    told = [one for one in withdrawn if one.entry.act not in (*MARKS, Act.NOTE)]
    if not told or any(isinstance(one, Corrected) for one in answers):
        return answers
    receipt = next((one for one in answers if isinstance(one, Noted)), None)
    if receipt is None:
        back = taken_back_by_edit(books, scene, told)
        return (replace(back, choices=()) if isinstance(back, Undone) else back, *answers)
    now = {act.entry for act in receipt.acts}
    before = tuple(dict.fromkeys(one.entry for one in told if one.entry not in now))
    return tuple(replace(one, instead_of=before) if one is receipt else one for one in answers)


def _opens(books: Books, record: Record) -> bool:
    """True where this record is the first that holds in its lot's history."""
    assert record.lot is not None
    history = [other for other in books.lot_records(record.lot) if other.holds()]
    return bool(history) and min(history, key=Record.order).number == record.number
