"""What can be planned on: stock now, when a lot can move on, and what the sums say of later."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from core.answers import Answer, DueTold, FiguresTold, Refused
from core.entries import Entry
from core.lots import Lot
from core.questions.present import what_is_due
from core.questions.subjects import asked_lots
from core.storage import Books

_READY_STAGES = frozenset({"potted", "hardening"})


def in_stock(books: Books, entry: Entry, now: datetime) -> Answer:
    """What stands ready or potted now, by plant; a count of ready plants is told apart from what is only potted."""
    asked = asked_lots(books, entry, now)
    if asked.unknown:
        return Refused(why="no_lot", facts={"unknown": asked.unknown})
    plants = sorted({lot.plant for lot in asked.lots})
    rows = [_stock_row(plant, [lot for lot in asked.lots if lot.plant == plant], now) for plant in plants]
    return FiguresTold(kind="stock", facts={"rows": rows, "asked": entry.plant})


def _stock_row(plant: str, lots: Iterable[Lot], now: datetime) -> dict[str, object]:
    counted = [lot.last_count_at for lot in lots if lot.last_count_at is not None]
    return {
        "plant": plant,
        "ready": sum(lot.ready or 0 for lot in lots),
        "potted": sum(_potted_left(lot) for lot in lots),
        "left": sum(lot.left or 0 for lot in lots),
        "lots": [lot.number for lot in lots],
        "oldest_count_days": max(((now - at).days for at in counted), default=None),
    }


def _potted_left(lot: Lot) -> int:
    return min(lot.potted, lot.left or 0)


def when_or_how_many(books: Books, entry: Entry, now: datetime) -> Answer:
    """When a lot can move on ("when can i pot up lot 22"), by its coming reminders and what is known of its roots."""
    told = what_is_due(books, entry, now)
    if not isinstance(told, DueTold) or not (entry.lots or entry.trays or entry.plant):
        return told
    return FiguresTold(
        kind="when",
        facts={
            "lots": [_progress(lot, now) for lot in told.lots],
            "dues": [
                {
                    "kind": due.kind,
                    "on": due.due_at.astimezone(books.crew.zone).date().isoformat(),
                    "subject": due.subject.name,
                }
                for due in told.dues[:4]
            ],
            "asked": entry.rest or entry.did,
        },
    )


def _progress(lot: Lot, now: datetime) -> dict[str, object]:
    return {
        "number": lot.number,
        "plant": lot.plant,
        "stage": lot.stage,
        "rooted": lot.rooted,
        "living": lot.living,
        "roots_out": lot.roots_out,
        "days": (now - lot.opened_at).days,
    }
