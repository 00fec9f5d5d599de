"""Counts of which one is of those without roots: `20 potted 10 unrooted 6 tossed`, `20 rooted, 12 unrooted`."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from core.notes.words.pieces import Piece, is_act
from core.notes.words.said import comma_before, deed_of, is_count, is_end, pass_over, state_of
from core.notes.words.steps import looks_for

_BEFORE_LOTS: Final = frozenset({"in", "on", "of", "for"})
_JOINING: Final = frozenset({",", "&", "+", "/", ";", "and", "but", "with"})


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


@looks_for("unrooted", beside=("!rooted",))
def count_with_unrooted(pieces: list[Piece]) -> None:
    """`rooted 20, unrooted 12`, `20 rooted and 12 unrooted`: both together are the whole, in place."""
    for at in range(2, len(pieces) - 1):
        others = pieces[at : at + 2]
        start = at - 2 - (pieces[at - 1].low in _JOINING)
        number = next((one for one in others if is_count(one)), None)
        ends = is_end(pieces, at + 2) or pieces[at + 2].low in _BEFORE_LOTS
        told = any(one.low == "unrooted" for one in others) and ends
        rooted = pieces[max(0, start) : max(0, start) + 2]
        count = next((one for one in rooted if is_count(one)), None)
        if not told or number is None or count is None or not any(map(_is_rooted, rooted)):
            continue
        count.value = replace(count.value, of=count.value.whole + number.value.whole)
        pass_over(*pieces[start + 2 : at + 2])
        return


def _is_rooted(piece: Piece) -> bool:
    return deed_of(piece) is not None and state_of(piece) == "rooted"
