"""A correction that would have something done to a lot before the lot began: "it was friday", said of the cover of
cuttings that were stuck today.

Rules
1. What was told within the hour is asked about: the beginning of the lot, the deed, or both may have been on that day.
2. A beginning that was told earlier is not offered; the deed on that day is shown before it is changed.
"""

from __future__ import annotations

from core.answers import Answer, Choice
from core.conversation.asking import put_question
from core.conversation.fitting import fitted
from core.conversation.placing import OPENING
from core.conversation.recording import Pending
from core.conversation.scene import TALK_LASTS, Scene
from core.entries import Act, Entry
from core.records import Record, instant_of, local_day
from core.storage import Books

_BEGINS = OPENING | {Act.SOW}


def begins_too_late(books: Books, scene: Scene, record: Record, after: Entry) -> bool:
    """Whether `record`, as `after` would have it, was done on a day before its lot began."""
    lot = books.lot(record.lot) if record.lot is not None else None
    if lot is None or after.on == record.entry.on or after.act in _BEGINS:
        return False
    done = local_day(instant_of(after.on, record.said_at, scene.zone), scene.zone)
    return done < local_day(lot.opened_at, scene.zone) <= local_day(record.at, scene.zone)


def ask_what_began(books: Books, scene: Scene, told: Entry, record: Record, after: Entry) -> Answer | None:
    """The question which was on that day, the beginning of the lot, the deed or both; None where it began earlier."""
    lately = books.told_in(scene.chat, since=scene.message.said_at - TALK_LASTS, until=scene.message.said_at)
    begun = [one for one in lately if one.lot == record.lot and one.entry.act in _BEGINS and one.holds()]
    first = begun[0] if begun else None
    begins = fitted(first.entry, told, scene.message.text, scene.local_now) if first is not None else None
    if first is None or begins is None or begins == first.entry:
        return None
    of_deed = {"choose": after.as_keys(), "amend": record.number}
    of_both = {"choose": begins.as_keys(), "amend": first.number, "then": of_deed}
    choices = (
        Choice(label="both", action=of_both),
        Choice(label="reading", action={"choose": begins.as_keys(), "amend": first.number}),
        Choice(label="reading", action=of_deed),
    )
    return put_question(books, scene, [Pending(kind="amend_which", entries=(told,), choices=choices)])
