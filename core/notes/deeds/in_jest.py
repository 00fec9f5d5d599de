"""Is what was told taken back in the same breath: `lot 9 20 rooted jk`, `lot 9 wilted, false alarm`.

Rules
1. `jk` and the like take back their statement; the others only at its end.
2. Where they open a statement, they take back the one before (`lot 9 dead, kidding its fine`).
"""

from __future__ import annotations

from typing import Final

from core.notes.parting.clauses import Clause
from core.notes.words.pieces import Piece
from core.notes.words.runs import Runs
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_TAKING_BACK: Final = small_words("in_jest", "taking_back")
_ENDING: Final = small_words("in_jest", "ending")
_PLAYING: Final = small_words("in_jest", "playing")
_LAUGHING: Final = small_words("in_jest", "laughing")
_ANYWHERE: Final = Runs(_TAKING_BACK)
_SAID: Final = Runs(_TAKING_BACK | _ENDING)


@looks_for(any_of=_TAKING_BACK | _ENDING)
def said_in_jest(clauses: list[Clause]) -> set[int]:
    """The places of the clauses that are taken back."""
    taken: set[int] = set()
    for place, clause in enumerate(clauses):
        found = _SAID.first_from(clause.pieces)
        if found is None:
            continue
        start, end = found
        heads = all(map(_is_laugh, clause.pieces[:start]))
        if heads or all(map(_is_laugh, clause.pieces[end:])) or _takes_back(clause.pieces, start):
            taken.update(range(_begin_of(clauses, place - heads), place + 1))
    return taken


def _takes_back(pieces: list[Piece], at: int) -> bool:
    end = _ANYWHERE.end_at(pieces, at)
    return bool(end) and pieces[end].low not in _PLAYING


def _begin_of(clauses: list[Clause], place: int) -> int:
    """The first of the clauses that one statement was parted into; past the last where there is none."""
    if place < 0:
        return len(clauses)
    while place and clauses[place].after == "":
        place -= 1
    return place


def _is_laugh(piece: Piece) -> bool:
    return piece.kind == "mark" or piece.low in _LAUGHING
