"""Which lots are meant by the place where they stand: "watered the lath", "how many in the lath are rooted".

Rules
1. A place named alone means the lots that stand there, a part of them too, and never the lot talked of.
2. What is brought back from a place are all that stand there, of those of which a part stands there that part.
3. Where the books have none there, it is asked which lots are meant.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from core.conversation.correction_words import bare
from core.conversation.everything import BENCH_CARE, on_the_bench
from core.conversation.scene import Scene
from core.entries import Act, Entry
from core.lots import Lot
from core.lots.phrases import phrases
from core.notes import Reading
from core.questions.listing import place_asked, place_named
from core.storage import Books
from core.vocabulary.loading import read_toml

_CARE = BENCH_CARE - {Act.MOVE}


def at_a_place(books: Books, scene: Scene, reading: Reading) -> tuple[Reading, tuple[int, ...]]:
    """The reading with the lots that stand in a place it names, and the places of entries whose lots must be asked."""
    entries, asks, held = list(reading.entries), list(reading.asks), list[int]()
    for index, one in enumerate(entries):
        if not any(ask.kind == "lot" and ask.entry == index for ask in asks) or one.lots or one.trays or one.plant:
            continue
        bench = on_the_bench(books)
        place = place_named(bench, one.rest or "")
        if one.act is Act.ASK and one.about == "count" and (place or _place_asked(books, scene, one, bench)):
            asks = [ask for ask in asks if ask.entry != index]
            continue
        out = _come_back(one, bench) if one.act is Act.MOVE else ()
        if out:
            asks = [ask for ask in asks if not (ask.kind in ("lot", "to") and ask.entry == index)]
            entries[index] = replace(one, lots=tuple(lot.number for lot in out), to="inside", rest=None)
            continue
        if one.act not in _CARE or one.state or one.count is not None or not _is_a_place(scene, one, place, bench):
            continue
        lots = [lot for lot in bench if place in (lot.place, *lot.moved_partly)] if place is not None else []
        asks = [ask for ask in asks if not (ask.kind == "lot" and ask.entry == index)]
        if not lots:
            held.append(index)
            continue
        entries[index] = replace(one, lots=tuple(lot.number for lot in lots), rest=None)
    return replace(reading, entries=tuple(entries), asks=tuple(asks)), tuple(held)


def _come_back(one: Entry, bench: Sequence[Lot]) -> Sequence[Lot]:
    """ "Brought the ones on the slab back in": all that stands there, and none of the lot talked of."""
    words = bare(one.rest or "")
    named = re.match(r"(?:the |all )*(?:ones|those|everything|all|pots|plants|trays) (?:on|at|in) (?:the )?(.+)", words)
    if named is None or not (one.to in phrases().back_places or (one.to is None and words.endswith("back in"))):
        return ()
    said = f" {named[1]} "
    return [lot for lot in bench if any(f" {one} " in said for one in (lot.place, *lot.moved_partly) if one)]


def _place_asked(books: Books, scene: Scene, one: Entry, bench: Sequence[Lot]) -> str | None:
    """A place where nothing stands by the books: the lot talked of is not what is asked of."""
    return place_asked(books, bench, " ".join(scene.message.text.lower().split()), one.rest or "")


def _is_a_place(scene: Scene, one: Entry, place: str | None, bench: Sequence[Lot]) -> bool:
    """Whether the words left over are a place and nothing else: one of the crew's, or a house, bench or shelf."""
    words = re.sub(r"^(?:(?:in|on|at|all|of|the|a|an|my|our) )+", "", bare(one.rest or "").strip())
    known = {name.lower() for name in scene.names.places} | {lot.place for lot in bench if lot.place}
    if not words:
        return False
    if place is not None and set(words.split()) <= set(place.split()):
        return True
    structures = read_toml("small_words.toml")["places"]["structures"]
    named = [word for word in words.split() if not word.isdecimal()]
    return words in known or (len(named) <= 3 and bool(named) and named[-1] in structures)
