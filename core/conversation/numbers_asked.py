"""Bare numbers that questions name lots by: "14 rooted?", "16 how many left", "how many 14".

Rules
1. Only the number of an open lot, where the question names no lot, tray or plant; else the question stays as it was.
"""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache

from core.conversation.correction_words import said
from core.conversation.scene import Scene
from core.entries import Act, Entry
from core.notes import Reading, read
from core.storage import Books

_OF_COUNTS = frozenset({"count", "stock"})


def with_lots_asked(books: Books, scene: Scene, reading: Reading) -> Reading:
    """The reading with the open lot that its one question names by a bare number; else as it was."""
    one = reading.entries[0] if len(reading.entries) == 1 else None
    if one is None or one.lots or one.trays or one.plant:
        return reading
    if one.act is Act.ASK:
        return _of_count(books, scene, reading, one)
    return _how_many(books, scene) or reading


def _of_count(books: Books, scene: Scene, reading: Reading, asked: Entry) -> Reading:
    """ "14 rooted?": is lot 14."""
    number = str(asked.count)
    if asked.about not in _OF_COUNTS or asked.count is None or not _is_open(books, scene, number):
        return reading
    return replace(reading, entries=(replace(asked, lots=(number,), count=None),), asks=())


@cache
def _number_first() -> re.Pattern[str]:
    asks = "|".join(map(re.escape, sorted(said("how_many"), key=len, reverse=True)))
    return re.compile(rf"(?P<lot>\d{{1,5}}):? (?P<asked>(?:{asks})\b[^\d\n]*)")


def _how_many(books: Books, scene: Scene) -> Reading | None:
    """ "14 how many left": how many are left in lot 14."""
    found = _number_first().fullmatch(" ".join(scene.message.text.lower().split()).strip(" .?!"))
    if found is None or not _is_open(books, scene, found["lot"]):
        return None
    asked = read(f"{found['asked']} in lot {found['lot']}?", scene.local_now, scene.names)
    return asked if [one.act for one in asked.entries] == [Act.ASK] and not asked.asks else None


def _is_open(books: Books, scene: Scene, number: str) -> bool:
    full = books.resolve(number, scene.year())
    lot = books.lot(full) if full is not None else None
    return lot is not None and not lot.closed
