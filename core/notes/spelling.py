"""Which word of the bench was meant: a misspelt word to the one of the vocabulary that is nearest.

Rules
1. Only words unknown to the vocabulary, the crew and plain English are looked at; never numbers, never words under
   four letters.
2. Four letters may have two swapped, one missing or one too many; five to seven one slip; longer words two, with
   the same first letter.
3. A word equally near to two meanings is not mended but asked about.
"""

from __future__ import annotations

from functools import cache, lru_cache
from itertools import combinations
from typing import Any, Final

from core.vocabulary.loading import ActWord, plain_words, split_words, words

_MENDED_ROLES: Final = frozenset({
    "act", "noun", "shared", "medium", "cutting", "wood", "hormone_name", "hormone_form", "hormone", "container",
    "pot_size", "cause", "solution",
    "cover_noun", "vent_noun", "vent_open", "duration", "amount", "inch", "month", "weekday", "day", "humidity",
    "number", "dozen", "span", "degree",
    "place_word", "thing", "what", "for_good", "method", "to_do", "subject",
})  # fmt: skip
_MEANING_ROLES: Final = ("act", "noun", "shared", "to_do")
_ALSO_MENDED: Final = frozenset(
    {
        "from",
        "with",
        "about",
        "another",
        "this",
        "remind",
        "none",
        "both",
        "half",
        "lots",
        "trays",
        "tray",
        "without",
        "should",
        "need",
        "wait",
        "didn't",
        "didnt",
    }
)
_SHORTEST: Final = 4
_LONG: Final = 8
_LONGEST: Final = 18


@cache
def _targets() -> dict[str, tuple[str, ...]]:
    """Words by what is left of them with one (long words: two) letters taken out."""
    found: dict[str, set[str]] = {}
    single: set[str] = set(_ALSO_MENDED)
    for phrase, leaf in words().phrases.items():
        if any(role in leaf for role in _MENDED_ROLES):
            single.update(word for word in split_words(phrase) if len(word) >= _SHORTEST and word.isalpha())
    for word in single:
        for less in _shortened(word):
            found.setdefault(less, set()).add(word)
    return {less: tuple(sorted(named)) for less, named in found.items()}


def _shortened(word: str) -> set[str]:
    less = {word}
    less.update(word[:at] + word[at + 1 :] for at in range(len(word)))
    if len(word) >= _LONG:
        less.update(word[:a] + word[a + 1 : b] + word[b + 1 :] for a, b in combinations(range(len(word)), 2))
    return less


@lru_cache(maxsize=4096)
def mend(word: str) -> tuple[str, ...]:
    """The words that a misspelt one may mean, nearest first: one is a repair, several a question, none leaves
    it as it is.
    """
    if not _SHORTEST <= len(word) <= _LONGEST or not word.isalpha() or word in plain_words():
        return ()
    from rapidfuzz.distance import OSA

    near: dict[str, int] = {}
    targets = _targets()
    for less in _shortened(word):
        for target in targets.get(less, ()):
            if target not in near:
                far = OSA.distance(word, target)
                if _close_enough(word, target, far):
                    near[target] = far
    if not near:
        return ()
    least = min(near.values())
    best = sorted(target for target, far in near.items() if far == least)
    if len(best) > 1:
        best = [target for target in best if target in words().phrases] or best
        best = [target for target in best if target[-1] == word[-1]] or best
        best = [target for target in best if target[:4] == word[:4]] or best
        best = _done_forms(best)
    meanings: dict[Any, str] = {}
    for target in best:
        meanings.setdefault(_meaning(target), target)
    return tuple(meanings.values())


def _done_forms(best: list[str]) -> list[str]:
    """Of several forms of one act, the one that says it was done."""
    acts = {
        leaf[role].act
        for target in best
        for leaf in [words().phrases.get(target, {})]
        for role in _MEANING_ROLES
        if role in leaf
    }
    if len(acts) != 1:
        return best
    return [target for target in best if "act" in words().phrases.get(target, {})] or best


def _close_enough(word: str, target: str, far: int) -> bool:
    if far == 0 or (word[0] != target[0] and not (far == 1 and sorted(word[:2]) == sorted(target[:2]))):
        return False
    shorter = min(len(word), len(target))
    if shorter < 5:
        return far == 1 and (len(word) != len(target) or sorted(word) == sorted(target)) and (len(target) >= _SHORTEST)
    return far <= (2 if shorter >= _LONG - 1 and max(len(word), len(target)) >= _LONG else 1)


def _meaning(word: str) -> Any:
    leaf = words().phrases.get(word)
    if leaf is None:
        return word
    for role in _MEANING_ROLES:
        if role in leaf:
            meaning: ActWord = leaf[role]
            return meaning.act, tuple(sorted(meaning.says.items())), meaning.rule
    return tuple(sorted((role, str(value)) for role, value in leaf.items() if role != "filler")) or word
