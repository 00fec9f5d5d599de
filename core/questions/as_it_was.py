"""How did the lots stand on a day that is over: folded anew from what was done until then."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from core.lots import Lot
from core.lots.fold import fold_books
from core.records import Record, local_day
from core.storage import Books


def lots_on(books: Books, day: date) -> dict[str, Lot]:
    """Every lot that was there at the end of a local day, by its full number, as it was then."""
    return fold_books(until(books.records(), day, books), books.crew.zone)


def until(records: Sequence[Record], day: date, books: Books) -> list[Record]:
    """The records that hold, of what was done until the end of a local day."""
    zone = books.crew.zone
    return [one for one in records if one.holds() and local_day(one.at, zone) <= day]
