"""How many were moved, where a note names them by their pots: "moved the potted coyotes to the lath", "the 4 ins".

Rules
1. They are as many as stand in pots, or in pots of that size; where nobody told those apart, it is asked how many.
"""

from __future__ import annotations

from dataclasses import replace

from core.conversation.placing import Placed, Unplaced, place
from core.entries import Act, Entry
from core.lots import Lot, moves_part
from core.lots.phrases import lost_of
from core.lots.pot_sizes import in_size, parts_of_size, sizes_named
from core.storage import Books


def place_all(books: Books, entry: Entry, *, year: int, reuse: list[str]) -> Placed | Unplaced:
    """The lots and trays of an entry, with the count of those that a move names by their pots."""
    placed = place(books, entry, year=year, reuse=reuse)
    if isinstance(placed, Unplaced) or placed.entry.act is not Act.MOVE or len(placed.lots) != 1:
        return placed
    lot, told = books.lot(placed.lots[0]), placed.entry
    if lot is None or told.all_of or moves_part(told) or not names_pots(lot, told.rest):
        return placed
    count = in_pots_named(lot, told.rest)
    if count is None:
        return Unplaced(kind="count", entry=told)
    return replace(placed, entry=replace(told, count=count))


def names_pots(lot: Lot, words: str | None) -> bool:
    """Whether words name the plants of a lot that stand in pots, or in pots of a size, where others do not."""
    sizes = sizes_named(words, _sizes(lot))
    if sizes:
        return in_pots_named(lot, words) != lot.left
    return 0 < lot.potted < (lot.left or 0) and lost_of(words) == "potted"


def in_pots_named(lot: Lot, words: str | None) -> int | None:
    """How many these are, or None where nobody told them apart."""
    sizes = sizes_named(words, _sizes(lot))
    if len(sizes) > 1:
        return None
    return in_size(lot.pots, sizes[0], lot.potted) if sizes else lot.potted


def _sizes(lot: Lot) -> list[str]:
    return [part for size, _ in lot.pots for part in parts_of_size(size)]
