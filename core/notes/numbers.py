"""How many: numbers in digits and words, with "about", ranges, and one number out of another.

Rules
1. A number may be digits (`3,000`, `1 1/2`, `½`, `3k`), words (`thirty one`, `two dozen`, `a couple`), with `about`
   before or `ish`, `+` after.
2. `30-40` and `30 to 40` are ranges where the second is greater; `31 of 72` is one number out of another.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from core.notes.pieces import longest_phrase
from core.notes.tokens import Token


@dataclass(frozen=True, slots=True)
class Number:
    """A number as said: its value, the upper end of a range, out of how many, and whether it is about."""

    value: float
    high: float | None = None
    approx: bool = False
    of: int | None = None
    dashed: bool = False

    @property
    def whole(self) -> int | None:
        return int(self.value) if self.value == int(self.value) else None


_APPROX_WORDS = frozenset(
    {
        "about",
        "abt",
        "around",
        "approx",
        "approximately",
        "roughly",
        "circa",
        "ca",
        "~",
        "nearly",
        "almost",
        "maybe",
        "say",
        "est",
        "like",
        "over",
        "c",
        "≈",
    }
)
_SMALL = {
    "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9, "ten": 10,
    "eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14, "fifteen": 15, "sixteen": 16, "seventeen": 17,
    "eighteen": 18, "nineteen": 19,
}  # fmt: skip
_TENS = {
    "twenty": 20,
    "thirty": 30,
    "forty": 40,
    "fourty": 40,
    "fifty": 50,
    "sixty": 60,
    "seventy": 70,
    "eighty": 80,
    "ninety": 90,
}
_DOZEN = frozenset({"dozen", "doz", "dz", "dozens"})
_JOINED = {f"{tens}{small}": high + low for tens, high in _TENS.items() for small, low in _SMALL.items() if low < 10}
WORD_VALUES = {**_SMALL, **_TENS, **_JOINED, "zero": 0}


def is_approx(token: Token) -> bool:
    return token.low in _APPROX_WORDS


def read_plain(tokens: list[Token], at: int) -> tuple[float, int, bool] | None:
    """One number at a place: its value, where it ends, and whether it is about by itself; None where there is none."""
    token = tokens[at]
    count = len(tokens)
    value: float | None = None
    end = at + 1
    if token.kind == "number":
        value = token.value
        if end < count:
            then = tokens[end]
            if (
                then.kind == "fraction"
                and not then.glued
                and then.value[0] < then.value[1] <= 8
                and value == int(value)
                and value <= 20
            ):
                value, end = value + then.value[0] / then.value[1], end + 1
            elif (
                then.low == "k"
                and then.glued
                and (end + 1 == count or not (tokens[end + 1].low == "-" and tokens[end + 1].glued))
            ):
                value, end = value * 1000, end + 1
    elif token.kind == "word":
        low = token.low
        if low in WORD_VALUES:
            value = WORD_VALUES[low]
            if low in _TENS and end < count:
                step = end + 1 if tokens[end].low == "-" and end + 1 < count else end
                if _SMALL.get(tokens[step].low, 10) < 10:
                    value, end = value + _SMALL[tokens[step].low], step + 1
            if end < count and tokens[end].low == "hundred":
                value, end = _hundreds(tokens, value, end)
        elif low in ("a", "an", "half") or low in _DOZEN or low == "couple":
            return _read_collective(tokens, at)
    elif token.kind == "fraction" and token.value[1] in (2, 3, 4, 8) and token.value[0] < token.value[1]:
        return None
    if value is None:
        return None
    if end < count and tokens[end].low in _DOZEN:
        value, end = value * 12, end + 1
        if end < count and tokens[end].low == "of":
            end += 1
    return value, end, False


def _hundreds(tokens: list[Token], value: float, end: int) -> tuple[float, int]:
    value, end = value * 100, end + 1
    step = end + 1 if end < len(tokens) and tokens[end].low == "and" else end
    if step < len(tokens) and tokens[step].low in WORD_VALUES:
        tail = read_plain(tokens, step)
        if tail is not None and tail[0] < 100:
            return value + tail[0], tail[1]
    return value, end


def _read_collective(tokens: list[Token], at: int) -> tuple[float, int, bool] | None:
    count = len(tokens)
    low = tokens[at].low
    if low in _DOZEN:
        return 12, at + 1, False
    if low == "couple":
        return 2, at + 2 if at + 1 < count and tokens[at + 1].low == "of" else at + 1, True
    place = at + 1
    half = low == "half"
    if place < count and tokens[place].low == "half" and low == "a":
        half, place = True, place + 1
    if half and place < count and tokens[place].low in ("a", "an"):
        place += 1
    if place >= count:
        return None
    following = tokens[place].low
    if following in _DOZEN:
        return (6.0 if half else 12.0), place + 1, False
    if half:
        return None
    if following == "couple":
        after = place + 1
        if after < count and tokens[after].low in _DOZEN:
            return 24, after + 1, True
        return 2, after + 1 if after < count and tokens[after].low == "of" else after, True
    if following == "hundred":
        return 100, place + 1, False
    if following == "pair" and place + 1 < count and tokens[place + 1].low == "of":
        return 2, place + 2, False
    return None


def read_number(tokens: list[Token], at: int, tree: dict[str, Any]) -> tuple[Number, int] | None:
    """The number at a place with its range or "of", and where it ends."""
    approx = False
    place = at
    while place < len(tokens) and place < at + 2 and is_approx(tokens[place]):
        approx = True
        place += 1
    if place >= len(tokens):
        return None
    first = read_plain(tokens, place)
    if first is None:
        return None
    value, end, about = first
    approx = approx or about
    high, end, dashed = _read_range(tokens, value, end, place)
    if end < len(tokens):
        mark = tokens[end]
        if mark.low == "ish" or (
            mark.low == "+" and mark.glued and (end + 1 >= len(tokens) or not tokens[end + 1].glued)
        ):
            approx, end = True, end + 1
        elif (mark.low == "-" and mark.glued and end + 1 < len(tokens) and tokens[end + 1].low == "ish") or (
            mark.low == "or" and end + 1 < len(tokens) and tokens[end + 1].low == "so"
        ):
            approx, end = True, end + 2
    of, end = _read_of(tokens, value, end, tree) if high is None and value == int(value) else (None, end)
    return Number(value, high, approx, of, dashed), end


def _read_range(tokens: list[Token], low: float, end: int, start: int) -> tuple[float | None, int, bool]:
    between = start > 0 and tokens[start - 1].low == "between" and end < len(tokens) and tokens[end].low in ("and", "&")
    if end + 1 >= len(tokens) or (tokens[end].low not in ("-", "to", "or") and not between):
        return None, end, False
    if tokens[end + 1].kind == "word" and tokens[end].low != "to" and tokens[end + 1].low not in WORD_VALUES:
        return None, end, False
    dash = tokens[end].low == "-"
    if dash and not tokens[end].glued and tokens[end + 1].glued:
        return None, end, False
    second = read_plain(tokens, end + 1)
    if second is None or second[0] <= low or tokens[end + 1].kind == "fraction":
        return None, end, False
    if dash and not tokens[end].glued and not tokens[end + 1].glued:
        return None, end, False
    return second[0], second[1], dash


def _read_of(tokens: list[Token], value: float, end: int, tree: dict[str, Any]) -> tuple[int | None, int]:
    place = end
    if place < len(tokens) and tokens[place].low in ("out", "outta"):
        place += 1
        if tokens[place - 1].low == "outta" and place < len(tokens):
            return _of_number(tokens, value, place, end, tree)
    if place < len(tokens) and tokens[place].low == "of":
        return _of_number(tokens, value, place + 1, end, tree)
    return None, end


def _of_number(tokens: list[Token], value: float, place: int, end: int, tree: dict[str, Any]) -> tuple[int | None, int]:
    while place < len(tokens) and tokens[place].low in ("the", "those", "these", "my", "our"):
        place += 1
    if place >= len(tokens):
        return None, end
    whole = read_plain(tokens, place)
    if whole is None or whole[0] != int(whole[0]) or whole[0] < value:
        return None, end
    after = longest_phrase(tokens, whole[1], tree) if whole[1] < len(tokens) else None
    if after is not None and any(role in after[1] for role in ("inch", "pot_size")) and whole[0] <= 10:
        return None, end
    return int(whole[0]), whole[1]
