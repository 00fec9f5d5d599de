"""The last of some lots or trays, where as many counts follow: `trays 5 6 7 dead: 0 2 1`."""

from __future__ import annotations

from core.notes.words.pieces import SUBJECTS, Piece, is_act
from core.notes.words.said import end_of_sentence
from core.notes.words.steps import looks_for


@looks_for("=several", beside=(":",))
def name_last_of_row(pieces: list[Piece]) -> None:
    """Names the number before the deed too, where a count is told for each of them and it, in place."""
    for at in range(len(pieces) - 5):
        after = at + 1 + (pieces[at + 1].low == ",")
        row, last, deed, colon = pieces[at], *pieces[after : after + 3]
        if row.kind not in SUBJECTS or last.kind != "number" or not last.low.isdigit():
            continue
        if not is_act(deed) or colon.low != ":":
            continue
        end = end_of_sentence(pieces, after + 3)
        told = [piece for piece in pieces[after + 3 : end] if piece.low != ","]
        if len(told) == len(row.value) + 1 and all(piece.kind == "number" for piece in told):
            row.value, row.last, row.low = (*row.value, last.low), last.last, f"{row.low} {last.low}"
            del pieces[at + 1 : after + 1]
            return
