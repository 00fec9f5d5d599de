"""Is the second word of a deed another deed, and no detail of the first: `watered lots 3 and 4 misted lot 5`."""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import COUNTS, SUBJECTS, Piece, is_act

_NOT: Final = frozenset({"not", "never", "wasnt", "wasn't", "werent", "weren't"})


def turn_by_turn(pieces: list[Piece], place: int) -> bool:
    """`tray 3 watered tray 4 | misted`: each deed right after its tray."""
    run = pieces[max(0, place - 3) : place]
    return len(run) == 3 and [piece.kind in SUBJECTS for piece in run] == [True, False, True] and is_act(run[1])


def counts_once_more(pieces: list[Piece], place: int) -> bool:
    """`lost 2 rot | lost 5 heat`: the same word again, each with its count."""
    before = next((at for at in range(place) if pieces[at].low == pieces[place].low), place)
    return before < place and all(pieces[at + 1 : at + 2] and pieces[at + 1].kind in COUNTS for at in (before, place))


def of_its_own(pieces: list[Piece], place: int) -> bool:
    """`watered lots 3 and 4 misted lot 5`: the second word of an act right between two subjects of a kind, or denied
    after the second (`lot 13 misted lot 14 not misted`).
    """
    if place > 1 and "negation" in pieces[place - 1].roles and pieces[place - 2].kind in ("lots", "trays"):
        return any(piece.kind == pieces[place - 2].kind for piece in pieces[: place - 2])
    if not 0 < place < len(pieces) - 1 or pieces[place - 1].kind not in ("lots", "trays"):
        return False
    return pieces[place + 1].kind == pieces[place - 1].kind


def denied_alone(pieces: list[Piece], place: int) -> bool:
    """`lot 5 fed not watered`, `potted 12 not labeled`: a deed that is denied by itself, after another one."""
    word = pieces[place].roles.get("act")
    plain = word is not None and word.form == "done" and not word.counts_before
    return (plain and pieces[place - 1].low in _NOT) or of_its_own(pieces, place)
