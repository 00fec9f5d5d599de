"""Which words of a botanical name are written short, with a dot (`var. foliolosum`, `c. impressus`)."""

from __future__ import annotations

from functools import cache
from typing import Any, Final

from core.notes.words.tokens import Token
from core.vocabulary.loading import plain_words, small_words
from core.vocabulary.plants import plant_names

_RANKS: Final = small_words("names", "ranks")
_LETTERED: Final = small_words("places", "lettered")
_STRUCTURES: Final = small_words("places", "structures")
_LATIN: Final = tuple(sorted(small_words("names", "latin_endings")))
_SHORTEST_EPITHET: Final = 5


def abbreviates_name(tokens: list[Token], at: int, tree: dict[str, Any]) -> bool:
    """Whether a word, the dot glued to it and the word after are part of one name: a rank before its epithet, or the
    letter of a genus before an unknown epithet.
    """
    if at + 2 >= len(tokens) or tokens[at + 1].low != "." or not tokens[at + 1].glued:
        return False
    epithet = tokens[at + 2]
    if epithet.kind != "word" or not epithet.low.isalpha() or len(epithet.low) < _SHORTEST_EPITHET:
        return False
    if tokens[at].low in _RANKS:
        return at > 0 and tokens[at - 1].kind == "word"
    letter = tokens[at].low if len(tokens[at].low) == 1 and tokens[at].low.isalpha() else ""
    if not letter or (at and tokens[at - 1].low in _LETTERED | _STRUCTURES):
        return False
    genera = _genera().get(epithet.low)
    if genera is None and at and tokens[at - 1].kind == "number":
        # "3 c. thimbleberries" are cups.
        return False
    if genera is not None:
        return letter in genera
    return epithet.low.endswith(_LATIN) and epithet.low not in tree and epithet.low not in plain_words()


@cache
def _genera() -> dict[str, frozenset[str]]:
    """The epithets of known plants, each with the first letters of the genera that it stands with."""
    found: dict[str, set[str]] = {}
    for name in plant_names():
        genus, _, epithet = name.partition(" ")
        if epithet.isalpha():
            found.setdefault(epithet, set()).add(genus[0])
    return {epithet: frozenset(letters) for epithet, letters in found.items()}
