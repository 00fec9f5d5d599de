"""What a question is about where its first reading leads nowhere: a place, a lot's number, a deed.

Rules
1. Only what the words name decides, and only as far as the books know it; else the question is said to be unclear.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime

from core.entries import Act, Entry
from core.lots.trays import lots_in
from core.notes import act_of_word
from core.questions.listing import place_named
from core.records import local_day
from core.storage import Books

_OF_TRAYS = frozenset({Act.WATER, Act.AIR, Act.COVER, Act.UNCOVER, Act.VENT, Act.CHECK, Act.TEND, Act.WILT})
_JOINING = frozenset({"and", "or", "&"})
_NAME = re.compile(r"#?(\d[\d-]*)")


def asked_anew(books: Books, entry: Entry, now: datetime) -> Entry | None:
    """The question as it may be meant ("what's at the slab", "what about 16", "what sold today"), or None."""
    rest = (entry.rest or "").split()
    place = place_named(books.lots(), entry.rest or "")
    if place is not None:
        return replace(entry, about="list", rest=place)
    lot = lot_in_rest(books, entry, now)
    if lot is not None:
        return replace(entry, about="history", lots=(lot,), count=None, rest=None)
    did = next((act for act in map(act_of_word, rest) if act), None)
    return replace(entry, about="history", did=did, rest=None) if did is not None else None


def lot_in_rest(books: Books, entry: Entry, now: datetime) -> str | None:
    """The open lot whose bare number is all that a question's left-over words and its count name, or None."""
    if entry.lots or entry.trays or entry.plant:
        return None
    numbers = [word for word in (entry.rest or "").split() if re.fullmatch(r"#?\d[\d-]*", word)]
    if entry.count is not None:
        numbers.append(str(entry.count))
    year = local_day(now, books.crew.zone).year % 100
    found = books.resolve(numbers[0].lstrip("#"), year) if len(numbers) == 1 else None
    return found if found is not None and books.lot(found) is not None else None


def with_numbers_named(books: Books, entry: Entry, now: datetime) -> Entry | str:
    """The question with the bare numbers of "did anyone water 4" as lots, else as trays that stand on the bench.

    A number that is neither is told instead: an answer without it would be of another lot.
    """
    if entry.did not in {act.value for act in _OF_TRAYS} or entry.plant:
        return entry
    found = [_NAME.fullmatch(word) for word in (entry.rest or "").split() if word not in _JOINING]
    numbers = [one[1] for one in found if one is not None]
    if not numbers or None in found[-len(numbers) :]:
        return entry
    if (entry.trays or entry.lots) and None in found:
        return entry
    if entry.trays:
        return replace(entry, rest=None, trays=(*entry.trays, *numbers))
    if entry.lots:
        return replace(entry, rest=None, lots=(*entry.lots, *numbers))
    year = local_day(now, books.crew.zone).year % 100
    lots = {one: known for one in numbers if (known := books.resolve(one, year)) and books.lot(known)}
    trays = [one for one in numbers if one not in lots and lots_in(one, books.lots())]
    unknown = next((one for one in numbers if one not in lots and one not in trays), None)
    if unknown is not None:
        return unknown
    if lots and trays:
        inside = [lot.number for tray in trays for lot in lots_in(tray, books.lots())]
        return replace(entry, lots=(*lots.values(), *inside), rest=None)
    return replace(entry, lots=tuple(lots.values()), trays=tuple(trays), rest=None)
