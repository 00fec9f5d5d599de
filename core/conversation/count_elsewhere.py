"""An answer to "how many?" that names other plants than the note: "24 sage", where it was asked how many coyote died.

Rules
1. Words that name another lot, tray or plant may count that, or be a slip: it is asked which of both.
2. A name of the plants asked about, or of their tray, says nothing else.
"""

from __future__ import annotations

import re
from dataclasses import replace

from core.answers import Choice
from core.conversation.placing import Placed, place
from core.conversation.recording import Pending
from core.conversation.scene import Scene
from core.entries import Act, Entry
from core.notes import Reading
from core.storage import Books


def count_elsewhere(books: Books, scene: Scene, first: Pending, reading: Reading) -> Pending | None:
    """The question which plants a counted answer means, or None where it names none but those asked about."""
    asked = first.entries[0] if first.kind == "count" and first.entries else None
    told = reading.entries[0] if len(reading.entries) == 1 else None
    if asked is None or told is None or not (told.lots or told.trays or told.plant):
        return None
    if told.act not in (Act.NOTE, Act.CHECK) or told.state is not None or told.by or told.on:
        return None
    count = _count_of(told, scene.message.text)
    if count is None:
        return None
    here = replace(asked, count=count)
    other = replace(here, lots=told.lots, trays=told.trays, plant=told.plant)
    lots, others = _lots(books, scene, here), _lots(books, scene, other)
    if not lots or {*lots} & {*others}:
        return None
    choices = tuple(Choice(label="reading", action={"choose": one.as_keys()}) for one in (here, other))
    return Pending(kind="act", entries=(here,), choices=choices, forced=first.forced)


def _count_of(told: Entry, text: str) -> int | None:
    """The only number that the words give and that names no lot or tray."""
    if told.act is Act.CHECK:
        return told.count
    numbers = [one for one in re.findall(r"\b\d{1,5}\b", text) if one not in (*told.lots, *told.trays)]
    return int(numbers[0]) if len(numbers) == 1 else None


def _lots(books: Books, scene: Scene, entry: Entry) -> tuple[str, ...]:
    """The lots that an entry may be of, by its words; none where the books have no such lot."""
    placed = place(books, entry, year=scene.year(), reuse=list(scene.reuse))
    if isinstance(placed, Placed):
        return placed.lots
    if "no_lot_of" in placed.facts or "unknown" in placed.facts:
        return ()
    return tuple(lot for one in placed.choices for lot in one.action.get("fill", {}).get("lots", ()))
