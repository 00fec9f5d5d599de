"""How long were cuttings and roots: numbers before inches or nodes that count no plants.

Rules
1. `stuck 3-4 in tips, 48`: "in" before the form or the wood of cuttings is inches.
2. `stuck 48 2-3 node ribes`: how many nodes a cutting has.
3. `1 to 2 in roots`, `roots 1 in on 6`, `roots 1-2 in on lot 9`: "in" between a number and roots, or before "on"
   after them, is inches.
"""

from __future__ import annotations

from typing import Final

from core.notes.words.numbers import Number
from core.notes.words.pieces import SUBJECTS, Piece
from core.notes.words.said import one_piece, said_in
from core.notes.words.steps import looks_for

_LONGEST: Final = 14
"""No longer cuttings or roots are told in inches."""
_ROOTED: Final = SUBJECTS | {"number"}
_NODES: Final = frozenset({"node", "nodes"})
_FORMS: Final = ("cutting", "wood", "what")


@looks_for("in", beside=("!stick", "!collect"))
def keep_lengths_of_cuttings(pieces: list[Piece]) -> None:
    """Keeps how long cuttings were, before their form or wood, in place."""
    for at in range(len(pieces) - 3, 0, -1):
        if _says_inches(pieces, at) and not pieces[at + 2].roles.keys().isdisjoint(_FORMS):
            _keep_together(pieces, at, at + 2)


@looks_for(any_of=_NODES, beside=("!stick", "!collect"))
def name_nodes(pieces: list[Piece]) -> None:
    """Joins the number of their nodes to cuttings, which are nodal by it, in place."""
    for at in range(len(pieces) - 1, 1, -1):
        if pieces[at].low not in _NODES:
            continue
        first = at - 1 - (pieces[at - 1].low == "-")
        number = pieces[first]
        if number.kind == "number" and (number.value.high or number.value.value) <= _MOST_NODES:
            low = said_in(pieces[first : at + 1])
            pieces[first : at + 1] = [Piece("phrase", None, number.first, pieces[at].last, low, {"cutting": "nodal"})]


_MOST_NODES: Final = 6
"""No cutting is told to have more nodes."""


@looks_for("in", beside=("!rooted",))
def keep_lengths_of_roots(pieces: list[Piece]) -> None:
    """Keeps how long roots were, in place."""
    for at in range(len(pieces) - 3, -1, -1):
        if not _says_inches(pieces, at):
            continue
        after = pieces[at + 2]
        counted = after.low == "on" and any(piece.kind in _ROOTED for piece in pieces[at + 3 : at + 4])
        if after.low == "roots" or (counted and at and pieces[at - 1].low == "roots"):
            _keep_together(pieces, at, at + 2)


def _says_inches(pieces: list[Piece], at: int) -> bool:
    """Whether a number that a length may have stands right before "in"."""
    if pieces[at].kind != "number" or pieces[at + 1].low != "in":
        return False
    number: Number = pieces[at].value
    return number.of is None and (number.high or number.value) <= _LONGEST


def _keep_together(pieces: list[Piece], start: int, end: int) -> None:
    run = pieces[start:end]
    joined = one_piece(run)
    pieces[start:end] = [joined]


KEEP_LENGTHS_TOLD: Final = (keep_lengths_of_cuttings, name_nodes, keep_lengths_of_roots)
"""Keep numbers that tell how long cuttings and roots were, in place."""
