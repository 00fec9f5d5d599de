"""How much chill has the seed had, by its days in the cold and the fridge's readings, and when is it enough?

Rules
1. Two ends are told: every day that may have been warm counts, or none does; nobody knows what warm days undo.
2. Days out that were noted count at neither end. Days in doubt come from notes or from readings, the longer of both,
   for both may tell of the same trouble.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date, datetime, timedelta

from core.answers import Answer, FiguresTold, Refused
from core.entries import Entry
from core.figures.air import open_air_page
from core.figures.chill import FridgeReading, accumulate_chill
from core.lots import Cold, Lot
from core.lots.cold import cold_ends, cold_up_to
from core.questions.subjects import asked_lots
from core.records import in_order, local_day
from core.storage import Books

_COLD_PLACE = re.compile(r"\b(fridge|refrigerator|cooler|cold)\b")
_MOST_LOTS = 4


def how_much_chill(books: Books, entry: Entry, words: str, now: datetime) -> Answer:
    """The days of cold of the lots asked about, those in the cold where none is named, with what the fridge read."""
    asked = asked_lots(books, entry, now)
    if asked.unknown:
        return Refused(why="no_lot", facts={"unknown": asked.unknown})
    readings = fridge_readings(books)
    rows = []
    for lot in asked.lots:
        colds = [one for one in lot.colds if not one.planned]
        cold = next((one for one in reversed(colds) if one.treatment == "cold_stratify"), None)
        if cold is not None and (cold.running or asked.named):
            rows.append(_row(lot, cold, readings, books, now))
    if not rows and not readings:
        return Refused(why="no_cold", facts={"asked": entry.plant or ", ".join(entry.lots)})
    since = min((str(row["since"]) for row in rows), default="")
    temperatures = [one.celsius for one in readings if local_day(one.at, books.crew.zone).isoformat() >= since]
    band = open_air_page().chill
    return FiguresTold(
        kind="chill",
        facts={
            "rows": rows[:_MOST_LOTS],
            "more": max(len(rows) - _MOST_LOTS, 0),
            "readings": len(temperatures),
            "coldest": min(temperatures, default=None),
            "warmest": max(temperatures, default=None),
            "band": [band.least_celsius, band.most_celsius],
            "outside": sum(not band.least_celsius <= one <= band.most_celsius for one in temperatures),
        },
    )


def fridge_readings(books: Books) -> tuple[FridgeReading, ...]:
    """The temperatures that were noted of a fridge, oldest first."""
    return tuple(
        FridgeReading(at=record.at, celsius=record.entry.temp_c)
        for record in in_order(books.records(acts=("temp",)))
        if record.entry.temp_c is not None and _COLD_PLACE.search((record.entry.place or "").lower())
    )


def _row(lot: Lot, cold: Cold, readings: Sequence[FridgeReading], books: Books, now: datetime) -> dict[str, object]:
    zone = books.crew.zone
    counted = cold_up_to(cold, now, zone)
    until = cold.ended_at or now
    by_readings = accumulate_chill(started_at=cold.began_at, now=max(until, cold.began_at), readings=readings)
    doubt = max(counted.days_uncertain, by_readings.out_days)
    most = counted.days_counted + counted.days_uncertain
    likely_warm = max(counted.days_uncertain / 2, by_readings.most_days - by_readings.likely_days)
    return {
        "number": lot.number,
        "plant": lot.plant,
        "since": local_day(cold.began_at, zone).isoformat(),
        "running": cold.running,
        "least": max(most - doubt, 0.0),
        "likely": max(most - likely_warm, 0.0),
        "most": most,
        "out": counted.days_out,
        "asked": cold.days_asked,
        "ends": _ends(counted, doubt, books),
        "lead_decides": by_readings.lead_decides,
    }


def _ends(cold: Cold, doubt: float, books: Books) -> list[str] | None:
    ends = cold_ends(cold, books.crew.zone)
    if ends is None:
        return None
    first, last = ends
    further: date = last + timedelta(days=max(round(doubt) - round(cold.days_uncertain), 0))
    return [first.isoformat(), further.isoformat()]
