"""Which lots the crew has and what each is now: folded lots on a shelf, found by number, plant or tray.

Rules
1. A lot here is a copy of what its records say; saving it anew replaces it, and it can always be folded again.
2. A number without a year is this year's lot, else the latest year's that is still open.
3. The next number is the smallest that the year has not used.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from sqlalchemy import and_, delete, func, insert, select, update

from core.lots import Lot
from core.lots.numbers import full_number, parse_number
from core.storage.journal import tray_key
from core.storage.lot_codec import read_lot, write_lot
from core.storage.room import Room
from core.storage.tables import lot_trays, lots


class LotShelf(Room):
    """The lots of one crew."""

    def lot(self, number: str) -> Lot | None:
        """The lot with this full number, or None."""
        row = self._row(select(lots.c.body).where(lots.c.crew_id == self._crew_id, lots.c.number == number))
        return None if row is None else read_lot(row.body)

    def lots(self, open_only: bool = True, *, plant: str | None = None, tray: str | None = None) -> tuple[Lot, ...]:
        """Lots by number; `plant` is compared as the lot has it, `tray` is any tray the lot stands in."""
        query = select(lots.c.body).where(lots.c.crew_id == self._crew_id)
        if open_only:
            query = query.where(lots.c.closed.is_(False))
        if plant is not None:
            query = query.where(lots.c.plant == plant)
        if tray is not None:
            stands = and_(lot_trays.c.crew_id == lots.c.crew_id, lot_trays.c.number == lots.c.number)
            query = query.join(lot_trays, stands).where(
                lot_trays.c.crew_id == self._crew_id, lot_trays.c.tray == tray_key(tray)
            )
        rows = self._rows(query.order_by(lots.c.year, lots.c.serial, lots.c.number))
        return tuple(read_lot(row.body) for row in rows)

    def save_lot(self, lot: Lot) -> None:
        """Puts a folded lot on the shelf, in the place of what stood there under its number."""
        name = parse_number(lot.number)
        values: dict[str, Any] = {
            "year": 0 if name is None else name.year or 0,
            "serial": None if name is None else name.serial,
            "tail": _tail(lot.number),
            "plant": lot.plant,
            "kind": lot.kind,
            "stage": lot.stage,
            "closed": lot.closed,
            "opened_at": lot.opened_at,
            "body": write_lot(lot),
        }
        here = (lots.c.crew_id == self._crew_id, lots.c.number == lot.number)
        if self._row(select(lots.c.number).where(*here)) is None:
            self._connection.execute(insert(lots).values(crew_id=self._crew_id, number=lot.number, **values))
        else:
            self._connection.execute(update(lots).where(*here).values(**values))
        self._stand(lot.number, lot.trays)

    def drop_lot(self, number: str) -> None:
        """Takes a lot off the shelf that no record opens any more; its number is free again."""
        self._stand(number, ())
        self._connection.execute(delete(lots).where(lots.c.crew_id == self._crew_id, lots.c.number == number))

    def _stand(self, number: str, trays: Iterable[str]) -> None:
        self._connection.execute(
            delete(lot_trays).where(lot_trays.c.crew_id == self._crew_id, lot_trays.c.number == number)
        )
        stands = [
            {"crew_id": self._crew_id, "tray": tray, "number": number}
            for tray in dict.fromkeys(tray_key(tray) for tray in trays)
        ]
        if stands:
            self._connection.execute(insert(lot_trays), stands)

    def next_lot_number(self, year: int) -> str:
        """The smallest running number of this year (26 or 2026) that no lot has, as a full number."""
        year %= 100
        this_year = (lots.c.crew_id == self._crew_id, lots.c.year == year)
        if self._row(select(lots.c.number).where(*this_year, lots.c.serial == 1)) is None:
            return f"{year:02d}-001"
        after = lots.alias("after")
        follows = and_(
            after.c.crew_id == lots.c.crew_id, after.c.year == lots.c.year, after.c.serial == lots.c.serial + 1
        )
        free = self._connection.execute(
            select(func.min(lots.c.serial) + 1)
            .select_from(lots.outerjoin(after, follows))
            .where(*this_year, lots.c.serial >= 1, after.c.number.is_(None))
        ).scalar_one()
        return f"{year:02d}-{free:03d}"

    def full_number(self, texted: str, year: int) -> str:
        """The full number that `texted` would have in this year, whether there is such a lot or not."""
        return full_number(texted, year)

    def lot_number_free(self, number: str) -> bool:
        """True where no lot has this full number."""
        return self._row(select(lots.c.number).where(lots.c.crew_id == self._crew_id, lots.c.number == number)) is None

    def resolve(self, texted: str, year: int, *, closed_too: bool = False) -> str | None:
        """The full number of the lot that was meant, or None where the crew has no such lot.

        `closed_too` also finds a closed lot of an earlier year, where no open one has the number.
        """
        wanted = full_number(texted, year)
        if not self.lot_number_free(wanted):
            return wanted
        name = parse_number(texted)
        if name is not None and name.year is not None:
            return None
        query = select(lots.c.number).where(lots.c.crew_id == self._crew_id, lots.c.tail == _tail(wanted))
        if not closed_too:
            query = query.where(lots.c.closed.is_(False))
        row = self._row(query.order_by(lots.c.closed, lots.c.year.desc()))
        return None if row is None else str(row.number)


def _tail(number: str) -> str:
    """A lot's number without its year: what it is called where the year goes without saying."""
    return number.partition("-")[2] or number
