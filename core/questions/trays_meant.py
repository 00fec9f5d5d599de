"""Which trays a question means that names them by bare numbers: "who watered 2 and 3", where no lot has these numbers."""

from __future__ import annotations

from dataclasses import replace

from core.entries import Act, Entry
from core.lots.trays import lots_in
from core.notes import act_of_word
from core.storage import Books

_OF_THE_PAST = frozenset({"who", "history"})
_OF_TRAYS = frozenset({Act.WATER, Act.AIR, Act.COVER, Act.UNCOVER, Act.VENT, Act.WILT})
_JOINING = frozenset({"and", "or", "&", "of"})


def with_trays_meant(books: Books, entry: Entry, year: int) -> Entry:
    """The question with trays in place of numbers that are trays on the bench and no lots; else as it was."""
    if entry.about not in _OF_THE_PAST or not entry.lots or entry.trays or entry.plant:
        return entry
    words = (entry.rest or "").split()
    did = entry.did or next((act for act in map(act_of_word, words) if act), None)
    others = [word for word in words if word not in _JOINING and (word.isdecimal() or act_of_word(word) is None)]
    numbers = tuple(dict.fromkeys((*entry.lots, *others)))
    if did not in {act.value for act in _OF_TRAYS} or any(books.resolve(one, year) for one in numbers):
        return entry
    if not all(lots_in(one, books.lots()) for one in numbers):
        return entry
    return replace(entry, lots=(), trays=numbers, did=did, rest=None)
