"""How many: numbers in digits and words, with "about", ranges, and one number out of another.

Rules
1. A number (number_words.py) may have "about" before it, or "ish", "or so", `+` after it.
2. `30-40` and `30 to 40` are ranges where the second is greater; `31 of 72` is one number out of another.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final

from core.notes.words.number_words import WORD_VALUES, number_of_token, read_plain, scale_after
from core.notes.words.pieces import longest_phrase
from core.notes.words.tokens import Token
from core.vocabulary.loading import small_words

_LETTERED = small_words("places", "lettered")
_SOMETHING = small_words("numbers", "something")
_FEW = 10
_HUNDRED = 100
_NAMES_SUBJECT: Final = re.compile(r"#|(?:lot|tray)s?|[lt]\d+")
SHARES: Final = frozenset({(1, 2), (1, 3), (2, 3), (1, 4), (3, 4)})
"""Fractions that are a share rather than so many of so many."""
WRITTEN_SHARES: Final = {f"{above}/{below}": above / below for above, below in sorted(SHARES)}


@dataclass(frozen=True, slots=True)
class Number:
    """A number as said: its value, the upper end of a range, out of how many, and whether it is about.

    `each`: the counts, or shares, of a list that is told of as many lots or trays, as values of an entry.
    """

    value: float
    high: float | None = None
    approx: bool = False
    of: int | None = None
    dashed: bool = False
    each: tuple[Mapping[str, Any], ...] = ()

    @property
    def whole(self) -> int | None:
        return int(self.value) if self.value == int(self.value) else None


def skip_about(tokens: list[Token], at: int, tree: dict[str, Any]) -> int:
    """Where the words for "about" that begin at a place end; the place itself where none do."""
    place = at
    if _is_more_than(tokens, at):
        return at + 1
    while place < len(tokens) and place < at + 6 and tokens[place].kind != "number":
        phrase = longest_phrase(tokens, place, tree)
        if phrase is None or "approx" not in phrase[1] or _names_bench(tokens, place):
            break
        place = phrase[0]
    return place


def _is_more_than(tokens: list[Token], at: int) -> bool:
    """The mark of `lot 9 >20 rooted`, which is no arrow: it stands at its number alone."""
    after = tokens[at + 1] if at + 1 < len(tokens) else None
    return tokens[at].low == ">" and not tokens[at].glued and after is not None and after.glued


def _names_bench(tokens: list[Token], at: int) -> bool:
    """The c of `bench c 66f`: a letter that a bench goes by, not short for "circa"."""
    return at > 0 and len(tokens[at].low) == 1 and tokens[at - 1].low in _LETTERED


def read_number(tokens: list[Token], at: int, tree: dict[str, Any]) -> tuple[Number, int] | None:
    """The number at a place with its range or "of", and where it ends."""
    place = skip_about(tokens, at, tree)
    if place >= len(tokens):
        return None
    first = read_plain(tokens, place)
    if first is None:
        return None
    value, end, about = first
    scale = _scale_of_range(tokens, value, end)
    whole = _range_of_whole(tokens, value, end)
    if whole is not None:
        return Number(value, whole[0], about or place > at, whole[1], True), end + 2
    high, end, dashed = _read_range(tokens, value, end, place)
    value *= scale if high is not None else 1
    last = _about_after(tokens, end, tree)
    approx, end = about or place > at or last > end, last
    of, end = _read_of(tokens, value, end, tree) if high is None and value == int(value) else (None, end)
    return Number(value, high, approx, of, dashed), end


def _about_after(tokens: list[Token], at: int, tree: dict[str, Any]) -> int:
    """Where the words or marks for "about" after a number end (`40ish`, `40+`, `40 or so`, `20-something`)."""
    if at >= len(tokens):
        return at
    mark = tokens[at]
    alone = at + 1 >= len(tokens) or not tokens[at + 1].glued
    if mark.low == "+" and mark.glued and alone:
        return at + 1
    if mark.low == "plus" and _ends_or_is_so(tokens, at + 1, tree):
        return at + 1
    place = at + 1 if mark.low == "-" and mark.glued and not alone else at
    if at and tokens[at - 1].low.endswith("0") and _is_something(tokens, place, tree, dashed=place > at):
        return place + 1
    phrase = longest_phrase(tokens, place, tree)
    if phrase is None or "approx_after" not in phrase[1]:
        return at
    counts = "approx" in phrase[1] and phrase[0] < len(tokens) and tokens[phrase[0]].kind in ("number", "fraction")
    return at if counts else phrase[0]


def _ends_or_is_so(tokens: list[Token], at: int, tree: dict[str, Any]) -> bool:
    """`20 plus rooted`, `rooted 20 plus`: more than so many, where nothing is added."""
    if at >= len(tokens) or tokens[at].kind == "line":
        return True
    phrase = longest_phrase(tokens, at, tree)
    word = phrase[1].get("act") if phrase is not None else None
    return word is not None and word.act == "check"


def _is_something(tokens: list[Token], at: int, tree: dict[str, Any], *, dashed: bool) -> bool:
    """The rest of `20-something`, `40-some`; of `20 something sage` where a plant or its part follows."""
    if dashed:
        return tokens[at].low in _SOMETHING
    if tokens[at].low != "something":
        return False
    after = longest_phrase(tokens, at + 1, tree) if at + 1 < len(tokens) else None
    return after is not None and not after[1].keys().isdisjoint(("plant", "cutting", "what"))


def _scale_of_range(tokens: list[Token], low: float, end: int) -> int:
    """`3-4 dozen`, `2 to 3 hundred`, `2-300`: what multiplies the second number of a range multiplies both."""
    second = number_of_token(tokens[end + 1]) if end + 1 < len(tokens) else None
    if second is None or low >= second:
        return 1
    hundreds = low < _FEW and second >= _HUNDRED and second % _HUNDRED == 0 and low * _HUNDRED < second
    return _HUNDRED if hundreds else scale_after(tokens, end + 2)


def _read_range(tokens: list[Token], low: float, end: int, start: int) -> tuple[float | None, int, bool]:
    between = start > 0 and tokens[start - 1].low == "between" and end < len(tokens) and tokens[end].low in ("and", "&")
    if end + 1 >= len(tokens) or (tokens[end].low not in ("-", "to", "or") and not between):
        return None, end, False
    if tokens[end + 1].kind == "word" and tokens[end].low != "to" and tokens[end + 1].low not in WORD_VALUES:
        return None, end, False
    dash = tokens[end].low == "-"
    if dash and tokens[end].glued != tokens[end + 1].glued and (tokens[end + 1].glued or _leads(tokens, start)):
        # `14 -31` and, at the head of a note, `14- 31`: a dash that parts.
        return None, end, False
    second = read_plain(tokens, end + 1)
    if second is None or second[0] <= low or tokens[end + 1].kind == "fraction":
        return None, end, False
    if dash and not tokens[end].glued and not tokens[end + 1].glued and not _follows_mark(tokens, start):
        return None, end, False
    return second[0], second[1], dash


def _leads(tokens: list[Token], start: int) -> bool:
    """Whether a number is the first of a note that names no other lot or tray."""
    first = not any(token.kind in ("number", "fraction", "lot") for token in tokens[:start])
    return first and not any(_NAMES_SUBJECT.fullmatch(token.low) for token in tokens)


def _range_of_whole(tokens: list[Token], low: float, end: int) -> tuple[int, int] | None:
    """`20-24/40`: a range of so many, and out of how many."""
    after = tokens[end : end + 2]
    if len(after) < 2 or after[0].low != "-" or not (after[0].glued and after[1].glued) or after[1].kind != "fraction":
        return None
    high, whole = after[1].value
    return (high, whole) if low < high <= whole and whole >= _FEW else None


def _follows_mark(tokens: list[Token], start: int) -> bool:
    """Whether a number stands after a colon or comma, where `25 - 30` can be no lot and its count; after the lot
    before it (`3, 4 - 15 min`) it is one.
    """
    if start < 2 or tokens[start - 1].low not in (":", ","):
        return False
    before, number = tokens[start - 2].value, tokens[start].value
    listed = tokens[start - 1].low == "," and isinstance(before, int) and isinstance(number, int)
    return not (listed and number == before + 1)


def _read_of(tokens: list[Token], value: float, end: int, tree: dict[str, Any]) -> tuple[int | None, int]:
    place = end
    place += place < len(tokens) and tokens[place].low == "out"
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
