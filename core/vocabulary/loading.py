"""What do the vocabulary files say: every phrase of the trade with the meanings it may have.

Rules
1. A phrase is words in lower case with single spaces; hyphens are spaces. It may have several meanings ("roles"),
   each kept under the name of its table; the reader chooses by what stands around it.
2. Phrases are kept as a tree of words, so that the longest phrase at a place is found in one walk.
3. The files are read once; a file that cannot be read raises BadTradeFile with its name.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cache
from importlib.resources import files
from typing import Any, Final

from core.errors import BadTradeFile

Leaf = dict[str, Any]
"""The meanings of one phrase: role -> value."""

_WORD: Final = re.compile(r"w/o|w/|'[a-z]{1,3}\b|\d+(?:[./]\d+)?|[^\W\d_]+(?:'[^\W\d_]+)*|\S")
_CHOICE: Final = re.compile(r"\{([^{}]*)\}")
_TURN_WORD: Final = re.compile(r"(?<!<)\b[a-z']+")
_NUMERIC: Final = frozenset(
    {
        "vent_open",
        "number",
        "dozen",
        "couple",
        "fraction",
        "times",
        "month",
        "weekday",
        "day",
        "hour",
        "part",
        "ordinal",
    }
)

_FORMS: Final = ("done", "to_do", "noun")
_NEEDS: Final = {"done_to": "after", "told_of": "before", "said_of": "beside"}
"""The lists of what is done only where plants are named, and where they are."""

END: Final = ""
"""The key under which a node of the tree keeps its leaf; no word is empty."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ActWord:
    """A word for an act: the act, the details it says by itself, how it is said (`done to_do noun`), a rule if
    shared, and where plants must be named for it to be one (`after before beside`).
    """

    act: str
    says: Mapping[str, Any] = field(default_factory=dict)
    form: str = "done"
    counts_before: bool = False
    rule: str | None = None
    needs: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """The whole vocabulary: the tree of phrases, and single words by role for spelling."""

    tree: dict[str, Any]
    phrases: dict[str, Leaf]


@cache
def read_toml(name: str) -> dict[str, Any]:
    """The tables of the vocabulary file `name`, read once and never changed by who reads them. Raises BadTradeFile
    where it is not readable TOML.
    """
    try:
        return tomllib.loads(files("core.vocabulary").joinpath(name).read_text(encoding="utf-8"))
    except (tomllib.TOMLDecodeError, OSError, UnicodeDecodeError) as wrong:
        raise BadTradeFile(
            f"{name} cannot be read: {wrong}", words=name, hint="mend the file as its header says"
        ) from wrong


def split_words(phrase: str) -> list[str]:
    """The words and numbers of a phrase, as the reader splits a note."""
    return _WORD.findall(phrase)


def spelled_out(pattern: str) -> Iterator[str]:
    """The phrases of a pattern: `{took, cut} {the,} buds off` is four of them, one for each choice within braces."""
    choice = _CHOICE.search(pattern)
    if choice is None:
        yield " ".join(pattern.split())
        return
    for words in choice[1].split(","):
        yield from spelled_out(pattern[: choice.start()] + words.strip() + pattern[choice.end() :])


def act_meanings() -> Iterator[tuple[str, str, ActWord]]:
    """Every phrase for an act: (phrase, role, meaning); the role is `act`, or `shared` where a rule decides."""
    for table in read_toml("acts.toml")["act"]:
        says = {key: value for key, value in table.items() if key not in ("act", "count", *_FORMS, *_NEEDS)}
        counted = table.get("count") == "before"
        for name in (*_FORMS, *_NEEDS):
            needs = _NEEDS.get(name)
            form = "done" if needs else name
            meaning = ActWord(act=table["act"], says=says, form=form, counts_before=counted, needs=needs)
            for pattern in table.get(name, ()):
                for phrase in spelled_out(pattern):
                    yield phrase, "act" if form == "done" else form, meaning
                    if " through" in phrase:
                        yield phrase.replace(" through", " thru"), "act" if form == "done" else form, meaning
    for table in read_toml("shared.toml")["shared"]:
        for phrase in table["says"]:
            yield phrase, "shared", ActWord(act=table["acts"][0], rule=table["rule"])


def value_meanings() -> Iterator[tuple[str, str, Any]]:
    """Every phrase for a detail, a cue or a measure: (phrase, role, value)."""
    for name in ("values.toml", "measures.toml"):
        for role, table in read_toml(name).items():
            for value, phrases in table.items():
                meaning = float(value) if role in _NUMERIC else value
                for phrase in phrases:
                    yield phrase, role, meaning
    for name in ("cues.toml", "asides.toml"):
        for role, patterns in read_toml(name).items():
            for pattern in patterns:
                yield from ((phrase, role, True) for phrase in spelled_out(pattern))


def small_range(part: str, name: str) -> range:
    """The whole numbers from the first to the last of the two under `name` of a part of the reading."""
    first, last = read_toml("small_words.toml")[part][name]
    return range(int(first), int(last) + 1)


@cache
def small_words(part: str, name: str) -> frozenset[str]:
    """The list `name` of a part of the reading, from the file of small words."""
    return frozenset(read_toml("small_words.toml")[part][name])


@cache
def plain_words() -> frozenset[str]:
    """Every single word that is right as it stands: words of the vocabulary, ends of names of places, and plain
    English.
    """
    known = {word for phrase in words().phrases for word in split_words(phrase)}
    for name in ("plain_words.toml", "everyday_words.toml"):
        known.update(word for listed in read_toml(name).values() for word in listed)
    turns = (said for turn in read_toml("turns_of_phrase.toml")["turn"] for said in turn["says"])
    known.update(word for said in turns for word in _TURN_WORD.findall(said))
    at_home = (said for listed in read_toml("home_words.toml").values() for said in listed)
    known.update(word for said in at_home for word in said.split(" "))
    return frozenset(known | small_words("places", "ends") | small_words("places", "structures"))


def plural(name: str) -> str:
    """The plural of a plant's name of several words (`day lilies`); the name itself where it is one word, a plural
    already, or Latin.
    """
    last = name.rpartition(" ")[2]
    if last == name or last[-1:] in "sxai" or not last.replace("'", "").isalpha():
        return name
    return f"{name[:-1]}ies" if last[-1] == "y" and last[-2:-1] not in ("a", "e", "o") else f"{name}s"


@cache
def words() -> Words:
    """The vocabulary of all files, read at the first call."""
    from core.vocabulary.plants import misspelt_names, plant_names

    phrases: dict[str, Leaf] = {}
    for phrase, role, value in (*act_meanings(), *value_meanings()):
        phrases.setdefault(phrase.replace("-", " "), {}).setdefault(role, value)
    for name in (*plant_names(), *map(plural, plant_names()), *misspelt_names()):
        phrases.setdefault(name.replace("-", " "), {}).setdefault("plant", name)
    tree: dict[str, Any] = {}
    for phrase, leaf in phrases.items():
        node = tree
        for word in split_words(phrase):
            node = node.setdefault(word, {})
        node[END] = leaf
    return Words(tree=tree, phrases=phrases)
