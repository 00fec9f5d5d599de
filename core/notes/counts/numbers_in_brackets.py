"""Which bare numbers are lots, by the counts in brackets after them: `potted 5 (20) and 6 (18)`."""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import SUBJECTS, Piece, is_act
from core.notes.words.steps import looks_for

_AND: Final = frozenset({"and", "&", ","})


@looks_for("(", beside=("!pot", "!lose", "!water", "!check"))
def name_lots_before_brackets(pieces: list[Piece]) -> None:
    """`potted 5 (20) and 6 (18)`: lots and their counts, or trays where those were named before, in place."""
    for place, deed in enumerate(pieces):
        if not is_act(deed):
            continue
        found, at = [], place + 1
        while _is_counted(pieces, at):
            found.append(at)
            at += 4
            while at < len(pieces) and pieces[at].low in _AND:
                at += 1
        if len(found) > 1:
            before = [one.kind for one in pieces[:place] if one.kind in SUBJECTS]
            kind = before[-1] if before else "lots"
            for one in found:
                pieces[one].kind, pieces[one].value = kind, (pieces[one].low,)


def _is_counted(pieces: list[Piece], at: int) -> bool:
    """Whether a bare number with a number in brackets after it stands at a place."""
    run = pieces[at : at + 4]
    numbers = [one.kind == "number" and one.low.isdigit() for one in run]
    return numbers == [True, False, True, False] and (run[1].low, run[3].low) == ("(", ")")
