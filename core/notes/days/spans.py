"""From when to when: `dome off from 10 to 10:20`, `outside 9-11am`, as the length of time that it lasted.

Two bare numbers are hours only after `from` and beside a cover or a hardening; a number with a colon or a half of the
day is one anywhere.
"""

from __future__ import annotations

from typing import Final

from core.lengths import Length
from core.notes.words.pieces import Piece
from core.notes.words.steps import looks_for

_UNTIL: Final = frozenset({"to", "til", "till", "until", "-"})
_LASTING: Final = frozenset({"air", "harden"})


@looks_for(
    "@cover_noun", "outside", "outdoors", *(f"!{act}" for act in _LASTING), beside=("from", "=moment", "=colon")
)  # fmt: skip
def join_clocks(pieces: list[Piece]) -> None:
    """Joins two times of a day to one piece of kind `duration`, in place."""
    if not any(_lasts(piece) for piece in pieces):
        return
    at = 0
    while at < len(pieces):
        start = at + 1 if pieces[at].low == "from" else at
        end = _end_of_span(pieces, start, said_from=start > at)
        if end is not None:
            minutes = (_last_clock(pieces[end - 1]) - _first_clock(pieces[start])) % (12 * 60)
            if minutes:
                length = Length(seconds=minutes * 60)
                pieces[at:end] = [Piece("duration", (length, None), pieces[at].first, pieces[end - 1].last, "span")]
        at += 1


def _end_of_span(pieces: list[Piece], start: int, *, said_from: bool) -> int | None:
    if start >= len(pieces) or _first_clock(pieces[start]) < 0:
        return None
    if pieces[start].kind == "number" and pieces[start].value.high is not None:
        return start + 1 if said_from and _last_clock(pieces[start]) >= 0 else None
    if start + 2 >= len(pieces) or pieces[start + 1].low not in _UNTIL or _last_clock(pieces[start + 2]) < 0:
        return None
    plain = pieces[start].kind == pieces[start + 2].kind == "number"
    return start + 3 if said_from or not plain else None


def _first_clock(piece: Piece) -> int:
    return _clock(piece, piece.value.value if piece.kind == "number" else None)


def _last_clock(piece: Piece) -> int:
    if piece.kind != "number":
        return _clock(piece, None)
    return _clock(piece, piece.value.value if piece.value.high is None else piece.value.high)


def _clock(piece: Piece, number: float | None) -> int:
    """The minutes since midnight that a piece names as an hour of the clock, or -1."""
    if number is not None:
        return int(number) * 60 if number == int(number) and 1 <= number <= 12 and not piece.value.of else -1
    if piece.kind == "colon":
        hour, minute = piece.value
        clock = isinstance(hour, int) and isinstance(minute, int) and 0 < hour < 24 and minute < 60
        return hour * 60 + minute if clock and len(piece.low.split(":")[1]) == 2 else -1
    if piece.kind == "moment" and piece.value.hour is not None and not piece.value.names_day:
        halved = piece.value.half in ("am", "pm")
        hour = piece.value.hour % 12 + 12 * (piece.value.half == "pm") if halved else piece.value.hour
        return int(hour) * 60 + int(piece.value.minute)
    return -1


def _lasts(piece: Piece) -> bool:
    return (
        "cover_noun" in piece.roles
        or piece.low in ("outside", "outdoors")
        or ("act" in piece.roles and piece.roles["act"].act in _LASTING)
    )
