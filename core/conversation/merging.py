"""Which lot stays when lots are put together, and which tray they went into.

Rules
1. One of the lots put together keeps its number. A number told is that one; a tray is never a lot's number.
2. The tray that they went into tells which one stays only where one of them alone stands there, or the one lot that
   others came to; else it is asked.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from core.entries import Entry
from core.lots import Lot
from core.lots.trays import lots_in, tray_name, trays_in_place
from core.storage import Books


@dataclass(frozen=True, slots=True, kw_only=True)
class Together:
    """What a merge says of where it went: the number that stays as texted, the tray that tells it, the tray that they
    stand in now ("tray 15"); None where not said."""

    stays: str | None = None
    by_tray: str | None = None
    goal: str | None = None


def together(entry: Entry) -> Together:
    """`merged lots 1 and 4 into lot 1`, `combined lots 1 and 4 into tray 15`, `merged trays 10 and 11 into 10`."""
    to = entry.to
    of_trays = bool(entry.trays and not entry.lots)
    if to is not None and of_trays and to.isalnum():
        to = f"tray {to}"
    trays = trays_in_place(to)
    if not trays:
        return Together(stays=to, goal=entry.place)
    return Together(by_tray=trays[0], goal=entry.place or to)


def staying(books: Books, told: Together, lots: Sequence[str], year: int) -> str | None:
    """The full number of the lot that stays, of those put together or beside them; None where it must be asked."""
    if told.stays is not None:
        number = books.resolve(told.stays, year)
        return number if number and books.lot(number) is not None else None
    if told.by_tray is None:
        return None
    there = [lot.number for lot in lots_in(told.by_tray, books.lots())]
    among = [number for number in lots if number in there]
    if len(among) == 1 and len(lots) > 1:
        return among[0]
    return there[0] if len(lots) == 1 and len(there) == 1 and there[0] not in lots else None


def in_trays_beside(books: Books, entry: Entry, lots: Sequence[str]) -> tuple[str, ...]:
    """The other lot that a tray beside the only lot named holds (`combined lot 4 with tray 11`)."""
    if not entry.lots or len(lots) != 1:
        return ()
    there = {lot.number: None for tray in entry.trays for lot in lots_in(tray, books.lots())}
    return tuple(there) if lots[0] not in there else ()


def goes_to_tray(lot: Lot | None, goal: str | None) -> bool:
    """Whether the lot that stays does not stand yet where all were put."""
    return lot is not None and goal is not None and lot.trays != tuple(map(tray_name, trays_in_place(goal)))
