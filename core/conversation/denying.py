"""Which record a note denies: what closed a lot ("lot 7 isn't done, reopen"), or what opened it ("never stuck lot 17").

Rules
1. Nothing is taken back unasked: the record is shown, and a yes takes back the message that told it.
"""

from __future__ import annotations

from core.answers import Answer, Choice
from core.conversation.asking import put_question
from core.conversation.correction_words import has_one
from core.conversation.recording import Pending
from core.conversation.scene import Scene
from core.conversation.taking_back import MARKS
from core.entries import Act
from core.notes import Reading
from core.records import Record, in_order
from core.storage import Books

_OPENING = frozenset({Act.STICK, Act.SOW, Act.DIVIDE})


def hear_denial(books: Books, scene: Scene, reading: Reading) -> Answer | None:
    """The question whether the denied record is to be taken back, or None where the note denies none."""
    note = reading.entries[0] if len(reading.entries) == 1 else None
    if note is None or note.act is not Act.NOTE or len(note.lots) != 1:
        return None
    number = books.resolve(note.lots[0], scene.year(), closed_too=True)
    lot = books.lot(number) if number is not None else None
    if number is None or lot is None:
        return None
    records = [one for one in in_order(books.lot_records(number)) if one.entry.act not in MARKS]
    denied = None
    if lot.closed and has_one(scene.message.text, "reopens"):
        denied = next((one for one in reversed(records) if one.entry.act not in (Act.NOTE, Act.ASK)), None)
    elif has_one(scene.message.text, "never_opened"):
        denied = next((one for one in records if one.entry.act in _OPENING), None)
    return _ask(books, scene, denied) if denied is not None else None


def _ask(books: Books, scene: Scene, denied: Record) -> Answer:
    day = denied.said_at.astimezone(scene.zone).date().isoformat()
    facts = {"by": denied.told_by, "day": day, "said": denied.said}
    choices = (Choice(label="yes", action={"take_back": denied.message}), Choice(label="no", action={"drop": True}))
    pending = Pending(kind="denied", entries=(denied.entry,), choices=choices, facts=facts)
    return put_question(books, scene, [pending])
