"""Whether the bare number of a correction ("no 16") may be the lot instead of the count.

Rules
1. After a note that has no number ("fed lot 14", "that was 16") it may be the lot of that note.
2. After a note of one tray it may be the tray, where something stands in that one.
3. Else it may be, where a lot of that number stands open and the lot of the record was no word of its note but chosen
   or taken from the talk, or has just been corrected, or lots were asked about in this chat just before; or where the
   number is nearer to the number of the record's lot than to its count ("no 15" after "lost 5 in 14").
"""

from __future__ import annotations

import re
from dataclasses import replace

from core.conversation.corrigible import wrong_number
from core.conversation.fitting import given
from core.conversation.scene import Scene, words_before
from core.entries import Act, Entry
from core.lots.trays import lots_in
from core.notes import read
from core.records import Record
from core.storage import Books

_KEEP = frozenset({Act.STICK, Act.SOW, Act.DIVIDE, Act.NOTE})


def other_reading(
    books: Books,
    scene: Scene,
    told: Entry,
    fit: tuple[Record, Entry] | None,
    latest: Record | None,
) -> tuple[Record, Entry] | None:
    """The record, with the lot or tray of that number, that is meant unless it is what `fit` makes of it; else None.

    `fit` is the record that the number would correct, where there is one, with it; `latest` is the speaker's last note.
    """
    record, after = fit or (None, None)
    if told.lots or set(given(told)) != {"count"}:
        return None
    is_latest = record is not None and (latest is None or latest.message == record.message)
    if record is not None and after is not None and is_latest and _is_of_one_tray(record) and not told.rest:
        return _tray_or_lot(books, scene, record, after, str(told.count))
    number = books.resolve(str(told.count), scene.year())
    lot = books.lot(number) if number is not None else None
    if lot is None or lot.closed:
        return None
    named = (str(told.count),)
    if latest is not None and not is_latest:
        takes_lot = latest.lot not in (None, number) and latest.entry.act not in _KEEP and not told.rest
        return (latest, replace(latest.entry, lots=named, trays=())) if takes_lot else None
    if record is None or record.lot in (None, number) or record.entry.act in _KEEP:
        return None
    wrong = wrong_number(told)
    if told.rest and (wrong is None or books.resolve(str(wrong), scene.year()) != record.lot):
        return None
    stood_there = wrong is not None or any(before.lot == number for before in books.superseded_by(record.number))
    near = _is_nearer_to_the_lot(record, told.count)
    if scene.replied_records and not near:
        return None
    if not (stood_there or near or _was_chosen(record) or _lots_spoken_of(books, scene)):
        return None
    return record, replace(record.entry, lots=named, trays=())


def _is_of_one_tray(record: Record) -> bool:
    entry = record.entry
    return len(entry.trays) == 1 and not entry.lots and entry.count is None and entry.act not in _KEEP


def _tray_or_lot(books: Books, scene: Scene, record: Record, after: Entry, texted: str) -> tuple[Record, Entry] | None:
    """What else a number means that corrects a note of one tray: the tray, or the lot where it was read as the tray."""
    stands = bool(lots_in(texted, books.lots()))
    if after.trays == record.entry.trays:
        return (record, replace(record.entry, trays=(texted,))) if stands else None
    number = books.resolve(texted, scene.year())
    if stands or number is None or number == record.lot:
        return None
    return record, replace(record.entry, lots=(texted,), trays=())


def _is_nearer_to_the_lot(record: Record, number: int | None) -> bool:
    count = record.entry.count
    if number is None or count is None or record.lot is None or sorted(str(number)) == sorted(str(count)):
        return False
    return abs(number - int(record.lot.rpartition("-")[2])) < abs(number - count)


def _was_chosen(record: Record) -> bool:
    """Whether the lot stands in no word of the note itself."""
    assert record.lot is not None
    short = record.lot.rpartition("-")[2].lstrip("0")
    return not record.entry.trays and re.search(rf"(?<!\d)0*{short}(?!\d)", record.said) is None


def _lots_spoken_of(books: Books, scene: Scene) -> bool:
    before = words_before(books, scene)
    told = read(before, scene.local_now, scene.names).entries if before else ()
    return any(one.act is Act.ASK and one.lots for one in told)
