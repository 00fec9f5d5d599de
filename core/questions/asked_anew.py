"""What a question is about where its first reading leads nowhere: a place, a lot's number, a deed.

Rules
1. Only what the words name decides, and only as far as the books know it; else the question is said to be unclear.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime

from core.entries import Entry
from core.notes import act_of_word
from core.questions.listing import place_named
from core.records import local_day
from core.storage import Books


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
