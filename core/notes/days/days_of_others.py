"""Which days and hours, told beside a deed, are not the deed's: `misted tray 3, left at noon`, `potted 6, rest on fri`,
`stuck 40 toyon for the sale apr 17`, `watered tray 3 on mondays`.

Rules
1. After a deed a statement of who comes and goes is kept, and so is one of when the rest is done.
2. So is the day of what the deed was done for, and the days on which it is done again and again.
"""

from __future__ import annotations

from typing import Final

from core.notes.days.again import EVERY, is_plural_day
from core.notes.days.moments import Moment
from core.notes.words.pieces import NO_ROLES, Piece, is_act
from core.notes.words.runs import Runs
from core.notes.words.said import begin_of_statement, is_end, keep_words, said_in, statements
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_GOING: Final = small_words("days_of_others", "going")
_GOINGS: Final = Runs(_GOING)
_COMING: Final = small_words("days_of_others", "coming")
_COMINGS: Final = Runs(_COMING)
_REST: Final = small_words("days_of_others", "rest")
_RESTS: Final = Runs(_REST)
_OTHERS: Final = Runs(_GOING | _COMING | _REST)
_SELVES: Final = small_words("days_of_others", "selves")
_LEADS: Final = small_words("days_of_others", "leads")
_CLOSING: Final = small_words("days_of_others", "closing")
_EVENTS: Final = small_words("noting", "events") | small_words("days_of_others", "events")
_GOES_BACK: Final = frozenset({"cover", "air", "uncover", "vent", "move", "harden", "treat"})
"""What is taken back in a few small words (`back in fri`): of these they tell, and not of the crew."""
_AWAY: Final = frozenset({"off", "out", "again", "not", "here", "no one"})
_IN_MONTH: Final = frozenset({"in", "last", "early", "late", "mid", "during"})
_MORE: Final = frozenset({"more", "left", "others", "to go", "remaining"})
_CARE: Final = frozenset({"tend", "water", "air", "pot", "check"})
_WEATHER: Final = small_words("days_of_others", "weather")
_TONIGHT: Final = small_words("days_of_others", "tonight")
_HARMED_BY: Final = frozenset({"to", "from", "by", "in", "w", "with"})
_AT_LEAST: Final = 2
_LAST_HOUR: Final = 12
_LONGEST: Final = 4


@looks_for(any_of=_GOING | _COMING | _REST, beside=("=moment", "=number", "moving", *_CLOSING))
def keep_comings(pieces: list[Piece]) -> None:
    """`misted lot 8, left at noon`, `misted tray 3, see you fri`, `potted 6 of lot 9, rest on fri`, in place."""
    if _OTHERS.first_from(pieces) is None:
        return
    for start, end in statements(pieces):
        told = pieces[:start]
        if not any(is_act(piece) or "cover_noun" in piece.roles for piece in told):
            continue
        at = start
        while at < end and pieces[at].low in _SELVES:
            at += 1
        at += at + 1 < end and pieces[at].kind == "word" and _GOINGS.end_at(pieces[:end], at + 1) > 0
        after = _GOINGS.end_at(pieces[:end], at)
        if after and (_says_when(pieces, after, end) or (after == end and " " in said_in(pieces[at:end]))):
            keep_words(*pieces[start:end])
            continue
        dated = any(map(_is_dated, told))
        after = 0 if dated else _RESTS.end_at(pieces[:end], at)
        away = at < end and pieces[at].low in _AWAY
        if not dated and not after and (away or not _may_go_back(told)):
            after = _COMINGS.end_at(pieces[:end], at)
        if after and _names_a_weekday(pieces, after, end):
            keep_words(*pieces[start:end])


@looks_for("=moment", beside=("=duration", "@noun", "@solution", *_MORE))
def keep_more_to_come(pieces: list[Piece]) -> None:
    """`dome off 20 min | , 40 min fri`, `potted 12 of lot 9 | , 8 more fri`, `watered lot 9 | , fert fri`: the next of
    its kind, on a day that the deed before it has not, in place.
    """
    for start, end in statements(pieces):
        told, said = pieces[:start], pieces[start:end]
        dated = any(map(_is_dated, told))
        if start and not dated and _is_more_to_come(told, said):
            keep_words(*said)


def _is_dated(piece: Piece) -> bool:
    """Whether a deed was told of a weekday or a date; beside "yesterday" a weekday is of something else."""
    return piece.kind == "moment" and piece.value.names_day and piece.value.days is None


def _is_more_to_come(told: list[Piece], said: list[Piece]) -> bool:
    if len(said) < _AT_LEAST or said[-1].kind != "moment" or not _is_weekday(said[-1]):
        return False
    before = said[: -1 - (said[-2].low == "on")]
    kinds = [piece.kind for piece in before]
    if kinds in (["duration"], ["number"]):
        return any(piece.kind == "duration" for piece in told)
    if len(before) == _AT_LEAST:
        return kinds[0] == "number" and before[1].low in _MORE
    return len(before) == 1 and _is_care(before[0])


def _is_care(piece: Piece) -> bool:
    """`fert`, `repotting`: the noun of a deed; a bare verb (`water fri`) is a wish."""
    word = piece.roles.get("noun")
    noun = word is not None and word.act in _CARE and "to_do" not in piece.roles
    return noun or piece.roles.get("solution") == "fertilizer"


def _may_go_back(told: list[Piece]) -> bool:
    return any("cover_noun" in piece.roles or _goes_back(piece) for piece in told)


def _goes_back(piece: Piece) -> bool:
    word = piece.roles.get("act") or piece.roles.get("noun") or piece.roles.get("shared")
    return word is not None and (word.rule == "put" or word.act in _GOES_BACK)


def _says_when(pieces: list[Piece], at: int, end: int) -> bool:
    """Whether words end with an hour, a day or the like (`at noon`, `by 11`, `for the day`)."""
    led = at < end and pieces[at].low in _LEADS
    rest = pieces[at + led : end]
    if not rest:
        return False
    hour = led and rest[0].kind == "number" and rest[0].value.whole is not None and rest[0].value.whole <= _LAST_HOUR
    timed = hour or rest[0].kind == "moment" or rest[0].low in _CLOSING
    return timed and all(piece.kind == "moment" or piece.low in _CLOSING | _LEADS for piece in rest[1:])


def _names_a_weekday(pieces: list[Piece], at: int, end: int) -> bool:
    """Whether words end with a weekday that may be to come (`on fri`)."""
    at += at < end and pieces[at].low in _LEADS
    return at + 1 == end and pieces[at].kind == "moment" and _is_weekday(pieces[at])


def _is_weekday(piece: Piece) -> bool:
    moment = piece.value
    return moment.weekday is not None and moment.day is None and moment.which not in ("last", "past")


@looks_for("for", beside=("=moment",))
def keep_days_of_events(pieces: list[Piece]) -> None:
    """`for the sale apr 17`, `for her party sat`: the day of what the deed was done for, in place."""
    for at, piece in enumerate(pieces):
        if piece.low != "for":
            continue
        event = next((to for to in range(at + 1, min(at + 1 + _LONGEST, len(pieces))) if _is_event(pieces[to])), None)
        if event is None or any(one.kind in ("break", "moment") for one in pieces[at:event]):
            continue
        if any("act" in one.roles and one.roles["act"].act == "reserve" for one in pieces[:at]):
            continue
        day = event + 1 + (event + 1 < len(pieces) and pieces[event + 1].low in _LEADS)
        if not is_end(pieces, day) and pieces[day].kind == "moment" and _may_be_to_come(pieces[day]):
            keep_words(*pieces[event + 1 : day + 1])


def _is_event(piece: Piece) -> bool:
    return piece.low.split(" ")[-1] in _EVENTS


def _may_be_to_come(piece: Piece) -> bool:
    return _is_weekday(piece) or (piece.value.month is not None and piece.value.day is not None)


@looks_for("@month", beside=_IN_MONTH)
def find_loose_months(pieces: list[Piece]) -> None:
    """`stuck 40 toyon back in june`: no one day, and not today, in place."""
    for at in range(1, len(pieces)):
        led = "month" in pieces[at].roles and pieces[at - 1].low in _IN_MONTH
        if led and any(is_act(piece) for piece in pieces[begin_of_statement(pieces, at) : at - 1]):
            pieces[at].kind, pieces[at].value, pieces[at].roles = "moment", Moment(loose=True), NO_ROLES


@looks_for(any_of=EVERY | {"on"}, beside=("=moment",))
def keep_repeated_days(pieces: list[Piece]) -> None:
    """`fed every friday since june`, `watered tray 3 on mondays`: no one day, in place."""
    for at in range(len(pieces) - 1):
        lead, day = pieces[at], pieces[at + 1]
        if lead.low in EVERY and day.low == "other" and at + 2 < len(pieces):
            day = pieces[at + 2]
        if day.kind != "moment" or day.value.weekday is None:
            continue
        if lead.low in EVERY or (lead.low == "on" and is_plural_day(day)):
            end = at + 1
            while end < len(pieces) and (pieces[end].kind == "moment" or pieces[end].low in ("and", "&", "other")):
                end += 1
            keep_words(*pieces[at:end])


@looks_for(any_of=_TONIGHT, beside=("=temp", *_WEATHER))
def keep_weather_tonight(pieces: list[Piece]) -> None:
    """`brought in lot 5, frost tonight`, `covered tray 3, 28f tonight`: what the night will be,
    beside a deed, in place.
    """
    for at in range(1, len(pieces)):
        weather, night = pieces[at - 1 : at + 1]
        lead = pieces[at - 2] if at > 1 else None
        opens = lead is None or lead.kind == "break"
        foretold = weather.low.removeprefix("the ") in _WEATHER and (lead is None or lead.low not in _HARMED_BY)
        foretold = foretold or (weather.kind == "temp" and opens)
        if night.low in _TONIGHT and foretold and any(map(is_act, pieces)):
            keep_words(weather, night)


KEEP_DAYS_OF_OTHERS: Final = (
    keep_weather_tonight,
    keep_repeated_days, keep_comings, keep_days_of_events, find_loose_months, keep_more_to_come,
)  # fmt: skip
