"""Where what was read stands beside what was done: `68f in the greenhouse and soaked lot 3`."""

from __future__ import annotations

from core.notes.counts.temps import claims
from core.notes.words.pieces import NO_ROLES, Piece
from core.notes.words.said import statement_at
from core.notes.words.steps import looks_for


@looks_for(any_of=("and", "&"), beside=("=temp",))
def part_readings(pieces: list[Piece]) -> None:
    """`watered tray 18 and shade house 77f`: a comma between what was read and what was done, in place."""
    for at in range(1, len(pieces) - 1):
        if pieces[at].low not in ("and", "&"):
            continue
        start, end = statement_at(pieces, at)
        before, after = pieces[start:at], pieces[at + 1 : end]
        if (_reads(before) and any(map(claims, after))) or (_reads(after) and any(map(claims, before))):
            pieces[at].kind, pieces[at].low, pieces[at].roles = "break", ",", NO_ROLES


def _reads(said: list[Piece]) -> bool:
    """`68f in the greenhouse`: a place and its degrees, and nothing else."""
    read = any(piece.kind == "temp" for piece in said) and any("place_word" in piece.roles for piece in said)
    known = ("temp", "percent", "moment")
    return read and all(
        piece.kind in known or not piece.roles.keys().isdisjoint(("place_word", "filler", "humidity", "temp_word"))
        for piece in said
    )
