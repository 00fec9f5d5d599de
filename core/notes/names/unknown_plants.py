"""Which unknown words after a count name a plant beside known ones: `sowed 40 toyon, 30 zorkia in tray 3`."""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import SUBJECTS, Piece
from core.vocabulary.everyday import is_everyday, is_given_name
from core.vocabulary.loading import small_words

_COUNTS: Final = frozenset({"number", "amount"})
_AFTER: Final = small_words("names", "after_unknown")
_COLOURS: Final = small_words("names", "colours")
_SHORTEST: Final = 4
_LONGEST: Final = 3


def unknown_plant(pieces: list[Piece]) -> tuple[int, int] | None:
    """Where the unknown words begin and end that follow the count which opens a statement; None where they may be
    something else: plain English, a person, or words that more is told of.
    """
    told = [place for place, piece in enumerate(pieces) if piece.kind != "mark"]
    if len(told) < 2 or pieces[told[0]].kind not in _COUNTS:
        return None
    start = end = told[0] + 1
    while end < len(pieces) and end - start < _LONGEST and _may_name(pieces[end]):
        end += 1
    if end == start or not _is_strange(pieces[end - 1]):
        return None
    after = pieces[end] if end < len(pieces) else None
    ends = after is None or after.kind in SUBJECTS or after.kind in ("size", "moment") or after.low in _AFTER
    return (start, end) if ends or (after is not None and "container" in after.roles) else None


def name_unknown(pieces: list[Piece]) -> None:
    """Makes one piece of a plant of such words, in place."""
    found = unknown_plant(pieces)
    if found is not None:
        run = pieces[slice(*found)]
        low = " ".join(piece.low for piece in run)
        pieces[slice(*found)] = [Piece("phrase", None, run[0].first, run[-1].last, low, {"plant": low})]


def _may_name(piece: Piece) -> bool:
    return piece.kind == "word" or piece.low in _COLOURS


def _is_strange(piece: Piece) -> bool:
    low = piece.low
    known = is_everyday(low) or is_given_name(low)
    return piece.kind == "word" and low.isalpha() and len(low) >= _SHORTEST and not known
