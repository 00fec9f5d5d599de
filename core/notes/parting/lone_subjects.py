"""Which lots or trays stand on a line of their own and head those below: `lot 3`, `20 rooted`, `4 dead`, `lot 4`.

They do where the first line that tells anything is such a line: below `20 rooted`, a lone `lot 3` may end what is told.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from core.notes.words.pieces import COUNTS, SUBJECTS, Piece, is_act
from core.notes.words.steps import looks_for

_TELLING: Final = SUBJECTS | COUNTS
_MEANT: Final = frozenset({"noun", "to_do", "negation", "plan", "condition"})


@looks_for("\n", beside=("=subjects",))
def head_lines(pieces: list[Piece]) -> None:
    """Drops the end of each line that is a heading, in place; of headings right below one another it is a comma."""
    lines = _lines(pieces)
    telling = [line for line in lines if _tells(pieces, *line)]
    if len(telling) < 3 or not _is_heading(pieces, *telling[0]):
        return
    for line, below in reversed(list(pairwise(telling))):
        start, end = line
        if not _is_heading(pieces, start, end):
            continue
        subject, mark = pieces[start], pieces[end]
        if not _is_heading(pieces, *below):
            del pieces[start + 1 : end + 1]
        elif pieces[below[0]].kind == subject.kind and below != telling[-1]:
            pieces[start + 1 : end + 1] = [Piece("break", ",", mark.first, mark.last, ",")]


def _lines(pieces: list[Piece]) -> list[tuple[int, int]]:
    """Where each line begins and ends."""
    ends = [place for place, piece in enumerate(pieces) if piece.low == "\n"]
    return list(zip([0, *(end + 1 for end in ends)], [*ends, len(pieces)], strict=True))


def _tells(pieces: list[Piece], start: int, end: int) -> bool:
    """Whether a line names lots or trays, counts, tells a deed, or heads what follows (`skipped:`)."""
    return any(
        piece.kind in _TELLING or piece.low == ":" or is_act(piece) or not piece.roles.keys().isdisjoint(_MEANT)
        for piece in pieces[start:end]
    )


def _is_heading(pieces: list[Piece], start: int, end: int) -> bool:
    """`lot 3`, `tray 4:`; never the last line."""
    said = [piece for piece in pieces[start:end] if piece.low != ":"]
    return end < len(pieces) and len(said) == 1 and said[0] is pieces[start] and said[0].kind in SUBJECTS
