"""Is only a part of a lot told of: `row 3 all rotted`, `front half none`, `a whole tray of lot 9`, `all 12 i pulled`.

"All" and "none" are then not said of the lot, and are kept with the words for the part.
"""

from __future__ import annotations

from typing import Any, Final

from core.notes.words.numbers import Number
from core.notes.words.pieces import Piece, is_act
from core.notes.words.steps import looks_for
from core.vocabulary import words
from core.vocabulary.loading import END, small_words

_SIDES: Final = small_words("parts", "sides")
_PARTS: Final = small_words("parts", "parts")
_THE: Final = frozenset({"the", "all the", "all of the", "those", "only the", "just the", "my", "our"})
_KINDS: Final = small_words("parts", "kinds")
_LONGEST: Final = 4
_ONE_OF: Final = small_words("parts", "one_of")
_LOOKERS: Final = small_words("parts", "lookers")
_LOOKED: Final = small_words("parts", "looked")


def of_a_part(pieces: list[Piece], place: int) -> bool:
    """Whether the word for all or none at a place is said of a part that its clause names."""
    if place and pieces[place - 1].low in _ONE_OF and "tray" in pieces[place].low.split(" "):
        return True
    if any("of_a_part" in piece.roles or piece.kind == "rank" for piece in pieces if not piece.used):
        return True
    return "all" in pieces[place].roles and _some_kind_follows(pieces, place + 1)


def _some_kind_follows(pieces: list[Piece], at: int) -> bool:
    """`all the small ones`, `all the duds`: those of one kind."""
    said = at
    while at < min(len(pieces), said + _LONGEST) and pieces[at].kind in ("word", "phrase") and not is_act(pieces[at]):
        if pieces[at].low in _KINDS or (pieces[at].low == "ones" and any(map(_tells_kind, pieces[said:at]))):
            return True
        at += 1
    return False


def _tells_kind(piece: Piece) -> bool:
    return piece.low not in ("the", "of", "those", "these", "my", "our")


@looks_for("ones", any_of=_SIDES)
def join_sides(pieces: list[Piece]) -> None:
    """Makes `front half`, `left side` and the `rooted ones` of `moved the rooted ones` one unread piece, in place."""
    for place in range(len(pieces) - 2, -1, -1):
        side, part = pieces[place : place + 2]
        if (side.low in _SIDES and part.low in _PARTS) or (part.low == "ones" and _only_tells_which(pieces, place)):
            low = f"{side.low} {part.low}"
            pieces[place : place + 2] = [Piece("numbered", None, side.first, part.last, low, {"of_a_part": True})]


def _only_tells_which(pieces: list[Piece], place: int) -> bool:
    """Whether the word of a deed after "the" tells which plants: `the potted ones`; the dead ones are lost too."""
    word = pieces[place].roles.get("act")
    return word is not None and word.act != "lose" and place > 0 and pieces[place - 1].low in _THE


@looks_for("@all")
def join_samples(pieces: list[Piece]) -> None:
    """Reads `all 12 i pulled` as `tugged 12 of 12`, in place: those that were looked at, not the whole lot."""
    for place, piece in enumerate(pieces[:-2]):
        number = pieces[place + 1]
        if "all" not in piece.roles or number.kind != "number" or number.value.whole is None:
            continue
        end = place + 2
        while end < len(pieces) and pieces[end].low in _LOOKERS:
            end += 1
        if end == place + 2 or end >= len(pieces) or pieces[end].low not in _LOOKED:
            continue
        tug: dict[str, Any] = words().tree["tugged"][END]
        whole = number.value.whole
        count = Number(whole, None, number.value.approx, whole)
        pieces[place : end + 1] = [
            Piece("phrase", None, piece.first, number.first, "tugged", tug),
            Piece("number", count, number.first, pieces[end].last, number.low),
        ]
        return
