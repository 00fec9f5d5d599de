"""Where a deed is told after a question or wish in the same sentence: `need 60 sage by apr 18 | misted tray 4`."""

from __future__ import annotations

from typing import Final

from core.notes.talk.question_marks import ends_asking
from core.notes.words.pieces import Piece, names_plants
from core.notes.words.said import end_of_statement

_WISHED: Final = frozenset({"reserve"})
"""Acts that are told by the bare verb too (`reserve 25 twinberry for the fair`)."""


def tells_deed(pieces: list[Piece], place: int) -> bool:
    """Whether what stands after a comma is a deed of its own, with what it was done to, and asks nothing."""
    if pieces[place - 1].low != "," or ends_asking(pieces, place):
        return False
    told = pieces[place : end_of_statement(pieces, place)]
    deed = next((piece for piece in (*told[:1], *told[-1:]) if _is_done(piece)), None)
    if deed is None or any("to_do" in piece.roles for piece in told[1:]):
        return False
    return any(piece is not deed and names_plants(piece) for piece in told)


def plans_deed(pieces: list[Piece], place: int) -> bool:
    """`need 75 snowberry by nov 1, | need to water snowberry`: whether a deed is planned of its own after a comma."""
    planned = pieces[place - 1].low == "," and "plan" in pieces[place].roles and pieces[place].low.endswith(" to")
    return planned and any("to_do" in piece.roles for piece in pieces[place + 1 : place + 2])


def _is_done(piece: Piece) -> bool:
    word = piece.roles.get("act")
    return word is not None and (word.form == "done" or word.act in _WISHED) and "state" not in word.says
