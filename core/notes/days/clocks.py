"""Which hour is named: `3pm`, `8:15 a.m.`, `at half past 8`, `at 0815`."""

from __future__ import annotations

from typing import Any, Final

from core.notes.days.moments import Moment
from core.notes.words.number_words import WORD_VALUES, read_plain
from core.notes.words.pieces import longest_phrase, statement_ends
from core.notes.words.tokens import Token
from core.vocabulary.loading import read_toml

_TABLE: Final = read_toml("date_words.toml")
_AFTER_HOUR: Final = frozenset(_TABLE["after_hour"])
_EXACT: Final = frozenset(_TABLE["exact"])


def clock_of_colon(tokens: list[Token], at: int) -> tuple[Moment, int] | None:
    """The hour that `2:40`, `14:00`, `8:15 am` names; None where the figures are no hour."""
    hour, minute = tokens[at].value
    if (
        not isinstance(hour, int)
        or not isinstance(minute, int)
        or hour > 23
        or minute > 59
        or len(tokens[at].low.split(":")[1]) != 2
    ):
        return None
    named = half_of_day(tokens, at + 1)
    if named is not None and 1 <= hour <= 12:
        return Moment(hour=hour, minute=minute, half=named[0]), named[1]
    return Moment(
        hour=hour, minute=minute, half="24" if len(tokens[at].low) == 5 and tokens[at].low[0] == "0" else ""
    ), at + 1


def half_of_day(tokens: list[Token], at: int) -> tuple[str, int] | None:
    """`am`, `pm`, `a.m.`, `p.m.` at a place, and where it ends."""
    if at >= len(tokens):
        return None
    low = tokens[at].low
    if low in ("am", "pm"):
        return low, at + 1
    dotted = "".join(token.low for token in tokens[at : at + 3])
    if dotted in ("a.m", "p.m") and tokens[at + 1].glued and tokens[at + 2].glued:
        end = at + 3
        return low + "m", end + (end < len(tokens) and tokens[end].low == "." and tokens[end].glued)
    return None


def read_hour_after_at(tokens: list[Token], at: int, tree: dict[str, Any]) -> tuple[Moment, int] | None:
    """The hour in `at 3`, `at 14:00`, `around 9`, `at half past 8`, from the word after it; None where the number is
    something else. A deed may follow the hour (`at 9 misted tray 2`).
    """
    token = tokens[at]
    if token.kind == "colon":
        return clock_of_colon(tokens, at)
    past = _past_hour(tokens, at)
    if past is not None:
        return past
    value = token.value if token.kind == "number" else WORD_VALUES.get(token.low)
    if token.kind == "number" and len(token.low) == 4 and token.low.isdigit():
        return _four_figures(tokens, at) if tokens[at - 1].low in ("at", "@") else None
    if not isinstance(value, int) or not 1 <= value <= 12:
        return None
    half = half_of_day(tokens, at + 1)
    if half is not None:
        return Moment(hour=value, half=half[0]), half[1]
    if at + 1 < len(tokens):
        following = tokens[at + 1]
        if following.low in _EXACT:
            return Moment(hour=value), at + 2
        if following.low == "to" and at + 2 < len(tokens) and tokens[at + 2].kind == "word":
            return Moment(hour=value), at + 1
        if following.kind == "word" and following.low not in _AFTER_HOUR:
            deed = (longest_phrase(tokens, at + 1, tree) or (0, {}))[1].get("act")
            told = (deed is not None and not deed.counts_before) or statement_ends(tokens, at + 1, tree)
            return (Moment(hour=value), at + 1) if told else None
        ranged = at + 2 < len(tokens) and tokens[at + 2].kind in ("number", "colon", "fraction")
        if following.low in ("%", "°", '"', "/") or (following.low == "-" and (following.glued or ranged)):
            return None
    return Moment(hour=value), at + 1


def _four_figures(tokens: list[Token], at: int) -> tuple[Moment, int] | None:
    """`at 0815`, `at 1530`: hours and minutes in four figures, where no unit follows."""
    hour, minute = int(tokens[at].low[:2]), int(tokens[at].low[2:])
    closes = at + 1 >= len(tokens) or tokens[at + 1].kind != "word" or tokens[at + 1].low in _AFTER_HOUR
    if hour > 23 or minute > 59 or not closes:
        return None
    return Moment(hour=hour, minute=minute, half="24"), at + 1


def _past_hour(tokens: list[Token], at: int) -> tuple[Moment, int] | None:
    """`half past 8`, `quarter to nine`, `20 past 3`, `a quarter past 3`."""
    at += tokens[at].low == "a" and at + 1 < len(tokens)
    minutes = {"half": 30, "quarter": 15}.get(tokens[at].low)
    if minutes is None:
        found = read_plain(tokens, at)
        if found is None or found[0] not in (5, 10, 15, 20, 25, 30):
            return None
        minutes, place = int(found[0]), found[1]
    else:
        place = at + 1
    if place + 1 >= len(tokens) or tokens[place].low not in ("past", "after", "to", "till", "before"):
        return None
    hour = tokens[place + 1].value if tokens[place + 1].kind == "number" else WORD_VALUES.get(tokens[place + 1].low)
    if not isinstance(hour, int) or not 1 <= hour <= 12:
        return None
    if tokens[place].low not in ("past", "after"):
        hour, minutes = (hour - 2) % 12 + 1, 60 - minutes
    half = half_of_day(tokens, place + 2)
    end = half[1] if half is not None else place + 2
    return Moment(hour=hour, minute=minutes, half=half[0] if half is not None else ""), end
