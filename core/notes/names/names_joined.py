"""Which pieces make one plant's name together, and which words beside a name are none of it.

`leucophylla x clevelandii`, `native grass mix`, `toyon ana left me`.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from core.notes.words.pieces import NO_ROLES, Piece, is_act
from core.notes.words.said import keep_words
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_MIXED: Final = small_words("names", "mixed")
_BEFORE_PLACES: Final = frozenset({"from", "at", "along", "near", "fr", "frm"})
_CROSSES: Final = frozenset({"x", "×"})
_WOOD: Final = small_words("names", "wood")
_CUTTING: Final = frozenset({"collect", "stick"})
_GETTING: Final = frozenset({"got", "pulled", "picked up", "brought in"})
_SOWING: Final = frozenset({"sow", "collect"})
_RECEIVERS: Final = frozenset({"me", "us", "him", "her", "them"})
_GIVING: Final = small_words("names", "giving")


@looks_for("cut", beside=("from", "at", "along", "near", "fr", "frm"))
def name_cuts(pieces: list[Piece]) -> None:
    """`stuck 40 toyon from low cut`, `collected lemonade berry cuttings at rail cut`: a place, no cutting, in place."""
    for place, piece in enumerate(pieces):
        if piece.low != "cut" or not is_act(piece) or place < 2:
            continue
        lead = place - 2 - (pieces[place - 2].kind == "word" and place > 2)
        named = all("filler" not in one.roles and not is_act(one) for one in pieces[lead + 1 : place])
        closes = place + 1 >= len(pieces) or pieces[place + 1].kind in ("break", "trays", "lots", "moment", "number")
        if named and closes and pieces[lead].low in _BEFORE_PLACES and any(map(is_act, pieces[:lead])):
            piece.kind, piece.roles = "word", NO_ROLES
            pieces[place - 1].kind, pieces[place - 1].roles = "word", NO_ROLES


@looks_for(any_of=_CROSSES, beside=("@plant",))
def _join_crosses(pieces: list[Piece]) -> None:
    """`salvia leucophylla x clevelandii`: a hybrid's two parents are one name."""
    place = 1
    while place + 1 < len(pieces):
        before, cross, other = pieces[place - 1 : place + 2]
        if cross.low in _CROSSES and "plant" in before.roles and other.kind == "quote":
            low = f"{before.low} {cross.low}"
            pieces[place - 1 : place + 1] = [Piece("phrase", None, before.first, cross.last, low, {"plant": low})]
            continue
        named = "plant" in before.roles and (other.kind == "word" or "plant" in other.roles)
        if cross.low in _CROSSES and named and other.low.isalpha() and len(other.low) > 3:
            low = f"{before.low} {cross.low} {other.low}"
            pieces[place - 1 : place + 2] = [
                Piece("phrase", None, before.first, other.last, low, {"plant": low}),
            ]
            continue
        place += 1


@looks_for("mix", "mixed", "seed mix")
def _join_seed_mixes(pieces: list[Piece]) -> None:
    """`sowed native grass mix`, `sowed mixed wildflowers`: seed of several plants under one name, no medium."""
    place = 0
    while place < len(pieces):
        sown = pieces[place].low in ("mix", "mixed", "seed mix") and _sown_before(pieces, place)
        if sown and pieces[place].low == "mix" and place and pieces[place - 1].kind == "amount":
            # "1 oz mix of native grasses" is no medium.
            keep_words(pieces[place])
            _join_mixed_plants(pieces, place + 2)
        if sown and place and pieces[place].low == "mix" and "plant" in pieces[place - 1].roles:
            start = place - 1
            while start > 1 and pieces[start - 1].low == "/" and "plant" in pieces[start - 2].roles:
                start -= 2
            _join(pieces, start, place + 1)
            place = start
        if sown and place and pieces[place].low in ("mix", "seed mix") and pieces[place - 1].low.split()[-1] in _MIXED:
            start = place - 1
            while start and pieces[start - 1].low in _MIXED:
                start -= 1
            _join(pieces, start, place + 1)
            place = start
        elif sown and pieces[place].low == "mixed" and place + 1 < len(pieces) and pieces[place + 1].low in _MIXED:
            end = place + 1
            while end < len(pieces) and pieces[end].low in _MIXED:
                end += 1
            _join(pieces, place, end)
        place += 1


def _join_mixed_plants(pieces: list[Piece], at: int) -> None:
    """`1 tbsp mix of poppy and lupine`: two plants under one name."""
    named = pieces[at : at + 3]
    if len(named) == 3 and named[1].low in ("and", "&", "+") and all("plant" in one.roles for one in named[::2]):
        low = " ".join(piece.low for piece in named)
        pieces[at : at + 3] = [Piece("phrase", None, named[0].first, named[2].last, low, {"plant": low})]


@looks_for("or", beside=("@plant",))
def _keep_choices(pieces: list[Piece]) -> None:
    """`sowed lupine or poppy`: which of two plants is not known."""
    for place in range(1, len(pieces) - 1):
        before, choice, after = pieces[place - 1 : place + 2]
        if choice.low == "or" and "plant" in before.roles and "plant" in after.roles and _sown_before(pieces, place):
            keep_words(before, choice, after)


def _sown_before(pieces: list[Piece], place: int) -> bool:
    """Whether something was sown or collected earlier in the statement of a piece."""
    for piece in reversed(pieces[:place]):
        if piece.kind == "break" and piece.low in (".", "\n", ";", "!"):
            return False
        word = piece.roles.get("act") or piece.roles.get("shared")
        if word is not None and word.act in _SOWING:
            return True
    return False


def _join(pieces: list[Piece], start: int, end: int) -> None:
    low = " ".join(piece.low for piece in pieces[start:end])
    pieces[start:end] = [Piece("phrase", None, pieces[start].first, pieces[end - 1].last, low, {"plant": low})]


@looks_for(any_of=_RECEIVERS, beside=("@plant",))
def _keep_who_brought(pieces: list[Piece]) -> None:
    """`sowed the toyon ana left me`: who gave the seed is told beside the name, and is no part of it."""
    for place in range(len(pieces) - 3):
        plant, person, verb, receiver = pieces[place : place + 4]
        told = "plant" in plant.roles and person.kind in ("word", "person") and receiver.low in _RECEIVERS
        if told and (is_act(verb) or verb.low in _GIVING):
            keep_words(person, verb, receiver)


@looks_for(any_of=_WOOD, beside=("@plant",))
def _tell_wood(pieces: list[Piece]) -> None:
    """`cut 100 ninebark wands`, `stuck 40 willow poles`: long cuttings, and no part of the plant's name."""
    cut = False
    for before, piece in pairwise(pieces):
        word = before.roles.get("act") or before.roles.get("shared")
        if word is not None:
            cut = word.act in _CUTTING and before.low not in _GETTING
        if cut and piece.low in _WOOD and piece.kind == "word" and "plant" in before.roles:
            piece.kind, piece.roles = "phrase", {"what": "cuttings"}


JOIN_PLANT_NAMES: Final = (_tell_wood, _join_crosses, _join_seed_mixes, _keep_choices, _keep_who_brought)
"""Join the pieces of one plant's name, and keep words beside a name out of it, in place."""
