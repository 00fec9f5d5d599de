"""How far does the name of a place, a person or a mother plant go after the little word that leads to it.

Up to the next mark or known detail; articles before it are dropped.
"""

from __future__ import annotations

from typing import Final

from core.notes.acts.slots import Slots, joined
from core.notes.names.groups import people_until
from core.notes.words.pieces import SUBJECTS, Piece, is_act
from core.vocabulary.loading import small_words

_NUMBERED: Final = small_words("places", "numbered")
_STRUCTURES: Final = small_words("places", "structures")
_PLACES: Final = _STRUCTURES | small_words("places", "ends")

ENDING_WORDS: Final = small_words("places", "ending")

ARTICLES: Final = small_words("places", "articles")

_ENDERS: Final = frozenset(
    {"loose_times", "act", "shared", "medium", "container", "hormone_name", "wood", "for_good", "span", "none"}
)

_NO_NAME: Final = frozenset({
    "break", "rejected", "exception", "moment", "duration", "lots", "size", "temp", "ppm", "colon", "amount", "percent",
    "fraction",
})  # fmt: skip
_LOOSE_ENDS: Final = small_words("places", "loose_ends")


def text_end(pieces: list[Piece], start: int) -> int:
    """Where the name that begins at a place ends."""
    end = start
    while end < len(pieces) and pieces[end].kind not in _NO_NAME and not (end > start and _ends_name(pieces, end)):
        end += 1
    while end > start + 1 and pieces[end - 1].low in _LOOSE_ENDS:
        end -= 1
    return end


def _ends_name(pieces: list[Piece], at: int) -> bool:
    """Whether a piece after the first of a name is no part of it."""
    piece = pieces[at]
    if piece.used or piece.kind == "trays" or "all" in piece.roles or piece.low in ("i", "we"):
        return True
    if _begins_detail(pieces, at) or (piece.low == "by" and people_until(pieces, at)):
        return True
    if piece.low.startswith("not ") or _begins_plant(pieces, at):
        return True
    if piece.low in ("$", "fr") or (piece.kind == "number" and piece.value.approx):
        return True
    after = pieces[at + 1] if at + 1 < len(pieces) else None
    if after is None:
        return False
    if piece.low == "out" and after.low == "of" and at + 2 < len(pieces) and pieces[at + 2].kind in SUBJECTS:
        # "set 10 aside for priya out of lot 9".
        return True
    if piece.kind == "number" and after.low in ("of", "from") and at + 2 < len(pieces):
        # "moved 6 of lot 20 to the slab | 4 of lot 21 to the lath".
        return True
    if piece.low in ("and", "&", "+"):
        return after.kind == "number" or "filler" in after.roles
    return piece.kind == "number" and _counts_what_follows(pieces[at - 1], after)


def _begins_plant(pieces: list[Piece], at: int) -> bool:
    """The sage of `moved toyon to lath | sage stays`; not that of `to the lath sage bench`."""
    named = any("plant" in piece.roles for piece in pieces[: at - 1])
    other = named and "plant" in pieces[at].roles and _is_place(pieces[at - 1])
    return other and not any(_is_place(piece) for piece in pieces[at : at + 2])


def _is_place(piece: Piece) -> bool:
    return "place_word" in piece.roles or piece.low in _PLACES


def _begins_detail(pieces: list[Piece], at: int) -> bool:
    """A word that tells another detail, but for the bed or the soil that a place is named by."""
    piece = pieces[at]
    held = piece.low in ("in", "on") and at + 1 < len(pieces) and _holds(pieces[at + 1])
    ends = held or piece.low in ENDING_WORDS or not _ENDERS.isdisjoint(piece.roles)
    return ends and piece.roles.get("container") not in ("bed", "flat") and piece.low != "soil"


def _counts_what_follows(before: Piece, after: Piece) -> bool:
    """A number after a name that counts what a deed, or a receiver, is told after it."""
    if is_act(after) and before.low not in _NUMBERED:
        return True
    return after.low in ("to", "for") and before.kind == "word" and before.low not in _STRUCTURES


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
