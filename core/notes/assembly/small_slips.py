"""Which small word of plain talk was misspelt (`lots 5 anx 6`, `to hhe lath`, `sown intto flats`).

Rules
1. Only where that word is nearer than any other word that we know, by one slip of the thumb.
2. Between two numbers `and` goes first, between a preposition and a word `the`.
3. A past form without its `e` (`tuckd`) is the verb of putting or gathering that has one.
4. None where a name may stand: at a head before what was done, alone between marks, last after `to`, `by` or `with`.
"""

from __future__ import annotations

from functools import cache, lru_cache
from typing import Any, Final

from core.notes.assembly.name_places import is_name
from core.notes.words.spelling import Reach, reach_of, slips_near
from core.notes.words.tokens import Token
from core.vocabulary.loading import plain_words, small_words

_SMALL: Final = small_words("spelling", "small")
_BEFORE_SOMEBODY: Final = small_words("spelling", "before_somebody")
_PAST: Final = small_words("beginnings", "placing") | small_words("beginnings", "gathering")
_BEFORE_THE: Final = small_words("spelling", "before_the")
_SHORTEST: Final = 3
_LONGEST: Final = 6
_TOO_MANY: Final = 0.1


def small_word_meant(tokens: list[Token], at: int, tree: dict[str, Any]) -> str | None:
    """The small word that an unknown one is a slip of; None for none."""
    near = _near(tokens[at].low)
    if not near or _may_be_somebody(tokens, at, tree):
        return None
    if 0 < at < len(tokens) - 1:
        before, after = tokens[at - 1], tokens[at + 1]
        if "and" in near and before.kind == after.kind == "number":
            return "and"
        if "the" in near and before.low in _BEFORE_THE and after.kind == "word":
            return "the"
    least = min(near.values())
    likeliest = [target for target, far in near.items() if far == least]
    return likeliest[0] if len(likeliest) == 1 and likeliest[0] in _SMALL else None


def past_meant(low: str) -> str | None:
    """`tucked` for `tuckd`, `popped` for `popd`; None for what is no such form."""
    if not low.endswith("d"):
        return None
    return next((past for past in (f"{low[:-1]}ed", f"{low[:-1]}{low[-2:-1]}ed") if past in _PAST), None)


def _may_be_somebody(tokens: list[Token], at: int, tree: dict[str, Any]) -> bool:
    last = at + 1 == len(tokens) or tokens[at + 1].kind in ("mark", "line")
    first = not at or tokens[at - 1].kind in ("mark", "line")
    return (last and (first or tokens[at - 1].low in _BEFORE_SOMEBODY)) or is_name(tokens, at, tree)


@lru_cache(maxsize=4096)
def _near(word: str) -> dict[str, float]:
    """The known words that one slip makes an unknown one of, each with how far it is; a letter too many is a little
    farther, unless it is typed twice.
    """
    if not _SHORTEST <= len(word) <= _LONGEST or not word.isalpha():
        return {}
    doubled = {word[:at] + word[at + 1 :] for at in range(1, len(word)) if word[at] == word[at - 1]}
    near = {
        target: far + _TOO_MANY * (len(target) < len(word) and target not in doubled)
        for target, far in slips_near(word, _known())
    }
    if len(word) == _SHORTEST:
        # A letter may be wrong in so short a word, none is missing: "ito" is somebody.
        near = {target: far for target, far in near.items() if len(target) == _SHORTEST}
    return near


@cache
def _known() -> Reach:
    """Every short word that we know."""
    known = (word for word in plain_words() | _SMALL if word.isascii() and word.isalpha())
    return reach_of(word for word in known if _SHORTEST <= len(word) <= _LONGEST)
