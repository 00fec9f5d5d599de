"""Phrases of a file of words as patterns: `{who} {took} {theirs}`, with the lists of the file put in.

In a phrase `{name}` is a list of the file's [words], or a pattern that is handed in; (now) may be left out; (red|blue)
is either or none.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Final

from core.conversation.heard import heard, page

_PART: Final = re.compile(r"\((?P<may>[^)]*)\) ?|\{(?P<list>\w+)\}|(?P<said>[^({]+)")
_ENDS: Final = "ends"


def spoken(
    file: str, tables: tuple[str, ...], words: str, named: Mapping[str, str]
) -> Iterator[tuple[str, re.Match[str]]]:
    """Each table of which the words are a phrase, with what was found; a `tail` may follow. `named` are patterns."""
    for table in tables:
        for phrase in heard(file, table):
            found = re.fullmatch(rf"{_pattern(file, phrase, named)}(?P<tail> .+)?", words)
            if found is not None:
                yield table, found


def one_of(names: Iterator[str] | tuple[str, ...]) -> str:
    """A pattern for any of these names, the longest first."""
    return "|".join(map(re.escape, sorted(names, key=len, reverse=True)))


def without_small_ends(file: str, words: str) -> str:
    """The words without those that say nothing at their two ends (`before` and `after` of the table [ends])."""
    again = True
    while again:
        again = False
        for phrase in heard(file, _ENDS, "before"):
            if words.startswith(f"{phrase} "):
                words, again = words.removeprefix(phrase).strip(), True
        for phrase in heard(file, _ENDS, "after"):
            if words.endswith(f" {phrase}"):
                words, again = words.removesuffix(phrase).strip(), True
    return words


def _pattern(file: str, phrase: str, named: Mapping[str, str]) -> str:
    lists = page(file)["words"]
    made = ""
    for part in _PART.finditer(phrase):
        name = part["list"]
        if part["may"] is not None:
            made += rf"(?:(?:{part['may']}) )?"
        elif name in named:
            made += named[name]
        elif name is not None:
            made += f"(?:{one_of(tuple(lists[name]))})"
        else:
            made += re.escape(part["said"]).replace(r"\ ", " ")
    # A word that may be left out at the end leaves no blank behind.
    return re.sub(r"\(\?:\(\?:([^()]*)\) \)\?$", r"(?: (?:\1))?", made).replace(" (?: ", "(?: ")
