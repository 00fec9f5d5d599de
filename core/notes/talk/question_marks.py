"""How questions end: in a question mark, or in a "yet" behind a deed; and what may stand before one.

Rules
1. A question mark ends what began before it, unless a question of its own begins in between.
2. What stands before a question and tells no deed, count or plan is what is asked about.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from core.notes.words.pieces import COUNTS, Piece, is_act
from core.vocabulary.loading import small_words

# What parts a question from what it is about ("lot 41 - how many are alive?").
BEFORE_ASKING: Final = frozenset({",", "-", ":"})
_ASKERS: Final = small_words("asking", "askers")
_OFF: Final = frozenset({"off", "back on", "back off"})
_NO_DOUBT: Final = frozenset({"negation", "none", "all", "vague", "fraction", "plan", "hearsay", "condition"})


def ends_asking(pieces: list[Piece], at: int) -> bool:
    """Whether the sentence that goes on at a place ends in a question mark, and no other question begins before."""
    for place, piece in enumerate(pieces[at:], at):
        if piece.low in BEFORE_ASKING and place > at and _asks_anew(pieces, at, place + 1):
            return False
        if piece.low == "?":
            return True
        if piece.low in (".", "\n", ";", "!"):
            return False
    return False


def _asks_anew(pieces: list[Piece], at: int, place: int) -> bool:
    """`lot 8 12/24 rooted, where is lot 9?`: a telling, and a question of its own after it."""
    if place >= len(pieces) or pieces[place].low.split(" ")[0] not in _ASKERS:
        return False
    return not only_names(pieces[at:place])


def only_names(pieces: list[Piece]) -> bool:
    """Whether what stands before a question tells no deed, count or plan, so that the question is about it."""
    if any(is_act(piece) or piece.kind == "number" or "plan" in piece.roles for piece in pieces):
        return False
    put_on = [piece.low for piece in pieces if piece.kind != "break"][-1:] == ["on"]
    return not any(_turned(before, piece, put_on) or _turned(piece, before) for before, piece in pairwise(pieces))


def _turned(noun: Piece, how: Piece, put_on: bool = False) -> bool:
    """`dome off tray 11`, `vents half`, `dome on` and no more: a deed that no verb tells."""
    if "vent_noun" in noun.roles:
        return "vent_open" in how.roles
    return "cover_noun" in noun.roles and (how.low in _OFF or (put_on and how.low == "on"))


def asks_whether_yet(pieces: list[Piece]) -> bool:
    """`lot 1 potted yet`: a deed that is told of no count, and not denied, with only "yet" behind it."""
    said = [piece for piece in pieces if piece.kind != "mark"]
    if len(said) < 2 or said[-1].low != "yet" or any(piece.kind == "break" for piece in said):
        return False
    told = any("act" in piece.roles and piece.roles["act"].form == "done" for piece in said)
    named = any(piece.kind in ("lots", "trays") or "plant" in piece.roles for piece in said)
    return told and named and not any(
        piece.kind in COUNTS or not piece.roles.keys().isdisjoint(_NO_DOUBT) for piece in said
    )
