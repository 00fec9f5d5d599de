"""How many are and how many are not, told by yes and no: `tug test lot 9: 12 yes 8 no`, `rooted yes 20 no 12`.

Those that are count, out of both together.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from core.notes.words.numbers import Number
from core.notes.words.pieces import Piece
from core.notes.words.steps import looks_for

_ANSWERS: Final = frozenset({"yes", "no"})
_JOINTS: Final = frozenset({",", "/", "and", "&"})


@looks_for("yes", beside=("no",))
def join_yes_and_no(pieces: list[Piece]) -> None:
    """Makes a count of yes and a count of no beside it one count out of both, in place."""
    for at in range(len(pieces) - 4, -1, -1):
        second = at + 2 + (pieces[at + 2 : at + 3] != [] and pieces[at + 2].low in _JOINTS)
        run = [*pieces[at : at + 2], *pieces[second : second + 2]]
        counts = [piece for piece in run if _is_bare(piece)]
        answers = [piece.low for piece in run if piece.low in _ANSWERS]
        alike = [piece in counts for piece in run] in ([True, False, True, False], [False, True, False, True])
        if not alike or set(answers) != _ANSWERS:
            continue
        place = answers.index("yes")
        are, others = counts[place].value, counts[1 - place].value
        value: Number = replace(are, of=int(are.value + others.value))
        said = " ".join(piece.low for piece in pieces[at : second + 2])
        pieces[at : second + 2] = [Piece("number", value, run[0].first, run[-1].last, said)]


def _is_bare(piece: Piece) -> bool:
    return piece.kind == "number" and piece.value.whole is not None and piece.value.of is None
