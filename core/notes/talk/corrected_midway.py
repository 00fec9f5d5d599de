"""A note that corrects itself: `potted 12 from lot 9, no wait 14`, `lot 9 misted. wait no lot 10. tray 4 domed`.

Rules
1. What corrects is told as a correction of the deed before it, and what follows is told on.
2. Only words for a slip begin one, and nothing may be left over that the correction does not use. A mere `no` begins
   one where a number stands behind it, and nothing else.
3. Between two numbers, two lots or two trays a mere `no` corrects the first, wherever the deed stands
   (`stuck 40 no 44 toyon`, `tray 3 no tray 4 misted`).
4. After a deed that counts nothing a bare number corrects its lot or tray (`misted tray 3 no wait 4`).
"""

from __future__ import annotations

from datetime import datetime
from functools import cache
from typing import Final

from core.notes.details.bare_numbers import is_bare
from core.notes.details.drafts import Draft
from core.notes.parting.clauses import Clause
from core.notes.talk.corrections import amend
from core.notes.words.act_kinds import COUNTLESS
from core.notes.words.pieces import SENTENCE_ENDS, SUBJECTS, Piece, is_act, words_of
from core.notes.words.said import statement_at
from core.notes.words.steps import looks_for
from core.notes.words.tokens import Token
from core.vocabulary.loading import small_words
from core.vocabulary.talk_phrases import said_of

_SLIPS: Final = small_words("corrections", "midway")
_ALONE: Final = small_words("corrections", "midway_after_mark")
_BEFORE_NUMBER: Final = small_words("corrections", "midway_before_number")
_MOST_WORDS: Final = 4
_ADDING: Final = small_words("corrections", "adding")
_WAVERING: Final = small_words("corrections", "wavering")
_HESITATING: Final = small_words("corrections", "hesitating")
_NOT_SAID_OF: Final = _ADDING | {"left"}
_NUMBERED: Final = frozenset({"hormone_form", "hormone_name", "container", "pot_size"})
_JOINS: Final = frozenset({",", ".", "-", ":", "(", ")", "\n", ";", "!"})


@looks_for(any_of=_SLIPS | _ALONE | _BEFORE_NUMBER | _WAVERING)
def corrected_midway(
    text: str, tokens: list[Token], pieces: list[Piece], now: datetime
) -> tuple[list[Piece], list[Draft], list[Piece]] | None:
    """What is told before a correction, the correction, and what is told after it; None where none stands."""
    told = False
    for start, piece in enumerate(pieces):
        if start and told and _slips(tokens, pieces, start):
            for end in _ends(pieces, start + 1):
                found = _correction_in(text, tokens, _meant(pieces, start, end), now)
                if found is not None:
                    return pieces[:start], found, pieces[end:]
        right = _right_one(pieces, start) if start and piece.low in _WAVERING else None
        if right is not None:
            again = right + 1 < len(pieces) and pieces[right + 1].low == pieces[start - 1].low
            found = _correction_in(text, tokens, _meant(pieces, start, right + 1), now)
            if found is not None:
                return [*pieces[:start], *pieces[right + 1 + again :]], found, []
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


def _right_one(pieces: list[Piece], start: int) -> int | None:
    """The place of the right one behind a mere `no` at a place, where the wrong one stands before it, at once or before
    the deed that it is told of; else None.
    """
    right = start
    while right < len(pieces) and (pieces[right].low in _WAVERING or _makes_that(pieces, right)):
        right += 1
    if right == len(pieces) or all(piece.low in _HESITATING for piece in pieces[start:right]):
        return None
    begin, end = statement_at(pieces, start)
    told, right_one = pieces[begin:start], pieces[right]
    if not told or not _is_one(right_one) or not any(map(is_act, (*told, *pieces[right + 1 : end]))):
        return None
    if told[-1].kind == right_one.kind and _is_one(told[-1]):
        after = pieces[right + 1] if right + 1 < end else None
        return right if after is None or _goes_on(after, right_one) or _names_lot(told, after) else None
    ends = right + 1 == end or (right + 2 == end and pieces[right + 1].low == told[-1].low)
    counted = any(one.kind == "number" and _is_one(one) for one in told)
    alike = any(one.kind == right_one.kind and _is_one(one) for one in told)
    told_of = is_act(told[-1]) or "plant" in told[-1].roles
    return right if told_of and counted and alike and ends else None


def _makes_that(pieces: list[Piece], at: int) -> bool:
    """The that of `18 make that 20 rooted`."""
    return pieces[at].low == "that" and pieces[at - 1].low == "make"


def _names_lot(told: list[Piece], after: Piece) -> bool:
    """`lost 5 sorry 6 | lot 9`: the one lot of both numbers."""
    return after.kind in SUBJECTS and told[-1].kind == "number" and not any(one.kind in SUBJECTS for one in told)


def _is_one(piece: Piece) -> bool:
    """One lot, one tray, or a bare whole number."""
    if piece.kind == "number":
        return is_bare(piece) and piece.value.whole is not None
    return piece.kind in SUBJECTS and len(piece.value) == 1


def _goes_on(piece: Piece, right: Piece) -> bool:
    """Whether a statement may go on so after a correction: `no 44 toyon`, `no tray 4 misted`, not `no 2 powder`, `no 5
    pots` or `no lot 8 was dry`.
    """
    if right.kind != "number":
        return is_act(piece)
    named = piece.kind in ("phrase", "word", "quote", "moment") and piece.low not in _NOT_SAID_OF
    return named and piece.roles.keys().isdisjoint(_NUMBERED)


def _meant(pieces: list[Piece], start: int, end: int) -> list[Piece]:
    """A correction with the lot or tray that its bare number means after a deed that counts nothing."""
    begin, _ = statement_at(pieces, start - 1)
    deeds = [piece.roles.get("act") for piece in pieces[begin:start] if is_act(piece)]
    named = [piece for piece in pieces[begin:start] if piece.kind in SUBJECTS]
    numbers = [piece for piece in pieces[start:end] if piece.kind == "number"]
    cared = bool(deeds) and all(deed is not None and deed.act in COUNTLESS for deed in deeds)
    if not cared or len(named) != 1 or len(named[0].value) != 1 or len(numbers) != 1 or not _is_one(numbers[0]):
        return pieces[start:end]
    kind, number = named[0].kind, numbers[0]
    one = Piece(kind, (number.low,), number.first, number.last, number.low)
    return [one if piece is number else piece for piece in pieces[start:end]]


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
    return frozenset(said_of("undo", "says"))


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
