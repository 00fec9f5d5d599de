"""Which lots a question is about."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from core.entries import Entry
from core.lots import Lot
from core.lots.by_plant import lots_of_plant
from core.lots.trays import lots_in
from core.records import local_day
from core.storage import Books


@dataclass(frozen=True, slots=True, kw_only=True)
class AskedOf:
    """The lots that a question names, and the number it names that the books do not hold."""

    lots: tuple[Lot, ...]
    unknown: str | None = None
    named: bool = True


def asked_lots(
    books: Books, entry: Entry, now: datetime, *, closed_too: bool = False, then: Mapping[str, Lot] | None = None
) -> AskedOf:
    """The lots that `entry` asks of, by number, tray or plant; all open ones where it names none. With `then` they are
    those of a day that is over, as they were.
    """
    year = local_day(now, books.crew.zone).year % 100
    if entry.lots and entry.lots != ("all",):
        lots: list[Lot] = []
        for texted in entry.lots:
            number = books.resolve(texted, year)
            lot = books.lot(number) if number else None
            if lot is None:
                return AskedOf(lots=(), unknown=texted)
            lots += [lot] if then is None else filter(None, [then.get(lot.number)])
        return AskedOf(lots=tuple(lots))
    every = books.lots(open_only=not closed_too) if then is None else tuple(then.values())
    if entry.trays and entry.trays != ("all",):
        return AskedOf(lots=tuple(dict.fromkeys(lot for tray in entry.trays for lot in lots_in(tray, every))))
    if entry.plant:
        return AskedOf(lots=lots_of_plant(entry.plant, every))
    return AskedOf(lots=tuple(every), named=False)
