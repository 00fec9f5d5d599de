"""Seed that goes back into the cold: "back in", right after somebody told that it came out.

Rules
1. Only where the last thing told in this chat is that it came out, and it is still out.
"""

from __future__ import annotations

from dataclasses import replace

from core.conversation.correction_words import bare
from core.conversation.heard import heard
from core.conversation.scene import TALK_LASTS, Scene
from core.entries import Act
from core.notes import Reading
from core.storage import Books


def hear_back_in_the_cold(books: Books, scene: Scene, reading: Reading) -> Reading:
    """The reading with the cold that goes on; as it was for other words, or after other talk."""
    one = reading.entries[0] if len(reading.entries) == 1 else None
    if one is None or one.act not in (Act.NOTE, Act.MOVE, Act.COVER) or one.trays or one.plant or one.count is not None:
        return reading
    if bare(scene.message.text) not in heard("answers_heard", "back_in_the_cold") or one.lots:
        return reading
    since = scene.message.said_at - TALK_LASTS
    told = scene.replied_records or books.told_in(scene.chat, since=since, until=scene.message.said_at)
    last = [record for record in told if record.holds() and record.message == told[-1].message]
    ended = [record for record in last if record.entry.act is Act.TREAT and record.entry.ends]
    lots = [lot for record in ended if (lot := books.lot(record.lot or "")) is not None]
    out = [lot for lot in lots if lot.colds and not any(cold.running for cold in lot.colds)]
    if not out or len(out) != len(last):
        return reading
    numbers = tuple(lot.number for lot in out)
    cold = replace(last[0].entry, lots=numbers, trays=(), ends=False, on=one.on, by=one.by, rest=None)
    return Reading(entries=(cold,), repairs=reading.repairs)
