"""Which words of a note are slips that the file of slips lists, and what each means at its place.

Rules
1. Short words and words without their vowels mean what the list says wherever they stand; a name stays a name.
2. A right word stands for another only where all that the list asks for is so: the words beside it, later ones, what
   was done. It is told as a repair.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any, Final

from core.notes.assembly.name_places import is_name
from core.notes.words.pieces import longest_phrase
from core.notes.words.spelling import leaf_of
from core.notes.words.tokens import Token
from core.vocabulary import words
from core.vocabulary.loading import read_toml, small_words

_NUMBER: Final = "#"
_REPEATED: Final = re.compile(r"(.)\1+")
_POINTING: Final = frozenset({"the", "a", "this", "that"})


@dataclass(frozen=True, slots=True)
class Listed:
    """What a listed slip means, and whether that must be told, as a right word was changed; or several words that it
    may mean.
    """

    word: str
    told: bool = False
    either: tuple[str, ...] = ()


def is_listed(low: str) -> bool:
    """Whether a word may be a slip that the file lists."""
    return low in _slips() or low in _short() or low in _autocorrected()


def listed_meaning(tokens: list[Token], at: int, tree: dict[str, Any]) -> Listed | None:
    """What the listed slip at a place means; None where the word stays as it is, or is looked at by its letters."""
    low = tokens[at].low
    if low in _short():
        return Listed(_short()[low])
    if low in _slips() and low not in tree and not _is_named(tokens, at, tree):
        return Listed(_slips()[low])
    named = longest_phrase(tokens, at, tree) if low in _autocorrected() else None
    if named is not None and named[0] > at + 1 and "plant" in named[1]:
        # "beach strawberry" is a plant, whatever was washed before it.
        return None
    for one in _autocorrected().get(low, ()):
        if _fits(one, tokens, at):
            return Listed(one["meant"], told=True) if "meant" in one else Listed(low, either=tuple(one["either"]))
    return None


def undrawn(low: str) -> str | None:
    """The word that is drawn out (`sooo`, `weeell`, `ummm`); None for one that is none of the list."""
    return _squeezed_words().get(_REPEATED.sub(r"\1", low)) if _REPEATED.search(low) else None


@cache
def _squeezed_words() -> dict[str, str]:
    return {_REPEATED.sub(r"\1", word): word for word in small_words("spelling", "drawn_out")}


@cache
def misspelt() -> dict[str, str]:
    """Misspellings that the vocabulary lists as forms of its words, and the word that is meant; they are told."""
    return {slip: word for word, slips in read_toml("slips.toml")["misspelt"].items() for slip in slips}


@cache
def _slips() -> dict[str, str]:
    """Slips of short words, and the word that is meant."""
    return {slip: word for word, slips in read_toml("slips.toml")["slips"].items() for slip in slips}


@cache
def _short() -> dict[str, str]:
    """Words texted without their vowels, and the word that is meant."""
    return {short: word for word, told in read_toml("slips.toml")["short"].items() for short in told}


@cache
def _autocorrected() -> dict[str, tuple[Mapping[str, Any], ...]]:
    """Right words that stand for another, each with what is meant and what must be so."""
    told = read_toml("slips.toml")["autocorrected"].items()
    return {slip: tuple(ways) if isinstance(ways, list) else (ways,) for slip, ways in told}


def _is_named(tokens: list[Token], at: int, tree: dict[str, Any]) -> bool:
    """Whether a short word is a name; none is before a number (`from lto 6`)."""
    after = tokens[at + 1].kind if at + 1 < len(tokens) else "line"
    given = at > 0 and tokens[at - 1].low == "to" and after in ("mark", "line")
    return after not in ("number", "lot") and (given or is_name(tokens, at, tree))


def _fits(one: Mapping[str, Any], tokens: list[Token], at: int) -> bool:
    """Whether all is so that a right word is taken for another under (`waterd form the bottom`)."""
    if one.get("whole") and any(token.kind not in ("mark", "line") for token in (*tokens[:at], *tokens[at + 1 :])):
        return False
    if at and tokens[at - 1].low in _POINTING:
        return False
    if one.get("names_tray") and not _may_name_tray(tokens, at):
        return False
    before, after = tokens[at - 1 : at] if at else [], tokens[at + 1 : at + 2]
    if _is_one_of(before, one.get("not_after", ())) or _is_one_of(after, one.get("not_before", ())):
        return False
    for key, beside in (("before", after), ("after", before), ("then", tokens[at + 2 : at + 3])):
        if key in one and not _is_one_of(beside, one[key]):
            return False
    line = _line(tokens, at)
    if "later" in one and not any(_is_one_of([token], one["later"]) for token in tokens[at + 1 : line[1]]):
        return False
    deeds = _deeds(tokens, *line)
    return not ("deeds" in one and deeds.isdisjoint(one["deeds"])) and not (one.get("no_deed") and deeds)


def _is_one_of(beside: list[Token], listed: Any) -> bool:
    """Whether a word is one of a list, in which `#` is any number."""
    return bool(beside) and (beside[0].low in listed or (beside[0].kind in ("number", "colon") and _NUMBER in listed))


def _line(tokens: list[Token], at: int) -> tuple[int, int]:
    """Where the line of a word begins and ends."""
    first = next((place + 1 for place in range(at, -1, -1) if tokens[place].kind == "line"), 0)
    return first, next((place for place in range(at, len(tokens)) if tokens[place].kind == "line"), len(tokens))


def _deeds(tokens: list[Token], first: int, last: int) -> frozenset[str]:
    """The acts that the words from a place to before another tell."""
    told = (longest_phrase(tokens, at, words().tree, last) for at in range(first, last))
    leaves = [phrase[1] for phrase in told if phrase is not None]
    return frozenset(leaf[role].act for leaf in leaves for role in ("act", "shared") if role in leaf)


def _may_name_tray(tokens: list[Token], at: int) -> bool:
    """`stuck 40 sage | try 3`: after a deed or what it counted; else it is a verb, or a turn (`try 2: stuck 40`)."""
    before = leaf_of(tokens[at - 1].low) if at else {}
    counted = at > 1 and tokens[at - 2].kind == "number" and tokens[at - 1].kind == "word"
    told = counted or not before.keys().isdisjoint(("act", "shared", "plant"))
    return told and not (at + 2 < len(tokens) and tokens[at + 2].low == ":")
