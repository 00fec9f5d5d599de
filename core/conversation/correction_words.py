"""The words of corrections.toml: by table, and whether a text has one of them."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date, datetime
from functools import cache

from core.conversation.heard import heard
from core.notes import read_answer
from core.vocabulary.loading import read_toml


def said(table: str, key: str = "says") -> tuple[str, ...]:
    """The phrases under a key of a table, the longest first."""
    return heard("corrections", table, key)


def bare(text: str) -> str:
    """The words of a text in lower case, one space between them, without marks."""
    return " ".join(re.findall(r"[\w.:/-]+", text.lower().replace("'", "").replace("\u2019", ""))).strip(" .:")


def has_one(text: str, table: str) -> bool:
    """True where the words of a table stand in a text."""
    words = f" {bare(text)} "
    return any(f" {phrase} " in words for phrase in said(table))


def without_ends(words: str, table: str) -> str:
    """Bare words without those that say nothing at their two ends (`before` and `after` of a table)."""
    ends = True
    while ends:
        ends = False
        for phrase in said(table, "before"):
            if words.startswith(f"{phrase} "):
                words, ends = words.removeprefix(phrase).strip(), True
        for phrase in said(table, "after"):
            if words.endswith(f" {phrase}"):
                words, ends = words.removesuffix(phrase).strip(), True
    return words


@cache
def _day_words() -> frozenset[str]:
    tables = read_toml("measures.toml")
    return frozenset(word for names in tables["weekday"].values() for word in names) | {"yesterday", "yesterdays"}


def without_day(words: Sequence[str], now: datetime) -> tuple[list[str], date | None]:
    """The words without the day of the note that is meant ("on monday", "yesterday's", "of the 16th"), and that day."""
    for at, word in enumerate(words):
        if word not in _day_words():
            continue
        on = (read_answer("date", word, now) or read_answer("date", word.removesuffix("s"), now) or {}).get("on")
        start = at - 1 if at and words[at - 1] == "on" else at
        return [*words[:start], *words[at + 1 :]], on.date() if isinstance(on, datetime) else on
    return _without_date(words, now)


def _without_date(words: Sequence[str], now: datetime) -> tuple[list[str], date | None]:
    """The words without a day of the month ("on the 2nd", "of the 16th of march", "16 march"), and that day."""
    text = " ".join(words)
    for found in _date().finditer(text):
        on = (read_answer("date", found["date"], now) or {}).get("on")
        if on is not None:
            left = f"{text[: found.start()]} {text[found.end() :]}".split()
            return left, on.date() if isinstance(on, datetime) else on
    return list(words), None


@cache
def _date() -> re.Pattern[str]:
    months = "|".join(name for names in read_toml("measures.toml")["month"].values() for name in names)
    day, before = r"\d{1,2}(?:st|nd|rd|th)", r"(?:(?:on|of|from|for) )?"
    dates = (rf"(?:the )?(?:{day} (?:of )?|\d{{1,2}} )(?:{months})", rf"(?:{months}) (?:{day}|\d{{1,2}})")
    alone = rf"(?<=on )the {day}|(?<=of )the {day}|(?<=from )the {day}|^the {day}$"
    return re.compile(rf"(?<!\S){before}(?P<date>{'|'.join(dates)}|{alone})(?!\S)")
