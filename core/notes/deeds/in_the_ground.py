"""What was not planted out now: `stuck 25 willow hardwood in the ground bed`, `weeded lot 9 in the ground bed`."""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import Piece
from core.notes.words.said import begin_of_statement, deed_of, keep_words
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_GROUND: Final = frozenset({"in the ground", "into the ground"})
_BEDS: Final = small_words("other_senses", "beds")
_OF_CUTTINGS: Final = frozenset({"wood", "hormone", "hormone_name", "hormone_form"})
_DONE_THERE: Final = frozenset({"water", "tend", "check", "wilt", "treat"})


@looks_for(any_of=_GROUND, beside=("!stick", "!water", "!tend", "!check", "!wilt", "!treat"))
def keep_in_ground(pieces: list[Piece]) -> None:
    """Keeps the words of where cuttings were stuck, or where plants were cared for, in place."""
    for at, piece in enumerate(pieces):
        if piece.low not in _GROUND or deed_of(piece) is None:
            continue
        said = pieces[begin_of_statement(pieces, at) : at]
        told = [word for one in said if (word := deed_of(one)) is not None]
        in_bed = at + 1 < len(pieces) and pieces[at + 1].low in _BEDS
        if not told:
            continue
        wood = any(not one.roles.keys().isdisjoint(_OF_CUTTINGS) or one.low.startswith("cutting") for one in said)
        if told[-1].act == "stick" and (in_bed or wood):
            keep_words(piece)
        elif told[-1].act in _DONE_THERE and in_bed and not told[-1].counts_before:
            keep_words(piece, pieces[at + 1])
