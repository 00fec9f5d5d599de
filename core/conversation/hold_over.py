"""Which hold is over: "lot 4 looks fine, clear it", "lot 4 is fine again".

Rules
1. Words that set a lot free clear the hold that stands on it.
2. Words that only say that it looks well again are asked about: what was set apart is not let go by a kind word.
"""

from __future__ import annotations

from typing import Final

from core.answers import Answer, Choice
from core.conversation.asking import put_question
from core.conversation.correction_words import bare
from core.conversation.heard import heard
from core.conversation.recording import Pending
from core.conversation.scene import Scene
from core.conversation.waiting import set_aside
from core.entries import Act, Entry
from core.lots.phrases import says
from core.notes import Reading
from core.storage import Books

_PAGE: Final = "answers_heard"
_TABLE: Final = "hold_over"


def hear_hold_over(books: Books, scene: Scene, reading: Reading) -> Reading | Answer:
    """The reading with the hold that is cleared, or the question whether it is; else as it was."""
    note = reading.entries[0] if len(reading.entries) == 1 else None
    if note is None or note.act is not Act.NOTE or len(note.lots) != 1 or "?" in scene.message.text:
        return reading
    number = books.resolve(note.lots[0], scene.year())
    lot = books.lot(number) if number is not None else None
    words = bare(scene.message.text)
    if lot is None or lot.hold is None or says(words, heard(_PAGE, _TABLE, "not")):
        return reading
    clear = Entry(act=Act.CLEAR, lots=(lot.number,), by=note.by, on=note.on)
    if says(words, heard(_PAGE, _TABLE, "clears")):
        return Reading(entries=(clear,), repairs=reading.repairs)
    if not says(words, heard(_PAGE, _TABLE, "well")):
        return reading
    choices = (Choice(label="yes", action={"choose": clear.as_keys()}), Choice(label="no", action={"drop": True}))
    facts = {"lot": lot.number, "cause": lot.hold}
    pending = Pending(kind="hold_over", entries=(note,), choices=choices, facts=facts)
    return put_question(books, set_aside(books, scene), [pending])
