"""A lot folded from its records, with the lots that gave plants to it."""

from __future__ import annotations

from core.lots import Lot, fold, kin_of
from core.storage import Books


def fold_lot(books: Books, number: str) -> Lot | None:
    """The lot as its records tell it, or None where nothing that holds opens it."""
    records = books.lot_records(number)
    kin = {one: lot for one in kin_of(number, records) if (lot := books.lot(one)) is not None}
    return fold(number, records, books.crew.zone, kin=kin)
