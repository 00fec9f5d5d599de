"""What do the crew's own names change in a note: its plants, places and sources beside the vocabulary's words.

Rules
1. A name that the crew has used is that name: a known place is a place, a known source a source, and none is mended.
2. In talk a misspelt plant is read as the right one, and the repair is told; the crew's own names stay as they are.
"""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from typing import Any, Final

from core.notes.words.spelling import nearest_names
from core.notes.words.values import Names, Reading, Repair
from core.vocabulary import words
from core.vocabulary.loading import END, split_words
from core.vocabulary.plants import candidates, plant_names, right_name, split_cultivar

_LONGEST: Final = 4
_SHORTEST_MENDED: Final = 6
"""So many letters a plant's name needs to be mended; one less where other words stand beside it."""
_OF_THE_BENCH: Final = frozenset({"act", "shared", "noun", "to_do", "plant", "container", "medium", "number", "vague"})


@lru_cache(maxsize=16)
def tree_with(names: Names) -> dict[str, Any]:
    """The tree of phrases with the crew's own plants, places and sources beside the vocabulary's."""
    tree = dict(words().tree)
    for name in names.plants:
        plain = name.lower().replace("-", " ")
        parts = split_words(plain)
        if parts and parts[0].isalpha() and "'" not in plain:
            _plant_in(tree, parts, "plant", name)
    for role, told in (("place_word", names.places), ("source_name", names.sources)):
        for name in told:
            parts = split_words(name.lower().replace("-", " "))
            if _may_stand_alone(parts):
                _plant_in(tree, parts, role, name)
    return tree


def with_names(tree: dict[str, Any], names: list[tuple[str, ...]]) -> dict[str, Any]:
    """The tree of phrases with the names of plants, each as its words, that one note misspells."""
    tree = dict(tree)
    for parts in names:
        _plant_in(tree, list(parts), "plant", " ".join(parts))
    return tree


def _plant_in(tree: dict[str, Any], parts: list[str], role: str, value: str) -> None:
    node = tree[parts[0]] = dict(tree.get(parts[0], {}))
    for word in parts[1:]:
        node[word] = dict(node.get(word, {}))
        node = node[word]
    node[END] = {**node.get(END, {}), role: value}


def _may_stand_alone(parts: list[str]) -> bool:
    """Whether a learned place or source is plain words, of which none tells an act or a thing of the bench."""
    if not 0 < len(parts) <= _LONGEST or not all(part.isalpha() and len(part) > 1 for part in parts):
        return False
    tree = words().tree
    return all(_OF_THE_BENCH.isdisjoint(tree.get(part, {}).get(END, {})) for part in parts) and (
        len(parts) > 1 or "filler" not in tree.get(parts[0], {}).get(END, {})
    )


@lru_cache(maxsize=16)
def kept_words(names: Names) -> frozenset[str]:
    """The words of the crew's people, places and sources, which are never mended."""
    told = (*names.people, *names.places, *names.sources)
    return frozenset(word for name in told for word in split_words(name.lower()))


def with_right_plants(reading: Reading, names: Names) -> Reading:
    """The reading with misspelt plants put right and told as repairs, where the crew does not use the name itself."""
    own = {name.lower() for name in names.plants}
    entries = []
    repairs = list(reading.repairs)
    for entry in reading.entries:
        base, cultivar = split_cultivar(entry.plant or "")
        right = (right_name(base) or _nearly(base)) if base and base not in own and entry.plant not in own else None
        if right is not None:
            entry = replace(entry, plant=f"{right} '{cultivar}'" if cultivar else right)
            if all(repair.read != base for repair in repairs):
                repairs.append(Repair(read=base, as_=right))
        entries.append(entry)
    return replace(reading, entries=tuple(entries), repairs=tuple(repairs))


@lru_cache(maxsize=4096)
def _nearly(name: str) -> str | None:
    """The one plant of the list whose name is a slip of the thumb from this one (`monkeyflwer`); None where the name is
    of the list, too short to tell, or near to several.
    """
    words = split_words(name.lower())
    if candidates(name):
        return None
    meant: set[str] = set()
    for at, word in enumerate(words):
        if len(word) >= _SHORTEST_MENDED - (len(words) > 1):
            near = (right_name(word), *(target for target, _ in nearest_names(word)))
            told = (" ".join((*words[:at], one, *words[at + 1 :])) for one in near if one is not None)
            meant.update(one for one in told if one in plant_names())
    return meant.pop() if len(meant) == 1 else None
