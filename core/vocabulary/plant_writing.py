"""How plant names are written: the names in what the bot says, as the codes of nomenclature ask.

Rules
1. The genus of a botanical name is capitalised, its epithets stay lower case (ICN, art. 60F and 20.1).
2. A cultivar epithet stands in single quotes with capitals (ICNCP, art. 14 and 21), right after the name of its plant.
3. Common names, and a genus that is called by its own name ("salvia"), stay as they were texted.
"""

from __future__ import annotations

import re
from functools import cache
from typing import Final

from core.vocabulary.loading import small_words
from core.vocabulary.plants import candidates, listed

_WORD_PAIR: Final = re.compile(r"(?<![\w'-])([a-z]+)(?= (?:[x×] )?([a-z]+(?:-[a-z]+)*))")
_QUOTED: Final = re.compile(r"(?<=\w )'([^'\s][^'\n]{2,})'(?!\w)")
_WORD: Final = re.compile(r"[\w×-]+")
_SIGNS: Final = frozenset({"x", "×"})
_LONGEST: Final = 4
"""So many words at most are looked at for the plant that a cultivar is of."""


def written(text: str) -> str:
    """The text with every botanical name and cultivar in it written by the codes: "baccharis pilularis 'tern ledge'" is
    "Baccharis pilularis 'Tern Ledge'". Nothing else is changed.
    """
    known = _pairs()
    text = _WORD_PAIR.sub(lambda found: found[0].capitalize() if (found[1], found[2]) in known else found[0], text)
    return _QUOTED.sub(lambda found: _capitals(found[0]) if _ends_in_plant(text[: found.start()]) else found[0], text)


@cache
def _pairs() -> frozenset[tuple[str, str]]:
    """Genus and first epithet, in lower case, of every species that is listed, by accepted and older names."""
    names = (name.lower() for plant in listed() for name in (plant.botanical, *plant.synonyms))
    words = ([word for word in name.split() if word not in _SIGNS] for name in names)
    return frozenset((parts[0], parts[1]) for parts in words if len(parts) > 1)


def _ends_in_plant(text: str) -> bool:
    words = _WORD.findall(text.lower())
    return any(candidates(" ".join(words[-size:])) for size in range(1, min(_LONGEST, len(words)) + 1))


def _capitals(quoted: str) -> str:
    """Capitals for each word but the linking ones within (ICNCP, art. 21.3), not for what follows a hyphen."""
    linking = small_words("names", "linking")
    words = quoted[1:-1].split(" ")
    capitals = (word if place and word in linking else word[:1].upper() + word[1:] for place, word in enumerate(words))
    return f"'{' '.join(capitals)}'"
