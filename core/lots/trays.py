"""Which lots stand in which trays, now and then.

Rules
1. A lot can stand in several trays, and a tray can hold several lots. What opens a lot names its trays.
2. A move "to tray 9" puts the lot there: in place of its other trays where the whole lot moved, in place of the trays
   named where trays were named, beside them where a part moved (a count was said, or "some").
3. A move of a tray to a place moves what stands in it and changes no tray.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from core.entries import Act, Entry
from core.lots.phrases import phrases
from core.lots.state import Lot
from core.records import Record, in_order

_TO_TRAY = re.compile(
    r"(?:the\s+)?trays?\s*#?\s*(?P<names>[a-z]?\d+[a-z]?|[a-z])(?P<more>(?:\s*(?:,|and|&)\s*[a-z]?\d+[a-z]?)*)"
)
_PLANTING = frozenset({Act.STICK, Act.SOW, Act.DIVIDE})


@dataclass(frozen=True, slots=True, kw_only=True)
class Stay:
    """A lot in a tray, from one instant to another (None: still there)."""

    tray: str
    lot: str
    from_at: datetime
    until_at: datetime | None = None

    def holds_at(self, at: datetime) -> bool:
        return self.from_at <= at and (self.until_at is None or at < self.until_at)


def tray_name(texted: str) -> str:
    """A tray's name as the books write it: lower case, without "tray" or "#"."""
    return texted.strip().lower().removeprefix("tray").strip().lstrip("#").strip()


def trays_in_place(place: str | None) -> tuple[str, ...]:
    """The trays that a place names ("tray 9", "trays 3 and 4"); none where it names another kind of place."""
    found = _TO_TRAY.fullmatch((place or "").strip().lower())
    if found is None:
        return ()
    return tuple(dict.fromkeys([found["names"], *re.findall(r"[a-z]?\d+[a-z]?", found["more"] or "")]))


def moves_part(entry: Entry) -> bool:
    """Whether a move is of so many of a lot, or of "some" of it, and not of all that stood there."""
    counted = entry.count is not None and not entry.all_of
    return counted or (entry.rest or "").lower() in phrases().moved_some


def trays_after(trays: tuple[str, ...], entry: Entry, said_of: tuple[str, ...] = ()) -> tuple[str, ...]:
    """The trays of a lot after an entry of it. `said_of` are the trays that the entry's record counts for."""
    if entry.act in _PLANTING:
        return tuple(dict.fromkeys((*trays, *(tray_name(tray) for tray in (entry.trays or said_of) if tray != "all"))))
    if entry.act is not Act.MOVE:
        return trays
    goal = trays_in_place(entry.to)
    if not goal:
        return trays
    if moves_part(entry):
        return tuple(dict.fromkeys((*trays, *goal)))
    named = {tray_name(tray) for tray in entry.trays} & set(trays)
    staying = tuple(tray for tray in trays if named and tray not in named)
    return tuple(dict.fromkeys((*staying, *goal)))


def lots_in(tray: str, lots: Iterable[Lot]) -> tuple[Lot, ...]:
    """The lots, of those handed in, that stand in `tray` ("all": in any tray)."""
    wanted = tray_name(tray)
    return tuple(lot for lot in lots if (lot.trays if wanted == "all" else wanted in lot.trays))


def stays(records: Iterable[Record]) -> tuple[Stay, ...]:
    """Which lots stood in which trays from when until when, as the records (of any lots) tell it; oldest first."""
    where: dict[str, tuple[str, ...]] = {}
    began: dict[tuple[str, str], datetime] = {}
    past: list[Stay] = []
    for record in in_order(records):
        if record.lot is None:
            continue
        before = where.get(record.lot, ())
        opens = record.entry.act is Act.SPLIT and not before
        after = record.trays if opens else trays_after(before, record.entry, record.trays)
        for tray in before:
            if tray not in after:
                began_at = began.pop((record.lot, tray))
                past.append(Stay(tray=tray, lot=record.lot, from_at=began_at, until_at=record.at))
        for tray in after:
            began.setdefault((record.lot, tray), record.at)
        where[record.lot] = after
    now = [Stay(tray=tray, lot=lot, from_at=at) for (lot, tray), at in began.items()]
    return tuple(sorted([*past, *now], key=lambda stay: (stay.from_at, stay.lot, stay.tray)))


def stood_in(tray: str, records: Iterable[Record], at: datetime) -> tuple[str, ...]:
    """The numbers of the lots that stood in `tray` at `at`."""
    wanted = tray_name(tray)
    return tuple(dict.fromkeys(stay.lot for stay in stays(records) if stay.tray == wanted and stay.holds_at(at)))
