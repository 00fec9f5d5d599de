"""What a count lacks: `stuck 3 six packs less 2 of penstemon`, `potted 40 sage minus 2`.

Rules
1. What is lacking counts nothing that was done: it is kept, and so is the count of plants that it is taken from. How
   many the containers hold nobody says here.
"""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import Piece, is_act
from core.notes.words.said import begin_of_statement, is_end, one_piece
from core.notes.words.steps import looks_at_each

_LACKING: Final = frozenset({"less", "minus"})
_OF: Final = frozenset({"of", "for", "in", "into"})
_CELLS: Final = frozenset({"cell", "cells"})
_COUNTED: Final = frozenset({"container", "plant", "cutting"})


@looks_at_each("less", "minus", beside=("=number",))
def keep_what_lacks(pieces: list[Piece], at: int) -> None:
    """Keeps `less 2` behind containers, a plant or a count of a deed, in place."""
    number = pieces[at + 1] if 0 < at < len(pieces) - 1 else None
    if pieces[at].low not in _LACKING or number is None or number.kind != "number" or number.value.whole is None:
        return
    before, start = pieces[at - 1], begin_of_statement(pieces, at)
    if before.low == ",":
        before, start = pieces[at - 2], begin_of_statement(pieces, at - 1)
    counted = (before.kind == "number" and before.value.high is None) or not _COUNTED.isdisjoint(before.roles)
    end = at + 2
    end += end < len(pieces) and pieces[end].low in _CELLS
    if not counted or not _closes(pieces, end) or not any(map(is_act, pieces[start:at])):
        return
    pieces[at:end] = [one_piece(pieces[at:end], "kept")]
    for place in range(start, at):
        if pieces[place].kind == "number" and "container" not in pieces[place + 1].roles:
            pieces[place] = one_piece([pieces[place]], "kept")


def _closes(pieces: list[Piece], at: int) -> bool:
    return is_end(pieces, at) or pieces[at].low in _OF or "plant" in pieces[at].roles
