"""A page of records to fold, written shortly: who did what to which lot, and when."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta
from itertools import count
from typing import Any
from zoneinfo import ZoneInfo

from core.entries import Act, Entry
from core.lots import Lot, fold, fold_books
from core.records import Record, instant_of

COAST = ZoneInfo("America/Los_Angeles")
FIRST_DAY = datetime(2026, 2, 10, 9, 0, tzinfo=COAST)
LOT = "26-014"


@dataclass(slots=True)
class Book:
    """Records as they are written, one after the other. `at` is a local time or days after the first day."""

    zone: ZoneInfo = COAST
    records: list[Record] = field(default_factory=list)
    numbers: Iterator[int] = field(default_factory=lambda: count(1))

    def write(
        self,
        act: str,
        at: float | str = 0,
        *,
        lot: str | None = LOT,
        said: str = "",
        by: str = "ines",
        message: str | None = None,
        stands_in: tuple[str, ...] = (),
        **keys: Any,
    ) -> Record:
        said_at = self.time(at)
        entry = Entry(act=Act(act), **keys)
        number = next(self.numbers)
        record = Record(
            number=number,
            lot=lot,
            trays=stands_in or entry.trays,
            entry=entry,
            at=instant_of(entry.on, said_at, self.zone),
            said_at=said_at,
            by=entry.by or by,
            told_by=by,
            said=said,
            message=message or f"m{number}",
        )
        self.records.append(record)
        return record

    def time(self, at: float | str) -> datetime:
        if isinstance(at, str):
            return datetime.fromisoformat(at).replace(tzinfo=self.zone).astimezone(UTC)
        return (FIRST_DAY + timedelta(days=at)).astimezone(UTC)

    def supersede(self, record: Record, by: Record) -> None:
        place = self.records.index(record)
        self.records[place] = replace(record, superseded_by=by.number)

    def of(self, lot: str) -> list[Record]:
        return [record for record in self.records if record.lot == lot]

    def lot(self, number: str = LOT) -> Lot:
        folded = fold(number, self.of(number), self.zone)
        assert folded is not None
        return folded

    def lots(self) -> dict[str, Lot]:
        return fold_books(self.records, self.zone)


def stuck(count: int | None = 72, **keys: Any) -> Book:
    """A book with a lot of cuttings in tray 2."""
    book = Book()
    book.write("stick", plant="coyote brush", count=count, **({"trays": ("2",)} | keys))
    return book


def sown(count: int | None = 200, **keys: Any) -> Book:
    """A book with a lot of seed in tray 9."""
    book = Book()
    book.write("sow", plant="coffeeberry", count=count, **({"trays": ("9",)} | keys))
    return book
