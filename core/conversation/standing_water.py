"""Is too much water standing in a covered tray: "tray 3 has half an inch of water in the bottom", kept as a note.

Rules
1. Only where water stands there now, deeper than a covered tray may have it, in the tray or lot that the note names,
   else in that of the talk just before.
2. Water that is wanted, was tipped out, or is not there is none; nor is the same where no cover is on.
"""

from __future__ import annotations

import re
from functools import cache

from core.conversation.heard import either
from core.conversation.scene import TALK_LASTS, Scene
from core.entries import Act, Entry
from core.lots import fold_cover
from core.notes import read
from core.records import Record
from core.storage import Books
from core.treatments.limits import deepest_water_in

_WORDS = "standing_water"
_MOST_WORDS = 4
"""A depth is said in no more words ("two and a half inches")."""


def water_standing_in(books: Books, scene: Scene, entry: Entry) -> float | None:
    """How deep the water stands (inches) that a note tells of, where that is too deep under a cover; else None."""
    if entry.act is not Act.NOTE or not _told().search(scene.message.text) or _other().search(scene.message.text):
        return None
    inches = _depth(scene)
    return inches if inches is not None and inches > deepest_water_in() and _covered(books, scene, entry) else None


def _depth(scene: Scene) -> float | None:
    """The depth as the reader takes it where it is said of water in a tray; the longest words that are one."""
    words = scene.message.text.split()
    for at, word in enumerate(words):
        if not _inches().fullmatch(word):
            continue
        for start in range(max(0, at - _MOST_WORDS), at + 1):
            told = read(f"{' '.join(words[start : at + 1])} of water in tray 1", scene.local_now).entries
            if len(told) == 1 and told[0].act is Act.WATER and told[0].depth_in is not None and told[0].rest is None:
                return told[0].depth_in
    return None


def _covered(books: Books, scene: Scene, entry: Entry) -> bool:
    lots = [books.resolve(one, scene.year()) for one in entry.lots]
    trays = set(entry.trays)
    if not lots and not trays:
        told = _told_last(books, scene)
        lots = [record.lot for record in told]
        trays = {tray for record in told for tray in record.trays}
    for number in filter(None, lots):
        lot = books.lot(number)
        trays |= set(lot.trays) if lot is not None else set()
        if lot is not None and not lot.trays and fold_cover(books.records(lots=(number,)), scene.zone, scene.now).on:
            return True
    return any(fold_cover(books.tray_records(tray), scene.zone, scene.now).on for tray in trays)


def _told_last(books: Books, scene: Scene) -> list[Record]:
    """What the latest note of a lot or tray told in this chat, by anybody, or what this message replies to."""
    since = scene.message.said_at - TALK_LASTS
    told = scene.replied_records or books.told_in(scene.chat, since=since, until=scene.message.said_at)
    placed = [one for one in told if one.holds() and one.message != scene.key and (one.lot or one.trays)]
    return [one for one in placed if one.message == placed[-1].message]


@cache
def _told() -> re.Pattern[str]:
    water, stands = either(_WORDS, "told", "water"), either(_WORDS, "told", "stands")
    both = rf"\b(?:{water})\b.*\b(?:{stands})\b|\b(?:{stands})\b.*\b(?:{water})\b"
    return re.compile(both, re.IGNORECASE | re.DOTALL)


@cache
def _other() -> re.Pattern[str]:
    return re.compile(rf"\b(?:{either(_WORDS, 'told', 'but_not')})\b", re.IGNORECASE)


@cache
def _inches() -> re.Pattern[str]:
    return re.compile(rf".*?(?:{either(_WORDS, 'told', 'inches')})[,.;!]?", re.IGNORECASE)
