"""Lengths of time in a row, whose unit stands at the last: `toyon, redbud, snowberry, 60 90 120 days`."""

from __future__ import annotations

from core.notes.words.pieces import Piece
from core.notes.words.said import begin_of_statement, keep_words
from core.notes.words.steps import looks_for


@looks_for("=duration", beside=("=number",))
def keep_lengths_in_row(pieces: list[Piece]) -> None:
    """Keeps the numbers before the last of them, which count nothing, in place."""
    for at, piece in enumerate(pieces):
        if piece.kind != "duration":
            continue
        before = pieces[begin_of_statement(pieces, at) : at]
        if len(before) > 1 and all(one.kind == "number" and one.low.isdigit() for one in before):
            keep_words(*before)
