"""One number wanted of each of several plants: `need 40 each of sage and toyon`, `sage and toyon, 40 each`."""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import Piece
from core.notes.words.said import comma_before
from core.vocabulary.loading import small_words

_EACH: Final = small_words("sources", "each") | {"per"}
_JOINTS: Final = frozenset({",", "and", "&", "+", "plus", "\n", "|"})
_SMALL: Final = frozenset({"of", "the", "our", ":"})


def deal_each(pieces: list[Piece]) -> list[Piece]:
    """The pieces of a wish with the number before every plant that it is wanted of; as they are where it is of none."""
    each = next((at for at, piece in enumerate(pieces) if piece.low in _EACH), None)
    if each is None:
        return pieces
    at = each - 1 - (each > 0 and pieces[each - 1].low == "of")
    if at < 0 or pieces[at].kind != "number" or pieces[at].value.whole is None:
        return pieces
    number, start = pieces[at], each + 1
    while start < len(pieces) and pieces[start].low in _SMALL:
        start += 1
    plants, end = _plants(pieces, start)
    if len(plants) > 1:
        return [*pieces[:at], *_told(number, plants), *pieces[end:]]
    first = _first_of_list(pieces, at)
    plants, end = _plants(pieces, first)
    if len(plants) > 1 and end <= at:
        return [*pieces[:first], *_told(number, plants), *pieces[start:]]
    return pieces


def is_dealt(pieces: list[Piece]) -> bool:
    """Whether the number of a plant was told of several."""
    return any(piece.kind == "number" and piece.first == piece.last for piece in pieces)


def _told(number: Piece, plants: list[list[Piece]]) -> list[Piece]:
    """Each plant with the number before it."""
    told: list[Piece] = []
    for plant in plants:
        place = plant[0].first
        if told:
            told.append(comma_before(plant[0]))
        told.append(Piece("number", number.value, place, place, number.low))
        told += plant
    return told


def _plants(pieces: list[Piece], start: int) -> tuple[list[list[Piece]], int]:
    """The plants of a list that begins at a place, each with its cultivar, and where the list ends."""
    plants: list[list[Piece]] = []
    at = end = start
    while at < len(pieces):
        if "plant" in pieces[at].roles:
            plants.append([pieces[at]])
            end = at + 1
        elif pieces[at].kind == "quote" and plants and end == at:
            plants[-1].append(pieces[at])
            end = at + 1
        elif pieces[at].low not in _JOINTS:
            break
        at += 1
    return plants, end


def _first_of_list(pieces: list[Piece], at: int) -> int:
    """Where the list of plants begins that goes up to a place."""
    first = at
    while first and _is_of_list(pieces[first - 1]):
        first -= 1
    while first < at and "plant" not in pieces[first].roles:
        first += 1
    return first


def _is_of_list(piece: Piece) -> bool:
    return "plant" in piece.roles or piece.kind == "quote" or piece.low in _JOINTS
