"""What the seed is of that a note names by its number alone: "sowed lot 1: 200 in 2 flats".

Rules
1. A number that the books know is of its plant, as long as the lot is of seed that nobody has sown.
2. One that they do not know yet is of what was gathered under it ("lot 30: collected 2 oz toyon seed").
"""

from __future__ import annotations

from dataclasses import replace

from core.conversation.scene import Scene
from core.entries import Act, Entry
from core.notes import Reading
from core.records import in_order
from core.storage import Books

_OF_SEED = frozenset({Act.TREAT, Act.SOW})


def with_plant_of_its_lot(books: Books, scene: Scene, reading: Reading) -> Reading:
    """The reading with the plant of such a lot."""
    entries = tuple(_with_plant(books, scene, one) for one in reading.entries)
    filled = {place for place, one in enumerate(entries) if one is not reading.entries[place]}
    asks = tuple(ask for ask in reading.asks if not (ask.kind == "plant" and ask.entry in filled))
    return replace(reading, entries=entries, asks=asks) if filled else reading


def _with_plant(books: Books, scene: Scene, one: Entry) -> Entry:
    if one.act not in _OF_SEED or len(one.lots) != 1 or one.plant or one.ends:
        return one
    number = books.resolve(one.lots[0], scene.year(), closed_too=True)
    if number is not None:
        lot = books.lot(number)
        unsown = one.act is Act.SOW and lot is not None and lot.unsown
        return replace(one, plant=lot.plant) if unsown and lot is not None else one
    told = [record.entry for record in in_order(books.records(acts=(Act.COLLECT.value,))) if record.holds()]
    plant = next((entry.plant for entry in reversed(told) if one.lots[0] in entry.lots), None)
    return replace(one, plant=plant) if plant else one
