"""Which of two counts holds: `rooted 22 -> 30`, `target toyon up from 80 to 100`, `thinned tray 4 from 60 to 40`.

Rules
1. What stands before the arrow, or after "from", was so before, and is kept.
2. Of plants that were thinned neither number counts those taken.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from core.notes.words.pieces import Piece
from core.notes.words.said import begin_of_statement, deed_of, end_of_statement, keep_words
from core.notes.words.steps import looks_at_each
from core.vocabulary.loading import small_words

_ARROWS: Final = small_words("old_and_new", "arrows")
_TO: Final = _ARROWS | {"to"}
_TOLD: Final = frozenset({"check", "divide"})
_LED: Final = frozenset({"up", "down", "went", "raised", "lowered", "changed", "bumped"})


def _is_count(piece: Piece) -> bool:
    if piece.kind == "percent":
        return True
    number = piece.value
    return piece.kind == "number" and number.whole is not None and number.high is None and number.of is None


@looks_at_each(*_ARROWS, beside=("!check", "!divide"))
def _keep_before_arrow(pieces: list[Piece], at: int) -> None:
    """`rooted 22 -> 30 lot 20`, `divided iris 3 -> 22`: what it came to counts, in place."""
    if pieces[at].low not in _ARROWS or not 0 < at < len(pieces) - 1:
        return
    start, end = begin_of_statement(pieces, at), end_of_statement(pieces, at + 1)
    said = (piece.roles.get("act") or piece.roles.get("noun") for piece in pieces[start:end])
    deeds = {word.act for word in said if word is not None}
    if deeds and deeds <= _TOLD and _is_count(pieces[at - 1]) and _is_count(pieces[at + 1]):
        keep_words(pieces[at - 1], pieces[at])


@looks_at_each("from", beside=("!tend",))
def _keep_thinned(pieces: list[Piece], at: int) -> None:
    """`thinned tray 4 from 60 to 40`: what stood there and what stands there now, in place."""
    words = [word for piece in pieces[begin_of_statement(pieces, at) : at] if (word := deed_of(piece)) is not None]
    if pieces[at].low == "from" and words and words[-1].says.get("care") == "thin":
        keep_words(*pieces[at : _end_of_change(pieces, at)])


def _end_of_change(pieces: list[Piece], at: int) -> int:
    """Where `from 60 to 40` ends that begins at a place; the place where it is no such change."""
    number = pieces[at + 1] if at + 1 < len(pieces) else None
    if number is None or number.kind != "number" or number.value.whole is None:
        return at
    if number.value.high is not None:
        return at + 2
    return at + 4 if at + 3 < len(pieces) and pieces[at + 2].low in _TO and _is_count(pieces[at + 3]) else at


def keep_wanted_before(pieces: list[Piece]) -> None:
    """`toyon up from 80 to 100 by oct 1`, `toyon 100 -> 120`: what was wanted before is kept, in place."""
    for at in range(len(pieces) - 2, 0, -1):
        if pieces[at].low in _ARROWS and _is_count(pieces[at - 1]) and _is_count(pieces[at + 1]):
            keep_words(pieces[at - 1], pieces[at])
        end = _end_of_change(pieces, at) if pieces[at].low == "from" else at
        if end == at:
            continue
        led = pieces[at - 1].low in _LED
        number = pieces[end - 1]
        if end == at + 2:
            high = number.value.high
            wanted = replace(number.value, value=high, high=None)
            new = Piece("number", wanted, number.last - 1, number.last, f"{high:g}")
            old = Piece("kept", None, pieces[at].first, number.last - 1, f"from {number.low.split(' ')[0]} to")
            pieces[at : at + 2] = [old, new]
        else:
            keep_words(*pieces[at : end - 1])
        if led:
            keep_words(pieces[at - 1])


KEEP_CHANGED: Final = (_keep_before_arrow, _keep_thinned)
"""Keep the counts of before out of what is counted, in place."""
