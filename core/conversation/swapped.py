"""Two counts that were told the wrong way round: "swap those", "other way round".

Rules
1. They are the two counts of the note just told, or of the last two, of the same kind and of two lots; nothing else.
"""

from __future__ import annotations

from dataclasses import replace

from core.answers import Answer
from core.conversation.correcting import amend_record
from core.conversation.correction_words import bare, said, without_ends
from core.conversation.left_out import one_undo
from core.conversation.scene import TALK_LASTS, Scene
from core.entries import Act
from core.records import Record
from core.storage import Books


def hear_swapped(books: Books, scene: Scene) -> tuple[Answer, ...]:
    """The answers to words that two counts were told the wrong way round; none for other words."""
    if without_ends(bare(scene.message.text), "swapped") not in said("swapped"):
        return ()
    told = [one for one in _told(books, scene) if one.entry.count is not None and one.entry.act is not Act.NOTE]
    if len(told) != 2 or told[0].lot == told[1].lot:
        return ()
    one, other = told
    if (one.entry.act, one.entry.state) != (other.entry.act, other.entry.state):
        return ()
    first = amend_record(books, scene, one.number, replace(one.entry, count=other.entry.count))
    second = amend_record(books, scene, other.number, replace(other.entry, count=one.entry.count))
    return one_undo([first, second])


def _told(books: Books, scene: Scene) -> list[Record]:
    if scene.replied_records:
        return [one for one in scene.replied_records if one.holds()]
    told = books.told_by(scene.speaker, scene.chat, since=scene.message.said_at - TALK_LASTS)
    notes = list(dict.fromkeys(one.message for one in reversed(told)))
    latest = [one for one in told if notes and one.message == notes[0]]
    return latest if len(latest) > 1 else [one for one in told if one.message in notes[:2]]
