"""Is it a number and no more: most stand before a word or mark that makes no unit, date, range or part of them."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from typing import Any, Final

from core.notes.assembly.pot_sizes import INCHES
from core.notes.days.date_spans import OPENS
from core.notes.words.number_words import NUMBER_STARTS, number_of_word
from core.notes.words.numbers import Number
from core.notes.words.pieces import Piece, longest_phrase
from core.notes.words.tokens import Token
from core.vocabulary import words
from core.vocabulary.loading import END, small_words

_GOING_ON: Final = small_words("numbers", "going_on") | small_words("quantities", "of_no_plants") | INCHES
_TOLD_OF_NUMBERS: Final = frozenset({
    "amount", "approx", "approx_after", "centimetre", "couple", "day", "degree", "dozen", "duration", "fraction",
    "fullness", "hour", "humidity", "inch", "month", "more", "number", "ordinal", "part", "part_of_day", "percent",
    "pot_size", "ppm", "span", "temp_word", "temperature", "times", "times_word", "weekday",
})  # fmt: skip
"""The meanings that go with a number: its unit, a day or hour, how sure it is."""
_CLOSING: Final = frozenset({",", ".", ";", ":", ")", "!", "?"})


def bare_number(tokens: list[Token], at: int, tree: dict[str, Any]) -> Piece | None:
    """The number in figures at a token, where nothing beside it can say more of it; None where something may."""
    token = tokens[at]
    if token.kind != "number" or (token.low in tree and _begins_phrase(tokens, at, tree)):
        return None
    if at and (tokens[at - 1].low in OPENS or tokens[at - 1].low == "$"):
        return None
    if at + 1 < len(tokens):
        after = tokens[at + 1]
        apart = not after.glued and after.kind == "word" and says_no_more_of(after.low)
        if not apart and after.kind != "line" and after.low not in _CLOSING:
            return None
    return Piece("number", Number(token.value), at, at + 1, token.low)


def _begins_phrase(tokens: list[Token], at: int, tree: dict[str, Any]) -> bool:
    """Whether a phrase of several words, or one that names a flat, begins with a number (`4 in pots`)."""
    phrase = longest_phrase(tokens, at, tree)
    return phrase is not None and (phrase[0] > at + 1 or "cell_tray" not in phrase[1])


@lru_cache(maxsize=4096)
def says_no_more_of(low: str) -> bool:
    """Whether no phrase that begins with a word tells anything of the number before it."""
    if low in _GOING_ON or low in NUMBER_STARTS or number_of_word(low) is not None:
        return False
    return all(_TOLD_OF_NUMBERS.isdisjoint(roles) for roles in _meanings_under(words().tree.get(low, {})))


def _meanings_under(node: dict[str, Any]) -> Iterator[dict[str, Any]]:
    for word, below in node.items():
        if word == END:
            yield below
        else:
            yield from _meanings_under(below)
