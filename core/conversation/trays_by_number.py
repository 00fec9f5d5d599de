"""Bare numbers that are trays: "vents a quarter on 2 and 3" where trays 2 and 3 are covered, and no such lots are.

Rules
1. Only care that is given to trays, and numbers that nobody called lots.
2. A cover goes back on the trays whose covers stand off, where they are no such lots.
3. Of vents, airing and wilting they are trays where all are covered trays, and one of them is no open lot under a
   cover; of several for other care where one is no open lot and all are trays that stand. One alone is asked about.
"""

from __future__ import annotations

import re
from dataclasses import replace

from core.conversation.scene import Scene
from core.entries import Act, Entry
from core.lots import open_states
from core.lots.trays import lots_in
from core.notes import Reading
from core.storage import Books

_OF_TRAYS = frozenset({Act.WILT, Act.VENT, Act.AIR, Act.COVER, Act.UNCOVER, Act.WATER})
_OF_VENTS = frozenset({Act.VENT, Act.AIR, Act.WILT})
_CALLED_LOTS = re.compile(r"\blots?\b|#|\bl\d|\d\d-\d{3}", re.IGNORECASE)


def with_trays_by_number(books: Books, scene: Scene, reading: Reading) -> Reading:
    """The reading with trays in place of bare numbers that can only be trays; else as it was."""
    numbered = [one for one in reading.entries if one.act in _OF_TRAYS and one.lots and not (one.trays or one.plant)]
    if not numbered or reading.asks or _CALLED_LOTS.search(scene.message.text):
        return reading
    covered = {one.due.subject.name for one in books.open_reminders() if one.due.subject.kind == "tray"}
    entries = tuple(
        replace(one, lots=(), trays=one.lots) if one in numbered and _are_trays(books, scene, one, covered) else one
        for one in reading.entries
    )
    return replace(reading, entries=entries)


def _are_trays(books: Books, scene: Scene, one: Entry, covered: set[str]) -> bool:
    open_lots = books.lots()
    by_number = {lot.number: lot for lot in open_lots}
    lots = [by_number.get(books.resolve(number, scene.year()) or "") for number in one.lots]
    if one.act is Act.COVER:
        opens = open_states(books.records(), open_lots, scene.zone, scene.now)
        off = [facts for kind, facts in opens if kind == "cover_off"]
        of_lots = {number for facts in off for number in facts["lots"]}
        is_lot = all(lot is not None and lot.number in of_lots for lot in lots)
        if set(one.lots) <= {facts.get("tray") for facts in off} and not is_lot:
            return True
    if one.act in _OF_VENTS:
        under_cover = all(lot is not None and covered & set(lot.trays) for lot in lots)
        return set(one.lots) <= covered and not under_cover
    return len(lots) > 1 and None in lots and all(lots_in(number, open_lots) for number in one.lots)
