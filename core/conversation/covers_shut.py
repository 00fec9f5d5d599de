"""Which covers are back on where a tray was told to be shut: "shut tray 1", "tray 1 is shut", "closed up".

Rules
1. Only a cover that stands off, and only what is over: "shut it at 3", said at noon, is a wish.
2. Where no place is named the only cover off is meant, all where the words say several; else it is asked which.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime
from functools import cache

from core.conversation.correction_words import bare
from core.conversation.covers_back import covers_off, what_was_covered, without_hour
from core.conversation.heard import either, heard
from core.conversation.scene import Scene
from core.entries import Act, Entry
from core.lots.phrases import says
from core.notes import Ask, Reading, read_answer
from core.storage import Books

_WORDS = "answers_heard"
_BACK = "cover_back"


def with_cover_shut(books: Books, scene: Scene, reading: Reading) -> Reading:
    """The reading with the cover that a tray was shut with; else as it was."""
    one = reading.entries[0] if len(reading.entries) == 1 else None
    if one is None or one.act is not Act.NOTE or one.plant or "?" in scene.message.text:
        return reading
    words = without_hour(one, bare(scene.message.text))
    found = _pattern().fullmatch(words)
    if found is None or (isinstance(one.on, datetime) and one.on > scene.local_now):
        return reading
    place = found["after"] or found["before"]
    named = read_answer("lot", place, scene.local_now) or {} if place else {}
    off = covers_off(books, scene)
    if place:
        off = [where for where in off if _is_there(books, scene, where, named)]
    if not off:
        return reading
    if place or len(off) == 1 or says(words, heard(_WORDS, _BACK, "says_several")):
        return replace(reading, entries=tuple(replace(where, by=one.by, on=one.on) for where in off), asks=())
    return Reading(entries=(Entry(act=Act.COVER, by=one.by, on=one.on),), asks=(Ask(kind="lot", entry=0),))


def _is_there(books: Books, scene: Scene, where: Entry, named: dict[str, tuple[str, ...]]) -> bool:
    lots = {books.resolve(lot, scene.year()) for lot in named.get("lots", ())}
    return bool(set(where.trays) & set(named.get("trays", ())) or set(where.lots) & lots)


@cache
def _pattern() -> re.Pattern[str]:
    """ "Just shut tray 1", "tray 1 is shut", "closed it", "all shut now"."""
    who, shut, is_shut, ends = (either(_WORDS, _BACK, key) for key in ("who", "shut", "is_shut", "ends_shut"))
    what = what_was_covered()
    place = r"(?P<{}>(?:(?:tray|lot)s? )?\d[\w-]*(?: (?:and )?(?:(?:tray|lot)s? )?\d[\w-]*)*)"
    before = rf"(?:(?:{what}|{place.format('before')}) )?(?:(?:{is_shut}) )*"
    after = rf"(?: (?:up )?(?:{what}|{place.format('after')}))?"
    return re.compile(rf"(?:(?:{who}) )*{before}(?:{shut}){after}(?: (?:{ends}))*")
