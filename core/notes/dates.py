"""Which words name a day or an hour: the forms in which volunteers write dates, found among the tokens of a note.

Rules
1. A bare number is never a date: a month, a weekday, `ago`, `in`, `at`, `by`, `the 3rd`, `9am` or `2:40` makes it one.
2. `sun`, `sat`, `mon`, `wed`, `mar`, `may` and `dec` are dates only where the words beside them say so.
"""

from __future__ import annotations

from typing import Any, Final

from core.lengths import Length
from core.notes.moments import Moment
from core.notes.number_words import WORD_VALUES, read_plain
from core.notes.pieces import longest_phrase
from core.notes.tokens import Token

_TRIGGERS: Final = frozenset(
    {
        "last",
        "on",
        "this",
        "next",
        "by",
        "until",
        "till",
        "since",
        "every",
        "coming",
        "from",
        "thru",
        "past",
        "due",
        "before",
        "for",
    }
)
_SHY: Final = frozenset({"sun", "sat", "mon", "wed", "may", "mar", "dec", "march"})
_ORDINALS: Final = frozenset({"st", "nd", "rd", "th"})
_AFTER_DAY: Final = frozenset(
    {
        ",",
        ".",
        ";",
        ":",
        "\n",
        "!",
        "?",
        "-",
        "am",
        "pm",
        "morning",
        "afternoon",
        "evening",
        "at",
        "and",
        "&",
        ")",
        "by",
    }
)
_PARTS: Final = frozenset({"morning", "afternoon", "evening", "night", "am", "pm"})


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
    start = at
    first = tokens[at]
    if first.kind == "iso":
        year, month, day = (int(part) for part in first.low.split("-"))
        return Moment(year=year, month=month, day=day), at + 1
    if first.kind == "slashes":
        month, day, year = (int(part) for part in first.low.split("/"))
        return Moment(year=year + 2000 if year < 100 else year, month=month, day=day), at + 1
    which = ""
    if first.low in ("last", "this"):
        phrase = longest_phrase(tokens, at, tree)
        if phrase is not None and "day" in phrase[1]:
            return Moment(days=int(phrase[1]["day"])), phrase[0]
    if first.low in ("last", "next", "this", "coming", "past") and at + 1 < len(tokens):
        which, at = first.low, at + 1
    if tokens[at].kind == "word":
        found = _worded_day(tokens, at, which, start, tree)
        if found is not None:
            return found
    if which:
        return None
    if first.kind == "colon":
        return _clock_of_colon(tokens, at)
    if first.kind in ("number", "word"):
        return _numbered(tokens, at, tree)
    return None


def _worded_day(
    tokens: list[Token], at: int, which: str, start: int, tree: dict[str, Any]
) -> tuple[Moment, int] | None:
    phrase = longest_phrase(tokens, at, tree)
    low = tokens[at].low
    if (low in ("the", "a", "an") and phrase is None) or low in ("the", "a", "an"):
        return _article_day(tokens, at, tree, phrase)
    if low in ("end", "eom"):
        return _month_end(tokens, at, tree)
    if phrase is None:
        return None
    end, leaf = phrase
    if "weekday" in leaf and (which or low not in _SHY or _beside_date(tokens, at, end)):
        weekday = int(leaf["weekday"])
        if end < len(tokens) and tokens[end].low in _PARTS and tokens[end].low not in ("am", "pm"):
            end += 1
        return Moment(weekday=weekday, which="last" if which in ("last", "past") else which), end
    if "day" in leaf and not which:
        if low == "tom" and start == 0:
            return None
        return Moment(days=int(leaf["day"])), end
    if "hour" in leaf and not which:
        return Moment(hour=int(leaf["hour"]), half="24"), end
    if "month" in leaf:
        day = _day_number(tokens, end)
        if day is not None:
            year, last = _year_after(tokens, day[1])
            return Moment(month=int(leaf["month"]), day=day[0], year=year), last
    return None


def _beside_date(tokens: list[Token], at: int, end: int) -> bool:
    before = tokens[at - 1].low if at else ""
    after = tokens[end].low if end < len(tokens) else ","
    if before in ("the", "full", "some", "partial", "hot", "direct", "much", "afternoon", "in"):
        return False
    if at == 0 and after in ("we", "i", "ana"):
        return True
    return before in _TRIGGERS or after in _AFTER_DAY or (end < len(tokens) and tokens[end].kind in ("number", "colon"))


def _article_day(tokens: list[Token], at: int, tree: dict[str, Any], phrase: Any) -> tuple[Moment, int] | None:
    if phrase is not None and "day" in phrase[1]:
        return Moment(days=int(phrase[1]["day"])), phrase[0]
    if at + 1 >= len(tokens):
        return None
    following = tokens[at + 1]
    if following.kind == "number" and at + 2 < len(tokens) and tokens[at + 2].low in _ORDINALS and tokens[at + 2].glued:
        return _ordinal(tokens, at + 1, tree)
    if following.low == "end":
        return _month_end(tokens, at + 1, tree)
    unit = longest_phrase(tokens, at + 1, tree)
    if tokens[at].low in ("a", "an") and unit is not None and "duration" in unit[1]:
        return _ago(tokens, length_of(1, unit[1]["duration"]), unit[0], at)
    if tokens[at].low == "a" and following.low in ("couple", "few"):
        place = at + 2 + (at + 2 < len(tokens) and tokens[at + 2].low == "of")
        unit = longest_phrase(tokens, place, tree) if place < len(tokens) else None
        if following.low == "couple" and unit is not None and "duration" in unit[1]:
            return _ago(tokens, length_of(2, unit[1]["duration"]), unit[0], at)
    return None


def _ago(tokens: list[Token], length: Length | None, end: int, at: int) -> tuple[Moment, int] | None:
    if length is None:
        return None
    if end < len(tokens) and tokens[end].low in ("ago", "back"):
        return Moment(ago=length), end + 1
    if end + 1 < len(tokens) and tokens[end].low == "from" and tokens[end + 1].low in ("now", "today"):
        return Moment(ahead=length), end + 2
    return None


def _month_end(tokens: list[Token], at: int, tree: dict[str, Any]) -> tuple[Moment, int] | None:
    place = at + 1
    if place < len(tokens) and tokens[place].low == "of":
        place += 1
    while place < len(tokens) and tokens[place].low in ("the", "this"):
        place += 1
    if place >= len(tokens) or place == at + 1:
        return None
    if tokens[place].low == "month":
        return Moment(month_end=True), place + 1
    phrase = longest_phrase(tokens, place, tree)
    if phrase is not None and "month" in phrase[1]:
        return Moment(month_end=True, month=int(phrase[1]["month"])), phrase[0]
    return None


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


def _year_after(tokens: list[Token], at: int) -> tuple[int | None, int]:
    place = at + 1 if at + 1 < len(tokens) and tokens[at].low == "," else at
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
    if token.low in ("am", "pm", "a.m", "p.m") and whole is not None and 1 <= whole <= 12:
        return Moment(hour=whole, half=token.low[:1] + "m"), end + 1
    if token.low in _ORDINALS and token.glued and whole is not None:
        if end + 1 < len(tokens) and (
            tokens[end + 1].low == "of" or "month" in (longest_phrase(tokens, end + 1, tree) or (0, {}))[1]
        ):
            return _ordinal(tokens, at, tree)
        return None
    phrase = longest_phrase(tokens, end, tree)
    if phrase is None:
        return None
    if "month" in phrase[1] and whole is not None and 1 <= whole <= 31 and tokens[at].kind == "number":
        if token.low in ("may", "mar", "sep") and not _closes_date(tokens, phrase[0]):
            return None
        year, last = _year_after(tokens, phrase[0])
        return Moment(month=int(phrase[1]["month"]), day=whole, year=year), last
    if "duration" in phrase[1] and phrase[0] < len(tokens):
        return _ago(tokens, length_of(value, phrase[1]["duration"]), phrase[0], at)
    return None


def _closes_date(tokens: list[Token], end: int) -> bool:
    return end >= len(tokens) or tokens[end].low in _AFTER_DAY or tokens[end].kind in ("number", "line")


def _clock_of_colon(tokens: list[Token], at: int) -> tuple[Moment, int] | None:
    hour, minute = tokens[at].value
    if (
        not isinstance(hour, int)
        or not isinstance(minute, int)
        or hour > 23
        or minute > 59
        or len(tokens[at].low.split(":")[1]) != 2
    ):
        return None
    if at + 1 < len(tokens) and tokens[at + 1].low in ("am", "pm") and 1 <= hour <= 12:
        return Moment(hour=hour, minute=minute, half=tokens[at + 1].low), at + 2
    return Moment(
        hour=hour, minute=minute, half="24" if len(tokens[at].low) == 5 and tokens[at].low[0] == "0" else ""
    ), at + 1


def read_hour_after_at(tokens: list[Token], at: int) -> tuple[Moment, int] | None:
    """The hour in `at 3`, `at 14:00`, `around 9`, from the word after it; None where the number is something else."""
    token = tokens[at]
    if token.kind == "colon":
        return _clock_of_colon(tokens, at)
    value = token.value if token.kind == "number" else WORD_VALUES.get(token.low)
    if not isinstance(value, int) or not 1 <= value <= 12:
        return None
    if at + 1 < len(tokens):
        following = tokens[at + 1]
        if following.low in ("am", "pm"):
            return Moment(hour=value, half=following.low), at + 2
        if following.kind == "word" and following.low not in (
            "today",
            "yesterday",
            "and",
            "by",
            "on",
            "this",
            "for",
            "then",
            "sharp",
            "oclock",
            "o'clock",
        ):
            return None
        if following.low in ("%", "-", "°", '"', "/"):
            return None
        if following.low in ("oclock", "o'clock", "sharp"):
            return Moment(hour=value), at + 2
    return Moment(hour=value), at + 1
