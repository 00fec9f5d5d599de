"""The tray of what was just begun or split off, told after it: "stuck 40 currant tips", then "tray 7".

Rules
1. Only right after it, and where the books have nothing in that tray; what was begun has no tray yet.
"""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache

from core.conversation.correction_words import bare
from core.conversation.heard import either
from core.conversation.placing import OPENING
from core.conversation.scene import Scene
from core.entries import Act, Entry
from core.lots import lots_in
from core.notes import Reading
from core.records import Record
from core.storage import Books

_OPENS = OPENING | {Act.SOW}


def with_tray_of_the_begun(books: Books, scene: Scene, reading: Reading) -> Reading:
    """The reading of a tray named alone as where the plants of the last note stand; else as it was."""
    one = reading.entries[0] if len(reading.entries) == 1 else None
    if one is None or one.act not in (Act.NOTE, Act.AMEND) or one.lots or one.plant or len(one.trays) != 1:
        return reading
    if _only_place().fullmatch(bare(scene.message.text)) is None or lots_in(one.trays[0], books.lots()):
        return reading
    told = scene.replied_records or scene.latest
    # Where it was set down, told with it, is no other deed.
    placed = any(one.entry.act is Act.MOVE for one in told) and any(one.entry.act in _OPENS for one in told)
    told = tuple(one for one in told if not placed or one.entry.act is not Act.MOVE)
    last = told[-1] if len({record.entry for record in told}) == 1 else None
    if last is None or not last.holds():
        return reading
    if last.entry.act in _OPENS and last.lot is not None and not last.trays and placed:
        return replace(reading, entries=(Entry(act=Act.MOVE, lots=(last.lot,), to=f"tray {one.trays[0]}"),), asks=())
    if last.entry.act in _OPENS and last.lot is not None and not last.trays:
        return replace(reading, entries=(Entry(act=Act.AMEND, trays=one.trays),), asks=())
    new = _split_off(books, scene, last)
    if new is None:
        return reading
    return replace(reading, entries=(Entry(act=Act.MOVE, lots=(new,), to=f"tray {one.trays[0]}"),), asks=())


def _split_off(books: Books, scene: Scene, record: Record) -> str | None:
    """The full number of the lot that a record split off: by the books it stands where it was taken from."""
    entry = record.entry
    return books.resolve(entry.to, scene.year()) if entry.act is Act.SPLIT and entry.to else None


def with_tray_of_its_cover(reading: Reading) -> Reading:
    """The reading with what was begun in the tray whose cover the same note told of after it: "stuck 40 toyon, domed,
    tray 7"."""
    begun = [place for place, one in enumerate(reading.entries) if one.act in _OPENS]
    if len(begun) != 1 or begun[0] + 1 >= len(reading.entries):
        return reading
    one, cover = reading.entries[begun[0] : begun[0] + 2]
    if cover.act is not Act.COVER or cover.trays in ((), ("all",)) or one.trays or cover.lots or cover.plant:
        return reading
    entries = [*reading.entries]
    entries[begun[0]] = replace(one, trays=cover.trays)
    return replace(reading, entries=tuple(entries))


@cache
def _only_place() -> re.Pattern[str]:
    leads = either("answers_heard", "where_begun", "leads")
    return re.compile(rf"(?:(?:{leads}) )*tray [\w-]+(?: now)?")
