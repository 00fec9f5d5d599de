"""What a deed was for, said after it as a sentence: it was not done (`so it isnt under the drip`)."""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import NO_ROLES, Piece
from core.notes.words.steps import looks_for

_IT: Final = frozenset({"it", "they", "that", "we", "i", "nobody", "its", "the", "nothing"})
_MODAL: Final = frozenset({"negation", "plan", "hearsay", "none"})


@looks_for("so", "so that")
def keep_so_that(pieces: list[Piece]) -> None:
    """`moved tray 10 over so it isnt under the drip`: what a deed was for; its words up to the next mark are kept."""
    for place, piece in enumerate(pieces[:-2]):
        subject, verb = pieces[place + 1 : place + 3]
        if piece.low not in ("so", "so that") or subject.low not in _IT or verb.roles.keys().isdisjoint(_MODAL):
            continue
        for kept in pieces[place:]:
            if kept.kind == "break":
                break
            kept.kind, kept.roles = "kept", NO_ROLES
