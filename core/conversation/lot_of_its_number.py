"""Which lot a look is of that names none: "90/150 up", where the talk was of 200 seeds that lie in the cold.

Rules
1. Out of how many names the lot, where that of the talk never held so many and one lot alone was sown or stuck so.
2. What is "up" was sown: right after talk of seed in the cold it is asked which lot, where some are sown.
3. Roots of seed that nobody sowed are the first of a seedling.
"""

from __future__ import annotations

from dataclasses import replace

from core.conversation.correction_words import bare
from core.conversation.scene import Scene
from core.entries import Act, Entry
from core.lots import Lot
from core.lots.by_plant import lots_of_plant
from core.notes import Ask, Reading
from core.storage import Books

_UP = "up"


def with_lot_of_its_number(books: Books, scene: Scene, told: Reading, reading: Reading) -> Reading:
    """The reading with the lots that such looks are of; `told` is the reading as the words alone gave it."""
    entries, asks = list(reading.entries), list(reading.asks)
    for place, (before, one) in enumerate(zip(told.entries, reading.entries, strict=False)):
        if one.act is not Act.CHECK or one.count is None or one.sample:
            continue
        lot = _only_lot(books, scene, one)
        if lot is None:
            continue
        entries[place] = one = _as_seed(one, lot)
        if before.lots or before.trays or before.plant or scene.replied_records or scene.replied_reminders:
            continue
        meant = _of_so_many(books, one, lot)
        if meant is not None:
            entries[place] = replace(one, lots=(meant.number,), trays=(), plant=None)
        elif _may_be_sown(scene, one, lot) and (sown := _sown(books)):
            entries[place] = replace(one, lots=(), trays=(), plant=None)
            ways = tuple(replace(one, lots=(other.number,), trays=(), plant=None) for other in (*sown, lot))
            asks.append(Ask(kind="lot", entry=place, choices=ways))
    return replace(reading, entries=tuple(entries), asks=tuple(asks))


def _only_lot(books: Books, scene: Scene, one: Entry) -> Lot | None:
    if one.plant and not one.lots:
        found = lots_of_plant(one.plant, books.lots())
        return found[0] if len(found) == 1 else None
    number = books.resolve(one.lots[0], scene.year()) if len(one.lots) == 1 else None
    return books.lot(number) if number is not None else None


def _as_seed(one: Entry, lot: Lot) -> Entry:
    return replace(one, state="germinated") if one.state == "rooted" and lot.unsown else one


def _of_so_many(books: Books, one: Entry, lot: Lot) -> Lot | None:
    """The one open lot that began with as many as were looked at, where the lot of the talk never held them."""
    if one.of is None or one.of in (lot.started, lot.left, lot.living):
        return None
    seed = one.state == "germinated"
    found = [other for other in books.lots() if other.started == one.of and (other.kind == "seed") == seed]
    found = [other for other in found if not other.unsown]
    return found[0] if len(found) == 1 and found[0].number != lot.number else None


def _may_be_sown(scene: Scene, one: Entry, lot: Lot) -> bool:
    in_the_cold = lot.unsown and any(cold.running for cold in lot.colds)
    return in_the_cold and one.state == "germinated" and _UP in bare(scene.message.text).split()


def _sown(books: Books) -> list[Lot]:
    return [lot for lot in books.lots() if lot.sown_at is not None and (lot.unsprouted or lot.stage == "sown")]
