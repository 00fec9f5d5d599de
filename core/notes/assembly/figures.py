"""Figures that stand for words, and lots in a row at the head of a note: `moved L9 2 lath`, `hold 6 toyon 4 kit`.

Rules
1. A bare 2 is "to" where a lot, a tray or a plant stands before it, and a place, a lot or somebody after it, and
   between words that lead to a deed and its verb (`remind me 2 mist`); a bare 4 is "for" before somebody. What is moved
   is not counted then, what is given or kept has its count before.
2. `14+15+16 misted` and `14,15 misted` at the head of a line name lots, where a deed of care follows; before what is
   counted (`14,15 rooted`) they may be anything.
"""

from __future__ import annotations

import re
from typing import Any, Final

from core.notes.words.act_kinds import COUNTLESS
from core.notes.words.pieces import longest_phrase
from core.notes.words.tokens import BEFORE_LOTS, Token
from core.vocabulary import Leaf
from core.vocabulary.everyday import is_given_name
from core.vocabulary.loading import small_words

_TO: Final = "2"
_FOR: Final = "4"
_ARROWS: Final = ("->", ">", "→")
_FIGURES: Final = re.compile(rf"[>→]| [{_TO}{_FOR}] |\d[+,]\d")
_SENT: Final = frozenset({"give", "sell"})
_NUMBERED: Final = small_words("numbered", "signs")
_LETTERED: Final = small_words("places", "lettered")
_LEADING: Final = small_words("figures", "before_verbs")
_KEPT: Final = frozenset({"reserve", "hold"})
_JOINTS: Final = frozenset({"+", ","})


def has_figures(text: str) -> bool:
    """Whether a note may hold such figures."""
    return _FIGURES.search(text) is not None


def figures_as_words(tokens: list[Token], tree: dict[str, Any]) -> None:
    """Makes such figures the words that they stand for, and joins lots in a row, in place."""
    for at in range(2, len(tokens) - 1):
        token = tokens[at]
        if token.kind == "number" and token.low in (_TO, _FOR) and not (token.glued or tokens[at + 1].glued):
            word = _word_for(tokens, at, tree)
            if word is not None:
                token.kind, token.low, token.value = "word", word, None
        elif token.low in _ARROWS and tokens[at + 1].kind != "number":
            _point(tokens, at, tree)
    for at, token in enumerate(tokens):
        if token.kind == "number" and _opens(tokens, at):
            _join_row(tokens, at, tree)


def _word_for(tokens: list[Token], at: int, tree: dict[str, Any]) -> str | None:
    before, after = tokens[at - 1], tokens[at + 1]
    if tokens[at].low == _TO and before.low in _LEADING and "to_do" in _roles(tokens, at + 1, tree):
        return "to"
    start, acts = _acts_before(tokens, at, tree)
    named = _names_lot(tokens, at - 1) or "plant" in _roles(tokens, at - 1, tree)
    if not named or len(acts) != 1 or any(token.low in ("to", "for", "->") for token in tokens[start:at]):
        return None
    act = acts.pop()
    numbers = (place for place in range(start, at) if tokens[place].kind == "number")
    counted = not all(_names_lot(tokens, place) for place in numbers)
    somebody = after.kind == "word" and is_given_name(after.low)
    if tokens[at].low == _FOR:
        return "for" if act in _KEPT | _SENT and counted and somebody else None
    if act == "move" and not counted and "place_word" in _roles(tokens, at + 1, tree):
        return "to"
    if act == "split" and counted and after.low in ("l", "lot"):
        # "9 to 20" would be a range of lots.
        return "as"
    return "to" if act in _SENT and counted and somebody else None


def _names_lot(tokens: list[Token], at: int) -> bool:
    """The number of `l9`, `lot 9`."""
    lead = at - 1
    while lead > 0 and tokens[lead].low in _NUMBERED:
        lead -= 1
    return tokens[at].kind == "number" and (tokens[at].glued or (lead >= 0 and tokens[lead].low in _LETTERED))


def _point(tokens: list[Token], at: int, tree: dict[str, Any]) -> None:
    """`t3 > lath`, `mvd t3->b2`: an arrow, which is "to" after a deed of going there, in place."""
    start, acts = _acts_before(tokens, at, tree)
    before = tokens[at - 1]
    if acts in ({"move"}, {"merge"}) and not any(token.low == "to" for token in tokens[start:at]):
        tokens[at].kind, tokens[at].low = "word", "into" if "merge" in acts else "to"
    elif not acts and before.kind in ("number", "lot"):
        tokens[at].low = "->"


def _acts_before(tokens: list[Token], at: int, tree: dict[str, Any]) -> tuple[int, set[str]]:
    """Where the statement of a figure begins, and the acts that it tells before the figure."""
    start = next((place + 1 for place in range(at - 1, -1, -1) if _parts(tokens, place)), 0)
    acts = {act for place in range(start, at) if (act := _act_at(tokens, place, tree)) is not None}
    return start, acts


def _parts(tokens: list[Token], at: int) -> bool:
    token = tokens[at]
    if token.low == "." and at and tokens[at - 1].low in _NUMBERED:
        return False  # "lot no. 9"
    return token.kind == "line" or token.low in (",", ".", ";", "and", "&", "then")


def _roles(tokens: list[Token], at: int, tree: dict[str, Any]) -> Leaf:
    phrase = longest_phrase(tokens, at, tree)
    return phrase[1] if phrase is not None else {}


def _act_at(tokens: list[Token], at: int, tree: dict[str, Any]) -> str | None:
    leaf = _roles(tokens, at, tree)
    word = leaf.get("act") or leaf.get("shared")
    return word.act if word is not None else None


def _opens(tokens: list[Token], at: int) -> bool:
    """Whether a note, or what follows its opening or its day, begins at a place."""
    return at == 0 or tokens[at - 1].kind == "line" or tokens[at - 1].low in BEFORE_LOTS | {":", "!", "."}


def _join_row(tokens: list[Token], start: int, tree: dict[str, Any]) -> None:
    """`14+15+16 | misted`: the last mark of such a row is an "and"."""
    at = start
    while at + 2 < len(tokens) and tokens[at].kind == "number" and isinstance(tokens[at].value, int):
        joint, after = tokens[at + 1 : at + 3]
        if joint.low not in _JOINTS or not joint.glued or not after.glued or after.kind != "number":
            break
        at += 2
    leaf = _roles(tokens, at + 1, tree) if at > start and at + 1 < len(tokens) else {}
    deed = leaf.get("act")
    if deed is None or deed.act not in COUNTLESS or deed.counts_before:
        return
    for place in range(start + 1, at, 2):
        tokens[place].low = ","
    tokens[at - 1].kind, tokens[at - 1].low = "word", "and"
