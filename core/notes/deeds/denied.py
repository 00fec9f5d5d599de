"""Was a deed not done: `no bleach mixed today`, `collected no seed`, `potted no seedlings from tray 31`,
`lot 38 strat ends fri`.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from core.notes.parting.clauses import Clause
from core.notes.words.act_kinds import COUNTLESS
from core.notes.words.pieces import SUBJECTS, Piece, is_act, names_plants
from core.notes.words.runs import Runs
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_DEEDS: Final = frozenset({
    "mix", "pour_out", "sanitize", "collect", "sow", "stick", "divide", "water", "pot", "sell", "give", "plant_out",
    "move",
})  # fmt: skip
_COMING: Final = frozenset({"come", "comes", "coming", "goes", "go", "due"})
_ENDING: Final = frozenset({"ends", "finishes", "is over", "stops"})
_BEING: Final = frozenset({"was", "were", "is", "are", "got", "been", "have"})
_PLANTS: Final = small_words("denied", "plants")
_OUT_OF: Final = frozenset({"of", "from", "in", "out of"})
_NO: Final = Runs(small_words("cues", "no"))
_DENIED_ALONE: Final = COUNTLESS | {"wilt"}
_SUBJECT_AND_NO: Final = 2
_MEASURED: Final = frozenset({"number", "fraction", "percent", "amount", "duration", "moment"})
_OBJECTS: Final = ("solution", "thing", "what", "plant", "cutting", "container")


def done_to_none(clause: Clause, place: int) -> bool:
    """Whether "no" at a place denies the deed of its clause: `no` and what the deed is done to stand right before its
    word, or right after it.
    """
    pieces = clause.pieces
    if clause.act not in _DEEDS or place + 1 >= len(pieces):
        return False
    deed = next((at for at, piece in enumerate(pieces) if is_act(piece)), None)
    if deed is None:
        return False
    named = pieces[place + 1 : deed] if deed > place else pieces[place + 1 : place + 2]
    named = [piece for piece in named if piece.low not in _BEING]
    of_plants = bool(named) and named[0].low in _PLANTS
    if of_plants:
        named = [piece for piece in named if piece.kind not in SUBJECTS and piece.low not in _OUT_OF]
    if deed < place - 1 or not named or not all(_is_object(piece) for piece in named):
        return False
    if of_plants or pieces[deed].low == "left":
        return True  # "no toyon left in tray 31"
    return not any(piece.kind in ("lots", "trays", "number", "quote") for piece in pieces[deed + 1 :])


def not_done_there(clause: Clause, deed: Clause) -> str | None:
    """`tray 8 no air`, `lot 6 no`, `the sage not so much`, after what was done to another: it was not done there."""
    told = [piece for piece in clause.pieces if "filler" not in piece.roles]
    if clause.act is not None or deed.act not in _DENIED_ALONE or len(told) < _SUBJECT_AND_NO:
        return None
    denied = names_plants(told[0]) and _NO.end_at(told, 1) > 0
    return "negation" if denied and not any(piece.kind in _MEASURED for piece in told[2:]) else None


def denies_cleaning(clause: Clause, before: Clause) -> bool:
    """`washed pots | but not sanitized`, `washed pots, | no bleach`: what was washed is not clean yet."""
    if before.act != "sanitize" or before.has("solution") or "solution" in before.says or clause.has("thing"):
        return False
    if clause.cue is None:
        return clause.act is None and any(
            piece.low == "no" and "solution" in after.roles for piece, after in pairwise(clause.pieces)
        )
    asked = (piece.roles.get("to_do") for piece in clause.pieces)
    sanitized = clause.act == "sanitize" or any(word is not None and word.act == "sanitize" for word in asked)
    sanitized = sanitized or (clause.has("solution") and not clause.has("more", "vague"))
    return sanitized and clause.cue in ("negation", "plan", "wish")


@looks_for("too")
def too_much_to(pieces: list[Piece]) -> bool:
    """`too hot to move lot 9`, `was too wet to mist`: a deed that was let be."""
    for before, piece in pairwise(pieces):
        if before.low == "to" and ("to_do" in piece.roles or is_act(piece)):
            lead = pieces[max(0, pieces.index(before) - 3) : pieces.index(before)]
            return any(one.low.split(" ")[0] == "too" for one in lead)
    return False


@looks_for("left", beside=("@to_do",))
def left_to_do(pieces: list[Piece]) -> bool:
    """`12 of lot 9 left to pot`: what is yet to be done."""
    for place in range(2, len(pieces)):
        if "to_do" in pieces[place].roles and pieces[place - 1].low == "to" and pieces[place - 2].low == "left":
            return True
    return False


def _is_object(piece: Piece) -> bool:
    named = piece.low in ("seed", "seeds", "cuttings", "more", "new") or piece.low in _PLANTS
    return named or any(role in piece.roles for role in _OBJECTS)


@looks_for("=moment", beside=_COMING | _ENDING)
def comes_to_an_end(pieces: list[Piece]) -> bool:
    """`strat ends fri`, `lot 30 comes out of the fridge jan 15`: an end that lies ahead."""
    if not any(piece.kind == "moment" for piece in pieces):
        return False
    for before, piece in pairwise(pieces):
        word = piece.roles.get("act")
        ends = word is not None and word.says.get("ends")
        told = before.roles.get("noun") or before.roles.get("act")
        if (ends and before.low in _COMING) or (piece.low in _ENDING and told is not None and told.act == "treat"):
            return True
    return False

