"""Plants in pots of a gallon, and no gallons of seed or water: `planted a gallon coffeeberry`, `sold 3 gallons`."""

from __future__ import annotations

from typing import Final

from core.notes.words.numbers import Number
from core.notes.words.pieces import COUNTS, Piece, names_plants
from core.notes.words.said import end_of_statement, keep_words, statements
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_GALLONS: Final = frozenset({"gal", "gals", "gallon", "gallons"})
_SEED: Final = small_words("planted_gallons", "seed")
_LEAVING: Final = frozenset({"lose", "sell", "give", "plant_out", "move", "reserve"})
_OUT_OF: Final = frozenset({"of", "from", "in", "out of"})
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


@looks_for("=amount", beside=("~hold", *(f"!{act}" for act in sorted(_LEAVING))))
def count_gallons(pieces: list[Piece]) -> None:
    """`sold 3 gallons of lot 14`, `8 gallons reserved`: so many plants, each in a pot of a gallon, in place."""
    for start, end in statements(pieces):
        said = pieces[start:end]
        gallons = [piece for piece in said if piece.kind == "amount" and piece.value[1] == "gal"]
        if len(gallons) != 1 or not _is_whole(gallons[0]):
            continue
        piece, at = gallons[0], start + said.index(gallons[0])
        words = (one.roles.get("act") for one in said)
        leaves = any(word is not None and word.act in _LEAVING for word in words) or _holds_for_somebody(said)
        if not leaves or any(one.kind in COUNTS or "solution" in one.roles for one in said):
            continue
        told = pieces[at + 1 : at + 3] if at + 1 < end else []
        of_lot = len(told) == 2 and told[0].low in _OUT_OF and names_plants(told[1])
        if not of_lot and (piece.low.split(" ")[-1] in _PER_POT or [one.low for one in told[:1]] == ["of"]):
            continue
        many, unit = int(piece.value[0]), piece.low.split(" ")[-1]
        one = Piece("number", Number(many), piece.first, piece.first + 1, str(many))
        pieces[at : at + 1] = [one, Piece("kept", unit, piece.first + 1, piece.last, unit)]
        return


def _holds_for_somebody(said: list[Piece]) -> bool:
    """`hold 10 gals of lot 19 for mrs park`."""
    words = [one.roles.get("shared") for one in said]
    held = next((at for at, word in enumerate(words) if word is not None and word.rule == "hold"), None)
    return held is not None and any(one.low == "for" for one in said[held:])


def _is_whole(amount: Piece) -> bool:
    return amount.value[0] == int(amount.value[0]) and amount.last - amount.first == len(("number", "unit"))


def _is_seed(plant: Piece, after: list[Piece]) -> bool:
    named = plant.low.split(" ")
    return not _SEED.isdisjoint(named) or any(not _SEED.isdisjoint(piece.low.split(" ")) for piece in after)
