"""Which words are of a place, of its air, or of a lot named before: `from split oak flat`, `oak lath 94f`.

A name of that kind begins after a little word that leads to a place, and ends with a landform or a building.
"""

from __future__ import annotations

from typing import Final

from core.notes.words.act_kinds import COUNTLESS
from core.notes.words.pieces import NO_ROLES, SUBJECTS, Piece, is_act, names_plants
from core.notes.words.said import end_of_statement, keep_words, said_in
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_ENDS: Final = small_words("places", "ends")
_STREETS: Final = small_words("side_talk", "streets")
_LEADS: Final = small_words("places", "before_landforms")
_OF_PLACES: Final = frozenset({"plant", "place_word", "source_name"})
"""Meanings that words in the name of a place may keep."""
_BREAKING: Final = frozenset({"filler", "negation"})
_READ: Final = frozenset({"temp", "degrees", "number"})
_IN_AIR: Final = small_words("places", "in_air")
_BENCHES: Final = frozenset({"bench", "table", "rack", "shelf"})
_LONGEST: Final = 3


@looks_for(any_of=_ENDS, beside=_LEADS)
def name_landforms(pieces: list[Piece]) -> None:
    """Makes one word of such a name, in place."""
    for start, lead in enumerate(pieces, start=1):
        run = pieces[start : _end_of_name(pieces, start)] if lead.low in _LEADS else []
        if any(one.roles.keys() - _OF_PLACES for one in run[:-1]):
            pieces[start : start + len(run)] = [Piece("word", None, run[0].first, run[-1].last, said_in(run))]


@looks_for(any_of=_STREETS, beside=("@plant",))
def name_streets(pieces: list[Piece]) -> None:
    """`on manzanita lane`: a street, and no plant, in place."""
    for place in range(len(pieces) - 2, -1, -1):
        plant, street = pieces[place : place + 2]
        if "plant" in plant.roles and street.low in _STREETS:
            name = Piece("word", None, plant.first, street.last, f"{plant.low} {street.low}")
            pieces[place : place + 2] = [name]


@looks_for("@place_word", beside=("=temp", "=degrees"))
def name_houses(pieces: list[Piece]) -> None:
    """`oak lath 94f`, `fern room 71f`: a house that is named after a plant, where it is read, in place."""
    for place in range(len(pieces) - 2):
        plant, house, read = pieces[place : place + 3]
        heads = place == 0 or pieces[place - 1].kind in ("break", "moment")
        if heads and "plant" in plant.roles and "place_word" in house.roles and read.kind in _READ:
            plant.kind, plant.value, plant.roles = "word", None, NO_ROLES


@looks_for(any_of=_BENCHES, beside=("@plant",))
def name_benches(pieces: list[Piece]) -> None:
    """`watered the willow bench`: a bench that is named after a plant, and not the plant, in place."""
    for place in range(1, len(pieces) - 1):
        plant, bench = pieces[place : place + 2]
        if "plant" in plant.roles and bench.low in _BENCHES and pieces[place - 1].low in ("the", "on the", "to the"):
            plant.kind, plant.value, plant.roles = "word", None, NO_ROLES


@looks_for("the lot", beside=("=lots",))
def name_lot_again(pieces: list[Piece]) -> None:
    """`frost killed 5 in lot 73, moved | the lot`: the one named before, and no word for all of them, in place."""
    for place, piece in enumerate(pieces):
        named = any(one.kind == "lots" for one in pieces[:place])
        deeds = [one.roles["act"].act for one in pieces[:place] if "act" in one.roles]
        if piece.low == "the lot" and named and deeds and deeds[-1] in COUNTLESS | {"move", "hold", "clear"}:
            piece.roles = {"filler": True}


@looks_for("sun", beside=("=lots", "=trays", "@plant", "!move", "of"))
def name_sun(pieces: list[Piece]) -> None:
    """`lot 5 to sun 2 days`, `moved tray 3 into sun`, `an hour of sun`: out in the sun, and no sunday, in place."""
    for place in range(1, len(pieces)):
        sun, lead = pieces[place], pieces[place - 1].low.split(" ")[-1]
        after = pieces[place + 1] if place + 1 < len(pieces) else None
        lasts = lead == "to" and after is not None and (after.kind == "duration" or after.low == "for")
        moved = any("act" in one.roles and one.roles["act"].act == "move" for one in pieces[:place])
        moved = moved or (place > 1 and pieces[place - 2].kind in SUBJECTS)
        named = any(map(names_plants, pieces[:place]))
        closes = lead == "to" and moved and named and (after is None or after.kind == "break")
        if lead == "of" and sun.low == "sun" and sun.kind == "moment":
            keep_words(sun)
        elif sun.low == "sun" and sun.kind == "moment" and (lasts or closes or lead == "into"):
            sun.kind, sun.value, sun.roles = "phrase", None, {"place_word": True}


@looks_for("smoke")
def keep_smoke(pieces: list[Piece]) -> None:
    """`smoke is bad today`, `smoke from the fires, closed tray 3`: what is in the air, where no seed or plant is named
    so far that may be smoked, or `misted tray 4, smoke is awful`, in place.
    """
    for at, piece in enumerate(pieces):
        heads = at + 1 < len(pieces) and (at == 0 or pieces[at - 1].kind == "break") and pieces[at + 1].low in _IN_AIR
        heads = heads and pieces[max(0, at - 1)].low != "in"
        if piece.low == "smoke" and (heads or not any(map(_takes_smoke, pieces[: end_of_statement(pieces, at)]))):
            keep_words(piece)


def _takes_smoke(piece: Piece) -> bool:
    return piece.kind in SUBJECTS | {"number", "duration"} or not piece.roles.keys().isdisjoint(("plant", "what"))


def _end_of_name(pieces: list[Piece], start: int) -> int:
    """Where a name of a few words ends that closes with a landform; the place itself where none does."""
    for end in range(start + 2, min(start + _LONGEST, len(pieces)) + 1):
        run = pieces[start:end]
        if any(piece.kind not in ("word", "phrase") or piece.roles.keys() & _BREAKING for piece in run):
            break
        if run[-1].low in _ENDS and not is_act(run[-1]):
            return end
    return start

