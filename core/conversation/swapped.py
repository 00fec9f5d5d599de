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
from core.conversation.scene import Scene
from core.conversation.told_before import own_notes
from core.records import Record
from core.storage import Books


def hear_swapped(books: Books, scene: Scene) -> tuple[Answer, ...]:
    """The answers to words that two counts were told the wrong way round; none for other words."""
    if without_ends(bare(scene.message.text), "swapped") not in said("swapped"):
        return ()
    told = [one for one in _told(books, scene) if one.entry.count is not None]
    if len(told) != 2 or told[0].lot == told[1].lot:
        return ()
    one, other = told
    if (one.entry.act, one.entry.state) != (other.entry.act, other.entry.state):
        return ()
    first = amend_record(books, scene, one.number, replace(one.entry, count=other.entry.count))
    second = amend_record(books, scene, other.number, replace(other.entry, count=one.entry.count))
    return one_undo([first, second])


def _told(books: Books, scene: Scene) -> list[Record]:
    notes = own_notes(books, scene)
    latest = notes[-1] if notes else []
    return latest if len(latest) > 1 or len(notes) < 2 else [*notes[-2], *latest]
