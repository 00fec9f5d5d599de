"""Which list of lots or trays, which word for all and which deed stand before a place where some are left out."""

from __future__ import annotations

from typing import Final

from core.notes.words.act_kinds import COUNTLESS
from core.notes.words.pieces import SENTENCE_ENDS, SUBJECTS, Piece

_JOINTS: Final = frozenset({"and", "&", ",", "+", "or"})


def holds_more(whole: Piece, names: tuple[str, ...]) -> bool:
    """Whether a list holds all of some names and others too."""
    return whole.value != ("all",) and set(names) < set(names_in(whole))


def numbers_in(piece: Piece) -> tuple[str, ...]:
    """The names that a bare number or a range of numbers stands for."""
    if piece.kind != "number" or piece.value.whole is None or piece.value.of is not None or piece.value.approx:
        return ()
    if piece.value.high is None:
        return (str(piece.value.whole),)
    low, high = piece.value.whole, int(piece.value.high)
    return tuple(str(one) for one in range(low, high + 1)) if 0 < high - low < 60 else ()


def names_in(piece: Piece) -> tuple[str, ...]:
    return tuple(piece.value) if piece.kind in SUBJECTS else numbers_in(piece)


def whole_before(pieces: list[Piece], at: int) -> int | None:
    """The lots or trays before a place in its sentence, or a bare range after a deed that counts nothing."""
    for place in range(at - 1, -1, -1):
        piece = pieces[place]
        if piece.kind == "break" and piece.low in SENTENCE_ENDS:
            return None
        if piece.kind in SUBJECTS:
            return place
        if piece.kind == "number" and piece.value.high is not None and act_near(pieces, place) in COUNTLESS:
            return place
    return None


def all_before(pieces: list[Piece], at: int) -> int | None:
    """The word for all before a place in its statement, or the place itself (`all but`)."""
    if "left" in pieces[at].roles:
        return at
    for place in range(at - 1, -1, -1):
        if pieces[place].kind == "break":
            return None
        if "all" in pieces[place].roles and pieces[place].kind == "phrase":
            return place
    return None


def act_near(pieces: list[Piece], at: int) -> str | None:
    """The act of the statement that a place stands in: of the last deed before it, else of the first after it."""
    before: list[Piece] = []
    for piece in reversed(pieces[:at]):
        if piece.kind == "break":
            break
        before.append(piece)
    after: list[Piece] = []
    for piece in pieces[at:]:
        if piece.kind == "break" and piece.low not in _JOINTS:
            break
        after.append(piece)
    told: list[Piece] = []
    for piece in reversed(pieces[:at]):
        if piece.kind == "break" and piece.low in SENTENCE_ENDS:
            break
        told.append(piece)
    for piece in (*before, *after, *told):
        word = piece.roles.get("act") or piece.roles.get("shared")
        if word is not None:
            return word.act or "move"
    return None
