"""Other lots or trays than those just named, told by their bare numbers: `trays 1-4 aired, 5 and 6 stayed covered`,
`lots 3 4 5 potted, 6 and 7 not ready`.

Two numbers that are joined count nothing where they stayed, are not so or are fine: what is told of them is kept.
"""

from __future__ import annotations

from typing import Final

from core.notes.words.act_kinds import COUNTLESS
from core.notes.words.pieces import SENTENCE_ENDS, SUBJECTS, Piece, is_act
from core.notes.words.said import begin_of_statement, deed_of, end_of_statement, keep_words
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_STAY: Final = small_words("staying", "stay")
_LOOK: Final = small_words("staying", "look")
_WELL: Final = small_words("staying", "well")
_JOINTS: Final = frozenset({"and", "&", "+"})
_FEWEST: Final = 2


@looks_for("@negation", any_of=_STAY | _WELL, beside=("and", "&", "+"))
def keep_others_left(pieces: list[Piece]) -> None:
    """Keeps what is told of the others, in place."""
    for at in range(len(pieces)):
        if begin_of_statement(pieces, at) != at or not _others_named(pieces, at):
            continue
        start, end = _past_numbers(pieces, at), end_of_statement(pieces, at)
        deeds = sum(map(is_act, pieces[start:end]))
        if start >= end or start - at <= _FEWEST or any(piece.kind == "number" for piece in pieces[start:end]):
            continue
        stayed = pieces[start].low in _STAY and deeds < _FEWEST
        if stayed or _are_well(pieces, start) or _are_not(pieces, at, start, end):
            keep_words(*pieces[at:end])


def _others_named(pieces: list[Piece], at: int) -> bool:
    """Whether lots or trays are named before a place in its sentence, and no colon leads to it; at the head of one
    the next statement begins with another number.
    """
    if not at or pieces[at - 1].low in SENTENCE_ENDS:
        after = pieces[end_of_statement(pieces, at) + 1 :][:1]
        return bool(after) and after[0].kind == "number" and after[0].low.isdigit()
    for piece in reversed(pieces[: at - 1] if pieces[at - 1].low == "," else ()):
        if piece.low in SENTENCE_ENDS:
            return False
        if piece.kind in SUBJECTS:
            return True
    return False


def _past_numbers(pieces: list[Piece], at: int) -> int:
    """Where the numbers of lots end that begin at a place; the place where none do."""
    place = at
    while place < len(pieces) and pieces[place].kind == "number" and pieces[place].low.isdigit():
        place += 1
        if place < len(pieces) and pieces[place].low in _JOINTS:
            place += 1
    return place


def _are_not(pieces: list[Piece], at: int, start: int, end: int) -> bool:
    """`not ready`, `not yet`; no deed after it (`not rooted tossed`), and no lone `not` after a deed of care."""
    words = [word for word in map(deed_of, pieces[:at]) if word is not None]
    cared = start + 1 == end and (not words or words[-1].act in COUNTLESS)
    return not cared and "negation" in pieces[start].roles and not any(map(is_act, pieces[start + 2 : end]))


def _are_well(pieces: list[Piece], at: int) -> bool:
    """`look fine`, `fine`, `are ok`."""
    at += pieces[at].low in _LOOK
    return at < len(pieces) and pieces[at].low in _WELL and (at + 1 == len(pieces) or pieces[at + 1].kind == "break")
