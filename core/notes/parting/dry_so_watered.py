"""Bare numbers that are the trays or lots found dry: `trays 1-6 misted, 7 & 8 dry so watered those`."""

from __future__ import annotations

from typing import Final

from core.notes.parting.as_before import is_bare, kind_before, list_end, name_as
from core.notes.words.pieces import Piece
from core.notes.words.steps import looks_for

_WATERED: Final = frozenset({"misted", "watered", "soaked", "sprayed"})


@looks_for("dry", beside=("=trays", "=lots"))
def name_dry_so_watered(pieces: list[Piece]) -> None:
    """Names them as those before were named, where these were watered and what followed was too, in place."""
    for at in range(2, len(pieces) - 3):
        if pieces[at - 1].kind != "break" or pieces[at - 2].low not in _WATERED or not is_bare(pieces[at]):
            continue
        end, kind = list_end(pieces, at), kind_before(pieces, at)
        after = [piece.low for piece in pieces[end : end + 3]]
        if kind is not None and after[:2] == ["dry", "so"] and after[2:] and after[2] in _WATERED:
            name_as(pieces, at, end, kind)
            pieces[at + 1].kind = "kept"
            # What follows "so" was done to them.
            del pieces[at + 2]
            return
