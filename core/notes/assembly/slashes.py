"""Slashes between statements: `lost 3 / 2 wilted` tells of three and of two, and no two out of three."""

from __future__ import annotations

from typing import Any, Final

from core.notes.assembly.counted_after import SUBJECT_WORDS
from core.notes.words.pieces import BREAKS, longest_phrase
from core.notes.words.tokens import Token
from core.vocabulary import ActWord

_FAR: Final = 6
"""So many words before a slash its deed may stand."""


def part_slashed(tokens: list[Token], tree: dict[str, Any]) -> list[Token]:
    """The tokens with such fractions parted: the number of the deed before it, the slash, the number after it."""
    parted: list[Token] = []
    for at, token in enumerate(tokens):
        if token.kind == "fraction" and _parts_statements(tokens, at, tree):
            above, below = token.value
            start, end = token.start + len(str(above)), token.end - len(str(below))
            parted.append(Token("number", str(above), above, token.start, start, False))
            parted.append(Token("mark", "/", None, start + 1, start + 2, False))
            parted.append(Token("number", str(below), below, end, token.end, False))
        else:
            parted.append(token)
    return parted


def _parts_statements(tokens: list[Token], at: int, tree: dict[str, Any]) -> bool:
    """Whether a deed that its number follows stands before a spaced fraction, and a state after it."""
    above, below = tokens[at].value
    if tokens[at].end - tokens[at].start < len(f"{above} / {below}") or not at:
        return False
    after = (longest_phrase(tokens, at + 1, tree) or (0, {}))[1] if at + 1 < len(tokens) else {}
    deed = _deed_before(tokens, at, tree)
    if deed is None or "act" not in after:
        return False
    return deed.act not in ("check", after["act"].act) and not deed.counts_before and bool(after["act"].counts_before)


def _deed_before(tokens: list[Token], at: int, tree: dict[str, Any]) -> ActWord | None:
    """The deed right before a place, or before the lot that the number there names (`lost 3 in lot | 9 / 4`)."""
    found: ActWord | None = None
    for start in range(max(0, at - _FAR), at):
        end, leaf = longest_phrase(tokens, start, tree) or (0, {})
        if tokens[start].kind == "line" or tokens[start].low in BREAKS:
            found = None
        elif "act" in leaf and (end == at or tokens[at - 1].low in SUBJECT_WORDS):
            found = leaf["act"]
    return found
