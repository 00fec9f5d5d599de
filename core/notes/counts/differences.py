"""Which numbers tell how far a count is from another: `count is off by 2`, `66 sage, short of 200`.

With their words they are one unread piece, and count nothing.
"""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import SUBJECTS, Piece, is_act
from core.notes.words.said import one_piece
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_OFF: Final = small_words("differences", "off")
_BEFORE_OFF: Final = small_words("differences", "before_off")
_WANTED: Final = small_words("differences", "wanted")
_OF: Final = frozenset({"of", "is", "was", ":"})
_MOST_BETWEEN: Final = 2


@looks_for(any_of=_OFF | _WANTED, beside=("=number",))
def keep_differences(pieces: list[Piece]) -> None:
    """Makes each difference, and each number that is only aimed at, one unread piece, in place."""
    for place in range(len(pieces) - 1, 0, -1):
        if place >= len(pieces) or pieces[place].kind != "number":
            continue
        start = _difference_from(pieces, place) or _aim_from(pieces, place)
        if start:
            run = pieces[start : place + 1]
            pieces[start : place + 1] = [one_piece(run, "compared")]


def _difference_from(pieces: list[Piece], place: int) -> int:
    """Where `off by 2` begins, right after a lot or what says that a count is so; 0 where it does not stand."""
    start = place - 2
    if start < 1 or pieces[place - 1].low != "by" or pieces[start].low not in _OFF:
        return 0
    before = pieces[start - 1]
    return start if before.kind in SUBJECTS or before.low in _BEFORE_OFF else 0


def _aim_from(pieces: list[Piece], place: int) -> int:
    """Where `short of 200`, `goal 200` begins, after a deed and its count; 0 where it does not stand."""
    start = place - 1
    while start > place - _MOST_BETWEEN and pieces[start].low in _OF:
        start -= 1
    if start < 1 or pieces[start].low not in _WANTED:
        return 0
    counted = any(piece.kind == "number" for piece in pieces[:start]) and any(map(is_act, pieces[:start]))
    return start if counted else 0
