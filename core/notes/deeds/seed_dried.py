"""What is done to seed before it is sown, and what is no loss: `toyon seed cleaned and dried 40 g`."""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import Piece
from core.notes.words.said import keep_words
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_SEED: Final = small_words("names", "seeds")
_CLEANED: Final = small_words("seed_dried", "cleaned")
_JOINTS: Final = frozenset({"and", "&", "+", ",", "then"})


@looks_for("dried", beside=_CLEANED)
def keep_dried_seed(pieces: list[Piece]) -> None:
    """`toyon seed cleaned and dried 40 g`: dried for the store, in place."""
    if not any(piece.low in _SEED for piece in pieces):
        return
    for cleaned, joint, dried in zip(pieces, pieces[1:], pieces[2:], strict=False):
        if cleaned.low in _CLEANED and joint.low in _JOINTS and dried.low == "dried":
            keep_words(dried)
