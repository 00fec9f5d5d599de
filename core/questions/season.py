"""How did the year go, and what to grow for the next: one message, and the figures that a page is drawn from."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import datetime, time

from core.answers import Answer, FiguresTold
from core.entries import Entry
from core.figures.demand import Sale, demand_of
from core.figures.rates import wilson
from core.figures.values import LotFigures
from core.lots import Lot
from core.questions.figured_lots import figured
from core.records import Record, in_order, local_day
from core.storage import Books
from core.vocabulary.plants import same_plant

_YEAR = re.compile(r"\b(20\d\d)\b")
_ENOUGH = 10
_OPENS, _SHUTS = time(9), time(15)
"""A sale day's hours where nobody said otherwise (common practice)."""
_SOLD_OUT = re.compile(r"\bsold out\b|\ball gone\b|\bnone left\b")
_VAIN = re.compile(r"\b(?:asked for|wanted|could have sold|turned away|out of)\b")


def season_report(books: Books, entry: Entry, words: str, now: datetime) -> Answer:
    """What the year came to: stuck, rooted, sold, lost by cause, best and worst."""
    said = _YEAR.search(words)
    year = int(said.group(1)) if said else local_day(now, books.crew.zone).year - ("last year" in words)
    return FiguresTold(kind="season", facts=facts_of_year(books, year))


def season_of_plant(books: Books, entry: Entry, words: str, now: datetime) -> Answer:
    """What became this year of the lots of one plant."""
    said = _YEAR.search(words)
    year = int(said.group(1)) if said else local_day(now, books.crew.zone).year - ("last year" in words)
    facts = facts_of_year(books, year, entry.plant)
    return FiguresTold(kind="season_of_plant", facts=facts | {"plant": entry.plant})


def facts_of_year(books: Books, year: int, plant: str | None = None) -> dict[str, object]:
    """What a year came to, from its lots as they stand; of one plant where it is named."""
    zone = books.crew.zone
    lots = [
        lot
        for lot in books.lots(open_only=False)
        if lot.merged_into is None
        and local_day(lot.opened_at, zone).year == year
        and (plant is None or same_plant(lot.plant, plant))
    ]
    return season_facts(lots, books, year)


def losses_by_cause(books: Books, entry: Entry, words: str, now: datetime) -> Answer:
    """What was lost and to what, this year's lots and those still open, of a plant or in all."""
    zone = books.crew.zone
    year = local_day(now, zone).year - ("last year" in words)
    lots = [
        lot
        for lot in books.lots(open_only=False)
        if (entry.plant is None or same_plant(lot.plant, entry.plant))
        and (local_day(lot.opened_at, zone).year == year or (not lot.closed and "last year" not in words))
    ]
    causes = _causes(lots)
    by_plant: dict[str, int] = {}
    for lot in lots:
        by_plant[lot.plant] = by_plant.get(lot.plant, 0) + lot.lost
    return FiguresTold(
        kind="losses",
        facts={
            "plant": entry.plant,
            "year": year,
            "lots": len(lots),
            "started": sum(lot.started or 0 for lot in lots),
            "lost": sum(causes.values()),
            "causes": sorted(causes.items(), key=lambda one: -one[1]),
            "asked_cause": next((cause for cause in causes if re.search(rf"\b{cause.replace('_', ' ')}\b", words)), ""),
            "plants": sorted(((n, c) for n, c in by_plant.items() if c), key=lambda one: -one[1])[:4],
            "unexplained": sum(lot.unexplained for lot in lots),
        },
    )


def _causes(lots: Sequence[Lot]) -> dict[str, int]:
    causes: dict[str, int] = {}
    for lot in lots:
        for loss in lot.losses:
            causes[loss.cause] = causes.get(loss.cause, 0) + loss.count
    return causes


def season_facts(lots: Sequence[Lot], books: Books, year: int) -> dict[str, object]:
    """The year's lots in numbers: in all, by plant, by way, and losses by cause."""
    numbers = figured(lots, books.crew.zone)
    causes = _causes(lots)
    counted = [lot for lot in numbers if lot.rooted is not None]
    return {
        "crew": books.crew.number,
        "year": year,
        "lots": len(lots),
        "not_counted": [lot.number for lot in lots if lot.started is None],
        "plants": len({lot.plant for lot in lots}),
        "started": sum(lot.started for lot in numbers),
        "rooted": sum(lot.rooted or 0 for lot in counted),
        "rooted_of": sum(lot.started for lot in counted),
        "uncounted": [lot.number for lot in numbers if lot.rooted is None],
        "sold": sum(lot.sold for lot in lots),
        "given": sum(lot.given for lot in lots),
        "planted_out": sum(lot.planted_out for lot in lots),
        "potted": sum(lot.potted for lot in lots),
        "left": sum(lot.left or 0 for lot in lots),
        "lost": sum(causes.values()),
        "unexplained": sum(lot.unexplained for lot in lots),
        "causes": sorted(causes.items(), key=lambda one: -one[1]),
        "rows": _rows(numbers, "plant"),
        "ways": [row for what in ("cutting", "hormone", "medium") for row in _rows(numbers, what) if row["name"]],
    }


def _rows(lots: Sequence[LotFigures], what: str) -> list[dict[str, object]]:
    groups: dict[str, list[LotFigures]] = {}
    for lot in lots:
        name = str(getattr(lot, what))
        groups.setdefault("no hormone" if what == "hormone" and name == "none" else name, []).append(lot)
    rows: list[dict[str, object]] = []
    for name, own in groups.items():
        counted = [lot for lot in own if lot.rooted is not None]
        hits, tried = sum(lot.rooted or 0 for lot in counted), sum(lot.started for lot in counted)
        ends = wilson(min(hits, tried), tried)
        rows.append(
            {
                "name": name,
                "lots": len(own),
                "started": sum(lot.started for lot in own),
                "rooted": hits,
                "of": tried,
                "low": ends.low,
                "high": ends.high,
                "sold": sum(lot.sold for lot in own),
                "lost": sum(lot.lost for lot in own),
                "enough": tried >= _ENOUGH,
            }
        )
    return sorted(rows, key=lambda row: (-int(str(row["started"])), str(row["name"])))


def next_list(books: Books, entry: Entry, words: str, now: datetime) -> Answer:
    """What to grow for the next sale: demand from what was brought, sold, sold out when, and asked for in vain."""
    zone = books.crew.zone
    records = in_order(books.records(acts=("sell", "target", "note", "check", "pot")))
    lots = {lot.number: lot for lot in books.lots(open_only=False)}
    sold = [one for one in records if one.entry.act.value == "sell" and one.lot in lots]
    plants = sorted({lots[one.lot].plant for one in sold if one.lot})
    wanted = [one for one in records if one.entry.act.value == "target" and one.entry.plant]
    vain = [one for one in records if one.entry.act.value == "note" and _VAIN.search(one.said.lower())]
    rows = []
    for plant in plants:
        row = _demand_row(plant, [one for one in sold if lots[one.lot or ""].plant == plant], lots, vain, books)
        if row is not None:
            rows.append(row)
    rows.sort(key=lambda row: -int(str(row["grow"])))
    asked = [
        one.entry.plant for one in wanted if one.entry.plant and not any(same_plant(one.entry.plant, p) for p in plants)
    ]
    return FiguresTold(
        kind="next_list",
        facts={"rows": rows, "never_sold": sorted(set(asked)), "year": local_day(now, zone).year + 1},
    )


def _demand_row(
    plant: str, sold: Sequence[Record], lots: dict[str, Lot], vain: Sequence[Record], books: Books
) -> dict[str, object] | None:
    zone = books.crew.zone
    years: dict[int, list[Record]] = {}
    for one in sold:
        years.setdefault(local_day(one.at, zone).year, []).append(one)
    sales = []
    for year, own in years.items():
        count = sum(_sold_in(one) for one in own)
        touched = {one.lot for one in own if one.lot}
        left = sum(lots[number].left or 0 for number in touched) if year == max(years) else 0
        last = max(own, key=Record.order)
        gone = not left or any(_SOLD_OUT.search(one.said.lower()) for one in own)
        at = _share_of_day(last.at.astimezone(zone).time()) if gone else None
        asked = sum(
            one.entry.count or _people_in(one.said)
            for one in vain
            if local_day(one.at, zone).year == year and _is_of(one, plant)
        )
        if gone:
            left = 0  # what is left was not on the table
        sales.append(Sale(year=year, brought=count + left, sold=count, sold_out_at=at, asked_in_vain=asked))
    demand = demand_of([sale for sale in sales if sale.sold])
    if demand is None:
        return None
    latest = max(sales, key=lambda sale: sale.year)
    return {
        "plant": plant,
        "sold": latest.sold,
        "sold_out": latest.sold_out_at is not None,
        "in_vain": latest.asked_in_vain,
        "low": demand.low,
        "high": demand.high,
        "grow": round(demand.middle + 0.5 * demand.deviation),
        "years": len(demand.years),
    }


def _is_of(record: Record, plant: str) -> bool:
    """True where a note is about a plant: named as its plant, or in its words."""
    if record.entry.plant:
        return same_plant(record.entry.plant, plant)
    return re.search(rf"(?<![\w']){re.escape(plant)}(?![\w])", record.said.lower()) is not None


def _people_in(said: str) -> int:
    """How many asked for it ("5 people asked for"); one where nobody said."""
    found = re.search(r"\b(\d{1,3})\s+(?:more\s+)?(?:people|persons|customers|folks|asked|wanted|others|more)\b", said.lower())
    return int(found.group(1)) if found else 1


def _sold_in(record: Record) -> int:
    return record.entry.count or 0


def _share_of_day(at: time) -> float | None:
    """The share of the sale day gone; None outside its hours, where the hour of the note says nothing."""
    minutes = (at.hour - _OPENS.hour) * 60 + at.minute - _OPENS.minute
    whole = (_SHUTS.hour - _OPENS.hour) * 60
    return minutes / whole if 0 < minutes < whole else None
