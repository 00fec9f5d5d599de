"""Whether the books hold: every lot folded again from its entries and compared with what is stored."""

from __future__ import annotations

from dataclasses import fields
from datetime import datetime

from core.conversation.replanning import every_subject, replan
from core.lots import fold
from core.storage import Store


def check_books(store: Store, crew: int) -> list[str]:
    """A line for each lot that is not what its entries say; empty where the books hold."""
    faults: list[str] = []
    with store.reading(crew) as books:
        stored = {lot.number: lot for lot in books.lots(open_only=False)}
        for number in sorted({*stored, *books.lot_numbers_in_records()}):
            folded = fold(number, books.lot_records(number), books.crew.zone)
            if folded != stored.get(number):
                differing = (
                    ", ".join(
                        part.name
                        for part in fields(folded)
                        if getattr(folded, part.name) != getattr(stored[number], part.name)
                    )
                    if folded is not None and number in stored
                    else "present in one of them only"
                )
                faults.append(f"{number}: what is stored does not follow from its entries ({differing})")
    return faults


def refold_everything(store: Store, crew: int, now: datetime) -> int:
    """Folds every lot from its entries, shelves it, and plans all reminders anew; returns how many lots there are."""
    with store.books(crew) as books:
        numbers = sorted(books.lot_numbers_in_records())
        count = 0
        for number in numbers:
            lot = fold(number, books.lot_records(number), books.crew.zone)
            if lot is None:
                books.drop_lot(number)
            else:
                books.save_lot(lot)
                count += 1
        replan(books, every_subject(books), now)
    return count
