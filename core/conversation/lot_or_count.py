"""Whether the bare number of a correction ("no 16") may be the lot instead of the count.

Rules
1. After a note that has no number ("fed lot 14", "that was 16") it may be the lot of that note.
2. Else it may be, where a lot of that number stands open and the lot of the record was no word of its note but chosen
   or taken from the talk, or has just been corrected, or lots were asked about in this chat just before.
"""

from __future__ import annotations

import re
from dataclasses import replace

from core.conversation.corrigible import wrong_number
from core.conversation.fitting import given
from core.conversation.scene import Scene, words_before
from core.entries import Act, Entry
from core.notes import read
from core.records import Record
from core.storage import Books

_KEEP = frozenset({Act.STICK, Act.SOW, Act.DIVIDE, Act.NOTE})


def other_reading(
    books: Books, scene: Scene, told: Entry, record: Record | None, latest: Record | None
) -> tuple[Record, Entry] | None:
    """The record, with the lot of that number, that is meant unless it is a count; None where it can only be a count.

    `record` has the count that the number would correct, where there is one; `latest` is the speaker's last note.
    """
    if told.lots or set(given(told)) != {"count"} or scene.replied_records:
        return None
    number = books.resolve(str(told.count), scene.year())
    lot = books.lot(number) if number is not None else None
    if lot is None or lot.closed:
        return None
    named = (str(told.count),)
    if latest is not None and (record is None or latest.message != record.message):
        takes_lot = latest.lot not in (None, number) and latest.entry.act not in _KEEP and not told.rest
        return (latest, replace(latest.entry, lots=named, trays=())) if takes_lot else None
    if record is None or record.lot in (None, number) or record.entry.act in _KEEP:
        return None
    wrong = wrong_number(told)
    if told.rest and (wrong is None or books.resolve(str(wrong), scene.year()) != record.lot):
        return None
    stood_there = wrong is not None or any(before.lot == number for before in books.superseded_by(record.number))
    if not (stood_there or _was_chosen(record) or _lots_spoken_of(books, scene)):
        return None
    return record, replace(record.entry, lots=named, trays=())


def _was_chosen(record: Record) -> bool:
    """Whether the lot stands in no word of the note itself."""
    assert record.lot is not None
    short = record.lot.rpartition("-")[2].lstrip("0")
    return not record.entry.trays and re.search(rf"(?<!\d)0*{short}(?!\d)", record.said) is None


def _lots_spoken_of(books: Books, scene: Scene) -> bool:
    before = words_before(books, scene)
    told = read(before, scene.local_now, scene.names).entries if before else ()
    return any(one.act is Act.ASK and one.lots for one in told)
