"""May a word be a name of somebody, and does a piece name a day, where nothing but people and days is told."""

from __future__ import annotations

from typing import Final

from core.notes.days.moments import Moment
from core.notes.words.pieces import Piece
from core.vocabulary.everyday import is_everyday, is_given_name
from core.vocabulary.loading import small_words

_NO_NAMES: Final = small_words("rosters", "no_names")
_NAMELIKE: Final = small_words("people", "namelike")


def may_be_who(piece: Piece) -> bool:
    """Whether an unknown word may be a name: not `swap`, `im` or another word of plain English."""
    name = piece.low.removesuffix("'s")
    return piece.kind == "word" and name.isalpha() and name not in _NO_NAMES and not is_everyday(name)


def day_named(piece: Piece) -> Moment | None:
    """The day that a piece names, also a short one that is another word elsewhere (`sat`, `wed`); None for none."""
    if piece.kind == "moment":
        moment: Moment = piece.value
        return moment if moment.names_day else None
    if piece.kind == "phrase" and "weekday" in piece.roles:
        return Moment(weekday=int(piece.roles["weekday"]))
    return None


def may_be_who_beside(piece: Piece, other: Piece) -> bool:
    """Whether a word may be a name beside another one: `june` and `sage` are beside `ana`, but not beside `may`."""
    if may_be_who(piece):
        return True
    return piece.low in _NAMELIKE and may_be_who(other) and ("month" in piece.roles or is_given_name(other.low))
