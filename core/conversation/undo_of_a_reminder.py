"""Which reminder of one's own is not wanted any more: "cancel that reminder", "delete the reminder about perlite".

Rules
1. Only reminders that somebody asked for by name are taken back so; those of the plan are skipped or answered.
2. The only one that the words may mean goes at once; of several it is asked which.
"""

from __future__ import annotations

import re
from datetime import timedelta

from core.answers import Answer, Refused
from core.conversation.correction_words import bare
from core.conversation.heard import either
from core.conversation.scene import Scene
from core.conversation.taking_back import take_back_some
from core.conversation.undo_by_name import ask_which
from core.entries import Act
from core.records import Record
from core.storage import Books

_REACH = timedelta(days=400)
_TABLE = "undo_of_a_reminder"


def hear_reminder_undone(books: Books, scene: Scene) -> Answer | None:
    """The taking back of a reminder that the speaker had asked for; None for other words."""
    opens, called, about = (either("corrections", _TABLE, key) for key in ("opens", "called", "about"))
    said = re.fullmatch(rf"(?:{opens}) (?:{called})(?: (?:{about}) (?P<text>.+))?", bare(scene.message.text))
    if said is None or scene.replied_records or scene.replied_reminders or "?" in scene.message.text:
        return None
    own = books.told_by(scene.speaker, scene.chat, since=scene.message.said_at - _REACH)
    asked_for = [one for one in own if one.entry.act is Act.REMIND and one.holds() and _is_about(one, said["text"])]
    to_come = [one for one in asked_for if _is_to_come(one, scene)] or asked_for
    if not to_come:
        return Refused(why="nothing_to_undo")
    if len(to_come) == 1:
        return take_back_some(books, scene, to_come)
    return ask_which(books, scene, [[one] for one in to_come])


def _is_about(record: Record, words: str | None) -> bool:
    """Whether a reminder's text holds all the words by which it is called."""
    return words is None or set(words.split()) <= set(bare(record.entry.text or "").split())


def _is_to_come(record: Record, scene: Scene) -> bool:
    at = record.entry.at
    return at is None or at.isoformat()[:10] >= scene.local_now.date().isoformat()
