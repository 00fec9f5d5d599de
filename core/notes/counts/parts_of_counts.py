"""How many is a part of a number: `lot 9 half of 20 potted`, `lot 9 1/2 of the 20 dead`.

Only after the lot or tray is named: the number of `half of 9` may name one.
"""

from __future__ import annotations

from typing import Final

from core.notes.words.numbers import SHARES, Number
from core.notes.words.pieces import SUBJECTS, Piece
from core.notes.words.said import is_whole_number, keep_words
from core.notes.words.steps import looks_for

_OF: Final = frozenset({"of", "the", "those", "these"})


@looks_for("@fraction", "=fraction", beside=("=number",))
def count_part_of(pieces: list[Piece]) -> None:
    """Makes a part of a number so many, in place; keeps its words where that is no whole number."""
    for at in range(len(pieces) - 2, 0, -1):
        share = _share(pieces[at])
        end = at + 1
        while end < len(pieces) and pieces[end].low in _OF:
            end += 1
        led = pieces[at].low.endswith(" of") or (end > at + 1 and pieces[at + 1].low == "of")
        if share is None or not led or end >= len(pieces) or not is_whole_number(pieces[end]):
            continue
        count = share * pieces[end].value.value
        if not any(piece.kind in SUBJECTS for piece in pieces[:at]):
            continue
        if count != int(count):
            keep_words(*pieces[at : end + 1])
            continue
        said = " ".join(piece.low for piece in pieces[at : end + 1])
        pieces[at : end + 1] = [Piece("number", Number(int(count)), pieces[at].first, pieces[end].last, said)]


def _share(piece: Piece) -> float | None:
    if piece.kind == "fraction" and tuple(piece.value[:2]) in SHARES:
        return float(piece.value[0] / piece.value[1])
    return piece.roles.get("fraction")
