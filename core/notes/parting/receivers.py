"""Which words of a list tell another giving, keeping or sale: `and 10 for finn`, `ana 5 & bao 7`, `4 toyon 2 sage`."""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import Piece, is_act
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord

_AND: Final = frozenset({"and", "&", "+", "then"})


@looks_for("=counts", "!reserve")
def part_receivers(pieces: list[Piece]) -> None:
    """Parts the members of a list that have a number of their own, in place."""
    _part_run_on(pieces)
    for place, piece in enumerate(pieces[:-2]):
        if piece.low not in _AND or not counts_alone(pieces[place + 1]) or _deed_before(pieces, place) != "reserve":
            continue
        if pieces[place + 2].low == "for" and place + 3 < len(pieces) and not is_act(pieces[place + 3]):
            piece.kind, piece.low, piece.roles = "break", ",", {}


def _part_run_on(pieces: list[Piece]) -> None:
    """`sold 4 toyon 2 manzanita 1 ribes`: a count and a plant right after a count and a plant."""
    place = 1
    while place + 2 < len(pieces):
        plant, number, other = pieces[place : place + 3]
        listed = "plant" in plant.roles and counts_alone(number) and "plant" in other.roles
        counted = counts_alone(pieces[place - 1])
        if listed and _deed_before(pieces, place) is not None:
            # The count stands after its plant where no count stands before the first (`sold toyon 4 sage 6`).
            at = place + 1 if counted else place + 2
            pieces.insert(at, Piece("break", ",", pieces[at].first, pieces[at].first, ","))
            place = at
        place += 1


def counts_alone(piece: Piece) -> bool:
    """A bare whole number that nothing used yet and that is not out of another."""
    return piece.kind == "number" and not piece.used and piece.value.whole is not None and piece.value.of is None


def _deed_before(pieces: list[Piece], place: int) -> str | None:
    """The act of the last deed before a place in its sentence."""
    for piece in reversed(pieces[:place]):
        word: ActWord | None = piece.roles.get("act") or piece.roles.get("shared")
        if word is not None:
            return word.act
        if piece.kind == "break" and piece.low in (".", "\n", ";"):
            return None
    return None
