"""Which words of a note were misspelt: repairs of single words, made before the note is read, never in names.

Rules
1. A word before a deed at the head of a clause is a person; after `from`, `to`, `at`, `by`, `for` a place or
   person; in quotes a cultivar.
2. A word beside which the vocabulary's own words stand whole is mended; one that may be two acts is handed back as
   doubtful.
"""

from __future__ import annotations

from functools import cache
from typing import Any, Final

from core.notes.spelling import mend
from core.notes.tokens import Token
from core.notes.values import Repair
from core.vocabulary.loading import END, plain_words, read_toml

_NAMING: Final = frozenset({"from", "by", "for", "at", "ask", "near", "named", "called", "birthday", "m"})


def mend_tokens(
    tokens: list[Token], tree: dict[str, Any], kept: frozenset[str] = frozenset()
) -> tuple[tuple[Repair, ...], tuple[int, tuple[str, ...]] | None]:
    """Mends the tokens in place, but for the words that the crew itself uses: the repairs, and a word that may mean
    several acts (its place and the choices).
    """
    known = plain_words()
    repairs: list[Repair] = []
    doubtful: tuple[int, tuple[str, ...]] | None = None
    for at, token in enumerate(tokens):
        if token.kind == "word" and token.low in _slips() and token.low not in tree and not _is_name(tokens, at, tree):
            token.low = _slips()[token.low]
            continue
        if token.kind != "word" or len(token.low) < 4 or token.low in known or token.low in tree:
            continue
        if token.low in kept:
            continue
        if _is_name(tokens, at, tree):
            continue
        found = mend(token.low)
        if len(found) == 1:
            if any(one.low in ("to", "at") for one in tokens[max(0, at - 3) : at]) and not _is_vocal(found[0], tree):
                continue
            repairs.append(Repair(read=token.low, as_=found[0]))
            token.low = found[0]
        elif len(found) > 1 and doubtful is None and sum(_is_act(word, tree) for word in found) > 1:
            doubtful = at, tuple(word for word in found if _is_act(word, tree))
    return tuple(repairs), doubtful


@cache
def _slips() -> dict[str, str]:
    """Slips of short words, and the word that is meant."""
    return {slip: word for word, slips in read_toml("slips.toml")["slips"].items() for slip in slips}


def _is_act(word: str, tree: dict[str, Any]) -> bool:
    leaf = tree.get(word, {}).get(END, {})
    return "act" in leaf or "shared" in leaf


def _is_vocal(word: str, tree: dict[str, Any]) -> bool:
    leaf = tree.get(word, {}).get(END, {})
    return bool(leaf) and any(
        role in leaf
        for role in (
            "container",
            "place_word",
            "cause",
            "weekday",
            "month",
            "inch",
            "amount",
            "duration",
            "act",
            "for_good",
            "vent_open",
        )
    )


def _is_name(tokens: list[Token], at: int, tree: dict[str, Any]) -> bool:
    before = tokens[at - 1] if at else None
    after = tokens[at + 1] if at + 1 < len(tokens) else None
    if before is not None and before.low in _NAMING and before.low not in ("for", "at"):
        return True
    heads = before is None or before.kind == "line" or before.low in (",", ".", ";", "and", "&")
    if heads and after is not None and after.kind == "word" and _is_act(after.low, tree):
        leaf = tree[after.low][END]
        meaning = leaf.get("act")
        return meaning is None or not meaning.counts_before
    return False
