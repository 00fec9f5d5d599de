"""How many more were lost, where a note tells how many are lost in all: "14: 7 dead in all" after "4 dead".

Rules
1. Only a note of one loss in one lot is read so, and only where it is more than the books have; else it is asked.
"""

from __future__ import annotations

from dataclasses import replace

from core.conversation.placing import Placed, place
from core.conversation.scene import Scene
from core.entries import Act
from core.lots import tells_all_lost
from core.notes import Reading
from core.storage import Books


def since_told(books: Books, scene: Scene, reading: Reading) -> tuple[Reading, tuple[str, ...]]:
    """The reading with its loss in all as what came since the books, and a few words for the receipt."""
    losses = [at for at, one in enumerate(reading.entries) if one.act is Act.LOSE]
    one = reading.entries[losses[0]] if len(losses) == 1 else None
    if one is None or one.count is None or any(ask.entry == losses[0] for ask in reading.asks):
        return reading, ()
    if not tells_all_lost(scene.message.text, one.count):
        return reading, ()
    placed = place(books, one, year=scene.year(), reuse=list(scene.reuse))
    lot = books.lot(placed.lots[0]) if isinstance(placed, Placed) and len(placed.lots) == 1 else None
    if lot is None or not 0 < lot.lost < one.count:
        return reading, ()
    entries = list(reading.entries)
    entries[losses[0]] = replace(one, count=one.count - lot.lost)
    return replace(reading, entries=tuple(entries)), (f"{one.count} in all, {lot.lost} of them told before",)
