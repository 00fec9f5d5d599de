"""A tray that a whole note told wrong, put right while it is still asked which lot stands in it ("no wait, tray 2").

Rules
1. The tray that was meant answers the question, and what that note has already recorded of the wrong tray is corrected.
2. Only right after the question, where nothing was told since.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from core.answers import Answer
from core.conversation.answering import CORRECTS_WITHIN, answer_with_words, told_since
from core.conversation.asking import pending_of
from core.conversation.correcting import amend
from core.conversation.noting import complete_note
from core.conversation.righting import fields_of
from core.conversation.scene import Scene
from core.conversation.two_parts import in_order
from core.entries import Act, Entry
from core.notes import Reading, read
from core.records import Record
from core.storage import Books, OpenQuestion


def hear_wrong_place(
    books: Books, scene: Scene, reading: Reading
) -> tuple[tuple[Answer, ...], Sequence[Record]] | None:
    """What a corrected tray comes to for the note that is asked about, all of it; None for other words."""
    told = reading.entries[0] if len(reading.entries) == 1 else None
    question = scene.question
    if question is None or question.kind != "lot" or told is None or told.act is not Act.AMEND or scene.replied_records:
        return None
    if told.rest or set(fields_of(told)) - {"lots", "trays"} or len(told.lots) + len(told.trays) != 1:
        return None
    if scene.now - question.asked_at > CORRECTS_WITHIN or told_since(books, scene, question):
        return None
    wrong = _told_of_the_wrong_tray(books, question)
    if not wrong:
        return None
    place = f"lot {told.lots[0]}" if told.lots else f"tray {told.trays[0]}"
    meant = replace(scene, message=replace(scene.message, text=place))
    answered = answer_with_words(books, meant, question, read(place, scene.local_now, scene.names))
    if answered is None:
        return None
    answers, records = complete_note(books, meant, answered)
    right = amend(books, replace(scene, question=None, replied_records=tuple(wrong)), told)
    return in_order(answers, (right,)), records


def _told_of_the_wrong_tray(books: Books, question: OpenQuestion) -> list[Record]:
    """The records of the note that is asked about that tell of the same tray."""
    asked: Entry = pending_of(question)[0].entries[0]
    beside = books.records_of_message(question.draft["message"])
    return [one for one in beside if one.holds() and asked.trays and one.entry.trays == asked.trays]
