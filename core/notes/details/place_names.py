"""How far does the name of a place, a person or a mother plant go after the little word that leads to it.

Up to the next mark or known detail; articles before it are dropped.
"""

from __future__ import annotations

from typing import Final

from core.notes.acts.slots import Slots, joined
from core.notes.names.groups import people_until
from core.notes.words.pieces import Piece, is_act
from core.vocabulary.loading import small_words

_NUMBERED: Final = small_words("places", "numbered")
_STRUCTURES: Final = small_words("places", "structures")

ENDING_WORDS: Final = small_words("places", "ending")

ARTICLES: Final = small_words("places", "articles")

_ENDERS: Final = frozenset(
    {"loose_times", "act", "shared", "medium", "container", "hormone_name", "wood", "for_good", "span", "none"}
)


def text_end(pieces: list[Piece], start: int) -> int:
    """Where the name that begins at a place ends."""
    end = start
    while end < len(pieces):
        piece = pieces[end]
        if piece.used and end > start:
            break
        if piece.kind in (
            "break",
            "rejected",
            "exception",
            "moment",
            "duration",
            "lots",
            "size",
            "temp",
            "ppm",
            "colon",
            "amount",
            "percent",
            "fraction",
        ):
            break
        if piece.kind == "trays" and end > start:
            break
        ends = (
            any(role in piece.roles for role in _ENDERS)
            or piece.low in ENDING_WORDS
            or (piece.low in ("in", "on") and end + 1 < len(pieces) and _holds(pieces[end + 1]))
        )
        of_a_place = piece.roles.get("container") in ("bed", "flat") or piece.low == "soil"
        if end > start and ends and not of_a_place:
            break
        if end > start and (piece.low in ("i", "we") or (piece.low == "by" and people_until(pieces, end))):
            break
        deed_next = end + 1 < len(pieces) and is_act(pieces[end + 1])
        if piece.kind == "number" and end > start and deed_next and pieces[end - 1].low not in _NUMBERED:
            break
        shared = end + 1 < len(pieces) and pieces[end + 1].low in ("to", "for") and piece.kind == "number"
        if end > start and shared and pieces[end - 1].kind == "word" and pieces[end - 1].low not in _STRUCTURES:
            break
        if end > start and "all" in piece.roles:
            break
        if (
            end > start
            and piece.low in ("and", "&", "+")
            and end + 1 < len(pieces)
            and (pieces[end + 1].kind == "number" or "filler" in pieces[end + 1].roles)
        ):
            break
        end += 1
    while end > start + 1 and pieces[end - 1].low in (
        "in",
        "on",
        "at",
        "and",
        "the",
        "now",
        "too",
        "also",
        "again",
        "by",
        "&",
        "already",
        "please",
        "today",
    ):
        end -= 1
    return end


def _holds(piece: Piece) -> bool:
    """What plants are put into: after "in" it is no part of a place's name (`from north mesa in flats`)."""
    return bool(piece.roles.keys() & {"medium", "container"}) and piece.roles.get("container") != "bed"


def text_of(slots: Slots, pieces: list[Piece], start: int, end: int) -> str:
    """The words of a name as texted, in lower case, without the article before it."""
    while start < end and pieces[start].low in ARTICLES:
        start += 1
    if start >= end:
        return ""
    return joined(slots.tokens, pieces[start].first, pieces[end - 1].last)


def list_start(pieces: list[Piece], place: int) -> int:
    """Where the list of numbers begins that the one at a place belongs to (`3, 4 and 5`)."""
    while place > 1 and pieces[place - 1].low in ("and", "&", ",") and pieces[place - 2].kind == "number":
        place -= 2
    return place


def numbers_place(pieces: list[Piece], place: int) -> bool:
    """`misted bench 3`: the number of a bench or a house, no lot and no count (`bench 3 wilted` may be one)."""
    first = list_start(pieces, place)
    if not first or not (pieces[first - 1].low in _STRUCTURES or "place_word" in pieces[first - 1].roles):
        return False
    after = pieces[place + 1] if place + 1 < len(pieces) else None
    word = None if after is None else after.roles.get("act") or after.roles.get("noun")
    return word is None or not word.counts_before
