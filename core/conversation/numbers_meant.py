"""Which of a note's numbers is a lot, where either could be: "16 4" of a loss, "14 of 16 rooted" in the talk of lot 15.

Rules
1. Of two bare numbers those that are open lots are offered, each with the other as the count.
2. A whole number of plants, or what was moved, that is the number of an open lot is asked about where the note names
   no lot and only the talk would give one.
"""

from __future__ import annotations

import re
from dataclasses import replace

from core.answers import Choice
from core.conversation.recording import Pending
from core.entries import Act, Entry
from core.notes import Ask, Reading
from core.storage import Books

_NUMBER = re.compile(r"(?<![\w.-])\d{1,5}(?![\w.-])")


def numbers_of(entry: Entry) -> list[str]:
    """The bare numbers among the words that an entry left over."""
    return _NUMBER.findall(entry.rest or "")


def lot_and_count(entry: Entry, lot: str) -> Entry | None:
    """The entry with one of its two left-over numbers as the lot and the other as the count."""
    numbers = numbers_of(entry)
    if len(numbers) != 2 or lot not in numbers:
        return None
    numbers.remove(lot)
    rest = " ".join(word for word in (entry.rest or "").split() if not _NUMBER.fullmatch(word) and word not in _LINKS)
    return replace(entry, lots=(lot,), count=int(numbers[0]), rest=rest or None)


_LINKS = frozenset({"of", "in", "out of", "from"})


def with_lot_choices(books: Books, one: Pending, year: int) -> Pending:
    """The question which number is the lot, with those that are open lots as buttons."""
    entry = one.entries[0]
    lots = [number for number in dict.fromkeys(numbers_of(entry)) if _is_open(books, number, year)]
    ways = [lot_and_count(entry, number) for number in lots]
    choices = tuple(Choice(label="reading", action={"choose": way.as_keys()}) for way in ways if way is not None)
    return replace(one, choices=choices)


def lots_for_numbers(books: Books, told: Reading, filled: Reading, year: int) -> Reading:
    """The reading with a question where the talk gave the lot, and a number of the note may be the lot itself.

    `told` is the reading as the words alone gave it.
    """
    asks = list(filled.asks)
    for place, (before, one) in enumerate(zip(told.entries, filled.entries, strict=False)):
        if before.act is not one.act or before.lots or before.trays or before.plant or not one.lots:
            continue
        number, own = _other_number(one)
        if number is None or not _is_open(books, str(number), year):
            continue
        ways = [replace(own, lots=(str(number),), trays=())]
        if one.of is None or (one.count or 0) <= one.of:
            ways.append(one)
        asks = [ask for ask in asks if ask.entry != place]
        asks.insert(0, Ask(kind="act", entry=place, choices=tuple(ways)))
    return replace(filled, asks=tuple(asks))


def _other_number(one: Entry) -> tuple[int | None, Entry]:
    """The number that may be a lot, and the entry without it."""
    if one.of is not None and not one.sample and one.count is not None:
        return one.of, replace(one, of=None)
    if one.act is Act.MOVE and one.count is not None:
        return one.count, replace(one, count=None)
    return None, one


def _is_open(books: Books, number: str, year: int) -> bool:
    full = books.resolve(number, year)
    lot = books.lot(full) if full is not None else None
    return lot is not None and not lot.closed
