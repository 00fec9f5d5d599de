"""How many a loss left, told after it: `lot 22 dried out, 10 left`, `tray 3 got eaten, only 6 left`."""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import COUNTS, Piece
from core.notes.words.said import begin_of_statement, deed_of, is_end
from core.notes.words.steps import looks_for

_ONLY: Final = frozenset({"only", "just", "but", "and"})
_MARKS: Final = frozenset({",", "-", ":"})


@looks_for("left", beside=("!lose",))
def find_left_after(pieces: list[Piece]) -> None:
    """Makes `, 10 left` after a loss that counts nothing itself what `all but 10` says, in place."""
    for at in range(len(pieces) - 1, 2, -1):
        if at >= len(pieces):
            continue
        number, left = pieces[at - 1 : at + 1]
        if left.low != "left" or number.kind != "number" or number.value.whole is None or not is_end(pieces, at + 1):
            continue
        mark = at - 2
        while mark and pieces[mark].low in _ONLY:
            mark -= 1
        if pieces[mark].low in _MARKS and _loses(pieces[begin_of_statement(pieces, mark) : mark]):
            but = Piece("phrase", None, left.first, left.last, "left", {"left": True})
            pieces[mark : at + 1] = [but, number]


def _loses(said: list[Piece]) -> bool:
    """Whether plants were lost, and nobody says how many."""
    words = [word for word in map(deed_of, said) if word is not None]
    counted = any(piece.kind in COUNTS or "all" in piece.roles for piece in said)
    return not counted and [word.act for word in words] == ["lose"]
