"""A note that corrects itself: `potted 12 from lot 9, no wait 14`, `lot 9 misted. wait no lot 10. tray 4 domed`.

Rules
1. What corrects is told as a correction of the deed before it, and what follows is told on.
2. Only words for a slip begin one, and nothing may be left over that the correction does not use. A mere `no` begins
   one where a number stands behind it, and nothing else.
"""

from __future__ import annotations

from datetime import datetime
from functools import cache
from typing import Final

from core.notes.details.drafts import Draft
from core.notes.parting.clauses import Clause
from core.notes.talk.corrections import amend
from core.notes.words.pieces import SENTENCE_ENDS, Piece, is_act, words_of
from core.notes.words.steps import looks_for
from core.notes.words.tokens import Token
from core.vocabulary.loading import read_toml, small_words, spelled_out

_SLIPS: Final = small_words("corrections", "midway")
_ALONE: Final = small_words("corrections", "midway_after_mark")
_BEFORE_NUMBER: Final = small_words("corrections", "midway_before_number")
_MOST_WORDS: Final = 4
_ADDING: Final = small_words("corrections", "adding")
_JOINS: Final = frozenset({",", ".", "-", ":", "(", ")", "\n", ";", "!"})


@looks_for(any_of=_SLIPS | _ALONE | _BEFORE_NUMBER)
def corrected_midway(
    text: str, tokens: list[Token], pieces: list[Piece], now: datetime
) -> tuple[list[Piece], list[Draft], list[Piece]] | None:
    """What is told before a correction, the correction, and what is told after it; None where none stands."""
    told = False
    for start, piece in enumerate(pieces):
        if start and told and _slips(tokens, pieces, start):
            for end in _ends(pieces, start + 1):
                found = _correction_in(text, tokens, pieces[start:end], now)
                if found is not None:
                    return pieces[:start], found, pieces[end:]
        if told and pieces[start - 1].kind == "break":
            stop = _end_of_number(tokens, pieces, start)
            found = _correction_in(text, tokens, pieces[start:stop], now) if stop is not None else None
            if found is not None:
                return pieces[:start], found, pieces[stop:]
        told = told or is_act(piece)
    return None


def _slips(tokens: list[Token], pieces: list[Piece], start: int) -> bool:
    """Whether a word for a slip begins at a place; a weak one only after a mark."""
    first = pieces[start].first
    heads = pieces[start - 1].kind == "break"
    for many in range(1, _MOST_WORDS + 1):
        said = words_of(tokens, first, min(first + many, len(tokens))).replace(", ", " ").replace(",", "")
        if said in _SLIPS or (heads and said in _ALONE):
            return True
    return False


def _end_of_number(tokens: list[Token], pieces: list[Piece], start: int) -> int | None:
    """Where a mere `no` and the number behind it end, at a mark or at the end; None where there is more or neither."""
    for at in range(start + 1, min(start + _MOST_WORDS, len(pieces))):
        if pieces[at].kind == "number":
            said = words_of(tokens, pieces[start].first, pieces[at - 1].last).replace(",", "").strip()
            ended = at + 1 == len(pieces) or pieces[at + 1].kind == "break"
            return at + 1 if ended and said in _BEFORE_NUMBER else None
    return None


@cache
def _takes_back() -> frozenset[str]:
    """What takes the last thing back (`scratch that`)."""
    return frozenset(phrase for pattern in read_toml("talk.toml")["undo"]["says"] for phrase in spelled_out(pattern))


def _ends(pieces: list[Piece], start: int) -> list[int]:
    """Where a correction may end: at a mark, the nearest first, up to the end of its sentence."""
    found = []
    for place in range(start, len(pieces)):
        if pieces[place].kind == "break" and pieces[place].low in _JOINS:
            found.append(place)
            if pieces[place].low in SENTENCE_ENDS and place > start + 1:
                return found
    return [*found, len(pieces)]


def _correction_in(text: str, tokens: list[Token], pieces: list[Piece], now: datetime) -> list[Draft] | None:
    """The correction that some pieces are, where it uses all that they say."""
    if any(piece.low in _ADDING for piece in pieces):
        return None
    if words_of(tokens, pieces[0].first, pieces[-1].last) in _takes_back():
        for piece in pieces:
            piece.used = True
        return [Draft("undo", None, [Clause("", pieces)])]
    said = [piece.copied() for piece in pieces]
    drafts = amend(text, tokens, said, words_of(tokens, said[0].first, said[-1].last), now)
    if not drafts or drafts[0].act != "amend" or drafts[0].slots is None or not drafts[0].slots.values:
        return None
    told = [piece for clause in drafts[0].clauses for piece in clause.pieces]
    over = any(not piece.used and piece.kind not in ("break", "mark") and "filler" not in piece.roles for piece in told)
    return None if over or drafts[0].slots.asks else drafts
