"""The roots of one cutting that was looked at: `popped one in tray 3, 3 roots`, which count no rooted cuttings."""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import SENTENCE_ENDS, Piece
from core.notes.words.said import deed_of, keep_words
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_LOOKED: Final = small_words("parts", "looked")


@looks_for("roots", beside=("one",))
def keep_roots_of_one(pieces: list[Piece]) -> None:
    """Keeps the one and the number of its roots, in place."""
    for at in range(1, len(pieces)):
        if pieces[at].low != "one" or pieces[at].kind != "number" or pieces[at - 1].low not in _LOOKED:
            continue
        for place in range(at + 1, len(pieces) - 1):
            number, roots = pieces[place : place + 2]
            if number.low in SENTENCE_ENDS:
                break
            if number.kind == "number" and roots.low == "roots":
                keep_words(*pieces[at - _tells_state(pieces[at - 1]) : at + 1], number, roots)
                break


def _tells_state(piece: Piece) -> bool:
    """`popped`, which tells of seed that it is up."""
    word = deed_of(piece)
    return word is not None and "state" in word.says
