"""Does a statement only compare: `lot 9 6 fewer rooted than lot 10`, `lot 9 is 6 ahead of lot 10`, and counts nothing.

A count of its own beside the comparison (`20 rooted, more than lot 10`) is told all the same.
"""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import COUNTS, SUBJECTS, Piece
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_DEGREES: Final = small_words("compared", "degrees")
_AHEAD: Final = small_words("compared", "ahead")
_OTHERS: Final = SUBJECTS | {"compared", "moment"}


@looks_for("than", any_of=_DEGREES | _AHEAD, beside=("=subjects", "than", *_AHEAD))
def only_compares(pieces: list[Piece]) -> bool:
    """Whether a statement tells by how many one lot is ahead of another, or that there are more of one."""
    for at, piece in enumerate(pieces):
        words = piece.low.split(" ")
        if words[0] not in _DEGREES | _AHEAD or any(one.kind in COUNTS for one in pieces[: max(0, at - 1)]):
            continue
        if _beside_another(pieces, at, words):
            return True
    return False


def _beside_another(pieces: list[Piece], at: int, words: list[str]) -> bool:
    """Whether another lot, or another day, follows that is compared."""
    if words[0] in _AHEAD:
        other = next((one for one in pieces[at + 1 : at + 3] if one.low != "of"), None)
        return other is not None and other.kind in _OTHERS
    if words[1:2] == ["than"]:
        return pieces[at].kind == "compared" or any(one.kind in _OTHERS for one in pieces[at + 1 : at + 2])
    than = next((place for place in range(at + 1, len(pieces)) if pieces[place].low.split(" ")[0] == "than"), 0)
    if not than or any(one.kind in COUNTS for one in pieces[at + 1 : than]):
        return False
    kinds = _OTHERS | (COUNTS if pieces[than - 1].kind in SUBJECTS else frozenset())
    return pieces[than].kind == "compared" or any(one.kind in kinds for one in pieces[than + 1 : than + 2])
