"""Rows of a tray told of again by their numbers: `rows 1 and 2 rooted, 3 and 4 not`."""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import Piece
from core.notes.words.said import is_end
from core.notes.words.steps import looks_for

_JOINTS: Final = frozenset({"and", "&"})


@looks_for("rows", beside=("not",))
def keep_other_rows(pieces: list[Piece]) -> None:
    """Makes one unread piece of the other rows, which count nothing, in place."""
    rows = next((piece for piece in pieces if piece.kind == "numbered" and piece.low.startswith("rows ")), None)
    if rows is None:
        return
    for at in range(len(pieces) - 4, 0, -1):
        before, first, joint, last, denied = pieces[at - 1 : at + 4]
        numbered = first.low.isdigit() and joint.low in _JOINTS and last.low.isdigit()
        if before.low in (",", "and", "but") and numbered and denied.low == "not" and is_end(pieces, at + 4):
            low = f"{first.low} {joint.low} {last.low} {denied.low}"
            pieces[at : at + 4] = [Piece("numbered", None, first.first, denied.last, low, rows.roles)]
            return
