"""Which note of an earlier day is to be taken back: "delete monday's note", "yesterday's count was wrong".

Rules
1. Only the speaker's own notes of that day in this chat are meant, and each is shown before it goes.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta

from core.answers import Answer, Choice, Refused
from core.conversation.asking import put_question
from core.conversation.correction_words import bare, said, without_day
from core.conversation.recording import Pending
from core.conversation.scene import Scene
from core.conversation.taking_back import MARKS
from core.notes import say_back
from core.records import Record, local_day
from core.storage import Books

_REACH = timedelta(days=8)
_MOST = 5


def hear_undo_of_a_day(books: Books, scene: Scene) -> Answer | None:
    """What "undo monday", "monday's note was wrong" come to; None for other words."""
    words = bare(scene.message.text)
    opened = any(words.startswith(f"{one} ") for one in said("undo_of_a_day", "openers"))
    wrong = any(words.endswith(f" {one}") for one in said("undo_of_a_day", "wrong"))
    return _of_a_day(books, scene, words) if opened or wrong else None


def _of_a_day(books: Books, scene: Scene, text: str) -> Answer | None:
    words, day = without_day(text.split(), scene.local_now)
    if day is None or set(words) - set(said("undo_of_a_day")):
        return None
    told = books.told_by(scene.speaker, scene.chat, since=scene.message.said_at - _REACH)
    on_that_day = [one for one in told if local_day(one.said_at, scene.zone) == day and one.entry.act not in MARKS]
    messages = dict.fromkeys(one.message for one in on_that_day)
    notes = {message: _told([one for one in on_that_day if one.message == message]) for message in messages}
    if not notes:
        return Refused(why="no_note_that_day", facts={"day": day.isoformat()})
    message, shown = list(notes.items())[-1]
    facts = {"day": day.isoformat(), "said": shown, "of_that_day": len(notes)}
    choices = [Choice(label="yes", action={"take_back": message})]
    if len(notes) > 1:
        choices = [Choice(label=told, action={"take_back": key}) for key, told in list(notes.items())[-_MOST:]]
    choices.append(Choice(label="no", action={"drop": True}))
    pending = Pending(kind="undo_of_a_day", entries=(on_that_day[-1].entry,), choices=tuple(choices), facts=facts)
    return put_question(books, scene, [pending])




def _told(records: Sequence[Record]) -> str:
    """What the records of one note say, in one line."""
    return "; ".join(dict.fromkeys(say_back(replace(one.entry, rest=None)) for one in records))
