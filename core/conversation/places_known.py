"""Which words are a place of the bench: one that the crew has named, or a word for a place of a nursery.

Rules
1. Where a note of plants stuck, sown, divided or potted ends with the place where they stand now, and says nothing else
   of it, they are moved there too: "potted 20 of lot 14, on the lath".
2. "In" the sun or the shade is weather, and no place where anything is set down.
"""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from typing import Final

from core.conversation.correction_words import bare
from core.conversation.heard import either, heard
from core.conversation.scene import Scene
from core.entries import Act, Entry
from core.notes import Ask, Reading
from core.vocabulary.loading import read_toml
from core.vocabulary.place_words import places_of_a_nursery

_WORDS: Final = "answers_heard"
_TABLE: Final = "set_down"
_SET_DOWN: Final = frozenset({Act.STICK, Act.SOW, Act.DIVIDE, Act.POT})
_LONGEST: Final = 3


def is_place(scene: Scene, words: str) -> bool:
    """Whether the words are the name of a place, or a kind of place with at most two words before it."""
    named = [word for word in words.split() if not word.isdecimal()]
    if words in scene.names.places or words in places_of_a_nursery():
        return True
    return 0 < len(named) <= _LONGEST and named[-1] in _kinds() and named[0] not in heard(_WORDS, _TABLE, "no_places")


@cache
def _kinds() -> frozenset[str]:
    return frozenset(read_toml("small_words.toml")["places"]["structures"]) | {*heard(_WORDS, _TABLE, "kinds")}


@cache
def _pattern() -> re.Pattern[str]:
    opens, leads = either(_WORDS, _TABLE, "opens"), either(_WORDS, _TABLE, "leads")
    return re.compile(rf"(?:(?:{opens}) )*(?:{leads}) (?:(?:the|our|my) )?(?P<to>[a-z].*)")


def with_places_set_down(scene: Scene, reading: Reading) -> Reading:
    """The reading, with a move behind each deed whose words left over are the place where its plants were set down."""
    if any(one.act is Act.MOVE for one in reading.entries):
        return reading
    entries, asks = list[Entry](), list[Ask]()
    for place, one in enumerate(reading.entries):
        asks += [replace(ask, entry=len(entries)) for ask in reading.asks if ask.entry == place]
        deed = reading.entries[place - 1] if one.act is Act.COVER and place else one
        to = _set_down(scene, deed, one.rest or "")
        entries.append(one if to is None else replace(one, rest=None))
        if to is not None:
            plant = None if deed.lots or deed.trays else deed.plant
            move = Entry(act=Act.MOVE, lots=deed.lots, trays=deed.trays, plant=plant, to=to, by=deed.by, on=deed.on)
            entries.append(replace(move, count=deed.count, all_of=deed.all_of) if deed.act is Act.POT else move)
    loose = [ask for ask in reading.asks if ask.entry is None]
    return replace(reading, entries=tuple(entries), asks=(*asks, *loose))


def _set_down(scene: Scene, one: Entry, rest: str) -> str | None:
    if one.act not in _SET_DOWN or not rest or (one.act is Act.POT and one.count is None and not one.all_of):
        return None
    found = _pattern().fullmatch(bare(rest))
    if found is None:
        # The little word that leads to the place is in no words left over where it is a filler.
        leads = either(_WORDS, _TABLE, "leads")
        typed = re.search(rf"\b(?:{leads}) {re.escape(bare(rest))}$", bare(scene.message.text))
        found = _pattern().fullmatch(typed[0]) if typed is not None else None
    to = found["to"] if found is not None else None
    return to if to is not None and to not in heard(_WORDS, _TABLE, "weather") and is_place(scene, to) else None
