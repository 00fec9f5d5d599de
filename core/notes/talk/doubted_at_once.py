"""What is doubted and put right in one breath: `sowed 40 toyon, deep pots? tubes i mean`.

The right one is told as if it alone stood there; the other words are kept.
"""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import SUBJECTS, Piece, is_act
from core.notes.words.said import begin_of_statement, end_of_statement, keep_words, said_in
from core.notes.words.steps import looks_for

_MEANT: Final = frozenset({"i mean", "i meant"})
_DETAILS: Final = ("container", "pot_size", "medium", "cutting", "wood", "hormone_form", "hormone_name")
_FEW: Final = 4
_THANKS: Final = frozenset({"thanks", "thx", "ty", "sorry"})


@looks_for("?", beside=("mean", "meant"))
def keep_doubted(pieces: list[Piece]) -> None:
    """Keeps the words of a detail that is doubted, where another of its kind and `i mean` follow, in place."""
    for mark in range(len(pieces) - 3, 1, -1):
        start, after = begin_of_statement(pieces, mark), pieces[mark + 1 : end_of_statement(pieces, mark + 1)]
        if after and after[-1].low in _THANKS:
            after = after[:-1]
        doubted = pieces[start:mark]
        alike = set(_kinds(doubted)) & set(_kinds(after))
        if pieces[mark].low != "?" or not start or len(after) > _FEW or said_in(after[-2:]) not in _MEANT:
            continue
        if alike and not any(is_act(one) or one.kind in SUBJECTS for one in (*doubted, *after)):
            keep_words(*doubted, *after[-2:])
            pieces[mark].value = pieces[mark].low = ","


def _kinds(told: list[Piece]) -> list[str]:
    return [kind for one in told for kind in _DETAILS if kind in one.roles]
