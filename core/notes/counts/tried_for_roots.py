"""How many were looked at, and how many of those have roots: `tugged 10 of 72, 7 held`, `looked at a dozen 7 w roots`.

Rules
1. The number right after the look is of those looked at, and the count after it of those that are so.
2. Where all were looked at (`tugged all 40, 22 held`) that is the whole, and no sample.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from core.notes.words.pieces import SUBJECTS, Piece
from core.notes.words.runs import Runs
from core.notes.words.said import (
    comma_before,
    deed_of,
    end_of_statement,
    keep_words,
    pass_over,
    sentences,
    state_of,
    statements,
)
from core.notes.words.steps import looks_at_each, looks_for
from core.vocabulary import words
from core.vocabulary.loading import END, small_words

_PULLED: Final = small_words("parts", "pulled")
_LOOKED: Final = small_words("parts", "looked")
_LOOKERS: Final = small_words("parts", "lookers")
_TO_LOOK: Final = Runs(small_words("parts", "to_look"))
_PLANTS: Final = frozenset({"cuttings", "plants", "sticks"})
_OF: Final = frozenset({"of", "in", "from", "on"})
_NOTHING: Final = small_words("parts", "nothing")
_YET: Final = frozenset({"yet", "still", "so far", "but", "there", "today", "at all"})
_JOINTS: Final = frozenset({"+", "&", "/", "->", "="})
_FARTHEST: Final = 4
"""So many words after a count its state stands at the farthest (`4 of them had roots`)."""


@looks_at_each(any_of=_PULLED, beside=("!rooted", "!callused"))
def look_at_pulled(pieces: list[Piece], at: int) -> None:
    """`pulled 6 of lot 1, all had roots`, `dug up 8 of lot 9 all rooted`: pulled to look at their roots, in place."""
    if pieces[at].low in _PULLED and (told := _told_of_those(pieces, at + 1)):
        _read_as(pieces[at], "tugged")
        _part(pieces, at + 1, told)


@looks_at_each("!check", beside=("!rooted", "!callused", *small_words("parts", "holding")))
def part_looked_at(pieces: list[Piece], at: int) -> None:
    """`looked at a dozen 7 w roots`, `tugged 10 of 72, 7 held`, `tugged all 40, 22 held`: how many of those looked at
    are so, in place.
    """
    word = deed_of(pieces[at])
    if word is None or word.act != "check" or word.counts_before or word.form != "done" or at + 2 >= len(pieces):
        return
    every = "all" in pieces[at + 1].roles and pieces[at + 1].low in ("all", "all the", "all of the")
    number = at + 1 + every
    told = _told_of_those(pieces, number)
    if not told:
        return
    if every and pieces[told].kind == "number" and pieces[told].value.of is None:
        pieces[told].value = replace(pieces[told].value, of=pieces[number].value.whole)
        pass_over(*pieces[at + 1 : number + 1])
        _read_as(pieces[at], "checked")
    start, end = next(span for span in sentences(pieces) if span[0] <= at < span[1])
    headed = pieces[told - 1].low == "," or any(piece.kind in SUBJECTS for piece in pieces[start:end])
    if not every and headed:
        _part(pieces, number, told)


@looks_at_each(any_of=_LOOKED, beside=("!rooted", "!callused"))
def sample_looked_at(pieces: list[Piece], at: int) -> None:
    """`20 rooted out of the 30 i checked of 72`: a sample, and the whole of it kept, in place."""
    if pieces[at].low not in _LOOKED or at < 3 or pieces[at - 1].low not in _LOOKERS:
        return
    number, lead = pieces[at - 2], pieces[at - 3 - (pieces[at - 3].low == "the")]
    if number.kind != "number" or lead.low not in ("of", "out of", "of the", "out of the"):
        return
    _read_as(pieces[at], "tugged")
    if at + 2 < len(pieces) and pieces[at + 1].low in _OF and pieces[at + 2].kind == "number":
        keep_words(*pieces[at + 1 : at + 3])


@looks_for(any_of=_NOTHING, beside=("!check",))
def find_no_roots(pieces: list[Piece]) -> None:
    """`wiggled 8 in lot 88, nothing`, `tugged lot 9: none yet`: none of those tugged have roots, in place."""
    spans = statements(pieces)
    for (start, end), (after, last) in zip(reversed(spans[:-1]), reversed(spans[1:]), strict=True):
        told = [piece for piece in pieces[after:last] if piece.low not in _YET]
        start += end > start + 1 and pieces[start].kind == "moment"
        tugged = deed_of(pieces[start]) if end > start else None
        if len(told) == 1 and told[0].low in _NOTHING and tugged is not None and tugged.says.get("sample"):
            nothing = told[0]
            none = Piece("phrase", None, nothing.first, nothing.first, "no", {"none": True})
            roots = Piece("phrase", None, nothing.first, nothing.last, "roots", words().tree["roots"][END])
            at = pieces.index(nothing)
            pieces[at : at + 1] = [none, roots]


def _read_as(piece: Piece, word: str) -> None:
    """Gives a piece the meaning of a word, in place."""
    piece.kind, piece.roles = "phrase", words().tree[word][END]


def _told_of_those(pieces: list[Piece], at: int) -> int:
    """Where it is told how many of those counted at a place are so; 0 where that is not told."""
    number = pieces[at] if at < len(pieces) else None
    if number is None or number.kind != "number" or number.value.whole is None or number.value.high is not None:
        return 0
    end = at + 1
    if end < len(pieces) and ("container" in pieces[end].roles or pieces[end].low in _PLANTS):
        end += 1
    if end + 1 < len(pieces) and pieces[end].low in _OF and pieces[end + 1].kind in SUBJECTS:
        end += 2
    elif end < len(pieces) and pieces[end].kind in SUBJECTS:
        end += 1
    end = _TO_LOOK.end_at(pieces, end) or end
    end += end < len(pieces) and pieces[end].kind == "break" and pieces[end].low not in _JOINTS
    if end + 1 >= len(pieces) or not _some(pieces[end], number.value.whole):
        return 0
    said = pieces[end + 1 : min(end + 1 + _FARTHEST, end_of_statement(pieces, end + 1))]
    return end if any(map(_tells_roots, said)) else 0


def _some(piece: Piece, whole: int) -> bool:
    """Whether a piece counts some of so many."""
    if piece.kind == "number":
        number = piece.value
        return number.whole is not None and number.of in (None, whole) and number.value <= whole and not number.high
    return piece.kind == "phrase" and not piece.roles.keys().isdisjoint(("all", "none", "both", "fraction"))


def _tells_roots(piece: Piece) -> bool:
    return state_of(piece) in ("rooted", "callused")


def _part(pieces: list[Piece], at: int, told: int) -> None:
    """Makes those looked at a statement of their own, without the whole that they are of, in place."""
    number = pieces[at]
    if pieces[told - 1].kind != "break":
        pieces.insert(told, comma_before(pieces[told]))
    elif pieces[told - 1].low in (":", "-"):
        pieces[told - 1] = comma_before(pieces[told - 1])
    if number.value.of is not None and number.last - number.first > 1:
        whole = Piece("kept", None, number.first + 1, number.last, number.low.partition(" ")[2])
        number.value = replace(number.value, of=None)
        number.last, number.low = number.first + 1, number.low.partition(" ")[0]
        pieces.insert(at + 1, whole)
