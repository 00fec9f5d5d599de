"""How many of each form were stuck, on a line below the whole: `stuck 42 hollyleaf cherry` | `20 tip, 22 heel`."""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import Piece
from core.notes.words.said import deed_of, is_count
from core.notes.words.steps import looks_for

_FORMS: Final = frozenset({"cutting", "wood"})
_JOINTS: Final = frozenset({",", "and", "&", "+", "/", "\n"})
_OPENING: Final = frozenset({"stick", "collect"})


@looks_for("@cutting", "@wood", beside=("\n",))
def join_forms_below(pieces: list[Piece]) -> None:
    """Makes one statement of a whole and the line below that tells its forms, in place: they are no more cuttings."""
    lines = [at for at, piece in enumerate(pieces) if piece.low == "\n"]
    for begin, at in zip([-1, *lines], lines, strict=False):
        above = pieces[begin + 1 : at]
        deeds = {word.act for piece in above if (word := deed_of(piece)) is not None}
        counts = {piece.value.whole for piece in above if is_count(piece)} if deeds & _OPENING else set()
        end = _end_of_forms(pieces, at + 1, counts)
        for mark in pieces[at:end]:
            if mark.low == "\n":
                mark.low = mark.value = ","


def _end_of_forms(pieces: list[Piece], start: int, wholes: set[int]) -> int:
    """Where counts and their forms end that make up one of some wholes; 0 where they do not."""
    told, summed, at = 0, 0, start
    while at + 1 < len(pieces):
        if pieces[at].low in _JOINTS:
            at += 1
        elif is_count(pieces[at]) and not pieces[at + 1].roles.keys().isdisjoint(_FORMS):
            told, summed, at = told + 1, summed + pieces[at].value.whole, at + 2
        else:
            break
        if told > 1 and summed in wholes:
            return at
    return 0
