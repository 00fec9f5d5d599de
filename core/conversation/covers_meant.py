"""What is said of covers without their name, and how long they are off: "took them off 2 and 3 for 15".

Rules
1. "Them" that were taken off or put back are the covers where the talk just before was of covers, and nothing else
   can be read in the words; what was opened or shut then are the vents.
2. A bare number says minutes where a cover may be off for so many and then goes back on. The receipt says so.
"""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from typing import Final

from core.conversation.correction_words import bare
from core.conversation.heard import either, heard, page
from core.conversation.looks import replied_to, said_last
from core.conversation.scene import TALK_LASTS, Scene, words_before
from core.entries import Act, Entry
from core.lengths import Length
from core.lots import open_states
from core.lots.phrases import says
from core.notes import Reading, read
from core.storage import Books

_WORDS: Final = "answers_heard"
_TABLE: Final = "covers_meant"
_OF_COVERS: Final = frozenset({Act.AIR, Act.COVER, Act.UNCOVER})
_NAMED: Final = _OF_COVERS | {Act.VENT}
_REMINDERS: Final = frozenset({"cover_back", "daily_look", "vent", "wean", "cover_off"})
_FOR: Final = re.compile(r"(?:(?P<lot>\d{1,4}) )?for (?P<for>\d{1,3})(?: (?P<after>\D+))?")


def with_covers_named(books: Books, scene: Scene, reading: Reading) -> Reading:
    """The reading with the covers in place of "them" or "it", where the talk is of covers; else as it was."""
    one = reading.entries[0] if len(reading.entries) == 1 else None
    if one is None or one.act not in (Act.NOTE, Act.AMEND) or one.plant or "?" in scene.message.text:
        return reading
    words = scene.message.text.lower().replace("’", "'")
    covers, vents = _patterns()
    named = covers.sub(rf"\g<verb>{page(_WORDS)[_TABLE]['covers'][0]}\g<way>", words, count=1)
    named = vents.sub(rf"\g<verb>{page(_WORDS)[_TABLE]['vents'][0]}", named, count=1)
    if named == words or not _talk_of_covers(books, scene):
        return reading
    again = read(named, scene.local_now, scene.names)
    told = again.entries and all(entry.act in _NAMED for entry in again.entries)
    return replace(again, repairs=reading.repairs) if told else reading


@cache
def _patterns() -> tuple[re.Pattern[str], re.Pattern[str]]:
    """ "Took them off", of covers; "opened it", of vents."""
    verbs, them, ways, opens = (either(_WORDS, _TABLE, key) for key in ("verbs", "them", "ways", "opens"))
    return (
        re.compile(rf"\b(?P<verb>(?:{verbs}) )(?:{them})(?P<way> (?:{ways}))\b"),
        re.compile(rf"\b(?P<verb>(?:{opens}) )(?:{them})\b"),
    )


def _talk_of_covers(books: Books, scene: Scene) -> bool:
    """Whether this is said of covers: as a reply, after a deed or words of them, or after a reminder of them."""
    if scene.replied_reminders:
        return any(one.due.kind in _REMINDERS for one in replied_to(books, scene))
    lately = books.told_in(scene.chat, since=scene.message.said_at - TALK_LASTS, until=scene.message.said_at)
    told = scene.replied_records or (*scene.latest, *lately[-1:])
    if any(one.entry.act in _OF_COVERS or one.entry.act is Act.VENT or _names_covers(one.said) for one in told):
        return True
    if _names_covers(words_before(books, scene)):
        return True
    sent = [one for one in books.open_reminders(chat=scene.chat, sent=True) if one.due.kind in _REMINDERS]
    return said_last(books, scene, sent)


def _names_covers(words: str) -> bool:
    return says(words.lower(), heard(_WORDS, _TABLE, "covers"))


def with_cover_back(books: Books, scene: Scene, reading: Reading) -> Reading:
    """The reading of what wilts, with the cover that its note puts back: "droopy after 10, put it back"."""
    one = reading.entries[0] if len(reading.entries) == 1 else None
    if one is None or one.act is not Act.WILT or "?" in scene.message.text:
        return reading
    words = bare(scene.message.text)
    if not words.endswith(heard(_WORDS, _TABLE, "put_back")):
        return reading
    if not any(kind == "cover_off" for kind, _ in open_states(books.records(), books.lots(), scene.zone, scene.now)):
        return reading
    # "After 10" is how long it was off.
    count = None if re.search(rf"\bafter {one.count}\b", words) else one.count
    cover = Entry(act=Act.COVER, lots=one.lots, trays=one.trays, plant=one.plant, by=one.by, on=one.on)
    asks = (*reading.asks, *(replace(ask, entry=1) for ask in reading.asks if ask.kind == "lot"))
    return replace(reading, entries=(replace(one, count=count), cover), asks=asks)


def in_minutes(reading: Reading) -> tuple[Reading, tuple[str, ...]]:
    """The reading with the minutes that a bare number says of a cover that is off, and what the receipt tells of it."""
    entries, asks, took = list(reading.entries), list(reading.asks), list[str]()
    fewest, most = page(_WORDS)[_TABLE]["minutes_off"]
    for place, entry in enumerate(entries):
        found = _FOR.fullmatch(entry.rest or "") if entry.act is Act.AIR and entry.duration is None else None
        if found is None or not fewest <= int(found["for"]) <= most:
            continue
        if found["lot"] and (entry.lots or entry.trays or entry.plant):
            continue
        lots = (found["lot"],) if found["lot"] else entry.lots
        length = Length.of_minutes(int(found["for"]))
        entries[place] = replace(entry, duration=length, lots=lots, rest=found["after"] or None)
        settled = ("unit", "number", "lot") if found["lot"] else ("unit",)
        asks = [ask for ask in asks if not (ask.kind in settled and ask.entry in (place, None))]
        took.append(f"{found['for']} taken as minutes")
    return replace(reading, entries=tuple(entries), asks=tuple(asks)), tuple(dict.fromkeys(took))
