"""Whether the books hold: every lot folded again from its entries and compared with what is stored."""

from __future__ import annotations

from dataclasses import fields
from datetime import datetime

from core.conversation.hushing import recall_who_is_quiet
from core.conversation.replanning import every_subject, replan
from core.lots import fold_books
from core.reminders import Subject
from core.storage import Store


def check_books(store: Store, crew: int) -> list[str]:
    """A line for each lot that is not what its entries say; empty where the books hold."""
    faults: list[str] = []
    with store.reading(crew) as books:
        stored = {lot.number: lot for lot in books.lots(open_only=False)}
        folded_now = fold_books(books.records(), books.crew.zone)
        for number in sorted({*stored, *folded_now}):
            folded = folded_now.get(number)
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
        lots = fold_books(books.records(), books.crew.zone)
        for stale in {lot.number for lot in books.lots(open_only=False)} - set(lots):
            books.drop_lot(stale)
        for lot in lots.values():
            books.save_lot(lot)
        recall_who_is_quiet(books)
        # closed lots have no plan, but teach when their plant's roots show
        closed = [Subject(kind="lot", name=lot.number) for lot in lots.values() if lot.closed]
        replan(books, [*every_subject(books), *closed], now)
    return len(lots)
