"""Who is at the bench when: `odile is on sat 9-12`, `ben every mon and wed 10-12`."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime
from itertools import pairwise
from typing import Any, Final

from core.entries import WEEKDAYS
from core.notes.days.again import EVERY, is_plural_day
from core.notes.days.moments import Moment, resolve_coming
from core.notes.days.roster_hours import half_day_of, hours_of
from core.notes.days.who import day_named, may_be_who
from core.notes.details.drafts import Draft
from core.notes.names.people import NAMELIKE
from core.notes.parting.clauses import Clause
from core.notes.wishes.day_rosters import by_week_or_for_another, listed_by_day, names_first, who_opens_and_closes
from core.notes.wishes.shifts import shifts_told
from core.notes.wishes.who_is_there import NEW, ROSTER_VERBS, SHIFT, is_day, names_of, put_on, with_titles
from core.notes.words.pieces import SENTENCE_ENDS, Piece
from core.notes.words.runs import Runs
from core.notes.words.said import said_in
from core.notes.words.steps import looks_for
from core.notes.words.tokens import Token
from core.vocabulary.loading import small_words

_SMALL: Final = small_words("rosters", "small")
_PRESENT: Final = Runs(small_words("rosters", "present"))
_BEFORE_SHIFTS: Final = small_words("rosters", "before_shifts")
_ABSENT: Final = small_words("rosters", "absent")
_INSTEAD: Final = frozenset({"instead of", "rather than"})
_PARTS: Final = frozenset({"am", "pm", "morning", "afternoon", "evening", "night"})
_WEEKLY: Final = {
    **dict.fromkeys(small_words("rosters", "weekends"), (5, 6)),
    **dict.fromkeys(small_words("rosters", "weekdays"), (0, 1, 2, 3, 4)),
}
_HALVES_OF_WEEKS: Final = frozenset({"mornings", "afternoons"})
_ALWAYS: Final = EVERY | _WEEKLY.keys() | {"weekly"}
_OF_WORK: Final = frozenset({"lots", "trays", "duration", "temp", "amount", "size", "ppm"})
"""Kinds of pieces that tell of the bench's work, and not of who is there."""
_MOST_LISTED: Final = 2
"""Of so many weekdays each is the coming one; more without an "and" are those of every week."""


@looks_for(
    "=moment", "=fraction", "@weekday", any_of=_ALWAYS, beside=("=word", "=person", "=quote", *NAMELIKE, *ROSTER_VERBS)
)  # fmt: skip
def roster(text: str, tokens: list[Token], pieces: list[Piece], now: datetime) -> list[Draft] | None:
    """Who is there when; several people with hours of their own (`ana 9-12 sat, tov 1-4`) are several."""
    if any(_keeps_away(pieces, place) or of_work(piece) for place, piece in enumerate(pieces)):
        return None
    if any(first.low in EVERY and second.low in ("other", "2nd", "second") for first, second in pairwise(pieces)):
        # "jo every other sat 9-12": which of them is not said.
        return None
    if any(piece.kind == "rank" or piece.low in ("month", "months") for piece in pieces):
        # "jo 1st sat of month 9-12".
        return None
    led = by_week_or_for_another(text, tokens, pieces, now)
    if led is not None:
        return led
    pieces = put_on(with_titles(pieces))
    shifts = who_opens_and_closes(pieces, now) or shifts_told(pieces, now)
    if shifts is not None:
        return shifts
    pieces = names_first(pieces)
    listed = listed_by_day(pieces, now) or _at_part_of_day(pieces, now)
    if listed is not None:
        return listed
    if any(piece.low in SENTENCE_ENDS and piece.kind == "break" for piece in pieces[1:-1]) and not _each_line(
        tokens, pieces, now
    ):
        return None
    parts = _with_days(_each_person(pieces))
    return _of_each(tokens, parts, now) if len(parts) > 1 else _one_roster(tokens, pieces, now)



def _of_each(tokens: list[Token], parts: list[list[Piece]], now: datetime) -> list[Draft] | None:
    """The rosters of several people; beside one that tells hours a name and a day are enough."""
    found = [_one_roster(tokens, part, now) for part in parts]
    if not any(found):
        return None
    found = [one or listed_by_day(part[::-1], now, alone=True) for one, part in zip(found, parts, strict=True)]
    return [draft for drafts in found for draft in drafts or ()] if all(found) else None


def _at_part_of_day(pieces: list[Piece], now: datetime) -> list[Draft] | None:
    """`tomasz thurs am`, `mei sat morning`: one name, a day and a part of it."""
    if not 2 <= len(pieces) <= 3 or not may_be_who(pieces[0]) or pieces[-1].low.split(" ")[-1] not in _PARTS:
        return None
    day = day_named(pieces[1])
    if day is None or day.weekday is None or day.which:
        return None
    return listed_by_day([pieces[1], *pieces[2:], pieces[0]], now, alone=True)


def _each_line(tokens: list[Token], pieces: list[Piece], now: datetime) -> bool:
    """Whether every sentence tells who is there: the names of one and the hours of another make no roster."""
    lines: list[list[Piece]] = [[]]
    for piece in pieces:
        if piece.kind == "break" and piece.low in SENTENCE_ENDS:
            lines.append([])
        else:
            lines[-1].append(piece)
    return all(_one_roster(tokens, [piece.copied() for piece in line], now) for line in lines if line)


def _each_person(pieces: list[Piece]) -> list[list[Piece]]:
    """The pieces parted where a name with a day or hours of its own follows a mark or "and"."""
    parts: list[list[Piece]] = [[]]
    for place, piece in enumerate(pieces):
        if piece.low in (",", ";") and _hours_again(parts, _up_to_mark(pieces, place + 1)):
            parts.append([one.copied() for one in parts[-1][: names_of(parts[-1])[1]]])
            continue
        if piece.low in (",", ";", "and", "&", "\n", ".") and place + 2 < len(pieces):
            end = _names_end(pieces, place + 1, several=piece.low not in ("and", "&"))
            if end > place + 1 and _tells_when(parts[-1]) and _has_own(pieces, end):
                parts.append([])
                continue
        parts[-1].append(piece)
    return parts


def _names_end(pieces: list[Piece], at: int, *, several: bool) -> int:
    """Where a name ends, and those joined to it (`rudy and bao`)."""
    end = at
    while end < len(pieces) and (pieces[end].kind in ("word", "person") or pieces[end].low in NAMELIKE):
        if pieces[end].low in ROSTER_VERBS:
            # "kit opens at 8 and closes at 5 on sat".
            break
        joined = end + 1 < len(pieces) and pieces[end + 1].low in ("and", "&", "+")
        end += 1
        if not (several and joined):
            break
        end += 1
    return end


def _hours_again(parts: list[list[Piece]], told: list[Piece]) -> bool:
    """`jo 9-12 mon, 1-4 tue`: other hours of the same people on another day."""
    timed = all(any(map(is_day, one)) and bool(hours_of(one)) for one in (parts[-1], told))
    return timed and bool(names_of(parts[-1])[0])


def _tells_when(told: list[Piece]) -> bool:
    return any(is_day(piece) for piece in told[1:]) or bool(hours_of(told))


def _has_own(pieces: list[Piece], at: int) -> bool:
    """Whether a day, hours or a word of being there alone follow a name (`sam on tue`, `lou 11-1`, `lou closes`)."""
    told = _up_to_mark(pieces, at)
    after = at + len(told)
    ends = after >= len(pieces) or pieces[after].kind == "break"
    verb = ends and len(told) == 1 and told[0].low in ROSTER_VERBS and told[0].kind == "word"
    return verb or any(is_day(piece) for piece in told) or bool(hours_of(told))



def _up_to_mark(pieces: list[Piece], at: int) -> list[Piece]:
    """The hours that follow a name, perhaps after a day and a word of being there (`bao on wed 1-4pm`)."""
    end = at
    while (
        end < len(pieces)
        and end < at + 4
        and (
            pieces[end].kind in ("number", "colon", "moment", "dash", "fraction")
            or day_named(pieces[end]) is not None
            or pieces[end].low in ROSTER_VERBS | {"is"}
        )
    ):
        end += 1
    return pieces[at:end]


def _with_days(parts: list[list[Piece]]) -> list[list[Piece]]:
    """The parts, each with the day of the one before where it names none."""
    days = [piece for part in parts for piece in part if is_day(piece)][:1]
    whole = []
    for part in parts:
        own = [piece for piece in part if is_day(piece)]
        whole.append(part if own else [*part, *days])
        days = own or days
    return whole


def _one_roster(tokens: list[Token], pieces: list[Piece], now: datetime) -> list[Draft] | None:
    """Names, a day, and hours or a word of being there; nothing of the bench's work beside them."""
    solid = [piece for piece in pieces if piece.kind not in ("break", "mark")]
    named = bool(solid) and len(solid) > 1 and "plant" in solid[0].roles and solid[1].low in ROSTER_VERBS | {"is"}
    if len(solid) > 24 or any(_is_work(piece) for piece in solid[named and hours_of(pieces) is not None :]):
        return None
    names, end = names_of(pieces)
    if not names:
        return None
    on, days = _days(pieces, names, end, now)
    every = any(piece.low in _ALWAYS or is_plural_day(piece) for piece in pieces)
    every = every or any(piece.low in _HALVES_OF_WEEKS for piece in pieces)
    every = every or (len(days) > _MOST_LISTED and not any(piece.low in ("and", "&") for piece in pieces[end:]))
    hours = hours_of(pieces[end:])
    present = hours or _says_present(pieces, end) or _only_names_and_day(pieces)
    if (on is None and not (every and days)) or not present or _tells_more(pieces, end):
        return None
    if _tells_two_days(pieces) or _tells_two_shifts(pieces):
        return None
    told: dict[str, Any] = {"who": tuple(names)}
    if every and days:
        told["every"] = tuple(WEEKDAYS[day] for day in days)
    elif on is not None:
        told["on"] = on
    begins, ends = hours or half_day_of(pieces[end:]) or (None, None)
    told.update({name: hour for name, hour in (("from_time", begins), ("until", ends)) if hour is not None})
    draft = Draft("roster", None, [Clause("", pieces)])
    draft.extra = told
    others = [] if every else [_on_day(told, day, now) for day in days[1:]]
    for place, piece in enumerate(pieces[: _end_of_roster(pieces, end)]):
        timed = piece.kind in ("moment", "number", "colon", "dash", "fraction") or day_named(piece) is not None
        named = piece.low not in NEW and (place < end or (place == end and _is_small(piece)))
        timed = timed or piece.low in _WEEKLY.keys() | _HALVES_OF_WEEKS
        piece.used = piece.used or named or timed or piece.low in ROSTER_VERBS or piece.low in _SMALL
    for place in range(end, len(pieces)):
        for piece in pieces[place : _PRESENT.end_at(pieces, place)]:
            piece.used = True
    return [draft, *others]


def _end_of_roster(pieces: list[Piece], end: int) -> int:
    """Where a comma parts the roster from what else is told (`mei is on sat 9-12, | she is bringing her gloves`)."""
    told = pieces[end:]
    last = max((at for at, piece in enumerate(told, end) if is_day(piece) or _is_hour(piece)), default=len(pieces))
    return next((at for at in range(last, len(pieces)) if pieces[at].low == ","), len(pieces))


def _is_hour(piece: Piece) -> bool:
    return piece.kind in ("moment", "number", "colon") or piece.low in _PARTS


def _is_small(piece: Piece) -> bool:
    """Whether a piece after the names tells nothing more (`is`, `mei's`)."""
    return "filler" in piece.roles or piece.low.endswith("'s")


def _days(pieces: list[Piece], names: list[str], end: int, now: datetime) -> tuple[date | None, list[int]]:
    """The first day that is named, and every weekday that is."""
    days: list[int] = []
    on: date | None = None
    for place, piece in enumerate(pieces):
        if piece.kind == "fraction" and on is None:
            on = _date(piece, now)
        moment = day_named(piece)
        if piece.low in _WEEKLY:
            days.extend(_WEEKLY[piece.low])
        if moment is None or (place < end and piece.low in names):
            continue
        if moment.weekday is not None:
            days.extend(_days_up_to(days, moment.weekday) if place and pieces[place - 1].kind == "dash" else ())
            days.append(moment.weekday)
        if moment.names_day and on is None:
            found = resolve_coming(replace(moment, hour=None, minute=0, half="", part=""), now)
            on = found.date() if isinstance(found, datetime) else found
    return on, list(dict.fromkeys(days))


def _days_up_to(days: list[int], last: int) -> list[int]:
    """The weekdays between the one before and the last (`mon-fri`)."""
    return [day % 7 for day in range(days[-1] + 1, last + (7 if last < days[-1] else 0))] if days else []


def _tells_more(pieces: list[Piece], end: int) -> bool:
    """`ana sat 9-12, soil delivery mon`: words of something else between two days, which is not said of the person."""
    days = [place for place, piece in enumerate(pieces) if place >= end and day_named(piece) is not None]
    between = pieces[days[0] : days[-1]] if days else []
    return any(piece.kind == "word" and piece.low not in ROSTER_VERBS | _SMALL for piece in between)


def _tells_two_shifts(pieces: list[Piece]) -> bool:
    """`jo mon 9-12, tue and wed 1-4`: hours of which days they are is not told for each."""
    return sum(piece.kind == "number" and piece.value.high is not None for piece in pieces) > 1


def _tells_two_days(pieces: list[Piece]) -> bool:
    """`saturday: kit and june 9-1`, `jo starts 9/1, tues 9-12`: a weekday, and a date apart from it that may be a name
    and an hour.
    """
    weekdays = [place for place, piece in enumerate(pieces) if (day := day_named(piece)) and day.weekday is not None]
    dates = [place for place, piece in enumerate(pieces) if piece.kind == "fraction"]
    if weekdays and any(place - 1 not in weekdays for place in dates):
        return True
    told = [moment for piece in pieces if (moment := day_named(piece)) is not None]
    return any(moment.weekday is None for moment in told) and any(moment.weekday is not None for moment in told)


def _keeps_away(pieces: list[Piece], place: int) -> bool:
    """`kit wont be here tues`, `odalys away nov 10-14`, `im out sat`: who is not there is on no roster; but who
    `takes over` is.
    """
    piece = pieces[place]
    if piece.low in _INSTEAD and 0 < place < len(pieces) - 1 and may_be_who(pieces[place + 1]):
        # "ana instead of bram on friday".
        return False
    if not piece.roles.keys().isdisjoint(("negation", "none")):
        return True
    over = place + 1 < len(pieces) and piece.low.startswith("take") and pieces[place + 1].low == "over"
    return piece.low in _ABSENT and not over


def _only_names_and_day(pieces: list[Piece]) -> bool:
    """`mei + bram sat`: two names or more that are joined, and a day."""
    told = [piece for piece in pieces if piece.low not in (*_JOINED, "on")]
    names = [piece for piece in told if may_be_who(piece)]
    joined = any(piece.low in _JOINED for piece in pieces)
    return joined and len(names) > 1 and len(told) == len(names) + 1 and day_named(told[-1]) is not None


_JOINED: Final = frozenset({"and", "&", "+", ",", "/", "n"})


def _says_present(pieces: list[Piece], end: int) -> bool:
    """A word of being there after the names, or of a shift anywhere."""
    there = any(
        piece.low.endswith("'s") or _is_verb(pieces, place) or piece.low.split(" ")[0] in ("covering", "works")
        for place, piece in enumerate(pieces[end:], end)
    )
    at_bench = any(f" {words} " in f" {said_in(pieces[end:])} " for words in ("at bench", "at the bench"))
    return there or at_bench or any(piece.low in SHIFT for piece in pieces)


def _is_verb(pieces: list[Piece], place: int) -> bool:
    """`on`, `works`; `has` only of a day, a shift or the bench (`mei has a dentist appt mon`)."""
    if pieces[place].low in _BEFORE_SHIFTS and place + 1 < len(pieces):
        after = pieces[place + 1]
        bench = said_in(pieces[place + 1 : place + 3]).startswith(("the bench", "bench"))
        timed = after.kind in ("moment", "number", "colon", "fraction") or is_day(after)
        return bench or timed or after.low in EVERY | SHIFT
    return pieces[place].low in ROSTER_VERBS


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
    if "vent_noun" in piece.roles:
        return True
    return of_work(piece) or ("plant" in piece.roles and piece.low not in NAMELIKE)


def of_work(piece: Piece) -> bool:
    """Whether a piece tells of the bench's work, so that no roster holds it."""
    return piece.kind in _OF_WORK
