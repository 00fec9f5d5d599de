"""Which verbs are parted from their little word: `pricked those 20 out`, `cut them back`, `threw the dead ones out`.

Rules
1. A verb and a little word are one act where the vocabulary knows them together, and nothing but the verb's own object
   stands between: numbers, subjects, plants, pronouns.
2. The little word ends its clause, or what follows begins a detail (`out into plugs`, `up to 1 gal`); else it belongs
   to what follows.
3. `flowering` between the words of a name, beside a sticking or a sowing, is part of the name.
"""

from __future__ import annotations

from typing import Any, Final

from core.notes.words.act_kinds import OPENING
from core.notes.words.pieces import Piece
from core.notes.words.said import keep_words, statement_at
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord, Leaf, words
from core.vocabulary.loading import END, small_words

_FARTHEST: Final = 7
_OBJECTS: Final = (
    "filler",
    "plant",
    "all",
    "vague",
    "more",
    "cutting",
    "both",
    "approx",
    "solution",
    "hormone",
    "thing",
)
_COLOURS: Final = small_words("names", "colours")
_COLOURED: Final = small_words("names", "coloured")
_CAUSING: Final = small_words("acts", "causing")
_BLAMING: Final = frozenset({"of", "from", "to", "by"})
_PARTICLES: Final = small_words("parted", "particles")


@looks_for(any_of=_PARTICLES)
def join_parted(pieces: list[Piece]) -> None:
    """Gives the verb the meaning that it has with its little word, and marks that word as used, in place."""
    for place, piece in enumerate(pieces):
        if piece.low not in _PARTICLES or not place:
            continue
        ends = _is_vessel if piece.low == "up to" else _ends_object
        if not ends(pieces, place + 1):
            continue
        verb_at = _verb_before(pieces, place)
        if verb_at is None or (piece.low == "together" and not _makes_one(pieces, verb_at, place)):
            continue
        verb = pieces[verb_at]
        verb.roles = {**_without_deeds(verb.roles), **_together(verb.low, piece.low.removesuffix(" to"))}
        verb.kind = "phrase"
        piece.roles = {"filler": True}
        piece.used = True


@looks_for("!flowering", any_of=_COLOURED)
def join_names(pieces: list[Piece]) -> None:
    """Makes `flowering` in `stuck 20 pink flowering zorkia` a word of the name, and `rust` before `colored`."""
    for place, piece in enumerate(pieces[:-1]):
        if pieces[place + 1].low in _COLOURED and piece.kind == "phrase":
            piece.kind, piece.roles = "word", {}
        word: ActWord | None = piece.roles.get("act")
        if not place or word is None or word.says.get("state") != "flowering":
            continue
        before, following = pieces[place - 1], pieces[place + 1]
        named = before.kind == "word" or before.low in _COLOURS
        if before.low in _COLOURS and following.low in ("one", "ones") and _opens_lot(pieces, place):
            # "collected seed of the white flowered one": which plant nobody says.
            keep_words(before, piece, following)
            continue
        if named and (following.kind == "word" or "plant" in following.roles) and _opens_lot(pieces, place):
            piece.kind, piece.roles = "word", {}


def _opens_lot(pieces: list[Piece], place: int) -> bool:
    """Whether an act that opens a lot stands in the clause of a piece."""
    start, end = statement_at(pieces, place)
    deeds = [piece.roles.get("act") or piece.roles.get("shared") for piece in pieces[start:end]]
    return any(deed is not None and deed.act in OPENING for deed in deeds)


def _verb_before(pieces: list[Piece], place: int) -> int | None:
    """The verb that a little word belongs to; None where other words stand between."""
    for at in range(place - 1, max(-1, place - 1 - _FARTHEST), -1):
        piece = pieces[at]
        if piece.kind == "break":
            return None
        if ("filler" not in piece.roles or "shared" in piece.roles) and _together(
            piece.low, pieces[place].low.removesuffix(" to")
        ):
            blamed = piece.low == "heat" and at > 0 and pieces[at - 1].low in _BLAMING
            return at if at < place - 1 and not blamed else None
        if not _of_object(piece):
            return None
    return None


def _of_object(piece: Piece) -> bool:
    word: ActWord | None = piece.roles.get("act")
    if word is not None:
        return word.counts_before
    if "cover_noun" in piece.roles or "shared" in piece.roles:
        return False
    if piece.low in _CAUSING:  # "heat killed 11 on sunday"
        return False
    return piece.kind in ("number", "lots", "trays", "quote", "amount", "word") or any(
        role in piece.roles for role in _OBJECTS
    )


def _ends_object(pieces: list[Piece], at: int) -> bool:
    if at >= len(pieces):
        return True
    piece = pieces[at]
    return (
        piece.kind in ("break", "moment", "lots", "trays", "size")
        or "filler" in piece.roles
        or "container" in piece.roles
        or "pot_size" in piece.roles
    )


def _is_vessel(pieces: list[Piece], at: int) -> bool:
    """`stepped lot 5 up to | 4s`, `up to | 1 gal`: what plants go up to; not `counted lot 5 up to 12`."""
    told = pieces[at : at + 1]
    gallons = any(piece.kind == "amount" and piece.value[1] == "gal" for piece in told)
    return gallons or any(piece.kind == "size" or piece.roles.keys() & {"pot_size", "container"} for piece in told)


def _makes_one(pieces: list[Piece], verb_at: int, place: int) -> bool:
    """`put lots 5 and 6 together as lot 5`: one lot of several; `put them together on bench 2` is a move."""
    if not any(piece.kind == "lots" for piece in pieces[verb_at:place]):
        return False
    after = pieces[place + 1 : place + 3]
    kept = len(after) > 1 and after[0].low in ("as", "into") and after[1].kind == "number"
    return not after or after[0].kind == "break" or kept or any(piece.kind == "lots" for piece in after)


def _together(verb: str, particle: str) -> Leaf:
    node: dict[str, Any] = words().tree.get(verb, {}).get(particle, {})
    leaf: Leaf = node.get(END, {})
    return leaf if "act" in leaf or "to_do" in leaf else {}


def _without_deeds(roles: Leaf) -> Leaf:
    return {role: meaning for role, meaning in roles.items() if role not in ("act", "shared", "to_do", "noun")}
