"""What stands open now and must be closed again: covers off, plants outside, soaks, cold and warm, mixed solutions.

Rules
1. A state stays open until a note closes it, however long ago its time was past: nobody's silence closes anything.
2. A cover belongs to its tray; to the lot where the lot stands in none.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from core.lots.batches import fold_batches, fold_soaks
from core.lots.cold import cold_ends, cold_up_to
from core.lots.cover import fold_cover
from core.lots.state import Lot
from core.lots.trays import lots_in
from core.records import Record

Open = tuple[str, dict[str, Any]]


def open_states(records: Iterable[Record], lots: Iterable[Lot], zone: ZoneInfo, now: datetime) -> tuple[Open, ...]:
    """What stands open at `now`, as (kind, facts), in this order: `cover_off` `outside` `soak` `warm` `cold`
    `solution`.

    `records` are all of the crew, in any order; `lots` those not closed. Facts: `where`, `lots` (full numbers), `since`
    (instant); and `back_at` (cover, outside), `ends_at` (soak), `ends` and `ends_max` (local dates as text),
    `days_counted` and `days_asked` (warm, cold), `by` and `parts` (soak, solution), as known.
    """
    every, standing = list(records), [lot for lot in lots if not lot.closed]
    return (
        *_covers_off(every, standing, zone, now),
        *_outside(standing),
        *_soaks(every, standing, now),
        *_colds(standing, zone, now),
        *_solutions(every, now),
    )


def _covers_off(records: list[Record], lots: list[Lot], zone: ZoneInfo, now: datetime) -> list[Open]:
    of_tray: dict[str, list[Record]] = {}
    of_lot: dict[str, list[Record]] = {}
    trayless = {lot.number for lot in lots if not lot.trays}
    for record in records:
        for tray in record.trays:
            of_tray.setdefault(tray, []).append(record)
        if not record.trays and record.lot in trayless:
            of_lot.setdefault(record.lot or "", []).append(record)
    found: list[Open] = []
    for tray, told in of_tray.items():
        cover = fold_cover(told, zone, now)
        if cover.aired_at is not None:
            inside = [lot.number for lot in lots_in(tray, lots)]
            facts: dict[str, Any] = {"where": f"tray {tray}", "tray": tray, "lots": inside}
            found.append(("cover_off", facts | {"since": cover.aired_at, "back_at": cover.back_at}))
    for number, told in of_lot.items():
        cover = fold_cover(told, zone, now)
        if cover.aired_at is not None:
            here: dict[str, Any] = {"where": f"lot {number}", "lots": [number], "since": cover.aired_at}
            found.append(("cover_off", here | {"back_at": cover.back_at}))
    return sorted(found, key=lambda one: one[1]["since"])


def _outside(lots: list[Lot]) -> list[Open]:
    return [
        (
            "outside",
            {
                "where": lot.outing.to or "outside", "lots": [lot.number], "since": lot.outing.began_at,
                "back_at": lot.outing.back_at, "hardening": lot.outing.hardening,
            },
        )
        for lot in lots
        if lot.outing is not None
    ]  # fmt: skip


def _soaks(records: list[Record], lots: list[Lot], now: datetime) -> list[Open]:
    standing = {lot.number for lot in lots}
    found: list[Open] = []
    for soak in fold_soaks(records, now):
        if soak.ended_at is not None or (soak.lot is not None and soak.lot not in standing):
            continue
        where = ", ".join(soak.things) or soak.solution or "seed"
        facts = {
            "where": where, "lots": [soak.lot] if soak.lot else [], "since": soak.began_at, "ends_at": soak.ends_at,
            "solution": soak.solution, "treatment": soak.treatment, "by": soak.by,
        }  # fmt: skip
        found.append(("soak", facts))
    return found


def _colds(lots: list[Lot], zone: ZoneInfo, now: datetime) -> list[Open]:
    found: list[Open] = []
    for lot in lots:
        for cold in lot.colds:
            if not cold.running:
                continue
            counted, ends = cold_up_to(cold, now, zone), cold_ends(cold, zone)
            facts: dict[str, Any] = {
                "where": lot.plant, "lots": [lot.number], "since": cold.began_at, "days_counted": counted.days_counted,
                "days_asked": cold.days_asked, "days_uncertain": cold.days_uncertain,
            }  # fmt: skip
            if ends is not None:
                facts |= {"ends": ends[0].isoformat(), "ends_max": ends[1].isoformat()}
            found.append(("cold" if cold.treatment == "cold_stratify" else "warm", facts))
    return sorted(found, key=lambda one: (one[0] == "cold", one[1]["since"]))


def _solutions(records: list[Record], now: datetime) -> list[Open]:
    return [
        (
            "solution",
            {
                "where": batch.solution,
                "since": batch.mixed_at,
                "by": batch.by,
                "parts": list(batch.parts),
                "uses": batch.uses,
            },
        )
        for batch in fold_batches(records, now)
        if batch.stands
    ]
