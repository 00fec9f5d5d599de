"""A deed told of one lot after the other, with the loss of each: `potted 20 from 3, lost 2, 12 from 4, lost 1`.

What is counted after a loss, out of another lot, was done as before it, and was not lost.
"""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import SUBJECTS, Piece
from core.notes.words.said import deed_of, is_end
from core.notes.words.steps import looks_for

_LEAVING: Final = frozenset({"pot", "sell", "give", "plant_out"})
_OUT_OF: Final = frozenset({"from", "of"})
_MEMBER: Final = 3


@looks_for("!lose", beside=tuple(f"!{act}" for act in _LEAVING))
def say_deed_after_loss(pieces: list[Piece]) -> None:
    """Says the deed again before each count of another lot that follows a loss, in place."""
    deed = next((at for at, piece in enumerate(pieces) if deed_of(piece) is not None), None)
    if deed is None or not _does(pieces[deed]) or not _of_a_lot(pieces, deed + 1):
        return
    at = deed + 1 + _MEMBER
    while _loss_after(pieces, at):
        again = at + 4
        if not _of_a_lot(pieces, again):
            return
        said = pieces[deed]
        first = pieces[again].first
        pieces.insert(again, Piece(said.kind, said.value, first, first, said.low, said.roles))
        at = again + 1 + _MEMBER


def _does(piece: Piece) -> bool:
    word = deed_of(piece)
    return word is not None and word.act in _LEAVING and word.form == "done" and not word.counts_before


def _of_a_lot(pieces: list[Piece], at: int) -> bool:
    """Whether `20 from 3` stands at a place, and no more."""
    told = pieces[at : at + _MEMBER]
    if len(told) < _MEMBER or told[0].kind != "number" or told[1].low not in _OUT_OF:
        return False
    return (told[2].kind in SUBJECTS or told[2].kind == "number") and is_end(pieces, at + _MEMBER)


def _loss_after(pieces: list[Piece], at: int) -> bool:
    """Whether `, lost 2,` stands at a place."""
    told = pieces[at : at + 4]
    if len(told) < 4 or told[0].kind != "break" or told[3].kind != "break":
        return False
    word = deed_of(told[1])
    return word is not None and word.act == "lose" and not word.counts_before and told[2].kind == "number"
