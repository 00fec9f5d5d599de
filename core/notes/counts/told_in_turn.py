"""Bare lots told of one after the other, each before its count: `checked 14, 20 rooted, and 15, 8 rooted`."""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import SUBJECTS, Piece
from core.notes.words.said import begin_of_sentence, deed_of, is_count
from core.notes.words.steps import looks_for

_JOINTS: Final = frozenset({"and", "&", "then", "plus"})


@looks_for("=counts", beside=("!check", "!lose"))
def name_next_in_turn(pieces: list[Piece]) -> None:
    """Names the number before each count and its comma after the first that is told so, in place: a lot or tray, as
    the first is.
    """
    first: Piece | None = None
    for at in range(len(pieces) - 3):
        if pieces[at + 1].low != "," or not _told(pieces, at):
            continue
        piece, start = pieces[at], begin_of_sentence(pieces, at)
        if piece.kind in SUBJECTS:
            first = piece
        elif first is not None and first in pieces[start:at] and _begins(pieces, at):
            kind = first.kind if first.kind in SUBJECTS else "lots"
            for one in (first, piece):
                if one.kind == "number":
                    one.kind, one.value = kind, (one.low,)
        elif at > start and _looks(pieces[at - 1]):
            first = piece


def _told(pieces: list[Piece], at: int) -> bool:
    """`14 | , 20 rooted`."""
    subject, _, count, state = pieces[at : at + 4]
    word = deed_of(state)
    named = subject.kind in SUBJECTS and len(subject.value) == 1
    bare = is_count(subject) and subject.low.isdigit() and not subject.value.approx
    return (named or bare) and is_count(count) and word is not None and word.counts_before


def _begins(pieces: list[Piece], at: int) -> bool:
    """`20 rooted, and | 15`, `lost 2, and | 15`: whether a number stands right after what was counted before it."""
    before = at - 1
    while before and (pieces[before].low in _JOINTS or pieces[before].kind == "break"):
        before -= 1
    counted = before > 0 and is_count(pieces[before])
    word = deed_of(pieces[before - 1 if counted else before])
    return before < at - 1 and word is not None and word.counts_before != counted


def _looks(piece: Piece) -> bool:
    """`checked | 14`: a look, with no count before it."""
    word = deed_of(piece)
    return word is not None and word.act == "check" and not word.counts_before
