"""Which word of talk with the bot was misspelt (`undi that`, `hlep`, `mkae that 42`, `donr 9:20`).

Rules
1. A word is a slip of talk only where with the right one the note is talk from end to end, or opens an answer or a
   correction.
2. One slip of the thumb, no more; where two words would do that say something else, none.
"""

from __future__ import annotations

from functools import cache, lru_cache
from typing import Final

from core.notes.words.spelling import Reach, reach_of, slips_near
from core.notes.words.tokens import Token
from core.vocabulary.loading import small_words, split_words
from core.vocabulary.talk_phrases import correction_openers, said_beside_talk, said_of, whole_notes

_MOST_WORDS: Final = 12
_FARTHEST: Final = 4
"""The place before which a slip of talk stands."""
_SHORTEST: Final = 3
_LONG: Final = 6
"""A word of so many letters opens a correction by itself (`actualy 14`)."""
_OPENS: Final = 4
"""How many words an opener of a correction has at most, where one of them is misspelt."""
_AFTER_DONE: Final = small_words("spelling", "after_done")


def talk_meant(tokens: list[Token], at: int) -> str | None:
    """The word of talk with the bot that a word at a place is a slip of; None for none."""
    if at >= _FARTHEST or len(tokens) > _MOST_WORDS:
        return None
    near = _near(tokens[at].low)
    if not near:
        return None
    said = [token.low for token in tokens if token.kind != "line" and token.low not in ("!", ".", ",")]
    place = sum(token.kind != "line" and token.low not in ("!", ".", ",") for token in tokens[:at])
    meant = [(word, far, told) for word, far in near if (told := _told(said, place, word)) is not None]
    if len(said) == 1 and len(said[0]) == _SHORTEST:
        # So short a word by itself may be a name: only swapped letters are a slip.
        meant = [one for one in meant if sorted(one[0]) == sorted(said[0])]
    likeliest = {told for _, far, told in meant if far == meant[0][1]}
    return meant[0][0] if len(likeliest) == 1 else None


@lru_cache(maxsize=4096)
def _near(word: str) -> tuple[tuple[str, float], ...]:
    """The words of talk with the bot that are one slip of the thumb from a word, the likeliest first."""
    return slips_near(word, _words_of_talk()) if len(word) >= _SHORTEST and word.isalpha() else ()


@cache
def _words_of_talk() -> Reach:
    phrases = (*whole_notes(), *correction_openers())
    said = {word for phrase in phrases for word in split_words(phrase)}
    return reach_of(word for word in said if len(word) >= _SHORTEST and word.isalpha())


def _told(said: list[str], place: int, word: str) -> tuple[str, str] | None:
    """What a note tells the bot with another word at a place; None where it is no talk then."""
    said = [*said[:place], word, *said[place + 1 :]]
    before, after = said_beside_talk()
    for start in range(place + 1):
        if any(one not in before for one in said[:start]):
            break
        for end in (len(said), len(said) - 1):
            if end > place and all(one in after for one in said[end:]) and (whole := _whole(said[start:end])):
                return whole
        if (opened := _opened(said, start, place)) is not None:
            return opened
    return None


def _whole(said: list[str]) -> tuple[str, str] | None:
    return whole_notes().get(" ".join(said))


def _opened(said: list[str], start: int, place: int) -> tuple[str, str] | None:
    """What a note opens with that goes on: a correction (`shoud be 8`), an answer (`doen all but lot 9`)."""
    word, after = said[place], said[place + 1 : place + 2]
    if not after:
        return None
    if start == place and whole_notes().get(word) == ("reply", "done"):
        goes_on = after[0] in _AFTER_DONE or after[0] in _exceptions() or ":" in after[0]
        return ("reply", "done") if goes_on else None
    for end in range(min(start + _OPENS, len(said) - 1), place, -1):
        if (end - start > 1 or len(word) >= _LONG) and " ".join(said[start:end]) in correction_openers():
            return "amend", " ".join(said[start:end])
    return None


@cache
def _exceptions() -> frozenset[str]:
    """The first words of what is excepted from what is done (`all but tray 3`)."""
    return frozenset(phrase.split(" ")[0] for phrase in said_of("but", "says"))
