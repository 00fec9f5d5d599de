"""What a count tells of those counted before it: `lot 3 70 with 45 rooted`, or of every so many: `3 out of every 4`."""

from __future__ import annotations

from typing import Final

from core.notes.words.numbers import Number
from core.notes.words.pieces import COUNTS, SUBJECTS, Piece, is_act
from core.notes.words.said import (
    begin_of_statement,
    comma_before,
    deed_of,
    end_of_sentence,
    end_of_statement,
    is_end,
    keep_words,
    said_in,
)
from core.notes.words.steps import looks_for
from core.vocabulary import words
from core.vocabulary.loading import small_words

_WITH: Final = small_words("out_of_those", "with")
_OF_THEM: Final = small_words("parts_told", "of_them")
_EVERY: Final = frozenset({"every", "each"})
_THAT: Final = small_words("out_of_those", "that")
_VESSELS: Final = small_words("out_of_those", "vessels")
_FEWEST: Final = 2
_OUT: Final = frozenset({"out", "of", "out of", "in", "from"})


@looks_for(any_of=_WITH, beside=("=counts",))
def part_those_with(pieces: list[Piece]) -> None:
    """`lot 3 70 with 45 rooted`: so many alive, and of them so many rooted; in a list the second part goes last, that
    the counts after it are of all again. Of `70 with 2 dead` the 70 are only kept. In place.
    """
    for at in range(len(pieces) - 3, 0, -1):
        before, lead, part = pieces[at - 1 : at + 2]
        if lead.low not in _WITH or not (_is_whole(before) and _is_whole(part)):
            continue
        state = at + 2 + (pieces[at + 2].low in _OF_THEM)
        word = deed_of(pieces[state]) if state < len(pieces) else None
        start = begin_of_statement(pieces, at)
        if word is None or not word.counts_before or any(map(is_act, pieces[start:at])):
            continue
        if word.act not in ("check", "lose") or part.value.whole > before.value.whole:
            continue
        if word.act == "lose":
            keep_words(before)
            pieces[at] = comma_before(part)
            continue
        alive = Piece("phrase", None, before.last, before.last, "alive", words().phrases["alive"])
        told = pieces[at + 1 : state + 1]
        subject = next((piece for piece in pieces[start:at] if piece.kind in SUBJECTS), None)
        end = end_of_statement(pieces, state)
        last = end_of_sentence(pieces, end)
        if subject is None or last == end or end > state + 1 or any(map(is_act, pieces[end:last])):
            pieces[at : at + 1] = [alive, comma_before(part)]
            continue
        own = Piece(subject.kind, subject.value, part.first, part.first, subject.low)
        pieces[last:last] = [comma_before(part), own, *told]
        pieces[at : state + 1] = [alive]


@looks_for(any_of=_THAT, beside=("@fraction",))
def count_part_of_that(pieces: list[Piece]) -> None:
    """`lot 14 20 rooted, lot 16 half that`: a part of the count before, and no share of the lot, in place."""
    for at in range(len(pieces) - 1, 0, -1):
        part = pieces[at - 1]
        said = [end for end in (at + 1, at + 2) if said_in(pieces[at:end]) in _THAT and is_end(pieces, end)]
        before = next((piece for piece in reversed(pieces[: at - 1]) if piece.kind in COUNTS), None)
        many = _how_many(before) if before is not None else None
        if not said or "fraction" not in part.roles or many is None:
            continue
        some = many * part.roles["fraction"]
        low = said_in(pieces[at - 1 : said[0]])
        count = Number(round(some), approx=some != round(some))
        pieces[at - 1 : said[0]] = [Piece("number", count, part.first, pieces[said[0] - 1].last, low)]


def _how_many(piece: Piece) -> int | None:
    """The count that a piece tells: the 20 of `20/40` too."""
    if piece.kind == "number":
        return piece.value.whole if piece.value.high is None else None
    return int(piece.value[0]) if piece.kind == "fraction" else None


@looks_for(*_EVERY, beside=("!check",))
def keep_rates_of_packs(pieces: list[Piece]) -> None:
    """`5 of 6 in every pack rooted tray 3`: how many in each, and no count of the tray, in place."""
    for at in range(1, len(pieces) - 1):
        vessel = pieces[at + 1]
        if pieces[at].low not in _EVERY or pieces[at - 1].low != "in" or vessel.low not in _VESSELS or at < _FEWEST:
            continue
        start = at - 2
        if start > 1 and pieces[start - 1].low in _OUT and pieces[start - 2].kind == "number":
            start -= 2
        if pieces[start].kind in ("number", "fraction") and not is_end(pieces, at + 2):
            keep_words(*pieces[start : at + 2])


def _is_whole(piece: Piece) -> bool:
    number = piece.value
    return piece.kind == "number" and number.whole is not None and number.high is None and number.of is None


@looks_for(*_EVERY, beside=("=counts",))
def share_of_every(pieces: list[Piece]) -> None:
    """`3 out of every 4 rooted`, `one in every five`: a share, and no count, in place."""
    for at in range(len(pieces) - 2, 1, -1):
        if at + 1 >= len(pieces) or pieces[at].low not in _EVERY or not _is_whole(pieces[at + 1]):
            continue
        start = at - 1
        while start and pieces[start].low in _OUT:
            start -= 1
        some, every = pieces[start], pieces[at + 1]
        if start == at - 1 or not _is_whole(some) or not 0 < some.value.value < every.value.value:
            continue
        run = pieces[start : at + 2]
        roles = {"fraction": some.value.value / every.value.value}
        low = " ".join(piece.low for piece in run)
        pieces[start : at + 2] = [Piece("phrase", None, some.first, every.last, low, roles)]
