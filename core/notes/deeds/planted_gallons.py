"""Plants in pots of a gallon that were planted, and no gallons of seed: `planted a gallon coffeeberry in the bed`."""

from __future__ import annotations

from typing import Final

from core.notes.words.numbers import Number
from core.notes.words.pieces import Piece
from core.notes.words.said import end_of_statement, keep_words
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_GALLONS: Final = frozenset({"gal", "gals", "gallon", "gallons"})
_SEED: Final = small_words("planted_gallons", "seed")
_PER_POT: Final = ("gal", "gallon")


@looks_for("~planted", beside=("=amount",))
def find_planted_gallons(pieces: list[Piece]) -> None:
    """Counts them, where their number is told and is no size of pot, in place."""
    for at in range(len(pieces) - 2, 0, -1):
        piece, plant = pieces[at : at + 2]
        if piece.kind != "amount" or "plant" not in plant.roles or piece.last - piece.first != 2:
            continue
        said = pieces[at + 2 : end_of_statement(pieces, at + 2)]
        word, unit = pieces[at - 1].roles.get("shared"), piece.low.split(" ")[-1]
        counted = pieces[at - 1].kind == "number" and at > 1
        if counted:
            word = pieces[at - 2].roles.get("shared")
        if word is None or word.rule != "planted" or unit not in _GALLONS or _is_seed(plant, said):
            continue
        if counted or (piece.value[0] != 1 and unit in _PER_POT):
            # "planted 2 1 gal sage", "planted 5 gal oak": how large the pots were.
            keep_words(piece)
        elif piece.value[0] == int(piece.value[0]):
            many = int(piece.value[0])
            one = Piece("number", Number(many), piece.first, piece.first + 1, str(many))
            pieces[at : at + 1] = [one, Piece("kept", unit, piece.first + 1, piece.last, unit)]


def _is_seed(plant: Piece, after: list[Piece]) -> bool:
    named = plant.low.split(" ")
    return not _SEED.isdisjoint(named) or any(not _SEED.isdisjoint(piece.low.split(" ")) for piece in after)
