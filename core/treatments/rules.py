"""Which number does a crew change with these words: "weaning starts day 10" to the number and its new value.

Rules
1. The words are matched against rules.toml. Words that fit two numbers alike, or none, give None: then it is asked.
2. There is exactly one amount, beside what it was so far (`instead of day 10`). Its unit must fit the number; a bare
   amount without unit fits only "day 10" and "at 9".
3. Weeks are seven days; "every other day" is two; "daily" and "every day" are one.
"""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from datetime import time
from functools import cache
from importlib.resources import files
from typing import Any, Final

MOST_DAYS: Final = 730
MOST_MINUTES: Final = 7 * 24 * 60

_NUMBER_WORD: Final = {
    "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9, "ten": 10,
    "eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14, "fifteen": 15, "sixteen": 16, "seventeen": 17,
    "eighteen": 18, "nineteen": 19, "twenty": 20, "thirty": 30, "forty": 40, "sixty": 60, "ninety": 90,
}  # fmt: skip
_AMOUNT: Final = r"(?P<amount>\d+(?:\.\d+)?)"
_DAYS: Final = re.compile(rf"\bdays?\s*{_AMOUNT}\b|\b(?P<before>\d+(?:\.\d+)?)\s*(?:days?|d|nights?)\b")
_WEEKS: Final = re.compile(r"\b(?P<amount>\d+(?:\.\d+)?)\s*(?:weeks?|wks?|w)\b|\bweek\s*(?P<before>\d+)\b")
_MINUTES: Final = re.compile(rf"\b{_AMOUNT}\s*(?:minutes?|mins?|min|m)\b")
_HOURS: Final = re.compile(rf"\b{_AMOUNT}\s*(?:hours?|hrs?|hr|h)\b")
_CLOCK: Final = re.compile(
    r"\b(?P<hour>\d{1,2})(?::(?P<minute>\d\d))?\s*(?P<half>am|pm)\b|\b(?P<h24>\d{1,2}):(?P<m24>\d\d)\b|\b(?P<word>noon)\b"
    r"|\bat\s+(?P<bare>\d{1,2})\b(?!\s*(?::|am|pm|%|(?:days?|d|weeks?|min|h|hours?|percent)\b))"
)
_SUBJECTS: Final = re.compile(
    r"\b(?:for |on |in |with |of )?(?:the )?(?:lots?|trays?) #?(?:\d[\d-]*|[a-z])\b"
    r"(?:(?: ?[,&-] ?| and )#?\d[\d-]*\b)*(?! ?(?:days?|min))"
)
_WAS: Final = re.compile(
    r"\b(?:instead of|rather than) (?:(?:every|after|on|at|day|week) )*\d+(?:\.\d+)?"
    r"(?: ?(?:%|days?|d|weeks?|wks?|minutes?|mins?|hours?|hrs?|h|am|pm|percent)\b)?"
)
"""`weaning starts day 12 | instead of day 10`: what the number was so far."""
_SHARE: Final = re.compile(rf"\b{_AMOUNT}\s*(?:%|percent\b)")


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleChange:
    """A number's name and its new value: days, minutes, a share (0 to 1) or an hour; `said` is the wording."""

    name: str
    value: float | time
    said: str


@dataclass(frozen=True, slots=True, kw_only=True)
class _Wording:
    name: str
    unit: str
    value: float | None
    words: tuple[str, ...]


@cache
def _wordings() -> tuple[_Wording, ...]:
    told: dict[str, dict[str, Any]] = tomllib.loads(
        files("core.treatments").joinpath("rules.toml").read_text(encoding="utf-8")
    )
    return tuple(
        _Wording(name=name, unit=row["unit"], value=row.get("value"), words=tuple(phrase.split()))
        for name, row in told.items()
        for phrase in row["said"]
    )


def read_rule(what: str, plant: str | None = None) -> RuleChange | None:
    """The change that the words of a rule make, or None where they name no number, two, or a value that cannot be.

    What the rule is for (`plant`, and lots and trays by their numbers) says nothing of the number that it changes.
    """
    text = _SUBJECTS.sub(" ", " ".join(what.lower().split()))
    text = text.replace(plant.lower(), " ") if plant else text
    text = _WAS.sub(" ", _digits(" ".join(text.replace("-", " ").split())))
    amounts = _amounts(text)
    words = re.findall(r"[a-z]+", text)
    fitting: dict[tuple[str, float | time], tuple[int, int]] = {}
    for wording in _wordings():
        value = wording.value if wording.value is not None else amounts.get(wording.unit)
        if value is None or (wording.value is not None and amounts):
            continue
        if all(any(word.startswith(wanted) for word in words) for wanted in wording.words):
            pair = (wording.name, value)
            weight = (len(wording.words), sum(map(len, wording.words)))
            fitting[pair] = max(fitting.get(pair, (0, 0)), weight)
    if not fitting:
        return None
    most = max(fitting.values())
    best = [pair for pair, weight in fitting.items() if weight == most]
    if len(best) != 1:
        return None
    name, value = best[0]
    return RuleChange(name=name, value=value, said=what.strip())


def _digits(text: str) -> str:
    text = re.sub(r"\b(?:\w+ ?(?:x|times)|once|twice) (?:a|per|each|every) (?:day|week)\b", " ", text)
    text = re.sub(r"\b(?:every other day)\b", "every 2 days", text)
    text = re.sub(r"\b(?:daily|every day|each day)\b", "every 1 days", text)
    text = re.sub(r"\b(?:weekly|every week|each week)\b", "every 7 days", text)
    text = re.sub(r"\bhalf an hour\b", "30 min", text)
    text = re.sub(r"\b(?:an|one) hour\b", "1 h", text)
    text = re.sub(r"\ba (day|week)\b", r"1 \1", text)
    return re.sub(r"[a-z]+", lambda word: str(_NUMBER_WORD.get(word[0], word[0])), text)


def _amounts(text: str) -> dict[str, float | time]:
    """The amount of the words by unit; empty where there is none or more than one, or where it is out of bounds."""
    found: list[tuple[str, float | time]] = []
    clocks = [clock for clock in map(_clock, _CLOCK.finditer(text)) if clock is not None]
    found += [("at", clock) for clock in clocks]
    if not clocks:
        found += [("days", float(one["amount"] or one["before"])) for one in _DAYS.finditer(text)]
        found += [("days", 7 * float(one["amount"] or one["before"])) for one in _WEEKS.finditer(text)]
        found += [("minutes", float(one["amount"])) for one in _MINUTES.finditer(text)]
        found += [("minutes", 60 * float(one["amount"])) for one in _HOURS.finditer(text)]
        found += [("share", float(one["amount"]) / 100) for one in _SHARE.finditer(text)]
    if len(found) != 1:
        return {}
    unit, value = found[0]
    if isinstance(value, time):
        return {unit: value}
    most = {"days": MOST_DAYS, "minutes": MOST_MINUTES, "share": 1}[unit]
    if not 0 < value <= most:
        return {}
    # a day is as good as 24 hours where a number is kept in minutes
    return {unit: value, "minutes": value * 1440} if unit == "days" and value <= 7 else {unit: value}


def _clock(found: re.Match[str]) -> time | None:
    if found["word"]:
        return time(12)
    hour, minute = int(found["hour"] or found["h24"] or found["bare"]), int(found["minute"] or found["m24"] or 0)
    if found["half"]:
        if not 1 <= hour <= 12:
            return None
        hour = hour % 12 + (12 if found["half"] == "pm" else 0)
    return time(hour, minute) if hour < 24 and minute < 60 else None
