"""What plants were traded for, which came in and left with nobody: `traded 8 of lot 40 for some iris`."""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import Piece
from core.notes.words.said import end_of_statement, keep_words
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_TRADED: Final = small_words("idioms", "traded")
_SOME: Final = frozenset({"some", "a few", "a", "an", "their", "his", "her"})


@looks_for(any_of=_TRADED)
def keep_what_came(pieces: list[Piece]) -> None:
    """Keeps the plants after "for", in place."""
    for at in range(2, len(pieces) - 1):
        if pieces[at].low != "for" or not any(piece.low in _TRADED for piece in pieces[:at]):
            continue
        end = end_of_statement(pieces, at)
        after = pieces[at + 1]
        if after.kind == "number" or after.low in _SOME or "plant" in after.roles:
            keep_words(*pieces[at:end])
