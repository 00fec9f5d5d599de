"""Where plants wilt, died or have rooted, told by a bare number and without a count: `wilting on 2`, `rooted in 14`.

Rules
1. The numbers that "in" leads to (for what wilts, "on" too) at the end of a statement that counts nothing and names no
   lot or tray are lots; trays where the note told of trays before.
"""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import SUBJECTS, Piece
from core.notes.words.said import deed_of, statement_at
from core.notes.words.steps import looks_for

_LEADS: Final = {"wilt": frozenset({"in", "on", "under"}), "lose": frozenset({"in"}), "check": frozenset({"in"})}
_ANY_LEAD: Final = frozenset[str]().union(*_LEADS.values())
_JOINTS: Final = frozenset({"and", "&", "+"})
_COUNTS: Final = frozenset({"number", "fraction", "percent", "share", "shares", "colon", "range"})


@looks_for("in", "on", "under", beside=("!lose", "!check", "!wilt"))
def name_where_alone(pieces: list[Piece]) -> None:
    """Makes lots or trays of such numbers, in place."""
    for at in range(1, len(pieces)):
        if pieces[at].kind != "number" or pieces[at - 1].low not in _ANY_LEAD:
            continue
        start, end = statement_at(pieces, at)
        told = pieces[start:at]
        deeds = {word.act for piece in told if (word := deed_of(piece)) is not None}
        if len(deeds) != 1 or pieces[at - 1].low not in _LEADS.get(next(iter(deeds)), ()):
            continue
        numbers = _numbers(pieces[at:end])
        if not numbers or any(piece.kind in _COUNTS | SUBJECTS or "plant" in piece.roles for piece in told):
            continue
        kind = next((piece.kind for piece in reversed(pieces[:start]) if piece.kind in SUBJECTS), "lots")
        for piece in numbers:
            piece.kind, piece.value = kind, (piece.low,)


def _numbers(run: list[Piece]) -> list[Piece]:
    """The bare numbers that a run is, with what joins them; none where it is anything else."""
    named, joints = run[::2], run[1::2]
    bare = all(
        piece.kind == "number" and piece.low.isdigit() and piece.value.of is None and not piece.value.approx
        for piece in named
    )
    return named if bare and len(joints) == len(named) - 1 and all(one.low in _JOINTS for one in joints) else []
