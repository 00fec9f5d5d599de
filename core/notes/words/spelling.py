"""Which word was meant: a misspelt word to those of the vocabulary, of plain talk and of plant names that are nearest.

Rules
1. Only words unknown to the vocabulary, the crew and plain English are looked at; never numbers, never words under
   four letters.
2. Four letters may have two swapped, one missing, one too many or one from the key beside; five to seven one slip;
   longer words two, with the same first letter, unless just that is the slip. Of three letters one may be doubled.
3. Letters swapped, missing or too many are likelier than one from the key beside, that one likelier than any other.
4. A word written without its vowels (`mstd`, `watrd`) is the one deed or day that has the same consonants.
5. A deed may have its second and third letter swapped and another left out (`wtared`), or a letter doubled and another
   left out (`watterd`), where it can be no other.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache, lru_cache
from itertools import combinations
from typing import Any, Final

from core.vocabulary import Leaf
from core.vocabulary.loading import ActWord, plain_words, small_words, split_words, words

ACT_ROLES: Final = ("act", "noun", "shared", "to_do")
_BENCH_ROLES: Final = frozenset({
    "act", "noun", "shared", "medium", "cutting", "wood", "hormone_name", "hormone_form", "hormone", "container",
    "pot_size", "cause", "solution", "stock", "percent", "part", "fullness",
    "cover_noun", "vent_noun", "vent_open", "duration", "amount", "inch", "month", "weekday", "day", "humidity",
    "number", "dozen", "span", "degree",
    "place_word", "thing", "what", "for_good", "method", "to_do", "subject",
})  # fmt: skip
_UNITS: Final = frozenset({"duration", "amount", "number", "dozen", "degree", "percent"})
_COMMON_ROLES: Final = frozenset({
    "filler", "negation", "plan", "hearsay", "condition", "vague", "none", "all", "both", "more", "approx",
    "approx_after", "left", "part_of_day", "hour", "ordinal", "company", "opens", "closes", "thanks", "remarks",
})  # fmt: skip
_ALSO_MENDED: Final = small_words("spelling", "also")
_SHORTEST: Final = 4
_LONG: Final = 8
_LONGEST: Final = 18
_HINDERING: Final = frozenset({"negation", "plan", "hearsay", "condition"})
_SHORTEST_HINDERING: Final = 5
_SHORTEST_COMMON: Final = 6
_SHORTEST_NAME: Final = 5
_BESIDE: Final = 1.2
_UNLIKELY: Final = 1.4
_FARTHEST: Final = 2.4
_VOWELS: Final = re.compile(r"[aeiou]")
_SPOKEN: Final = re.compile(r"[aeiouy]")
_TWICE: Final = re.compile(r"(.)\1+")
_SHORTEST_SKELETON: Final = 3
_SHORTENED_ROLES: Final = frozenset({"act", "shared", "day", "weekday"})
_SHORTEST_HURRIED: Final = 6
_KEYS: Final = ("qwertyuiop", "asdfghjkl", "zxcvbnm")

Reach = dict[str, tuple[str, ...]]
"""Words by what is left of them with a letter or two taken out."""


@cache
def _targets() -> Reach:
    """Words of the bench and of plain talk by what is left of them with one (long words: two) letters taken out."""
    single: set[str] = set(_ALSO_MENDED)
    for phrase, leaf in words().phrases.items():
        for word in split_words(phrase) if _shortest(leaf) else ():
            if word.isalpha() and len(word) >= (_shortest(leaf_of(word)) or _shortest(leaf)):
                single.add(word)
    return reach_of(single, twice=True)


def _shortest(leaf: Leaf) -> int:
    """How many letters a word of a phrase needs at least to be mended; 0 for no mending."""
    if _BENCH_ROLES & leaf.keys():
        return _SHORTEST
    if _HINDERING & leaf.keys():
        return _SHORTEST_HINDERING
    return _SHORTEST_COMMON if _COMMON_ROLES & leaf.keys() else 0


@cache
def _name_targets() -> Reach:
    """Words of plant names by what is left of them with one letter taken out."""
    names = [name for name, leaf in words().phrases.items() if "plant" in leaf]
    single = {word for name in names for word in split_words(name) if len(word) >= _SHORTEST_NAME and word.isalpha()}
    return reach_of(single)


def reach_of(single: Iterable[str], *, twice: bool = False) -> Reach:
    """The words by what is left of them with one (`twice`, of long ones: two) letters taken out."""
    found: dict[str, set[str]] = {}
    for word in single:
        for less in _shortened(word, twice=twice):
            found.setdefault(less, set()).add(word)
    return {less: tuple(sorted(named)) for less, named in found.items()}


def slips_near(word: str, reach: Reach) -> tuple[tuple[str, float], ...]:
    """The words that one slip of the thumb makes a word of (two letters swapped, one missing, too many, or the key
    beside), each with how far it is, the nearest first.
    """
    from rapidfuzz.distance import OSA

    found = {target for less in _shortened(word, twice=False) for target in reach.get(less, ())}
    far = {target: _likelihood(word, target) for target in found if OSA.distance(word, target) == 1}
    near = (one for one in far.items() if one[1] <= _BESIDE)
    return tuple(sorted(near, key=lambda one: (one[1], -len(one[0]), one[0])))


def _shortened(word: str, *, twice: bool) -> set[str]:
    less = {word}
    less.update(word[:at] + word[at + 1 :] for at in range(len(word)))
    if twice and len(word) >= _LONG:
        less.update(word[:a] + word[a + 1 : b] + word[b + 1 :] for a, b in combinations(range(len(word)), 2))
    return less


@lru_cache(maxsize=4096)
def nearest(word: str) -> tuple[tuple[str, float], ...]:
    """Every word that a misspelt one may mean, each with how far it is, nearest first."""
    near = dict((*_doubled(word), *_near(word, _targets(), twice=True)))
    found = tuple(sorted(near.items(), key=lambda one: (one[1], one[0])))
    return found or _without_vowels(word) or _hurried(word) or _doubled_and_short(word)


@lru_cache(maxsize=4096)
def nearest_names(word: str) -> tuple[tuple[str, float], ...]:
    """Every word of a plant's name that a misspelt one may mean by one slip, nearest first."""
    return _near(word, _name_targets(), twice=False)


@lru_cache(maxsize=4096)
def nearest_cover(word: str) -> tuple[str, ...]:
    """The words for a cover, the short ones too, that one slip makes a word of (`lod on`), the nearest first."""
    return tuple(target for target, _ in slips_near(word, _covers()))


@cache
def _covers() -> Reach:
    return reach_of(said for said, leaf in words().phrases.items() if "cover_noun" in leaf and said.isalpha())


def _near(word: str, targets: Reach, *, twice: bool) -> tuple[tuple[str, float], ...]:
    if not _SHORTEST <= len(word) <= _LONGEST or not word.isalpha() or word in plain_words():
        return ()
    from rapidfuzz.distance import OSA

    near: dict[str, float] = {}
    for less in _shortened(word, twice=twice):
        for target in targets.get(less, ()):
            if target not in near:
                far = OSA.distance(word, target)
                how_far = far * _likelihood(word, target)
                if _close_enough(word, target, far) and how_far <= (_FARTHEST if twice else _UNLIKELY):
                    near[target] = how_far
    near = {target: far for target, far in near.items() if far <= 1 or not is_common(target)}
    return tuple(sorted(near.items(), key=lambda one: (one[1], one[0])))


def _doubled(word: str) -> tuple[tuple[str, float], ...]:
    """The word of three letters of which one is doubled (`fedd`)."""
    once = _TWICE.sub(r"\1", word)
    meant = len(word) == _SHORTEST and once != word and once in _short_words() and word not in plain_words()
    return ((once, 1.0),) if meant else ()


@cache
def _short_words() -> frozenset[str]:
    """The words of the bench, but for units, that are too short to be mended by their letters."""
    phrases = ((said, leaf.keys()) for said, leaf in words().phrases.items() if len(said) == _SHORTEST - 1)
    return frozenset(said for said, roles in phrases if _BENCH_ROLES & roles and not _UNITS & roles)


def _without_vowels(word: str) -> tuple[tuple[str, float], ...]:
    if not is_written_short(word) or word in plain_words():
        return ()
    meant = _skeletons().get(_consonants(word), ())
    written_out = [target for target in meant if len(target) > len(word) and _is_part(word, target)]
    return tuple((target, 1.0) for target in written_out) if len(written_out) == len(meant) else ()


def _hurried(word: str) -> tuple[tuple[str, float], ...]:
    """The one deed that a word is by two slips, its second and third letter swapped and another one left out (`wtared`
    for "watered").
    """
    if len(word) < _SHORTEST_HURRIED or _VOWELS.match(word[1]) or not _VOWELS.match(word[2]) or not word.isalpha():
        return ()
    if word in plain_words():
        return ()
    put_right = word[0] + word[2] + word[1] + word[3:]
    longer = (target for target, _ in _near(put_right, _targets(), twice=False) if len(target) == len(word) + 1)
    deeds = [target for target in longer if "act" in leaf_of(target)]
    return ((deeds[0], _BESIDE),) if len(deeds) == 1 else ()


def _doubled_and_short(word: str) -> tuple[tuple[str, float], ...]:
    """The one deed that a word is where a letter in it is doubled and another left out (`watterd` for "watered")."""
    once = _TWICE.sub(r"\1", word)
    if once == word or len(word) < _SHORTEST_HURRIED or word in plain_words():
        return ()
    near = (target for target, _ in _near(once, _targets(), twice=False) if len(target) == len(once) + 1)
    deeds = [target for target in near if "act" in leaf_of(target)]
    return ((deeds[0], _BESIDE),) if len(deeds) == 1 else ()


@cache
def _skeletons() -> dict[str, tuple[str, ...]]:
    """Deeds and days by their consonants; none where a word of plain talk has the same."""
    found: dict[str, set[str]] = {}
    for phrase, leaf in words().phrases.items():
        if phrase.isalpha() and len(phrase) > _SHORTEST_SKELETON and _SHORTENED_ROLES & leaf.keys():
            found.setdefault(_consonants(phrase), set()).add(phrase)
    for phrase, leaf in words().phrases.items():
        if phrase.isalpha() and not _SHORTENED_ROLES & leaf.keys() and is_common(phrase):
            found.pop(_consonants(phrase), None)
    return {skeleton: tuple(sorted(named)) for skeleton, named in found.items()}


def _is_part(word: str, target: str) -> bool:
    """Whether the letters of one stand in the other in their order."""
    letters = iter(target)
    return all(letter in letters for letter in word)


def is_written_short(word: str) -> bool:
    """Whether a word may stand without its vowels: three consonants or more, one vowel at most, and not at an end."""
    vowels = len(_VOWELS.findall(word))
    ends = _VOWELS.match(word) or _VOWELS.match(word[-1])
    return not ends and len(word) - vowels >= 3 and (vowels == 0 or (vowels == 1 and len(word) > _SHORTEST))


def _consonants(word: str) -> str:
    """The word without its vowels (but for the first letter), letters written twice once."""
    kept = word[0] + _VOWELS.sub("", word[1:])
    return _TWICE.sub(r"\1", kept)


def _likelihood(word: str, target: str) -> float:
    """One for a slip of the thumb; more where a letter stands for another that is not beside it on the keys."""
    if len(word) != len(target) or sorted(word) == sorted(target):
        return 1
    wrong = [(one, other) for one, other in zip(word, target, strict=True) if one != other]
    return _BESIDE if all(_side_by_side(one, other) for one, other in wrong) else _UNLIKELY


def _side_by_side(one: str, other: str) -> bool:
    places = [(row, keys.index(key)) for key in (one, other) for row, keys in enumerate(_KEYS) if key in keys]
    return len(places) == 2 and abs(places[0][0] - places[1][0]) <= 1 and abs(places[0][1] - places[1][1]) <= 1


def _close_enough(word: str, target: str, far: int) -> bool:
    if far == 0 or (word[0] != target[0] and not (far == 1 and _begins_alike(word, target))):
        return False
    shorter = min(len(word), len(target))
    if shorter < 5:
        return far == 1 and len(target) >= _SHORTEST and _likelihood(word, target) <= _BESIDE
    return far <= (2 if shorter >= _LONG - 1 and max(len(word), len(target)) >= _LONG else 1)


def _begins_alike(word: str, target: str) -> bool:
    """Whether the first two letters are swapped, or only the first of a deed or a day is missing (`atered`) or from the
    key beside (`ootted`).
    """
    if sorted(word[:2]) == sorted(target[:2]):
        return True
    wrong = target[1:] == word or (target[1:] == word[1:] and _side_by_side(word[0], target[0]))
    return wrong and len(word) > _SHORTEST and target.endswith(("ed", "day"))


def leaf_of(word: str) -> Leaf:
    """The meanings that a word has by itself."""
    return words().phrases.get(word, {})


def means_by_itself(word: str) -> bool:
    """Whether a word tells something without the others of its phrase."""
    return word in words().phrases or word in _ALSO_MENDED


def is_common(word: str) -> bool:
    """Whether a word is one of plain talk and none of the bench."""
    leaf = leaf_of(word)
    return bool(_COMMON_ROLES & leaf.keys()) and not _BENCH_ROLES & leaf.keys()


def is_hindering(word: str) -> bool:
    """Whether a word keeps what is told beside it from being done."""
    return not _HINDERING.isdisjoint(leaf_of(word))


def is_garbled(word: str) -> bool:
    """Whether a word is meant to say what was done, by its ending, and cannot be read (`hjwed`, `blxd`)."""
    told = len(word) >= _SHORTEST and word[-1] == "d"
    return told and _SPOKEN.search(word.removesuffix("d").removesuffix("e")) is None


def alike(word: str, found: dict[str, Leaf]) -> list[str]:
    """One word for each meaning among those that a misspelt one may mean, each with what it would mean; where none is
    an act, the one most alike.
    """
    acts = {leaf[role].act for leaf in found.values() for role in ACT_ROLES if role in leaf}
    if all(any(role in leaf for role in ACT_ROLES) for leaf in found.values()):
        found = _done_forms(found) if len(acts) == 1 else found
    elif not acts:
        found = _most_alike(word, found)
    elif any(leaf and not any(role in leaf for role in ACT_ROLES) for leaf in found.values()):
        found = {target: leaf for target, leaf in found.items() if target[-1] == word[-1]} or found
    meanings: dict[Any, dict[str, Leaf]] = {}
    for target, leaf in found.items():
        meanings.setdefault(_meaning(target, leaf), {})[target] = leaf
    return [next(iter(_most_alike(word, named))) for named in meanings.values()]


def _most_alike(word: str, found: dict[str, Leaf]) -> dict[str, Leaf]:
    best = {target: leaf for target, leaf in found.items() if leaf} or found
    best = {target: leaf for target, leaf in best.items() if target[-1] == word[-1]} or best
    return {target: leaf for target, leaf in best.items() if target[:4] == word[:4]} or best


def _done_forms(found: dict[str, Leaf]) -> dict[str, Leaf]:
    """Of several forms of one act, the one that says it was done."""
    return {target: leaf for target, leaf in found.items() if "act" in leaf} or found


def _meaning(word: str, leaf: Leaf) -> Any:
    for role in ACT_ROLES:
        if role in leaf:
            meaning: ActWord = leaf[role]
            return meaning.act, tuple(sorted(meaning.says.items())), meaning.rule
    if "thing" in leaf:
        return word
    return tuple(sorted((role, str(value)) for role, value in leaf.items() if role != "filler")) or word
