"""Which degrees were not read at the bench: `frost warning tonight 30f`, `turned the fridge down to 38f`, `kid has a
temp of 101f`.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from core.notes.words.pieces import Piece
from core.notes.words.said import said_in
from core.vocabulary.everyday import home_words
from core.vocabulary.loading import small_words

_FORETOLD: Final = small_words("temps", "foretold")
_SETTING: Final = small_words("temps", "setting")
_ILL: Final = home_words("people") | small_words("temps", "ill")
_HAVING: Final = small_words("temps", "running_fever")


def not_read(span: list[Piece]) -> bool:
    """`frost warning tonight 30f`, `turned the fridge down to 38f`: how warm it may or shall be."""
    if any(piece.low in _FORETOLD or (piece.kind == "moment" and (piece.value.days or 0) > 0) for piece in span):
        return True
    if span and (span[0].low in _ILL or said_in(span[:2]) in _ILL or span[0].kind == "person") and _has_fever(span):
        return True
    for place, piece in enumerate(span):
        if piece.kind in ("temp", "degrees") and place and span[place - 1].low in ("to", "up to", "down to"):
            return any(one.low in _SETTING for one in span[:place])
    return False


def _has_fever(span: list[Piece]) -> bool:
    """`kid | has a temp of 101f`: how ill somebody is."""
    return any(verb.low in _HAVING and temp.low in ("a", "an") for verb, temp in pairwise(span))
