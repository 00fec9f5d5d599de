"""Which words say that some of a lot are another now: `15 out of lot 8 are now lot 77`, `lot 77 = 15 from lot 8`."""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import Piece, is_act
from core.notes.words.said import is_end
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_BECOMING: Final = small_words("split", "becoming")
_OUT_OF: Final = small_words("split", "out_of")


@looks_for("=number", "@fraction", "@vague", beside=_BECOMING)
def find_splits(pieces: list[Piece]) -> None:
    """`15 out of lot 8 are now lot 77`, `half of lot 8 is now lot 77`, `lot 77 = 15 from lot 8`: some of a lot that are
    another now are split off.
    """
    for place, piece in enumerate(pieces):
        some = piece.kind == "number" or not piece.roles.keys().isdisjoint(("fraction", "vague"))
        after_new = some and _after_new_lot(pieces, place)
        if not some or not (after_new or _opens_statement(pieces, place)):
            continue
        origin, out_of = _next_lot(pieces, _after_qualities(pieces, place + 1), _OUT_OF)
        if origin is None or not (out_of or (piece.low.endswith(" of") and not after_new)):
            continue
        if after_new:
            out_of[0].roles = {"act": ActWord(act="split")}
            continue
        new, becoming = _next_lot(pieces, origin + 1, _BECOMING)
        if new is not None and becoming and (piece.kind == "number" or _only_becomes(pieces, origin, new)):
            becoming[0].kind, becoming[0].roles = "phrase", {"act": ActWord(act="split")}


def _only_becomes(pieces: list[Piece], origin: int, new: int) -> bool:
    """Whether an unknown part of a lot `is now` another; not that of `some of lot 8 made lot 9 look bad`."""
    ends = is_end(pieces, new + 1) or pieces[new + 1].kind == "moment" or pieces[new + 1].low in _BECOMING
    return ends and all(piece.low in _BECOMING for piece in pieces[origin + 1 : new])


def _after_qualities(pieces: list[Piece], at: int) -> int:
    """The place after what a count is of (`10 best of`, `12 of the strong ones from`), up to what they came out of."""
    step = at
    while step < len(pieces) and step - at < 4:
        piece = pieces[step]
        if piece.low in _OUT_OF and step + 1 < len(pieces) and pieces[step + 1].kind == "lots":
            return step
        if piece.kind not in ("word", "phrase") or is_act(piece):
            return at
        step += 1
    return at


def _opens_statement(pieces: list[Piece], place: int) -> bool:
    """Whether nothing but a day or a person stands before a place in its statement."""
    while place and (pieces[place - 1].kind in ("moment", "person") or pieces[place - 1].low in ("on", "the")):
        place -= 1
    return place == 0 or pieces[place - 1].kind == "break"


def _after_new_lot(pieces: list[Piece], place: int) -> bool:
    """Whether a lot and what makes it of something stand before a number, at the head of a statement."""
    at = place - 1
    while at >= 0 and pieces[at].low in _BECOMING:
        at -= 1
    return 0 <= at < place - 1 and pieces[at].kind == "lots" and _opens_statement(pieces, at)


def _next_lot(pieces: list[Piece], at: int, before: frozenset[str]) -> tuple[int | None, list[Piece]]:
    """The lot that follows with nothing but fillers and some words before it, and those words."""
    said: list[Piece] = []
    for step in range(at, len(pieces)):
        piece = pieces[step]
        if piece.kind == "lots":
            return (step if len(piece.value) == 1 else None), said
        if piece.low in before:
            said.append(piece)
        elif "filler" not in piece.roles:
            break
    return None, said
