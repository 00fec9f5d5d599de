"""How many went, and in which pots, where a note names sizes: "sold 2 gallon sages", "sold 2 sage 4in and 1 gal".

Rules
1. A number before a size of pot counts those pots, where the lot has none of a size of that number.
2. Two sizes behind one number may be two counts, or one: that is asked.
"""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Final

from core.conversation.placing import Placed, place
from core.conversation.recording import Pending
from core.conversation.scene import Scene
from core.conversation.two_sizes import GOING
from core.entries import Entry
from core.lots.pot_sizes import sizes_named
from core.storage import Books

_COUNTED: Final = re.compile(r"(\d{1,3})[ -]?([a-z].*)")


def counted_by_size(books: Books, scene: Scene, one: Pending) -> Entry | Pending:
    """The entry with the count that stands before the size of its pots; the question where that is not plain."""
    entry = one.entries[0]
    counted = _COUNTED.fullmatch((entry.rest or "").lower())
    if one.kind != "count" or one.more or entry.act not in GOING or counted is None:
        return one
    placed = place(books, entry, year=scene.year(), reuse=list(scene.reuse))
    lot = books.lot(placed.lots[0]) if isinstance(placed, Placed) and len(placed.lots) == 1 else None
    sizes = [size for size, _ in lot.pots] if lot is not None else []
    if sizes_named(entry.rest, sizes) or len(sizes_named(counted[2], sizes)) != 1:
        return one
    return replace(entry, count=int(counted[1]), rest=counted[2])
