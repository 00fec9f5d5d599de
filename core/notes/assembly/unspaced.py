"""Which unknown word is two that were written without the blank between them (`wateredlot 9`, `domeoff tray 3`)?

Rules
1. It is parted only where both halves are right words that tell a deed: a deed and what it was done to, a cover or
   vents and what was done with them, or a known phrase for a deed. Where it could be parted in two ways, it is not.
"""

from __future__ import annotations

from typing import Any, Final

from core.notes.words.tokens import Token
from core.vocabulary import Leaf
from core.vocabulary.loading import END, small_words

_SHORTEST: Final = 5
_SHORTEST_DEED: Final = 3
_WHOLES: Final = small_words("spelling", "wholes")
_AFTER_COVER: Final = small_words("spelling", "after_cover")


def part_unspaced(token: Token, tree: dict[str, Any]) -> tuple[Token, Token] | None:
    """The two words that an unknown one is, as tokens of their own; None where it is none."""
    word = token.low
    if len(word) < _SHORTEST or token.end - token.start != len(word):
        return None
    ways = [at for at in range(2, len(word) - 1) if _tells(word[:at], word[at:], tree)]
    if len(ways) != 1:
        return None
    at = token.start + ways[0]
    first = Token("word", word[: ways[0]], None, token.start, at, token.glued)
    return first, Token("word", word[ways[0] :], None, at, token.end, glued=False)


def _tells(first: str, second: str, tree: dict[str, Any]) -> bool:
    """Whether two words together tell a deed."""
    if first not in tree:
        return False
    leaf: Leaf = tree[first].get(END, {})
    if "act" in leaf and len(first) >= _SHORTEST_DEED and second in _WHOLES:
        return True
    if "cover_noun" in leaf and second in _AFTER_COVER:
        return True
    if "vent_noun" in leaf and "vent_open" in tree.get(second, {}).get(END, {}):
        return True
    return "act" in tree[first].get(second, {}).get(END, {}) and "act" in leaf
