"""Beds that plants were divided or gathered from, and not put into: `sun bed deergrass divided, 18 in 1 gal`."""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import Piece
from core.notes.words.said import deed_of, said_in
from core.notes.words.steps import looks_for

_BEDS: Final = frozenset({"bed", "beds"})
_NAMELESS: Final = frozenset({"filler", "act", "shared", "plant", "container", "medium", "wood", "cutting"})


@looks_for(any_of=_BEDS, beside=("!divide", "!collect"))
def name_beds(pieces: list[Piece]) -> None:
    """Makes the name of a bed right before its plant, or before what was divided there, a source, in place."""
    for at in range(len(pieces) - 2, 0, -1):
        name, bed, after = pieces[at - 1 : at + 2]
        if bed.low not in _BEDS or name.kind not in ("word", "phrase", "moment"):
            continue
        if not name.roles.keys().isdisjoint(_NAMELESS):
            continue
        deed = deed_of(after)
        if "plant" in after.roles or (deed is not None and deed.act == "divide"):
            low = said_in([name, bed])
            pieces[at - 1 : at + 1] = [Piece("phrase", None, name.first, bed.last, low, {"source_name": low})]
