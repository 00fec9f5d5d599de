"""May a word at a place be a name, and so no slip: of a person, of a place, of where something is from?"""

from __future__ import annotations

from typing import Any, Final

from core.notes.words.number_words import number_of_word
from core.notes.words.tokens import Token
from core.vocabulary.loading import END, small_words

_NAMING: Final = small_words("spelling", "before_names")
_WHOLES: Final = small_words("spelling", "wholes")
_LISTING: Final = small_words("spelling", "listing")
_WITHIN: Final = small_words("spelling", "within")
_SIDES: Final = small_words("spelling", "sides")


def is_place(tokens: list[Token], at: int) -> bool:
    """Whether a word may be part of where something went or came from: after `to`, `at` or `from`, but for those
    before a number.
    """
    for one in range(at - 1, max(-1, at - 4), -1):
        if tokens[one].kind in ("line", "mark"):
            return False
        if tokens[one].low in ("to", "at", "from"):
            return not after_number(tokens, one + 2)
    return False


def is_within(tokens: list[Token], at: int) -> bool:
    """Whether a word says in what something is (`in the swale`)."""
    before = at - 1
    while before > 0 and (tokens[before].low in ("the", "a", "an", "our") or tokens[before].low in _SIDES):
        before -= 1
    return before >= 0 and tokens[before].low in _WITHIN


def is_act_word(word: str, tree: dict[str, Any]) -> bool:
    """Whether a word by itself tells what was done."""
    leaf = tree.get(word, {}).get(END, {})
    return "act" in leaf or "shared" in leaf


def is_name(tokens: list[Token], at: int, tree: dict[str, Any]) -> bool:
    """Whether a word stands where a name does: after `from` and the like, or at a head before what was done."""
    before = tokens[at - 1] if at else None
    after = tokens[at + 1] if at + 1 < len(tokens) else None
    if before is not None and before.low in _NAMING:
        return True
    heads = before is None or before.kind == "line" or before.low in (",", ".", ";", "and", "&")
    if heads and after is not None and after.kind == "word" and is_act_word(after.low, tree):
        meaning = tree[after.low][END].get("act")
        return meaning is None or not meaning.counts_before
    return False


def after_number(tokens: list[Token], at: int) -> bool:
    """Whether a number stands right before a place, which is no lot or tray (`lots 3 + 4`)."""
    place = at - 1
    if place < 0 or not _is_number(tokens[place]):
        return False
    while place > 1 and tokens[place - 1].low in _LISTING and _is_number(tokens[place - 2]):
        place -= 2
    return place == 0 or tokens[place - 1].low not in _WHOLES


def _is_number(token: Token) -> bool:
    return token.kind == "number" or number_of_word(token.low) is not None
