"""Who did it, told by itself: `it was dell who closed the vents on tray 18`, `dell's the one who misted tray 4`.

It is told, and nothing is asked; the words around the name say no more than the name before its deed does.
"""

from __future__ import annotations

from typing import Final

from core.notes.names.people import may_be_name
from core.notes.words.pieces import Piece, is_act
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_WHO: Final = frozenset({"who", "that"})
_IT_WAS: Final = small_words("who_it_was", "it_was")
_THE_ONE: Final = small_words("who_it_was", "the_one")
_OPENERS: Final = small_words("asking", "before_questions") | {"fyi", "update", "right"}
_LONGEST: Final = 3


@looks_for("who", "that", beside=_IT_WAS | _THE_ONE | {"it", "one", "person"})
def tell_who_it_was(pieces: list[Piece]) -> None:
    """`it was | dell | who`, `dell | is the one who`: leaves the name alone, right before its deed, in place."""
    for who in range(len(pieces) - 2, 1, -1):
        if pieces[who].low not in _WHO or not _is_deed(pieces[who + 1]):
            continue
        if may_be_name(pieces[who - 1]):
            start = _start_of(pieces, who - 1, _IT_WAS)
            if start is not None and _opens(pieces, start):
                pieces[start : who + 1] = [pieces[who - 1]]
            continue
        start = _start_of(pieces, who, _THE_ONE)
        if start and _opens(pieces, start - 1) and (name := _named(pieces[start - 1])) is not None:
            pieces[start - 1 : who + 1] = [name]


def _is_deed(piece: Piece) -> bool:
    return is_act(piece) or "vent_open" in piece.roles or piece.kind == "word"


def _start_of(pieces: list[Piece], end: int, phrases: frozenset[str]) -> int | None:
    """Where the longest of some phrases begins that ends before a place; None where none does."""
    for start in range(max(0, end - _LONGEST), end):
        if " ".join(piece.low for piece in pieces[start:end]) in phrases:
            return start
    return None


def _opens(pieces: list[Piece], at: int) -> bool:
    return at == 0 or pieces[at - 1].kind in ("break", "moment") or pieces[at - 1].low in _OPENERS


def _named(piece: Piece) -> Piece | None:
    """`dell`, `dell's`: a name, without what is short for `is`."""
    low = piece.low.removesuffix("'s")
    name = Piece(piece.kind, piece.value, piece.first, piece.last, low, piece.roles)
    return name if may_be_name(name) else None
