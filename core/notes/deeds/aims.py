"""Is a count only aimed at or waited for: `shooting for 60 rooted in lot 9`, `lot 9 3 left to root`.

After a count that was seen (`lot 9 12 rooted, aiming for 40`) such words tell more of it, and nothing is aimed at.
"""

from __future__ import annotations

from datetime import datetime
from itertools import pairwise
from typing import Final

from core.notes.days.moments import resolve_coming, resolve_past
from core.notes.words.pieces import COUNTS, Piece, is_act
from core.notes.words.runs import Runs
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_AIMING: Final = small_words("aims", "aiming")
_WAITING: Final = small_words("aims", "waiting")
_REACHING: Final = small_words("aims", "reaching")
_REMAINING: Final = small_words("aims", "remaining")
_AIMS: Final = Runs(_AIMING)
_WAITS: Final = Runs(_WAITING)
_MONTHS: Final = 12
_ROUGHLY: Final = frozenset({"approx", "filler", "all", "fraction", "vague"})


@looks_for(any_of=_AIMING)
def aims_at(pieces: list[Piece]) -> bool:
    """`aiming for 80% rooted on lot 9`, `lot 9 on track for 40 rooted`."""
    found = _AIMS.first_from(pieces)
    return found is not None and not _seen(pieces[: found[0]]) and _counts_at(pieces, found[1])


@looks_for(any_of=_WAITING)
def waits_until(pieces: list[Piece]) -> bool:
    """`waiting till 40 rooted in lot 9`, `waiting on lot 9 to root`: a state that is not reached yet."""
    found = _WAITS.first_from(pieces)
    if found is None or _seen(pieces[: found[0]]):
        return False
    told = (piece.roles.get("act") or piece.roles.get("noun") for piece in pieces[found[1] :])
    return any(word is not None and "state" in word.says for word in told)


@looks_for("by", beside=("=moment", "@month", "@loose_times"))
def foresees(pieces: list[Piece], now: datetime) -> bool:
    """`looking at 40 rooted in lot 9 by oct`, `lot 9 40 rooted by oct 1`: a count of a day that is to come."""
    ahead = any(before.low == "by" and _lies_ahead(piece, now) for before, piece in pairwise(pieces))
    return ahead and any("act" in one.roles and "state" in one.roles["act"].says for one in pieces)


def _lies_ahead(piece: Piece, now: datetime) -> bool:
    """`oct`, `oct 1`, `next week`: not a weekday, which may be the last one, and no month that may be."""
    if "loose_times" in piece.roles:
        return piece.low.startswith("next ")
    if "month" in piece.roles:
        months = int(piece.roles["month"]) - now.month
        return 0 < months % _MONTHS <= _MONTHS // 2
    if piece.kind != "moment" or piece.value.weekday is not None or not piece.value.names_day:
        return False
    past, coming = resolve_past(piece.value, now), resolve_coming(piece.value, now)
    return bool(piece.value.is_to_come) or (past is None and coming is not None)


@looks_for("to", beside=_REACHING)
def yet_to_reach(pieces: list[Piece]) -> bool:
    """`3 left to root`, `8 more to germinate`: so many that have not; `12 starting to root` have."""
    for at in range(2, len(pieces)):
        if pieces[at].low not in _REACHING or pieces[at - 1].low != "to":
            continue
        number = at - 2
        while number and pieces[number].low in _REMAINING:
            number -= 1
        counted = pieces[number].kind == "number" or "vague" in pieces[number].roles
        if counted and not any(is_act(piece) and piece.low not in _REMAINING for piece in pieces[: at - 1]):
            return True
    return False


def _seen(pieces: list[Piece]) -> bool:
    """Whether something was counted or done before."""
    return any(piece.kind in COUNTS or is_act(piece) for piece in pieces)


def _counts_at(pieces: list[Piece], at: int) -> bool:
    while at < len(pieces) and not pieces[at].roles.keys().isdisjoint(_ROUGHLY):
        if pieces[at].roles.keys() & {"all", "fraction"}:
            return True
        at += 1
    return at < len(pieces) and pieces[at].kind in COUNTS
