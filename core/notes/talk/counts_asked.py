"""Is it asked whether so many are so: `did 20 or 30 root in lot 9`, `were 20 rooted in lot 9`.

Where the count of now follows, it is told (`were 20 rooted in lot 9, now 30`).
"""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import SUBJECTS, Piece
from core.notes.words.said import end_of_statement
from core.vocabulary.loading import small_words

_BARE_STATES: Final = small_words("asking", "bare_states")


def asks_of_count(first: str, pieces: list[Piece], at: int) -> bool:
    """Whether a number and what became of it follow `did` or `were` at a place, of a lot or tray that is named."""
    told = pieces[at + 1 : at + 3]
    if len(told) < 2 or told[0].kind != "number" or any(piece.low.endswith("now") for piece in pieces[at:]):
        return False
    if not any(piece.kind in SUBJECTS for piece in pieces[at + 3 : end_of_statement(pieces, at)]):
        return False
    word = told[1].roles.get("act")
    return told[1].low in _BARE_STATES if first == "did" else word is not None and "state" in word.says
