"""Targets told as a list over lines, or under a day: `need by apr 10:`, and below it `60 toyon` and `40 sage`.

Such a list is put into the order of one sentence (`by apr 10 need 60 toyon, 40 sage`).
"""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import NO_ROLES, SENTENCE_ENDS, Piece, is_act
from core.notes.words.said import end_of_sentence
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

WANTING: Final = small_words("targets", "wanting")
BEFORE_DAYS: Final = small_words("targets", "before_days")
_LEADING: Final = small_words("targets", "leading")
SALES: Final = small_words("targets", "sales")
_ARTICLES: Final = frozenset({"the", "our", "my"})
_DAYS: Final = frozenset({"moment", "fraction"})
_MARKS: Final = frozenset({":", "\n", "-", ","})


@looks_for(any_of=WANTING, beside=("and", "&"))
def part_wanted(pieces: list[Piece]) -> None:
    """`sold 6 deer fern and we need 30 deer fern by oct 3`: what is wanted after a deed is a sentence, in place."""
    for at in range(1, len(pieces) - 3):
        if pieces[at].low not in ("and", "&") or not any(map(is_act, pieces[:at])):
            continue
        want = _wanting(pieces, at + 1)
        if want is None or not _is_item(pieces, want + 1) or "plant" not in pieces[want + 2].roles:
            continue
        mark = pieces[at]
        pieces[at] = Piece("break", ".", mark.first, mark.last, ".")


@looks_for("\n", ":", ",", beside=WANTING)
def join_wanted(pieces: list[Piece]) -> None:
    """Joins the lines of what is wanted to one sentence with its day at the head, in place."""
    at = 0
    while at < len(pieces):
        if _opens(pieces, at):
            want = _wanting(pieces, at)
            if want is not None:
                _day_to_head(pieces, at, want)
                _join_lines(pieces, at, want)
        at += 1


def end_of_day(pieces: list[Piece], at: int) -> int:
    """Where the day ends that something is wanted by (`by oct 15`, `for the oct 15 sale`); the place where none is."""
    if at >= len(pieces) or pieces[at].low not in BEFORE_DAYS:
        return at
    day = at + 1
    day += day < len(pieces) and pieces[day].low in _ARTICLES
    if day >= len(pieces) or pieces[day].kind not in _DAYS:
        return at
    end = day + 1
    return end + (end < len(pieces) and pieces[end].low in SALES)


def _opens(pieces: list[Piece], at: int) -> bool:
    return at == 0 or pieces[at - 1].low in SENTENCE_ENDS


def _wanting(pieces: list[Piece], at: int) -> int | None:
    """Where the word of wanting stands that opens a sentence."""
    while at < len(pieces) and pieces[at].low in _LEADING and pieces[at].low not in WANTING:
        at += 1
    return at if at < len(pieces) and pieces[at].low in WANTING else None


def _day_to_head(pieces: list[Piece], at: int, want: int) -> None:
    """`need by apr 10: 60 toyon` as `by apr 10 need 60 toyon`."""
    end = end_of_day(pieces, want + 1)
    if end == want + 1 or end >= len(pieces) or pieces[end].low not in _MARKS or not _is_item(pieces, end + 1):
        return
    told, day = pieces[at : want + 1], pieces[want + 1 : end]
    for piece in told:
        piece.used = True
    pieces[at : end + 1] = [*day, *told]


def _join_lines(pieces: list[Piece], at: int, want: int) -> None:
    """Makes the ends of lines commas, as long as each line is a count and its plant; the word of wanting may head them
    (`targets` over `200 deergrass by oct 15`).
    """
    counted = pieces[want + 1 : want + 2] != [] and pieces[want + 1].low in ("\n", ":")
    for place in range(at, len(pieces)):
        piece = pieces[place]
        counted = counted or piece.kind == "number"
        if piece.kind != "break" or piece.low not in SENTENCE_ENDS:
            continue
        if piece.low != "\n" or not counted or not _is_item(pieces, place + 1):
            return
        piece.low, piece.roles = ",", NO_ROLES


def _is_item(pieces: list[Piece], at: int) -> bool:
    """Whether a count and its plant, and no deed, stand on a line."""
    end = end_of_sentence(pieces, at)
    said = pieces[at:end]
    if len(said) < 2 or said[0].kind != "number" or any(map(is_act, said)):
        return False
    return "plant" in said[1].roles or said[1].kind in ("word", "quote")
