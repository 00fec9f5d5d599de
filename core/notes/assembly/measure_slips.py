"""Which short unit or day was misspelt (`soaked 20 miin`, `cold 8 wkks`, `remind me frj at 3pm`).

Rules
1. A unit only right after a number that is no lot's or tray's, a day only after a word that days come after.
2. Where two that differ, or another word of the bench, are as near, none.
"""

from __future__ import annotations

from functools import cache, lru_cache
from typing import Final

from core.notes.assembly.name_places import after_number
from core.notes.words.spelling import Reach, leaf_of, nearest, reach_of, slips_near
from core.notes.words.tokens import Token
from core.vocabulary import words
from core.vocabulary.loading import small_words

_UNITS: Final = ("duration", "amount")
_DAYS: Final = ("weekday",)
_BEFORE_DAYS: Final = small_words("spelling", "before_days")
_SHORTEST: Final = 3
_LONGEST: Final = 5


def measure_meant(tokens: list[Token], at: int) -> str | None:
    """The unit or day that a short unknown word is a slip of; None for none."""
    word = tokens[at].low
    if not _SHORTEST <= len(word) <= _LONGEST:
        return None
    if after_number(tokens, at) and tokens[at - 1].kind == "number":
        return _nearest(word, _UNITS)
    return _nearest(word, _DAYS) if at and tokens[at - 1].low in _BEFORE_DAYS else None


@lru_cache(maxsize=4096)
def _nearest(word: str, roles: tuple[str, ...]) -> str | None:
    near = slips_near(word, _named(roles))
    least = [target for target, far in near if far == near[0][1]]
    if any(far <= near[0][1] and target not in least for target, far in nearest(word) if near):
        return None
    meanings = {str([leaf_of(target).get(role) for role in roles]) for target in least}
    return least[0] if len(meanings) == 1 else None


@cache
def _named(roles: tuple[str, ...]) -> Reach:
    named = (said for said, leaf in words().phrases.items() if not leaf.keys().isdisjoint(roles) and said.isalpha())
    return reach_of(said for said in named if len(said) >= _SHORTEST)
