"""Counts in a row without commas, of which one is of those without roots: `20 potted 10 unrooted 6 tossed`."""

from __future__ import annotations

from core.notes.words.pieces import Piece, is_act
from core.notes.words.said import comma_before
from core.notes.words.steps import looks_for


@looks_for("unrooted", beside=("=counts",))
def part_unrooted(pieces: list[Piece]) -> None:
    """A comma on either side of them, where a count and its deed come before, in place."""
    for at in range(len(pieces) - 1, 2, -1):
        first, deed, number, unrooted = pieces[at - 3 : at + 1]
        if unrooted.low != "unrooted" or first.kind != "number" or not is_act(deed) or number.kind != "number":
            continue
        if at + 1 < len(pieces) and pieces[at + 1].kind == "number":
            pieces.insert(at + 1, comma_before(pieces[at + 1]))
        pieces.insert(at - 1, comma_before(number))
