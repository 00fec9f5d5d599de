"""How many a loss left, told after it or before: `lot 22 dried out, 10 left`, `4 of lot 60 left, the rest died`."""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import COUNTS, Piece, names_plants
from core.notes.words.said import begin_of_statement, deed_of, end_of_statement, is_end
from core.notes.words.steps import looks_for

_ONLY: Final = frozenset({"only", "just", "but", "and"})
_OTHERS: Final = frozenset({"rest", "others"})
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


@looks_for("left", beside=_OTHERS)
def find_left_before(pieces: list[Piece]) -> None:
    """Makes `only 4 of lot 60 left, the rest died` what `all but 4 of lot 60 died` says, in place."""
    for at, number in enumerate(pieces):
        mark = end_of_statement(pieces, at)
        if number.kind != "number" or number.value.whole is None or mark == len(pieces) or pieces[mark].low != ",":
            continue
        end = end_of_statement(pieces, mark + 1)
        said, told = pieces[at + 1 : mark], pieces[mark + 1 : end]
        others = any(piece.low.split(" ")[-1] in _OTHERS for piece in told)
        if not others or not _loses([one for one in told if "all" not in one.roles]) or not _only_left(said):
            continue
        but = Piece("phrase", None, number.first, number.first, "left", {"left": True})
        lost = [piece for piece in told if deed_of(piece) is not None]
        pieces[at:end] = [but, number, *(piece for piece in said if piece.low != "left"), *lost]
        for piece in pieces[:at]:
            piece.used = piece.used or piece.low in _ONLY
        return


def _only_left(said: list[Piece]) -> bool:
    """`of lot 60 left`, `left in lot 60`."""
    named = [piece for piece in said if names_plants(piece)]
    others = [piece for piece in said if piece not in named and "filler" not in piece.roles]
    return len(named) == 1 and [piece.low for piece in others] == ["left"]
