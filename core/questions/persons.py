"""Whose deeds does a question ask about: "what did gil do", "how many has hana sold", "did i water tray 3"?

Rules
1. Only who stands where somebody acts is meant: behind "did" or "has", before "did", or behind "by".
2. A name is one that the crew has used, or a usual given name; of "what did … do" it is any word that is nothing else.
3. What is asked to have been done to a plant of that name ("did rosa get watered") is asked of the plant.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace
from typing import Final

from core.entries import Entry
from core.questions.asked_words import asked_words
from core.storage import Books
from core.vocabulary.everyday import is_given_name

_ACTING: Final = re.compile(r"\b(?:did|has|have|had|was it) (?=[a-z])")
_BEFORE_DID: Final = re.compile(r"\b(?:what|all|everything|anything|things|how many|how much) (?=[a-z' ]+ (?:did|has|had)\b)")
_BY: Final = re.compile(r"\bby (?=[a-z])")
_JOINED: Final = re.compile(r"(?:,? and |,? or | ?, ?| ?& ?)")
_WORD: Final = re.compile(r"[a-z][a-z-]*(?![\w'])")
_UNDERGOING: Final = re.compile(r" (?:get|got|been|be|need|root|rooted|germinate|germinated|die|died)\b")
_WHAT: Final = re.compile(r"\b(?:what|everything|anything|all)\b")
_MONTHS: Final = frozenset({"april", "may", "june", "august"})


def of_persons(books: Books, entry: Entry, words: str, speaker: str = "") -> Entry:
    """The question with those as `who` whose deeds it asks about, as the crew writes their names; else as it is.

    `speaker` is who asks, and "i" in the question.
    """
    if entry.state is not None or entry.about not in ("history", "count", "how", "list", "who"):
        return entry
    known = {name.lower(): name for name in books.names().people}
    found = _found(words, known, entry, speaker)
    if not found:
        return entry
    said = {word for name in found for word in name.lower().split()}
    rest = " ".join(word for word in (entry.rest or "").split() if word.lower().strip(",") not in said)
    plant = None if entry.plant is not None and entry.plant.lower() in said else entry.plant
    about = "history" if entry.about in ("how", "list") and _WHAT.search(words) else entry.about
    return replace(entry, who=found, about=about, plant=plant, rest=rest or None)


def _found(words: str, known: dict[str, str], entry: Entry, speaker: str) -> tuple[str, ...]:
    for lead in (_ACTING, _BEFORE_DID, _BY):
        for start in lead.finditer(words):
            names, end = _names_at(words, start.end(), known, entry, speaker, by=lead is _BY)
            if names and not (_of_plant(entry, names) and _UNDERGOING.match(words, end)):
                return names
    return ()


def _of_plant(entry: Entry, names: Iterable[str]) -> bool:
    return entry.plant is not None and entry.plant.lower() in {name.lower() for name in names}


def _names_at(
    words: str, at: int, known: dict[str, str], entry: Entry, speaker: str, *, by: bool
) -> tuple[tuple[str, ...], int]:
    """The names that stand one after the other from a place in the words, and where they end."""
    names: list[str] = []
    while (one := _name_at(words, at, known, entry, speaker, by=by)) is not None:
        name, end = one
        names.append(name)
        joined = _JOINED.match(words, end)
        if joined is None:
            return tuple(dict.fromkeys(names)), end
        at = joined.end()
    return tuple(dict.fromkeys(names)), at


def _name_at(
    words: str, at: int, known: dict[str, str], entry: Entry, speaker: str, *, by: bool
) -> tuple[str, int] | None:
    for low in sorted(known, key=len, reverse=True):
        end = at + len(low)
        plain = low not in _MONTHS if by else not (entry.plant == low and entry.did is None)
        if plain and words.startswith(low, at) and not re.match(r"[\w']", words[end : end + 1]):
            return known[low], end
    word = _WORD.match(words, at)
    if word is None or by or word[0] in asked_words()["nobody"]["words"]:
        return None
    if word[0] == "i":
        return (speaker, word.end()) if speaker else None
    named = entry.plant is None or entry.plant.lower() != word[0]
    anybody = entry.did is None and re.match(r" (?:do|done|been doing)\b", words[word.end() :]) is not None
    spoken = word[0] in (entry.rest or "").lower().split()
    return (word[0], word.end()) if spoken and named and (anybody or is_given_name(word[0])) else None
