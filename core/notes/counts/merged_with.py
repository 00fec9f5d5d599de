"""Lots that are put together, told by bare numbers: `lot 14 15 merged`, `lot 12 combined with 13`."""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import SUBJECTS, Piece
from core.notes.words.said import deed_of, is_end
from core.notes.words.steps import looks_for

_WITH: Final = frozenset({"with", "w", "w/", "and", "&"})


@looks_for("!merge", beside=("=number",))
def name_merged(pieces: list[Piece]) -> None:
    """Makes the bare number of a lot that is merged a lot, in place."""
    for at in range(1, len(pieces)):
        number, before = pieces[at], pieces[at - 1]
        if number.kind != "number" or not number.low.isdigit():
            continue
        merged = any(map(_merges, pieces[:at]))
        right = before.kind in SUBJECTS and (_merges_at(pieces, at + 1) or (merged and is_end(pieces, at + 1)))
        lead = pieces[at - 2] if at > 1 and before.low in _WITH else None
        led = lead is not None and merged and (_merges(lead) or lead.kind in SUBJECTS) and is_end(pieces, at + 1)
        kind = next((piece.kind for piece in pieces[:at] if piece.kind in SUBJECTS), "")
        if kind and (right or led):
            number.kind, number.value = kind, (number.low,)


def _merges_at(pieces: list[Piece], at: int) -> bool:
    return at < len(pieces) and _merges(pieces[at])


def _merges(piece: Piece) -> bool:
    word = deed_of(piece)
    return word is not None and word.act == "merge"
