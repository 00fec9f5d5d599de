"""Which plants went into pots where no word of potting says so: `lot 9: 20 to bands, 4 to gallons`, `upped lot 3 to
gallons`.
"""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import SENTENCE_ENDS, SUBJECTS, Piece, is_act, names_plants
from core.notes.words.said import comma_before, deed_of, statements
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_INTO: Final = frozenset({"to", "into", "up to", "up into", "in to"})
_ONE_BY_ONE: Final = frozenset({"band", "tube", "liner", "pot", "six-pack", "four-pack", "plug"})
_UNITS: Final = frozenset({"gal", "qt"})
_POT_MARKS: Final = ("=size", "=amount", "@pot_size", "@container")
_OTHER_DEEDS: Final = frozenset({"to_do", "negation", "plan", "none", "what", "cutting", "wood", "of_cuttings"})
_RAISING: Final = small_words("acts", "raising_plants")


@looks_for("to", "into", beside=_POT_MARKS)
def _part_pots(pieces: list[Piece]) -> None:
    """`20 to bands | 4 to gallons`: so many into one kind of pot and so many into another, parted in place."""
    for at in range(len(pieces) - 3, 2, -1):
        number, into = pieces[at : at + 2]
        if number.kind != "number" or into.low not in _INTO or not _pots_at(pieces, at + 2):
            continue
        if _pots_at(pieces, at - 1) or (_pots_at(pieces, at - 2) and "container" in pieces[at - 1].roles):
            pieces.insert(at, comma_before(number))


@looks_for("to", "into", beside=_POT_MARKS)
def _tell_potting(pieces: list[Piece]) -> None:
    """`65 into 4 inch`, `12 of lot 3 into gallons`, `lot 9: 20 to bands`: so many went into pots, where no other deed
    is told of them.
    """
    for start, end in statements(pieces):
        said = [piece for piece in pieces[start:end] if piece.kind != "moment" or piece.value.is_to_come]
        said = said[1:] if said and said[0].kind in SUBJECTS else said
        at = next((place for place, piece in enumerate(said) if piece.low in _INTO), 0)
        potted = at > 0 and (_pots_at(said, at + 1) or _pots_at(said, at + 2))
        if not potted or said[0].kind != "number" or any(map(_may_be_deed, said)):
            continue
        if said[at].low == "to" and not any(piece.kind in SUBJECTS for piece in pieces[:end]):
            continue
        if _may_follow(pieces[:start]) and not any(map(_pots, pieces[end:])):
            said[at].roles = {"act": ActWord(act="pot")}


def _may_follow(before: list[Piece]) -> bool:
    """Whether the deed told last is no potting that goes on, and of the same sentence at most a look at the plants."""
    last = next((place for place in range(len(before) - 1, -1, -1) if is_act(before[place])), None)
    if last is None:
        return True
    word = deed_of(before[last])
    act = word.act if word is not None else ""
    return act != "pot" and (act == "check" or any(piece.low in SENTENCE_ENDS for piece in before[last:]))


def _pots(piece: Piece) -> bool:
    word = deed_of(piece)
    return word is not None and word.act == "pot"


@looks_for(any_of=_RAISING, beside=_POT_MARKS)
def _tell_raising(pieces: list[Piece]) -> None:
    """`upped lot 3 to gallons`, `lot 9 graduated to gallons`: plants that went into larger pots."""
    for at, piece in enumerate(pieces):
        near = pieces[at + 1 : at + 7]
        to = next((place for place, one in enumerate(near) if one.low in _INTO), len(near))
        told = (*pieces[max(0, at - 1) : at], *near[:to])
        plants = any(map(names_plants, told))
        if piece.low in _RAISING and plants and _pots_at(near, to + 1):
            piece.kind, piece.roles = "phrase", {"act": ActWord(act="pot")}


def _pots_at(pieces: list[Piece], at: int) -> bool:
    if at >= len(pieces):
        return False
    piece = pieces[at]
    sized = piece.kind == "size" or (piece.kind == "amount" and piece.value[1] in _UNITS)
    return sized or "pot_size" in piece.roles or piece.roles.get("container") in _ONE_BY_ONE


def _may_be_deed(piece: Piece) -> bool:
    """Whether a piece tells of another deed, of a plan, or of what has no roots yet (`30 divisions into liners`)."""
    to_come = piece.kind == "moment" and piece.value.is_to_come
    return to_come or is_act(piece) or not piece.roles.keys().isdisjoint(_OTHER_DEEDS)


TELL_POTTING: Final = (_part_pots, _tell_potting, _tell_raising)
"""The steps in their order."""
