"""How covers stand, and nothing that was done to them: `dome still on lot 14`."""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import Piece, is_act
from core.vocabulary.loading import small_words

_STANDS: Final = small_words("covers", "standing")


def still_so(pieces: list[Piece]) -> bool:
    """`dome still on lot 14`, `lot 14 still covered`, `domes on 3 and 4 still off`: how it stands, and no deed."""
    told = any("cover_noun" in piece.roles for piece in pieces)
    for place, piece in enumerate(pieces[:-1]):
        after = pieces[place + 1]
        if piece.low == "still" and (after.low in _STANDS if told else _stands(after)):
            return not any(one.kind == "duration" for one in pieces)
    return False


def _stands(piece: Piece) -> bool:
    return piece.low in _STANDS or (is_act(piece) and not piece.low.endswith("ing"))
