"""Is a word plain English, and so nobody's name (`spot`, `slowly`, `shouldve`), or may it be one (`odalys`)?

Rules
1. A word is plain in all its forms: `sprinklers`, `tried`, `dripping` are known by `sprinkler`, `try`, `drip`.
2. So are adverbs in -ly, longer words in -ing and what is short for two words (`theyre`), but for given names.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache, lru_cache
from typing import Final

from core.vocabulary.loading import read_toml

_SHORTENED: Final = re.compile(
    r"(?:i|you|he|she|it|we|they|that|there|here|who|what|where|when|how)(?:m|d|s|re|ll|ve)"
    r"|(?:should|could|would|must|might)(?:ve|a|nt|ntve)|(?:do|does|did|is|was|are|were|has|have|had|wo|ca)nt"
)
_ADVERB: Final = re.compile(r"[a-z]{3,}ly|[a-z]{2,}(?:wards|ways|wise)")
_GOING_ON: Final = re.compile(r"[a-z]{3,}ing")
_SHORTEST: Final = 3
_REMEMBERED: Final = 4096
"""How many of the words looked at last are remembered, so that memory does not grow with the notes."""


@lru_cache(maxsize=_REMEMBERED)
def is_everyday(word: str) -> bool:
    """True for a word of plain English, in lower case, that is no name of a person."""
    if is_given_name(word):
        return False
    bare = word.replace("'", "")
    if _SHORTENED.fullmatch(bare) or _ADVERB.fullmatch(bare) or _GOING_ON.fullmatch(bare):
        return True
    return is_plain_form(bare)


@lru_cache(maxsize=_REMEMBERED)
def is_plain_form(word: str) -> bool:
    """True for an everyday word of the list in one of its forms (`dripped`, `sprinklers`)."""
    return any(form in _everyday() for form in _plain_forms(word))


@lru_cache(maxsize=_REMEMBERED)
def is_plain_noun(word: str) -> bool:
    """True for a word for a thing, a person, an hour or a matter of plain English, in one of its forms."""
    return any(form in _plain_nouns() for form in _plain_forms(word))


def several_of_plain_nouns() -> frozenset[str]:
    """The plain nouns, one and several of each."""
    return frozenset(form for noun in _plain_nouns() for form in (noun, f"{noun}s", _several(noun)))


def is_given_name(word: str) -> bool:
    """True for a name that people are given, in lower case."""
    return word in _given_names()


@cache
def _given_names() -> frozenset[str]:
    return frozenset(read_toml("given_names.toml")["names"])


@cache
def _everyday() -> frozenset[str]:
    parts = (*read_toml("everyday_words.toml").values(), read_toml("plain_english.toml")["words"])
    plain = (word for listed in parts for word in listed)
    at_home = {part: listed for part, listed in read_toml("home_words.toml").items() if part != "of_somebody"}
    named = (word for listed in at_home.values() for word in listed if " " not in word)
    return frozenset((*plain, *named))


@cache
def home_words(*parts: str) -> frozenset[str]:
    """The words of some lists of what is no plant and nothing of the bench, each also as several of it."""
    listed = read_toml("home_words.toml")
    return frozenset(form for part in parts for word in listed[part] for form in (word, _several(word)))


def several_at_home() -> frozenset[str]:
    """Several of what is no plant, as one word each (`tshirts`, `cookies`)."""
    named = home_words("clothes", "food", "papers", "money", "animals", "household")
    return frozenset(word for word in named if word.endswith("s") and " " not in word)


def _several(word: str) -> str:
    if word.endswith("y") and word[-2:-1] not in ("a", "e", "o"):
        return f"{word[:-1]}ies"
    return f"{word}es" if word.endswith(("s", "x", "ch", "sh")) else f"{word}s"


@cache
def _plain_nouns() -> frozenset[str]:
    listed = read_toml("everyday_words.toml")
    return frozenset(word for part in ("things", "people", "times", "matters") for word in listed[part])


def _plain_forms(word: str) -> Iterator[str]:
    """What a word may be a form of: `tried` of `trie`, `tri` and `try`; `dripped` of `dripp` and `drip`."""
    yield word
    for ending in ("s", "es", "d", "ed"):
        stem = word.removesuffix(ending)
        if stem == word or len(stem) < _SHORTEST or (ending == "d" and stem[-1] != "e"):
            continue
        yield stem
        if stem[-1] == "i":
            yield f"{stem[:-1]}y"
        if ending == "ed" and stem[-1] == stem[-2]:
            yield stem[:-1]


__all__ = [
    "home_words", "is_everyday", "is_given_name", "is_plain_form", "is_plain_noun", "several_at_home",
    "several_of_plain_nouns",
]  # fmt: skip
