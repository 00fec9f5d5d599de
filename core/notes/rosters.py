"""Who is at the bench when: `odile is on sat 9-12`, `ben every mon and wed 10-12`."""

from __future__ import annotations

from copy import copy
from dataclasses import replace
from datetime import date, datetime, time
from typing import Any, Final

from core.entries import WEEKDAYS
from core.notes.again import EVERY, is_plural_day, is_weekday
from core.notes.clauses import Clause
from core.notes.cues import SENTENCE_ENDS
from core.notes.drafts import Draft
from core.notes.moments import Moment, resolve_coming
from core.notes.people import NAMELIKE
from core.notes.pieces import Piece
from core.notes.tokens import Token
from core.vocabulary.loading import small_words

_ROSTER_VERBS: Final = small_words("rosters", "verbs")

_SHIFT: Final = small_words("rosters", "shift")
_SMALL: Final = small_words("rosters", "small")
_AFTER_HOUR: Final = small_words("rosters", "after_hour")


def roster(text: str, tokens: list[Token], pieces: list[Piece], now: datetime) -> list[Draft] | None:
    """Who is there when; several people with hours of their own (`ana 9-12 sat, tov 1-4`) are several."""
    if any(piece.low in SENTENCE_ENDS and piece.kind == "break" for piece in pieces[1:-1]) and not _each_line(
        tokens, pieces, now
    ):
        return None
    parts = _each_person(pieces)
    if len(parts) > 1:
        found = [_one_roster(tokens, part, now) for part in _with_days(parts)]
        if all(found):
            return [draft for drafts in found for draft in drafts or ()]
    return _one_roster(tokens, pieces, now)


def _each_line(tokens: list[Token], pieces: list[Piece], now: datetime) -> bool:
    """Whether every sentence tells who is there: the names of one and the hours of another make no roster."""
    lines: list[list[Piece]] = [[]]
    for piece in pieces:
        if piece.kind == "break" and piece.low in SENTENCE_ENDS:
            lines.append([])
        else:
            lines[-1].append(piece)
    return all(_one_roster(tokens, [copy(piece) for piece in line], now) for line in lines if line)


def _each_person(pieces: list[Piece]) -> list[list[Piece]]:
    """The pieces parted where a name with hours follows a mark or "and"."""
    parts: list[list[Piece]] = [[]]
    for place, piece in enumerate(pieces):
        if piece.low in (",", ";", "and", "&", "\n", ".") and place + 2 < len(pieces):
            name = pieces[place + 1]
            hours = _hours(_up_to_mark(pieces, place + 2))
            if (name.kind == "word" or name.low in NAMELIKE) and hours and _hours(parts[-1]):
                parts.append([])
                continue
        parts[-1].append(piece)
    return parts


def _up_to_mark(pieces: list[Piece], at: int) -> list[Piece]:
    """The hours that follow a name, perhaps after a day and a word of being there (`bao on wed 1-4pm`)."""
    end = at
    while (
        end < len(pieces)
        and end < at + 4
        and (pieces[end].kind in ("number", "colon", "moment", "dash") or pieces[end].low in _ROSTER_VERBS | {"is"})
    ):
        end += 1
    return pieces[at:end]


def _with_days(parts: list[list[Piece]]) -> list[list[Piece]]:
    """The parts, each with the day of the one before where it names none."""
    days = [piece for part in parts for piece in part if piece.kind == "moment" and piece.value.names_day][:1]
    whole = []
    for part in parts:
        own = [piece for piece in part if piece.kind == "moment" and piece.value.names_day]
        whole.append(part if own else [*part, *days])
        days = own or days
    return whole


def _one_roster(tokens: list[Token], pieces: list[Piece], now: datetime) -> list[Draft] | None:
    """Names, a day, and hours or a word of being there; nothing of the bench's work beside them."""
    solid = [piece for piece in pieces if piece.kind not in ("break", "mark")]
    named = bool(solid) and len(solid) > 1 and "plant" in solid[0].roles and solid[1].low in _ROSTER_VERBS | {"is"}
    if len(solid) > 24 or any(_is_work(piece) for piece in solid[named and _hours(pieces) is not None :]):
        return None
    names, end = _names(pieces)
    if not names:
        return None
    every = any(piece.low in EVERY or piece.low == "weekly" or is_plural_day(piece) for piece in pieces)
    on, days = _days(pieces, names, end, now)
    hours = _hours(pieces[end:])
    if (on is None and not every) or not (hours or _says_present(pieces, end)):
        return None
    told: dict[str, Any] = {"who": tuple(names)}
    if every and days:
        told["every"] = tuple(WEEKDAYS[day] for day in days)
    elif on is not None:
        told["on"] = on
    begins, ends = hours or (None, None)
    told.update({name: hour for name, hour in (("from_time", begins), ("until", ends)) if hour is not None})
    draft = Draft("roster", None, [Clause("", pieces)])
    draft.extra = told
    others = [] if every else [_on_day(told, day, now) for day in days[1:]]
    for place, piece in enumerate(pieces):
        timed = piece.kind in ("moment", "number", "colon", "dash", "fraction")
        piece.used = piece.used or place <= end or timed or piece.low in _ROSTER_VERBS or piece.low in _SMALL
    return [draft, *others]


def _days(pieces: list[Piece], names: list[str], end: int, now: datetime) -> tuple[date | None, list[int]]:
    """The first day that is named, and every weekday that is."""
    days: list[int] = []
    on: date | None = None
    for place, piece in enumerate(pieces):
        if piece.kind == "fraction" and on is None:
            on = _date(piece, now)
        if piece.kind != "moment" or (place < end and piece.low in names):
            continue
        moment: Moment = piece.value
        if moment.weekday is not None:
            days.append(moment.weekday)
        if moment.names_day and on is None:
            found = resolve_coming(replace(moment, hour=None, minute=0, half="", part=""), now)
            on = found.date() if isinstance(found, datetime) else found
    return on, list(dict.fromkeys(days))


def _says_present(pieces: list[Piece], end: int) -> bool:
    """A word of being there after the names, or of a shift anywhere."""
    there = any(
        piece.low.endswith("'s") or piece.low in _ROSTER_VERBS or piece.low.split(" ")[0] in ("covering", "works")
        for piece in pieces[end:]
    )
    return there or any(piece.low in _SHIFT for piece in pieces)


def _on_day(told: dict[str, Any], day: int, now: datetime) -> Draft:
    """The same people and hours on another weekday."""
    other = Draft("roster", None, [Clause("", [])])
    other.extra = {**told, "on": resolve_coming(Moment(weekday=day), now)}
    return other


def _date(piece: Piece, now: datetime) -> date | None:
    """`5/23` beside people and hours is a day."""
    above, below = piece.value[:2]
    if not (1 <= above <= 12 and 1 <= below <= 31):
        return None
    found = resolve_coming(Moment(month=above, day=below), now)
    return found.date() if isinstance(found, datetime) else found


def _is_work(piece: Piece) -> bool:
    word = piece.roles.get("act") or piece.roles.get("shared") or piece.roles.get("noun")
    if word is not None and piece.low not in ("covered", "covering"):
        return True
    return piece.kind in ("lots", "trays", "duration", "temp", "amount", "size", "ppm") or (
        "plant" in piece.roles and piece.low not in NAMELIKE
    )


def _names(pieces: list[Piece]) -> tuple[list[str], int]:
    names: list[str] = []
    at = 0
    while at < len(pieces) and (
        pieces[at].low
        in (*_SHIFT, ":", "new", "shifts", "on shift", "for", "on", "at the bench", "bench", "come", "comes")
        or (pieces[at].kind == "moment" and pieces[at].low not in NAMELIKE)
        or (pieces[at].low in ("every", "each", "and", "&", ",", "on") and is_weekday(pieces, at + 1))
    ):
        at += 1
    while at < len(pieces):
        piece = pieces[at]
        named = (
            (piece.kind == "word" and piece.low.removesuffix("'s").isalpha())
            or (piece.kind == "phrase" and "plant" in piece.roles)
            or piece.kind == "person"
            or piece.low in NAMELIKE
        )
        if named and piece.low not in _ROSTER_VERBS and "filler" not in piece.roles:
            names.append(piece.low.removesuffix("'s"))
        elif not (names and (piece.low in ("and", "&", ",", "+"))):
            break
        at += 1
    if names and pieces[at - 1].low.endswith("'s"):
        at -= 1
    return (names, at) if len(names) <= 6 else ([], 0)


def _hours(pieces: list[Piece]) -> tuple[time | None, time | None] | None:
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
        if piece.low in ("till", "until", "til", "by") and not clocks:
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
