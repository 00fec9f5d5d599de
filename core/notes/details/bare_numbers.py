"""Is a number bare: a whole number with no range, whole, "about" or word of its own."""

from __future__ import annotations

from typing import Final

from core.notes.words.numbers import Number
from core.notes.words.pieces import Piece
from core.vocabulary.loading import small_words

_LINKS: Final = small_words("counting", "links")
LEAST_STRENGTH: Final = 500
"""A bare number from here on, beside a hormone, is its strength in ppm."""


def is_bare(piece: Piece) -> bool:
    """A whole number that is no range, no part of a whole, and not about."""
    number: Number = piece.value
    plain = number.high is None and number.of is None and not number.approx and not number.each
    return number.whole is not None and plain


def stands_alone(pieces: list[Piece], piece: Piece) -> bool:
    """Whether nothing unread that it might count follows a number."""
    place = pieces.index(piece)
    if place + 1 >= len(pieces):
        return True
    following = pieces[place + 1]
    return following.used or following.kind not in ("word", "phrase") or following.low in _LINKS
