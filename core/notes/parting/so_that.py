"""What follows from something: what a deed was for (`so it isnt under the drip`), why none was (`so didnt pot`)."""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import SUBJECTS, Piece, is_act
from core.notes.words.said import keep_words
from core.notes.words.steps import looks_for

_IT: Final = frozenset({"it", "they", "that", "we", "i", "nobody", "its", "the", "nothing"})
_MODAL: Final = frozenset({"negation", "plan", "hearsay", "none"})


@looks_for("so", "so that")
def keep_so_that(pieces: list[Piece]) -> None:
    """`moved tray 10 over so it isnt under the drip`: what a deed was for; its words up to the next mark are kept.
    `lot 3 was dry so didnt pot it`: one statement.
    """
    for place, piece in enumerate(pieces[:-2]):
        if piece.low == "so" and "negation" in pieces[place + 1].roles and _gives_reason(pieces, place):
            piece.low, piece.roles = "so not", {"filler": True}
            continue
        subject, verb = pieces[place + 1 : place + 3]
        if piece.low not in ("so", "so that") or subject.low not in _IT or verb.roles.keys().isdisjoint(_MODAL):
            continue
        for kept in pieces[place:]:
            if kept.kind == "break":
                break
            keep_words(kept)


def _gives_reason(pieces: list[Piece], place: int) -> bool:
    """`lot 3 was dry | so didnt pot it`: a lot or tray and how it was, with no deed or count, is of the same note."""
    start = next((at for at in range(place, 0, -1) if pieces[at - 1].kind == "break"), 0)
    said = pieces[start:place]
    named = any(piece.kind in SUBJECTS for piece in said[:2])
    return named and not any(is_act(piece) or piece.kind in ("number", "fraction") for piece in said)
