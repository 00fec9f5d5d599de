"""Which words name a day or an hour: the forms in which volunteers write dates, found among the tokens of a note.

Rules
1. A bare number is never a date: a month, a weekday, `ago`, `in`, `at`, `by`, `the 3rd`, `9am` or `2:40` makes it one.
2. `sun`, `sat`, `mon`, `wed`, `mar`, `may` and `dec` are dates only where the words beside them say so.
"""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any, Final

from core.entries import WEEKDAYS
from core.lengths import Length
from core.notes.days.after_numbers import may_go_on
from core.notes.days.clocks import clock_of_colon, half_of_day
from core.notes.days.date_spans import (
    ENDINGS,
    OPENS,
    day_in_words,
    from_other_day,
    loose_day,
    month_end,
    moved,
    ranked_day,
    weekday_of_week,
    written_out,
)
from core.notes.days.moments import Moment
from core.notes.days.shy_days import beside_date, deed_follows, heads_line, is_tom
from core.notes.words.number_words import read_plain
from core.notes.words.pieces import longest_phrase
from core.notes.words.tokens import Token
from core.vocabulary.loading import read_toml

_TABLE: Final = read_toml("date_words.toml")
_SHY: Final = frozenset(_TABLE["shy"])
_DOTTED_HOUR: Final = re.compile(r"(1[0-2]|[1-9])\.([0-5]\d)")
_ORDINALS: Final = ENDINGS
_AFTER_DAY: Final = frozenset(_TABLE["after"])
_PARTS: Final = frozenset(_TABLE["parts"])
_FORENOON: Final = frozenset(_TABLE["forenoon"])
_LATER: Final = frozenset(_TABLE["later"])
_RANKED: Final = frozenset(_TABLE["ranked"])
_PUT_BACK: Final = frozenset(_TABLE["put_back"])
_SUBJECTS: Final = frozenset(_TABLE["before_subjects"])
_THINGS: Final = ("container", "thing", "duration", "plant", "cover_noun")


def _lengths_of(value: float, unit: str) -> Length | None:
    whole = int(value)
    try:
        match unit:
            case "months":
                return Length(months=whole) if whole == value else Length(days=round(value * 30))
            case "weeks":
                return Length(days=round(value * 7))
            case "fortnights":
                return Length(days=round(value * 14))
            case "days":
                return Length(days=whole) if whole == value else Length(seconds=round(value * 86400))
            case "hours":
                return Length(seconds=round(value * 3600))
            case "minutes":
                return Length(seconds=round(value * 60))
            case _:
                return Length(seconds=round(value))
    except Exception:
        return None


def length_of(value: float, unit: str) -> Length | None:
    """A length of `value` units (`seconds minutes hours days weeks fortnights months`); None for nothing or more than
    ten years.
    """
    return _lengths_of(value, unit) if 0 < value < 10**8 else None


def read_moment(tokens: list[Token], at: int, tree: dict[str, Any]) -> tuple[Moment, int] | None:
    """The day or hour that is named at a place, and where its words end; None where none is."""
    opened = at > 0 and tokens[at - 1].low in OPENS
    if tokens[at].kind == "number" and not opened and not may_go_on(tokens, at + 1):
        return None
    found = (
        loose_day(tokens, at, tree)
        or weekday_of_week(tokens, at, tree)
        or ranked_day(tokens, at, tree, opened=opened)
        or _one_moment(tokens, at, tree)
    )
    if found is not None:
        found = _same_day(tokens, *moved(tokens, *found), tree)
    if opened:
        span = written_out(tokens, at, tree)
        if span is not None and (found is None or span[1] > found[1]):
            return span
    return found


def _same_day(tokens: list[Token], moment: Moment, end: int, tree: dict[str, Any]) -> tuple[Moment, int]:
    """`sunday 17 may`, `sun 5/17`, `friday the 8th`: a weekday and the date that it falls on."""
    if moment.weekday is None or moment.day is not None or moment.shift or moment.weeks is not None:
        return moment, end
    place = end + (end < len(tokens) and tokens[end].low == "," and tokens[end].glued)
    if moment.nth is not None or place >= len(tokens):
        return moment, end
    token = tokens[place]
    if token.kind == "fraction":
        month, day = token.value
        counts = place + 1 < len(tokens) and tokens[place + 1].kind == "word"
        if counts or place > end or not (1 <= month <= 12 and 1 <= day <= 31):
            return moment, end
        return replace(moment, month=month, day=day, which=""), place + 1
    other = ranked_day(tokens, place, tree, opened=False) or _one_moment(tokens, place, tree)
    if other is None or other[0].day is None or other[0].nth is not None or other[0].weekday is not None:
        return moment, end
    if place > end and other[0].month is None:
        return moment, end
    return replace(other[0], weekday=moment.weekday), other[1]


def _one_moment(tokens: list[Token], at: int, tree: dict[str, Any]) -> tuple[Moment, int] | None:
    start = at
    first = tokens[at]
    if first.kind == "iso":
        year, month, day = (int(part) for part in first.low.split("-"))
        return _iso_clock(tokens, Moment(year=year, month=month, day=day), at + 1)
    if first.kind == "slashes":
        month, day, year = (int(part) for part in first.low.split("/"))
        return Moment(year=year + 2000 if year < 100 else year, month=month, day=day), at + 1
    which = ""
    if first.low in ("last", "this"):
        phrase = longest_phrase(tokens, at, tree)
        if phrase is not None and "day" in phrase[1]:
            return _part_of_day(tokens, Moment(days=int(phrase[1]["day"])), at, phrase[0])
    if first.low in ("last", "next", "this", "coming", "past") and at + 1 < len(tokens):
        which, at = first.low, at + 1
    if which == "this" and tokens[at].low in ("coming", "past") and at + 1 < len(tokens):
        which, at = tokens[at].low, at + 1
    if tokens[at].kind == "word":
        found = _worded_day(tokens, at, which, start, tree)
        if found is not None:
            return found
    if which:
        return None
    if first.kind == "colon":
        return clock_of_colon(tokens, at)
    if first.kind in ("number", "word"):
        return _numbered(tokens, at, tree)
    return None


def _iso_clock(tokens: list[Token], day: Moment, end: int) -> tuple[Moment, int]:
    """`2026-05-03T15:00`, `2026-05-03 15:00`: the hour that stands right at a date."""
    if end + 1 < len(tokens) and tokens[end].low == "t" and tokens[end].glued and tokens[end + 1].kind == "colon":
        clock = clock_of_colon(tokens, end + 1)
        if clock is not None:
            return replace(day, hour=clock[0].hour, minute=clock[0].minute, half="24"), clock[1]
    if end < len(tokens) and tokens[end].kind == "colon":
        clock = clock_of_colon(tokens, end)
        if clock is not None:
            return replace(day, hour=clock[0].hour, minute=clock[0].minute, half="24"), clock[1]
    return day, end


def _part_of_day(tokens: list[Token], moment: Moment, at: int, end: int) -> tuple[Moment, int]:
    """The day with the half of it that its words tell (`tonight`, `yesterday morning`)."""
    lows = {token.low for token in tokens[at:end]}
    part = "pm" if lows & _LATER else "am" if lows & _FORENOON else ""
    return (replace(moment, part=part) if part else moment), end


def _worded_day(
    tokens: list[Token], at: int, which: str, start: int, tree: dict[str, Any]
) -> tuple[Moment, int] | None:
    phrase = longest_phrase(tokens, at, tree)
    low = tokens[at].low
    if (low in ("the", "a", "an") and phrase is None) or low in ("the", "a", "an"):
        return _article_day(tokens, at, tree, phrase)
    if low in ("end", "eom"):
        return month_end(tokens, at, tree)
    if phrase is None:
        return None
    end, leaf = phrase
    if "weekday" in leaf and (which or low not in _SHY or beside_date(tokens, at, end, tree)):
        day = Moment(weekday=int(leaf["weekday"]), which="last" if which in ("last", "past") else which)
        begun = end
        end += end < len(tokens) and tokens[end].low in _PARTS
        return _part_of_day(tokens, day, begun, end)
    if "day" in leaf and not which:
        if low == "tom" and (start == 0 or is_tom(tokens, at, end, tree)):
            return None
        return _part_of_day(tokens, Moment(days=int(leaf["day"])), at, end)
    if "feast" in leaf:
        named = leaf["feast"].split("-", 2)
        if len(named) > 2:
            return Moment(month=int(named[0]), weekday=WEEKDAYS.index(named[1]), nth=int(named[2])), end
        year, end = _year_after(tokens, end)
        return Moment(month=int(named[0]), day=int(named[1]), year=year), end
    if "hour" in leaf and not which:
        return Moment(hour=int(leaf["hour"]), half="24"), end
    if "month" in leaf:
        place = end
        if end + 1 < len(tokens) and tokens[end].low in (".", "-") and tokens[end].glued:
            short = low not in ("may", "june", "july") and len(low) <= 4 and _ranked(tokens, end + 1)
            place += short if tokens[end].low == "." else tokens[end + 1].glued
        number = _day_number(tokens, place) or _rank_after(tokens, place, tree)
        number = number or _no_such_day(tokens, at, place, tree)
        if number is not None:
            year, last = _year_after(tokens, number[1])
            return Moment(month=int(leaf["month"]), day=number[0], year=year), last
    return None


def _article_day(tokens: list[Token], at: int, tree: dict[str, Any], phrase: Any) -> tuple[Moment, int] | None:
    if phrase is not None and "day" in phrase[1]:
        return Moment(days=int(phrase[1]["day"])), phrase[0]
    if at + 1 >= len(tokens):
        return None
    following = tokens[at + 1]
    if following.kind == "number" and at + 2 < len(tokens) and tokens[at + 2].low in _ORDINALS and tokens[at + 2].glued:
        return _ordinal(tokens, at + 1, tree) if not _ranks_a_thing(tokens, at, at + 3, tree) else None
    if following.low == "end":
        return month_end(tokens, at + 1, tree)
    weekday = tree.get(following.low, {}).get("", {}).get("weekday")
    if tokens[at].low == "the" and weekday is not None:
        day = Moment(weekday=int(weekday))
        told = moved(tokens, day, at + 2)
        return told if told[0] is not day else None
    unit = longest_phrase(tokens, at + 1, tree)
    until = unit is not None and unit[0] < len(tokens) and tokens[unit[0]].low in ("before", "after")
    if unit is not None and "duration" in unit[1] and (tokens[at].low in ("a", "an") or until):
        return _ago(tokens, length_of(1, unit[1]["duration"]), unit[0], tree)
    if tokens[at].low == "a" and following.low in ("couple", "few"):
        place = at + 2 + (at + 2 < len(tokens) and tokens[at + 2].low == "of")
        unit = longest_phrase(tokens, place, tree) if place < len(tokens) else None
        if following.low == "couple" and unit is not None and "duration" in unit[1]:
            return _ago(tokens, length_of(2, unit[1]["duration"]), unit[0], tree)
    return None


def _ranks_a_thing(tokens: list[Token], at: int, end: int, tree: dict[str, Any]) -> bool:
    """`the 2nd tray`, `the 3rd batch`, `the 1st 10`: a rank of something, no day."""
    if end < len(tokens) and tokens[end].kind == "number" and (at == 0 or tokens[at - 1].low not in OPENS):
        return True
    if end >= len(tokens) or tokens[end].kind != "word":
        return False
    leaf = (longest_phrase(tokens, end, tree) or (0, {}))[1]
    if tokens[end].low in _RANKED or not leaf.keys().isdisjoint(_THINGS):
        return True
    opened = at > 0 and tokens[at - 1].low in OPENS
    return not opened and leaf.keys().isdisjoint(("act", "shared", "filler", "month", "part_of_day"))


def _ago(tokens: list[Token], length: Length | None, end: int, tree: dict[str, Any]) -> tuple[Moment, int] | None:
    if length is None:
        return None
    other = from_other_day(tokens, length, end, lambda place: read_moment(tokens, place, tree))
    if other is not None:
        return other
    put_back = length.seconds and end + 1 < len(tokens) and tokens[end + 1].low in _PUT_BACK
    if end < len(tokens) and (tokens[end].low == "ago" or (tokens[end].low == "back" and not put_back)):
        return Moment(ago=length), end + 1
    if end + 1 < len(tokens) and tokens[end].low == "from" and tokens[end + 1].low in ("now", "today"):
        return Moment(ahead=length), end + 2
    return None


def _ranked(tokens: list[Token], at: int) -> bool:
    """Whether a figure is a day of the month by its ending, or by what stands after it."""
    if tokens[at].kind != "number":
        return False
    return _closes_date(tokens, at + 1) or tokens[at + 1].low in _ORDINALS


def _rank_after(tokens: list[Token], at: int, tree: dict[str, Any]) -> tuple[int, int] | None:
    place = at + (at < len(tokens) and tokens[at].low == "the")
    return day_in_words(tokens, place, tree)


def _day_number(tokens: list[Token], at: int) -> tuple[int, int] | None:
    if at < len(tokens) and tokens[at].low == "the":
        at += 1
    if at >= len(tokens) or tokens[at].kind != "number" or not isinstance(tokens[at].value, int):
        return None
    day = tokens[at].value
    if not 1 <= day <= 31:
        return None
    if at + 1 < len(tokens) and tokens[at + 1].low in _ORDINALS and tokens[at + 1].glued:
        return day, at + 2
    if at + 1 < len(tokens) and tokens[at + 1].glued and tokens[at + 1].kind == "word":
        return None
    return day, at + 1


def _no_such_day(tokens: list[Token], at: int, place: int, tree: dict[str, Any]) -> tuple[int, int] | None:
    """`aug 32 misted tray 4`: a day that no month has, between the month that heads the line and a deed."""
    if not heads_line(tokens, at, tree) or place + 1 >= len(tokens) or not isinstance(tokens[place].value, int):
        return None
    beyond = tokens[place].kind == "number" and len(tokens[place].low) == 2 and tokens[place].value > 31
    return (tokens[place].value, place + 1) if beyond and deed_follows(tokens, place + 1, tree) else None


def _year_after(tokens: list[Token], at: int) -> tuple[int | None, int]:
    place = at + 1 if at + 1 < len(tokens) and tokens[at].low == "," else at
    if at + 1 < len(tokens) and tokens[at].low == "'" and tokens[at + 1].glued and len(tokens[at + 1].low) == 2:
        year = tokens[at + 1].value
        return (2000 + year, at + 2) if isinstance(year, int) else (None, at)
    if place < len(tokens) and tokens[place].kind == "number" and isinstance(tokens[place].value, int):
        year = tokens[place].value
        if 1990 <= year <= 9999 and len(tokens[place].low) == 4:
            return year, place + 1
    return None, at


def _ordinal(tokens: list[Token], at: int, tree: dict[str, Any]) -> tuple[Moment, int] | None:
    day = tokens[at].value
    if not isinstance(day, int) or not 1 <= day <= 31:
        return None
    end = at + 2
    place = end + 1 if end < len(tokens) and tokens[end].low == "of" else end
    phrase = longest_phrase(tokens, place, tree) if place < len(tokens) else None
    if phrase is not None and "month" in phrase[1]:
        year, end = _year_after(tokens, phrase[0])
        return Moment(month=int(phrase[1]["month"]), day=day, year=year), end
    return Moment(day=day), end


def _numbered(tokens: list[Token], at: int, tree: dict[str, Any]) -> tuple[Moment, int] | None:
    """Dates that begin with a number: `9am`, `5 mar`, `3rd of june`, `2 weeks ago`."""
    found = read_plain(tokens, at)
    if found is None or found[1] >= len(tokens):
        return None
    value, end, _ = found
    token = tokens[end]
    whole = int(value) if value == int(value) else None
    half = half_of_day(tokens, end)
    dotted = _DOTTED_HOUR.fullmatch(tokens[at].low) if half is not None and end == at + 1 else None
    if half is not None and dotted is not None:
        return Moment(hour=int(dotted[1]), minute=int(dotted[2]), half=half[0]), half[1]
    if half is not None and whole is not None and 1 <= whole <= 12:
        return Moment(hour=whole, half=half[0]), half[1]
    if token.low in _ORDINALS and token.glued and whole is not None:
        if end + 1 < len(tokens) and (
            tokens[end + 1].low == "of" or "month" in (longest_phrase(tokens, end + 1, tree) or (0, {}))[1]
        ):
            return _ordinal(tokens, at, tree)
        begins = at == 0 or tokens[at - 1].kind in ("line", "mark") or tokens[at - 1].low in OPENS
        closes = end + 1 >= len(tokens) or tokens[end + 1].kind in ("line", "mark")
        return _ordinal(tokens, at, tree) if begins and closes else None
    if token.low == "-" and token.glued and end + 1 < len(tokens) and tokens[end + 1].glued:
        end, token = end + 1, tokens[end + 1]
        if "month" not in tree.get(token.low, {}).get("", {}):
            return None
    phrase = longest_phrase(tokens, end, tree)
    if phrase is None:
        return None
    if "month" in phrase[1] and whole is not None and 1 <= whole <= 31 and tokens[at].kind == "number":
        shy = token.low in ("may", "mar", "sep") and tokens[end - 1].low != "-"
        if shy and not _ends_day(tokens, at, phrase[0], tree):
            return None
        year, last = _year_after(tokens, phrase[0])
        return Moment(month=int(phrase[1]["month"]), day=whole, year=year), last
    if "duration" in phrase[1] and phrase[0] < len(tokens):
        return _ago(tokens, length_of(value, phrase[1]["duration"]), phrase[0], tree)
    return None


def _ends_day(tokens: list[Token], at: int, end: int, tree: dict[str, Any]) -> bool:
    """`stuck 60 sage 9 mar tray 4`, `9 may tray 4`: a day by what stands behind it; `9 may have rooted` not."""
    if _closes_date(tokens, end) or _heads_deed(tokens, at, end, tree):
        return True
    if tokens[end - 1].low == "may":
        return tokens[end].low in _SUBJECTS
    leaf = (longest_phrase(tokens, end, tree) or (0, {}))[1]
    return tokens[end].low in tree and leaf.keys().isdisjoint(("plant", "cutting", "what"))


def _heads_deed(tokens: list[Token], at: int, end: int, tree: dict[str, Any]) -> bool:
    """`on 15 may stuck 40`, `15 may stuck 40`: a day that was opened or heads its line, right before a deed."""
    headed = at == 0 or tokens[at - 1].low in OPENS or tokens[at - 1].kind in ("line", "mark")
    deed = tree.get(tokens[end].low, {}).get("", {}) if end < len(tokens) else {}
    return headed and ("act" in deed or "shared" in deed)


def _closes_date(tokens: list[Token], end: int) -> bool:
    return end >= len(tokens) or tokens[end].low in _AFTER_DAY or tokens[end].kind in ("number", "line")
