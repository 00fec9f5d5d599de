"""Shares of a count, told of those who get them, as counts: `gave 10 of lot 5, half to the school, half to the church`.

Rules
1. The shares must make up the whole; "the rest" and "the other half" are what is left of it.
2. Where a share would be no whole number, nothing is made of it: the words are kept, and nobody gets a guess.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from core.notes.names.place_leads import PLACE_LEADS
from core.notes.parting.receivers import counts_alone
from core.notes.words.numbers import Number
from core.notes.words.pieces import Piece
from core.notes.words.said import comma_before, end_of_sentence, end_of_statement, keep_words
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_GETTING: Final = frozenset({"give", "sell", "reserve"})
_BEFORE: Final = small_words("shared_out", "before")
_OF_THEM: Final = small_words("shared_out", "of_them")
_REST: Final = small_words("shared_out", "rest")


@dataclass(slots=True)
class _Share:
    """A share and where its words begin and end; None: what is left."""

    start: int
    end: int
    part: Fraction | None


@looks_for("@fraction", beside=("!give", "!sell", "!reserve"))
def share_out(pieces: list[Piece]) -> None:
    """Tells what each gets as a count of its own, in place."""
    for at, piece in enumerate(pieces):
        word = piece.roles.get("act")
        if word is None or word.act not in _GETTING:
            continue
        end = end_of_sentence(pieces, at)
        whole = next((step for step in range(at + 1, end) if counts_alone(pieces[step])), None)
        shares = [] if whole is None else _shares(pieces, whole + 1, end, PLACE_LEADS[word.act])
        if whole is not None and len(shares) > 1:
            _count(pieces, whole, shares)
            return


def _shares(pieces: list[Piece], start: int, end: int, leads: frozenset[str]) -> list[_Share]:
    found: list[_Share] = []
    for at in range(start, end):
        piece = pieces[at]
        left = piece.low in _REST
        if not left and not isinstance(piece.roles.get("fraction"), float):
            continue
        to = at + 1
        while to < end and pieces[to].low in _OF_THEM:
            to += 1
        begin = at
        while begin > start and (pieces[begin - 1].low in _BEFORE or pieces[begin - 1].kind == "break"):
            begin -= 1
        if to >= end or pieces[to].low not in leads:
            continue
        part = None if left else Fraction(piece.roles["fraction"]).limit_denominator(12)
        found.append(_Share(begin, to, part))
    return found


def _count(pieces: list[Piece], whole: int, shares: list[_Share]) -> None:
    number: int = pieces[whole].value.whole
    counts = _counts(number, [share.part for share in shares])
    if counts is None:
        stop = end_of_statement(pieces, shares[-1].end)
        keep_words(*(piece for piece in pieces[shares[0].start : stop] if piece.kind != "break"))
        return
    for share, count in zip(reversed(shares[1:]), reversed(counts[1:]), strict=True):
        at = pieces[share.start]
        told = Piece("number", Number(count), at.first, pieces[share.end - 1].last, str(count))
        pieces[share.start : share.end] = [comma_before(at), told]
    for piece in pieces[shares[0].start : shares[0].end]:
        piece.kind, piece.low, piece.roles, piece.used = "phrase", "of", {"filler": True}, True
    pieces[whole].value = Number(counts[0])


def _counts(number: int, parts: list[Fraction | None]) -> list[int] | None:
    """How many each part is; None where they do not make up the number in whole plants."""
    told = sum((part for part in parts if part is not None), Fraction(0))
    if parts.count(None) > 1 or told > 1 or (told < 1 and None not in parts):
        return None
    counts = [(1 - told if part is None else part) * number for part in parts]
    if any(count.denominator != 1 or count == 0 for count in counts):
        return None
    return [int(count) for count in counts]
