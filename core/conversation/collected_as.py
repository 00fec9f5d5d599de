"""What a lot is of that was numbered when its seed or wood was gathered: "lot 30: collected 2 oz toyon seed".

Rules
1. Only of a number that the books do not know yet, and a note of what is then done with seed.
"""

from __future__ import annotations

from dataclasses import replace

from core.conversation.scene import Scene
from core.entries import Act, Entry
from core.notes import Reading
from core.records import in_order
from core.storage import Books

_OF_SEED = frozenset({Act.TREAT, Act.SOW})


def with_plant_collected(books: Books, scene: Scene, reading: Reading) -> Reading:
    """The reading with the plant of such a lot, so that the lot begins with it."""
    entries = tuple(_with_plant(books, scene, one) for one in reading.entries)
    filled = {place for place, one in enumerate(entries) if one is not reading.entries[place]}
    asks = tuple(ask for ask in reading.asks if not (ask.kind == "plant" and ask.entry in filled))
    return replace(reading, entries=entries, asks=asks) if filled else reading


def _with_plant(books: Books, scene: Scene, one: Entry) -> Entry:
    if one.act not in _OF_SEED or len(one.lots) != 1 or one.plant or one.ends:
        return one
    if books.resolve(one.lots[0], scene.year(), closed_too=True) is not None:
        return one
    told = [record.entry for record in in_order(books.records(acts=(Act.COLLECT.value,))) if record.holds()]
    plant = next((entry.plant for entry in reversed(told) if one.lots[0] in entry.lots), None)
    return replace(one, plant=plant) if plant else one
