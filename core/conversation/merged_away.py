"""What is told of a lot that went into another: "lost 1 in lot 2", "tray 4 lost 2", after lot 2 of tray 4 was merged.

Rules
1. Plants counted are offered as of the lot that took them in; nothing is written there without a yes.
2. A count of all of it, or how far it is, cannot be told of a part: there it is only said where the lot went.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any, Final

from core.answers import Choice
from core.entries import Act, Entry
from core.lots import Lot
from core.lots.trays import lots_in
from core.storage import Books

_COUNTED: Final = frozenset({Act.LOSE, Act.SELL, Act.GIVE, Act.PLANT_OUT, Act.POT, Act.RESERVE})


def went_into(books: Books, lot: Lot) -> Lot | None:
    """The open lot that the plants of a merged one are in by now, or None."""
    seen: set[str] = set()
    at: Lot | None = lot
    while at is not None and at.merged_into is not None and at.number not in seen:
        seen.add(at.number)
        at = books.lot(at.merged_into)
    return at if at is not None and at is not lot and not at.closed else None


def offer_there(entry: Entry, into: Lot) -> tuple[Choice, ...]:
    """Yes and no to so many plants in the lot that took them in; none for what can be told of all of it alone."""
    if entry.act not in _COUNTED or entry.count is None or entry.all_of:
        return ()
    yes: dict[str, Any] = {"fill": {"lots": [into.number], "plant": None}, "force": "merged_away"}
    return Choice(label="yes", action=yes), Choice(label="no", action={"drop": True})


def of_an_empty_tray(books: Books, entry: Entry) -> tuple[tuple[Choice, ...], dict[str, Any]] | None:
    """The buttons and the facts for a tray whose lot went into another, where no other stands in it; else None."""
    gone = [one for one in books.lots(open_only=False) if one.merged_into is not None]
    stood = [lot for tray in entry.trays for lot in lots_in(tray, gone)]
    into = {lot.number: lot for one in stood if (lot := went_into(books, one)) is not None}
    if len(into) != 1 or len({one.number for one in stood}) != 1:
        return None
    (lot,) = into.values()
    there = offer_there(replace(entry, trays=()), lot)[:1]
    return (there, {"lot": stood[0].number, "into": lot.number, "trays": list(entry.trays)}) if there else None
