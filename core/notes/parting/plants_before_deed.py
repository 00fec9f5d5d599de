"""Plants that are counted one after the other before the deed that is told of them all: `3 toyon and 2 sage dead`."""

from __future__ import annotations

from typing import Final

from core.entries import KNOWN_STATES
from core.notes.words.pieces import SUBJECTS, Piece
from core.notes.words.said import comma_before, deed_of, end_of_statement, is_count
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_TOLD: Final = frozenset({"lose", "check", "wilt", "move", "harden"})
_JOINTS: Final = frozenset({",", "and", "&", "+"})
_WHAT: Final = small_words("plants_before_deed", "counted")
_HEADS: Final = SUBJECTS | {"break", "moment", "person"}
_WHERE: Final = frozenset({"trays", "moment"})
_LEADS: Final = frozenset({"in", "on", "from", "of"})


@looks_for("@plant", beside=("!wilt", "!move", "!harden", "!lose", *(f"!{state}" for state in KNOWN_STATES)))
def tell_of_each_plant(pieces: list[Piece]) -> None:
    """Says the deed, and what is told after it, again behind each plant but the last, in place."""
    for at in range(len(pieces) - 1, 3, -1):
        word = deed_of(pieces[at])
        states = word is not None and (word.act != "check" or "state" in word.says)
        if word is None or word.act not in _TOLD or not states:
            continue
        ends = _ends_of_items(pieces, at)
        if len(ends) < 2:
            continue
        end = end_of_statement(pieces, at)
        if any(is_count(piece) for piece in pieces[at + 1 : end]):
            continue
        told = [pieces[at], *_told_of_all(pieces, at + 1, end, whole=word.act in ("move", "harden"))]
        for place in reversed(ends[:-1]):
            again = [_again(piece, pieces[place - 1].last) for piece in told]
            joint = [] if pieces[place].low in _JOINTS else [comma_before(pieces[place])]
            pieces[place:place] = [*again, *joint]
        return


def _ends_of_items(pieces: list[Piece], at: int) -> list[int]:
    """Where each of the counted plants that stand right before a place ends, the first first; none where another deed
    counts them.
    """
    ends: list[int] = []
    end = at
    while True:
        named = end
        while named > 1 and pieces[named - 1].low in _WHAT:
            named -= 1
        if named < 2 or "plant" not in pieces[named - 1].roles or not is_count(pieces[named - 2]):
            return []
        ends.insert(0, end)
        before = named - 3
        if before >= 1 and pieces[before].low in _JOINTS and _is_item_end(pieces[before - 1]):
            end = before
        elif before >= 0 and _is_item_end(pieces[before]):
            end = before + 1
        else:
            return ends if before < 0 or pieces[before].kind in _HEADS else []


def _is_item_end(piece: Piece) -> bool:
    return "plant" in piece.roles or piece.low in _WHAT


def _told_of_all(pieces: list[Piece], start: int, end: int, *, whole: bool) -> list[Piece]:
    """What stands after the deed and is told of each: the tray and the day; of a move where to."""
    if whole:
        return pieces[start:end]
    return [
        piece
        for place, piece in enumerate(pieces[start:end], start)
        if piece.kind in _WHERE or (piece.low in _LEADS and place + 1 < end and pieces[place + 1].kind in _WHERE)
    ]


def _again(piece: Piece, first: int) -> Piece:
    same = piece.copied()
    if deed_of(piece) is not None:
        same.first = same.last = first
    return same
