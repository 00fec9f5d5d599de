"""The hours of a shift: `9-12`, `1-4pm`, `8am to noon`, `from 9`, `till 1`."""

from __future__ import annotations

from datetime import time
from typing import Final

from core.notes.words.pieces import Piece
from core.vocabulary.loading import small_words

_ENDING: Final = small_words("rosters", "ending")
_AFTER_HOUR: Final = small_words("rosters", "after_hour")
_HALVES: Final = {
    **dict.fromkeys(small_words("rosters", "before_noon"), "morning"),
    **dict.fromkeys(small_words("rosters", "after_noon"), "afternoon"),
}
_NOON: Final = time(12)


def hours_of(pieces: list[Piece]) -> tuple[time | None, time | None] | None:
    """`9-12`, `1-4pm`, `8am to noon`, `10am-2pm`, `14:00-17:00`, `from 9`, `till 1`."""
    clocks: list[tuple[int, int, str]] = []
    until_first = False
    for place, piece in enumerate(pieces):
        if piece.kind == "number" and piece.value.whole is not None and 1 <= piece.value.value <= 23:
            half = ""
            if place + 1 < len(pieces) and pieces[place + 1].low in ("am", "pm"):
                half = pieces[place + 1].low
            if not half and piece.value.high is None and not _leads_to_hour(pieces, place):
                continue
            clocks.append((int(piece.value.value), 0, ""))
            if piece.value.high is not None and piece.value.high <= 23:
                clocks.append((int(piece.value.high), 0, half))
        elif piece.kind == "moment" and piece.value.hour is not None:
            clocks.append((piece.value.hour, piece.value.minute, piece.value.half))
        elif piece.kind == "colon":
            hour, minute = piece.value
            if isinstance(hour, int) and isinstance(minute, int) and hour < 24 and minute < 60:
                clocks.append((hour, minute, ""))
        if (piece.low in ("till", "until", "til", "by") or piece.low in _ENDING) and not clocks:
            until_first = True
        if piece.low.startswith(("until ", "till ", "til ")) and len(clocks) == 1:
            until_first = True
    if not clocks:
        return None
    if len(clocks) == 1:
        one = _clock(clocks[0], "am" if not until_first else "")
        return (None, one) if until_first else (one, None)
    first, second = clocks[0], clocks[1]
    return _shift(first, second)


def half_day_of(pieces: list[Piece]) -> tuple[time | None, time | None] | None:
    """The hours of half a day: `thursday afternoon` begins at noon, `sat am` ends then; None where both are told."""
    halves = {half for piece in pieces if (half := _HALVES.get(piece.low.split(" ")[-1]))}
    if len(halves) != 1:
        return None
    return (None, _NOON) if "morning" in halves else (_NOON, None)


def _leads_to_hour(pieces: list[Piece], place: int) -> bool:
    """Whether a bare number stands where an hour would, and counts nothing (`3 people helped`)."""
    after = pieces[place + 1] if place + 1 < len(pieces) else None
    return after is None or after.kind in ("break", "dash", "moment", "number") or after.low in _AFTER_HOUR


def _shift(first: tuple[int, int, str], second: tuple[int, int, str]) -> tuple[time | None, time | None]:
    half = first[2]
    if not half and second[2] == "pm":
        half = "pm" if first[0] < second[0] and first[0] != 12 and second[0] != 12 else "am"
        if second[0] == 12:
            half = "am"
    start = _clock((first[0], first[1], half), "")
    end = _clock(second, "")
    if start is not None and end is not None and end <= start and end.hour < 12:
        end = time(end.hour + 12, end.minute)
    return start, end


def _clock(clock: tuple[int, int, str], fallback: str) -> time | None:
    hour, minute, half = clock
    if half == "am":
        hour %= 12
    elif half == "pm":
        hour = hour % 12 + 12
    elif not half and not fallback and hour < 7:
        hour += 12
    return time(hour, minute) if hour < 24 else None
