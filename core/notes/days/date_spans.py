"""Which days are told by more than a date: `monday last week`, `a week before last friday`, `first monday in june`.

Rules
1. What is said after a day moves it (`last week`, `before last`), or is the same day again (`sunday 17 may`).
2. What our arithmetic has no rule for, after a word that opens a date, is kept as said, for the door to dateparser.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import Any, Final

from core.lengths import Length
from core.notes.days.moments import Moment
from core.notes.words.number_words import WORD_VALUES
from core.notes.words.pieces import longest_phrase, words_of
from core.notes.words.tokens import Token
from core.vocabulary.loading import END, read_toml, split_words

_TABLE: Final = read_toml("date_words.toml")
OPENS: Final = frozenset(_TABLE["opens"])
ENDINGS: Final = frozenset(_TABLE["endings"])
LOOSE_STARTS: Final = frozenset(split_words(phrase)[0] for phrase in _TABLE["loose"])
_WEEK_OF: Final = {"last": -1, "this": 0, "next": 1, "past": -1, "coming": 1}
_MONTH_OF: Final = {"last": -1, "this": 0, "next": 1, "the": 0}
_MARKS: Final = frozenset({",", ".", "/", "-", "'"})
_SPANNED: Final = frozenset({"of", "the", "next", "last", "this", "month", "year"})


@cache
def _loose() -> dict[str, Any]:
    tree: dict[str, Any] = {}
    for phrase in _TABLE["loose"]:
        node = tree
        for word in split_words(phrase):
            node = node.setdefault(word, {})
        node[END] = {"loose": True}
    return tree


def loose_day(tokens: list[Token], at: int, tree: dict[str, Any]) -> tuple[Moment, int] | None:
    """The days named too loosely to be one (`over the weekend`), and where the words end."""
    if tokens[at].low not in _loose():
        return None
    found = longest_phrase(tokens, at, _loose())
    if found is None or (found[0] < len(tokens) and "weekday" in tree.get(tokens[found[0]].low, {}).get(END, {})):
        return None
    return Moment(loose=True), found[0]


def day_in_words(tokens: list[Token], at: int, tree: dict[str, Any]) -> tuple[int, int] | None:
    """A day of the month as a rank (`3rd`, `third`, `twenty first`), and where it ends."""
    if at >= len(tokens):
        return None
    token = tokens[at]
    if token.kind == "number":
        follows = at + 1 < len(tokens) and tokens[at + 1].low in ENDINGS and tokens[at + 1].glued
        day = token.value if isinstance(token.value, int) and follows else 0
        return (day, at + 2) if 1 <= day <= 31 else None
    rank = _rank(token, tree)
    if rank:
        return rank, at + 1
    step = at + 2 if at + 1 < len(tokens) and tokens[at + 1].low == "-" else at + 1
    if WORD_VALUES.get(token.low, 0) in (20, 30) and step < len(tokens):
        ones = _rank(tokens[step], tree)
        if 0 < ones < 10 and WORD_VALUES[token.low] + ones <= 31:
            return WORD_VALUES[token.low] + ones, step + 1
    return None


def _rank(token: Token, tree: dict[str, Any]) -> int:
    return int(tree.get(token.low, {}).get(END, {}).get("ordinal", 0))


def ranked_day(tokens: list[Token], at: int, tree: dict[str, Any], *, opened: bool) -> tuple[Moment, int] | None:
    """`third of may`, `the 5th of next month`, `the first monday in june`; where a date was opened also `the third`."""
    start = at
    if tokens[at].low == "the":
        at += 1
    if at < len(tokens) and tokens[at].low == "last":
        return _nth_weekday(tokens, at + 1, -1, tree) or _last_day(tokens, at + 1, tree)
    found = day_in_words(tokens, at, tree)
    if found is None:
        return None
    day, end = found
    weekday = _nth_weekday(tokens, end, day, tree) if day <= 5 else None
    if weekday is not None:
        return weekday
    if end < len(tokens) and tokens[end].low in ("of", "in"):
        month = _month(tokens, end + 1, tree)
        if month is not None:
            return replace(month[0], day=day), month[1]
    phrase = longest_phrase(tokens, end, tree) if end < len(tokens) else None
    if phrase is not None and "month" in phrase[1] and tokens[at].kind == "word":
        return Moment(month=int(phrase[1]["month"]), day=day), phrase[0]
    closes = end >= len(tokens) or tokens[end].kind in ("line", "mark") or tokens[end].low in ("at", "and", "to")
    if tokens[at].kind == "word" and opened and at > start and closes:
        return Moment(day=day), end
    return None


def _month(tokens: list[Token], at: int, tree: dict[str, Any]) -> tuple[Moment, int] | None:
    """A month named, or told from this one (`next month`), without its day."""
    if at >= len(tokens):
        return None
    if tokens[at].low in _MONTH_OF and at + 1 < len(tokens) and tokens[at + 1].low == "month":
        step = _MONTH_OF[tokens[at].low]
        return (Moment() if tokens[at].low == "the" else Moment(months=step)), at + 2
    phrase = longest_phrase(tokens, at, tree)
    if phrase is not None and "month" in phrase[1]:
        return Moment(month=int(phrase[1]["month"])), phrase[0]
    return None


def _nth_weekday(tokens: list[Token], at: int, nth: int, tree: dict[str, Any]) -> tuple[Moment, int] | None:
    phrase = longest_phrase(tokens, at, tree) if at < len(tokens) else None
    if phrase is None or "weekday" not in phrase[1] or phrase[0] >= len(tokens):
        return None
    if tokens[phrase[0]].low not in ("in", "of"):
        return None
    month = _month(tokens, phrase[0] + 1, tree)
    if month is None:
        return None
    told = month[0] if month[0].month or month[0].months is not None else Moment(months=0)
    return replace(told, weekday=int(phrase[1]["weekday"]), nth=nth), month[1]


def _last_day(tokens: list[Token], at: int, tree: dict[str, Any]) -> tuple[Moment, int] | None:
    if at + 1 >= len(tokens) or tokens[at].low != "day" or tokens[at + 1].low not in ("of", "in"):
        return None
    month = _month(tokens, at + 2, tree)
    return (replace(month[0], month_end=True), month[1]) if month is not None else None


def weekday_of_week(tokens: list[Token], at: int, tree: dict[str, Any]) -> tuple[Moment, int] | None:
    """`last week monday`, `next week fri`."""
    if tokens[at].low not in _WEEK_OF or at + 2 >= len(tokens) or tokens[at + 1].low not in ("week", "wk"):
        return None
    place = at + 2 + (tokens[at + 2].low in ("on", "'s"))
    phrase = longest_phrase(tokens, place, tree) if place < len(tokens) else None
    if phrase is None or "weekday" not in phrase[1]:
        return None
    return Moment(weekday=int(phrase[1]["weekday"]), weeks=_WEEK_OF[tokens[at].low]), phrase[0]


def moved(tokens: list[Token], moment: Moment, end: int) -> tuple[Moment, int]:
    """The weekday with what is said after it: `last week`, `before last`, `after next`, `week`."""
    if moment.weekday is None or moment.day is not None or moment.nth is not None or end >= len(tokens):
        return moment, end
    lows = [token.low for token in tokens[end : end + 3]]
    if lows[0] == "of" and len(lows) > 2:
        lows, end = lows[1:], end + 1
    if len(lows) > 1 and lows[0] in _WEEK_OF and lows[1] in ("week", "wk"):
        return replace(moment, weeks=_WEEK_OF[lows[0]], which=""), end + 2
    if lows[:2] == ["before", "last"]:
        return replace(moment, which="last", shift=-7), end + 2
    if lows[:2] == ["after", "next"]:
        return replace(moment, which="next", shift=7), end + 2
    if lows[0] == "last" and (len(lows) == 1 or lows[1] in _MARKS or lows[1] == "\n"):
        return replace(moment, which="last"), end + 1
    if lows[0] in ("week", "wk") and not moment.which:
        return replace(moment, shift=7), end + 1
    return moment, end


def from_other_day(tokens: list[Token], length: Length | None, end: int, read: Any) -> tuple[Moment, int] | None:
    """`a week before last friday`, `two weeks from monday`, `a week ago tuesday`: so long from another day."""
    if length is None or length.seconds or length.months or end + 1 >= len(tokens):
        return None
    joint = tokens[end].low
    if length.days % 7 == 0 and tokens[end - 1].low.startswith("w"):
        week = read(end)
        if week is not None and week[0].weekday is not None and week[0].day is None and week[0].hour is None:
            back = week[0].which == "last"
            return replace(week[0], shift=week[0].shift + (-length.days if back else length.days)), week[1]
    if joint not in ("before", "after", "from", "ago", "past"):
        return None
    place = end + 1 + (joint == "ago" and tokens[end + 1].low in ("on", "this", "last"))
    other = read(place) if place < len(tokens) else None
    if other is None or not other[0].names_day or other[0].hour is not None or other[0].said:
        return None
    if joint == "ago" and (other[0].weekday is None or other[0].day is not None):
        return None
    if joint == "from" and other[0].day is not None:
        return None
    back = joint in ("before", "ago")
    return replace(other[0], shift=other[0].shift + (-length.days if back else length.days)), other[1]


def written_out(tokens: list[Token], at: int, tree: dict[str, Any]) -> tuple[Moment, int] | None:
    """The run of date words and figures after a word that opens a date, kept as said; None where it names no date."""
    end = at
    dotted = tokens[at : at + 2]
    if [token.kind for token in dotted] == ["number", "number"] and dotted[1].low[0] == "." and dotted[1].glued:
        return Moment(loose=True), at + 2  # 3.5.26: the third of May, or the fifth of March?
    while end < len(tokens) and _spanned(tokens, end, at, tree):
        end += 1
    if end > at + 1 and _counts(tokens, end, tree):
        end -= 1
    while end > at and (tokens[end - 1].low in _MARKS or tokens[end - 1].low in _SPANNED - {"month", "year"}):
        end -= 1
    span = tokens[at:end]
    figures = sum(token.kind in ("number", "fraction", "iso", "slashes", "lot") for token in span)
    named = any("month" in tree.get(token.low, {}).get(END, {}) for token in span)
    whole = any(token.kind in ("iso", "slashes") for token in span)
    glued = sum(token.low in ("-", "/") and token.glued for token in span)
    if not (whole or (named and figures) or (figures > 1 and glued + any(t.kind == "fraction" for t in span) > 1)):
        return None
    return Moment(said=words_of(tokens, at, end)), end


def _counts(tokens: list[Token], end: int, tree: dict[str, Any]) -> bool:
    """Whether the last figure of a span is rather the count of what follows it."""
    last = tokens[end - 1]
    if last.kind not in ("number", "fraction", "lot") or len(last.low) == 4 or last.glued:
        return False
    return tokens[end - 2].low == "," or (end < len(tokens) and tokens[end].kind == "word")


def _spanned(tokens: list[Token], place: int, start: int, tree: dict[str, Any]) -> bool:
    token = tokens[place]
    if token.kind in ("number", "fraction", "iso", "slashes", "lot"):
        return True
    if token.low in _MARKS:
        return token.glued or (place > start and token.low == "'")
    leaf = tree.get(token.low, {}).get(END, {})
    if token.low in ENDINGS:
        return token.glued
    return token.low in _SPANNED or "month" in leaf or "weekday" in leaf


def month_end(tokens: list[Token], at: int, tree: dict[str, Any]) -> tuple[Moment, int] | None:
    """`end of the month`, `end of may`: the last day of a month, and where its words end."""
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
