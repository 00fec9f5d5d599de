"""Which plants of a lot were taken, by their roots: `potted everything with roots`, `potted lot 3 except the unrooted`.

Rules
1. After a deed that takes plants away such words count nothing: they are one unread piece, kept with the deed.
2. Beside them "all" is all of a kind and never the whole lot; how many that is only the books know.
"""

from __future__ import annotations

from typing import Final

from core.notes.counts.exceptions import excepting_words
from core.notes.words.pieces import COUNTS, NO_ROLES, SUBJECTS, Piece
from core.notes.words.runs import Runs
from core.notes.words.said import begin_of_statement, deed_of, is_end, said_in
from core.notes.words.steps import looks_for
from core.vocabulary import Leaf
from core.vocabulary.loading import small_words, spelled_out

_TAKING: Final = frozenset({"pot", "sell", "give", "plant_out", "move", "split", "lose"})
_WHO: Final = small_words("those_meant", "who")
_AFTER: Final = frozenset({"in", "of", "from", "into", "to", "on"})
_OF_A_PART: Final[Leaf] = {"of_a_part": True}


def _runs(name: str) -> Runs:
    return Runs(phrase for said in small_words("those_meant", name) for phrase in spelled_out(said))


_THAT: Final = _runs("that")
_WITH: Final = _runs("with")
_KINDS: Final = _runs("kinds")


@looks_for(
    any_of=("roots", "rooted", "unrooted", "unpotted", "potted ones", "potted up ones"),
    beside=tuple(f"!{act}" for act in sorted(_TAKING)),
)
def join_those_meant(pieces: list[Piece]) -> None:
    """Makes the words for those with, or without, roots one unread piece, in place."""
    if not any(runs.first_from(pieces) for runs in (_KINDS, _THAT, _WITH)):
        return
    at = 1
    while at < len(pieces):
        end = _excepted(pieces, at) or _described(pieces, at)
        start = begin_of_statement(pieces, at)
        if end and _takes(pieces, start, at):
            counted = any(piece.kind in COUNTS for piece in pieces[start:at])
            run = pieces[at:end]
            roles = NO_ROLES if counted else _OF_A_PART
            pieces[at:end] = [Piece("numbered", None, run[0].first, run[-1].last, said_in(run), roles)]
        at += 1


def _excepted(pieces: list[Piece], at: int) -> int:
    """Where `except the unrooted ones` ends that begins at a place; 0 where it does not begin there."""
    end = excepting_words(pieces, at) if "left" in pieces[at].roles or not is_end(pieces, at) else None
    first = end or len(pieces)
    while first < len(pieces) and pieces[first].low in _WHO:
        first += 1
    last = next((found for runs in (_KINDS, _THAT, _WITH) if (found := runs.end_at(pieces, first))), 0)
    return last if last and _closes(pieces, last) else 0


def _described(pieces: list[Piece], at: int) -> int:
    """Where `that had roots` ends that begins at a place, or the `with roots` of `all the ones with roots`."""
    end = _THAT.end_at(pieces, at)
    if end:
        return end
    end = _WITH.end_at(pieces, at)
    said = pieces[begin_of_statement(pieces, at) : at] if end else []
    whole = any("all" in piece.roles or piece.low in _WHO for piece in said)
    return end if whole and not any(piece.kind in COUNTS for piece in said) else 0


def _closes(pieces: list[Piece], at: int) -> bool:
    return is_end(pieces, at) or pieces[at].kind in (*SUBJECTS, "moment", "number") or pieces[at].low in _AFTER


def _takes(pieces: list[Piece], start: int, at: int) -> bool:
    """Whether a deed before a place in its statement, or right before the comma that begins it, takes plants."""
    if start > 1 and pieces[start - 1].low == "," and not any(map(deed_of, pieces[start:at])):
        start = begin_of_statement(pieces, start - 1)
    deeds = [word for piece in pieces[start:at] if (word := deed_of(piece)) is not None]
    return bool(deeds) and deeds[-1].act in _TAKING and deeds[-1].form == "done"
