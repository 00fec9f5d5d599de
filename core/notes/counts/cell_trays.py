"""How many trays of how many cells are `two 72s`, trays that go by the number of their cells."""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import Piece
from core.notes.words.said import said_in
from core.notes.words.steps import looks_for

_TIMES: Final = frozenset({"x", "×"})


@looks_for("=cells")
def join_cell_trays(pieces: list[Piece]) -> None:
    """Makes one piece of `two 72s`, `2 x 72s` and `128s x 2`: how many trays, and of how many cells, in place."""
    for at in range(len(pieces) - 1, -1, -1):
        if pieces[at].kind != "cells":
            continue
        times = pieces[at + 1 : at + 3]
        after = len(times) == 2 and times[0].low in _TIMES and times[1].kind == "number"
        start, end = (at, at + 3) if after else (at - 1, at + 1)
        several = _so_many(pieces[end - 1] if after else pieces[start]) if start >= 0 else None
        if several is not None:
            run = pieces[start:end]
            value = several, pieces[at].value
            pieces[start:end] = [Piece("cell_trays", value, run[0].first, run[-1].last, said_in(run))]


def _so_many(piece: Piece) -> int | None:
    """The number of `2` and of `2 x`."""
    if piece.kind == "times":
        return int(piece.value)
    whole: int | None = piece.value.whole if piece.kind == "number" else None
    return whole
