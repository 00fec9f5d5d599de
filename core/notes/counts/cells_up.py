"""How many cells have something up in them: `lot 20: 40 cells up`, `12 plugs up so far`."""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import Piece, is_act
from core.notes.words.said import begin_of_statement, is_count, is_end
from core.notes.words.steps import looks_for

_CELLS: Final = frozenset({"cell", "plug", "pot", "band", "tube", "liner"})
_AFTER: Final = frozenset({"so far", "now", "already", "and", "&", "in"})


@looks_for("up", "are up", "came up", beside=("@container",))
def find_cells_up(pieces: list[Piece]) -> None:
    """Makes a count of what is up of the cells before it, in place."""
    for at in range(2, len(pieces)):
        count, cells, up = pieces[at - 2 : at + 1]
        word = up.roles.get("noun")
        if word is None or word.says.get("state") != "germinated" or cells.roles.get("container") not in _CELLS:
            continue
        told = any(is_act(piece) for piece in pieces[begin_of_statement(pieces, at) : at])
        ends = is_end(pieces, at + 1) or pieces[at + 1].kind in ("number", "moment") or pieces[at + 1].low in _AFTER
        if count.kind == "number" and is_count(count) and ends and not told:
            up.roles = {"act": word}
