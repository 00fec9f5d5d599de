"""Does `should` open what may happen, and what is to be done then: `should lot 38 fail, we will have to buy plants in`.

It asks (`should lot 9 be potted, it looks ready`) where no such clause follows the first mark.
"""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import Piece
from core.notes.words.said import end_of_sentence, end_of_statement
from core.vocabulary.loading import small_words

_SPEAKERS: Final = frozenset({"i", "we"})
_THEN: Final = small_words("supposing", "then")
_WILL: Final = small_words("supposing", "will")
_ORDERING: Final = small_words("orders", "asking") | small_words("orders", "letting") | small_words("orders", "polite")


def supposes(pieces: list[Piece], at: int) -> bool:
    """Whether a sentence that opens at a place supposes, and asks nothing."""
    mark = end_of_statement(pieces, at)
    if pieces[at].low != "should" or mark + 2 >= len(pieces) or pieces[mark].low != ",":
        return False
    end = end_of_sentence(pieces, mark)
    told = pieces[mark + 1 : end]
    if not told or (end < len(pieces) and pieces[end].low == "?"):
        return False
    ordered = told[0].low in _ORDERING | _THEN or "to_do" in told[0].roles
    foreseen = any(word in _WILL for piece in told[:3] for word in piece.low.split(" "))
    if ordered or foreseen or pieces[at + 1].low in _SPEAKERS:
        return ordered or foreseen
    return told[0].low in _SPEAKERS or any("plan" in piece.roles for piece in told)
