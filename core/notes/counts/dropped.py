"""How many of those dropped were lost: `dropped a flat of 18 lot 9, 5 broke`, `dropped 18 of lot 9, saved 12`.

What was dropped is not lost where the note goes on to tell how many were, or how many were not.
"""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import Piece
from core.notes.words.said import deed_of, end_of_sentence, keep_words
from core.notes.words.steps import looks_for
from core.vocabulary import words
from core.vocabulary.loading import small_words

_DROPPING: Final = small_words("dropped", "dropping")
_UNHURT: Final = small_words("dropped", "unhurt")
_HURT: Final = small_words("dropped", "hurt")
_BY_HAND: Final = (None, "handling")


@looks_for(any_of=_DROPPING, beside=("=number",))
def keep_dropped(pieces: list[Piece]) -> None:
    """Keeps how many were dropped, where fewer of them were lost or saved, in place."""
    for at, piece in enumerate(pieces):
        if piece.low not in _DROPPING or deed_of(piece) is None:
            continue
        end = end_of_sentence(pieces, at)
        counted = [place for place in range(at + 1, end) if pieces[place].kind == "number"]
        fewer = len(counted) > 1 and pieces[counted[0]].value.value > pieces[counted[1]].value.value
        if fewer and _tells_what_became(pieces, counted[1], end):
            keep_words(pieces[counted[0]])
        for place in counted:
            _keep_saved(pieces, place)


def _keep_saved(pieces: list[Piece], at: int) -> None:
    """`dropped tray 4, 6 saved`, `saved 12`: those that are still there; nobody set them aside."""
    for beside in (at - 1, at + 1):
        if beside < len(pieces) and pieces[beside].low in _UNHURT:
            keep_words(pieces[at], pieces[beside])


def _tells_what_became(pieces: list[Piece], at: int, end: int) -> bool:
    """Whether a count is of those that were lost then, or that were not (`5 broke`, `lost 5`, `saved 12`, `12 ok`)."""
    for piece in pieces[at + 1 : min(at + 2, end)]:
        if piece.low in _HURT and piece.kind == "word":
            piece.kind, piece.roles = "phrase", words().phrases["broke"]
    beside = [*pieces[at - 1 : at], *pieces[at + 1 : min(at + 4, end)]]
    if any(piece.low in _UNHURT for piece in beside):
        return True
    deeds = [word for piece in beside if (word := deed_of(piece)) is not None]
    return bool(deeds) and deeds[0].act == "lose" and deeds[0].says.get("cause") in _BY_HAND
