"""Which numbers beside a deed count no plants: how many hands did it, what the plants stand in, how warm a mat is.

Rules
1. `crew of 5 potted 180 sage`: how many people there were.
2. `the 4 in sages are ready`: the pots that plants stand in.
3. `heat mat on 70, door locked`: how warm it is, and no lot.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from core.notes.words.pieces import Piece
from core.notes.words.said import keep_words, said_in
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_CREWS: Final = small_words("numbers_beside", "crews")
_THE: Final = small_words("numbers_beside", "the")
_POTS: Final = small_words("numbers_beside", "pots")
_MATS: Final = small_words("numbers_beside", "mats")
_WARM: Final = range(55, 96)
"""Degrees Fahrenheit that a mat is set to."""


@looks_for(any_of=_CREWS, beside=("of",))
def keep_crews(pieces: list[Piece]) -> None:
    """`crew of 5 potted 180 sage`: how many people there were, in place."""
    for at, crew in enumerate(pieces[:-2]):
        of, number = pieces[at + 1 : at + 3]
        if crew.low in _CREWS and of.low == "of" and number.kind == "number" and number.low.isdigit():
            keep_words(crew, of, number)


@looks_for("in", '"', beside=("@plant",))
def keep_pots_of_plants(pieces: list[Piece]) -> None:
    """`the 4 in sages are ready`: the pots that plants stand in, in place."""
    for at in range(len(pieces) - 4, -1, -1):
        the, number, inch, plant = pieces[at : at + 4]
        sized = number.kind == "number" and number.low in _POTS and inch.low == "in"
        if the.low in _THE and sized and "plant" in plant.roles:
            pieces[at + 1 : at + 3] = [Piece("kept", None, number.first, inch.last, said_in([number, inch]))]


@looks_for(any_of=_MATS, beside=("=number",))
def keep_heat_of_mats(pieces: list[Piece]) -> None:
    """`heat mat on 70, door locked`: how warm a mat is, and no lot, in place."""
    for mat, number in pairwise(pieces):
        warm = number.kind == "number" and number.low.isdigit() and int(number.low) in _WARM
        if warm and mat.low in _MATS:
            keep_words(mat, number)


NUMBERS_BESIDE: Final = (keep_crews, keep_pots_of_plants, keep_heat_of_mats)
