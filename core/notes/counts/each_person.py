"""How many several people did in all: `4 kids potted 10 each`, `gave 4 each to 3 schools`.

Rules
1. As many for each as there are people, where only one lot or plant is told of; "each" is of those otherwise.
2. Where nobody says how many people there were (`we potted 10 each`) the count is asked.
"""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Final

from core.notes.words.number_words import number_of_word
from core.notes.words.pieces import SUBJECTS, Piece, names_plants
from core.notes.words.said import is_count, keep_words, sentence_at
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_EACH: Final = small_words("each_person", "each")
_GROUPS: Final = small_words("numbered", "people")
_WE: Final = small_words("each_person", "we")
_DEEDS: Final = frozenset({"stick", "sow", "pot", "plant_out", "sell", "give", "collect", "divide", "lose"})
_AND: Final = re.compile(r",| and | & ")
_MANY: Final = 12


@looks_for(any_of=_EACH, beside=tuple(f"!{act}" for act in _DEEDS))
def count_each_person(pieces: list[Piece]) -> None:
    """Makes what each of several people did one count, or keeps it, in place."""
    for at, piece in enumerate(pieces):
        if piece.low not in _EACH or piece.used:
            continue
        start, end = sentence_at(pieces, at)
        said = pieces[start:end]
        of_us = " ".join(one.low for one in pieces[at + 1 : at + 3]) == "of us"
        number = _number_of_all(pieces[at:end]) if of_us else _number_before(pieces, at)
        if number is None or not _one_kind(said) or not any(map(_does, said)):
            continue
        many = _people(said)
        if many is None and not of_us and not any(one.low in _WE for one in said):
            continue
        if many is None:
            keep_words(number, piece)
        elif 1 < many <= _MANY * _MANY:
            number.value = replace(number.value, value=number.value.value * many)
            piece.roles, piece.used = {"filler": True}, True
        return


def _does(piece: Piece) -> bool:
    word = piece.roles.get("act") or piece.roles.get("shared")
    return word is not None and word.act in _DEEDS


def _one_kind(said: list[Piece]) -> bool:
    """Whether one lot or plant at most is told of, and no mothers or vessels that "each" could be said of."""
    named = [piece for piece in said if piece.kind in SUBJECTS]
    plants = sum("plant" in piece.roles for piece in said)
    held = any("container" in piece.roles or piece.kind == "amount" for piece in said)
    return len(named) <= 1 and all(len(piece.value) == 1 for piece in named) and plants <= 1 and not held


def _number_before(pieces: list[Piece], at: int) -> Piece | None:
    """The count right before "each", or before the plant or the lot before it (`2 lot 7 apiece`)."""
    step = at - 1
    step -= step > 0 and not pieces[step].roles.keys().isdisjoint(("what", "cutting"))
    if step > 0 and names_plants(pieces[step]):
        step -= 1
        step -= step > 0 and pieces[step].low in ("of", "from")
    return pieces[step] if step >= 0 and is_count(pieces[step]) else None


def _number_of_all(said: list[Piece]) -> Piece | None:
    """The count after the deed of `each of us potted 12`."""
    numbers = [piece for piece in said if is_count(piece)]
    return numbers[0] if len(numbers) == 1 else None


def _people(said: list[Piece]) -> int | None:
    """How many people a sentence tells of: `4 kids`, `finn and mara`, `to 3 schools`."""
    for place, piece in enumerate(said):
        if piece.kind == "person":
            return len([name for name in _AND.split(str(piece.value)) if name.strip()])
        words = piece.low.split(" ")
        if piece.kind == "numbered" and " ".join(words[1:]) in _GROUPS:
            many = number_of_word(words[0])
            return int(words[0]) if words[0].isdigit() else many and int(many[0])
        to = place + 2 < len(said) and piece.low in ("to", "for") and is_count(said[place + 1])
        if to and said[place + 2].kind in ("word", "kept") and said[place + 2].low.endswith("s"):
            return int(said[place + 1].value.whole)
    return None
