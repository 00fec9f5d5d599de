"""Lots or trays and the counts after them: the last of a row (`trays 5 6 7 dead: 0 2 1`), and each of a list."""

from __future__ import annotations

from core.notes.words.pieces import SUBJECTS, Piece, is_act
from core.notes.words.said import end_of_sentence, state_of
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


@looks_for(";", beside=("=subjects",))
def join_counts_after_commas(pieces: list[Piece]) -> None:
    """`tray 12 rooted 21; tray 13, 18`: the count of the next of a list, in place."""
    for at in range(len(pieces) - 3, 0, -1):
        mark, named, comma, number = pieces[at - 1 : at + 3]
        listed = mark.low == ";" and named.kind in SUBJECTS and comma.low == "," and number.kind == "number"
        if listed and (at + 3 == len(pieces) or pieces[at + 3].low == ";") and any(map(state_of, pieces[:at])):
            del pieces[at + 1]
