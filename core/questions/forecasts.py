"""What can be planned on: stock now, what there will be on a day, and when a lot can move on."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, datetime

from core.answers import Answer, DueTold, FiguresTold, Refused
from core.entries import Entry
from core.figures.forecast import Forecast, Ways, fit_from, shortfall
from core.figures.values import LotFigures
from core.lots import Lot
from core.questions.figured_lots import Known, figured, figures_of, growing_on_of, know, of_plant
from core.questions.plans import bench_forecast, chance_in_time, last_day_to_stick, stick_now
from core.questions.present import what_is_due
from core.questions.sale_days import day_asked, target_of, targets
from core.questions.subjects import asked_lots
from core.records import local_day
from core.storage import Books

POT_WHEN_ROOTED = 0.7
"""A lot is potted when about this share of its living plants has rooted (common practice)."""


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
        "potted": sum(min(lot.potted, lot.left or 0) for lot in lots),
        "left": sum(lot.left or 0 for lot in lots),
        "reserved": sum(lot.reserved for lot in lots),
        "held": [lot.number for lot in lots if lot.hold],
        "unexplained": sum(lot.unexplained for lot in lots),
        "lots": [lot.number for lot in lots],
        "oldest_count_days": max(((now - at).days for at in counted), default=None),
    }


def how_many_will_be(books: Books, entry: Entry, words: str, now: datetime) -> Answer:
    """How many of a plant there will be on a day, against what is wanted; without a plant each target in a line."""
    zone = books.crew.zone
    today = local_day(now, zone)
    day = day_asked(books, entry, words, now)
    every = figured(books.lots(open_only=False), zone)
    growing_on = growing_on_of(every)
    if entry.plant is None:
        wanted = targets(books, now)
        if not wanted:
            return Refused(why="name_plant", facts={"example": "how many toyon will we have on 17 april"})
        rows = [_row(one.plant, one.count, one.due, every, today) for one in wanted]
        return FiguresTold(kind="forecasts", facts={"rows": rows})
    if day is None:
        return Refused(why="name_day", facts={"example": f"how many {entry.plant} will we have on 17 april"})
    if day <= today:
        return in_stock(books, entry, now)
    own = of_plant(every, entry.plant)
    known = know(entry.plant, every, kind=_kind(own), lots=own)
    ways = known.ways(growing_on)
    target = target_of(books, entry.plant, now)
    needed = entry.count or (target.count if target else None)
    seen = bench_forecast(known, own, ways, today, day)
    unclear = [
        lot.number
        for lot in asked_lots(books, entry, now).lots
        if lot.merged_into is None and figures_of(lot, zone) is None
    ]
    if seen is None:
        facts: dict[str, object] = {
            "plant": entry.plant,
            "day": day.isoformat(),
            "needed": needed,
            "not_counted": unclear,
            "kind": _kind(own),
        }
        return FiguresTold(kind="no_bench", facts=facts | _still_time(known, ways, today, day, needed, None))
    facts = forecast_facts(seen, own, today) | {"needed": needed, "not_counted": unclear}
    facts["reserved"] = sum(lot.reserved for lot in asked_lots(books, entry, now).lots)
    facts |= {"rate_lots": known.spread.lots, "rate_tried": known.spread.tried, "basis": known.spread.prior.basis}
    fit = fit_from(own, ways, on=today)
    facts["fit_from"] = fit.isoformat() if fit is not None and fit > day else None
    if needed is not None:
        lacking = shortfall(seen.outcome, needed)
        facts |= {"chance": lacking.chance, "lacking": lacking.lacking_middle, "lacking_low": lacking.lacking_low}
        if lacking.chance < 0.9:
            facts |= _still_time(known, ways, today, day, needed, seen)
    return FiguresTold(kind="forecast", facts=facts)


def forecast_facts(seen: Forecast, own: Sequence[LotFigures], today: date) -> dict[str, object]:
    """What a sentence about a forecast needs: its middle and ends, its fork, and how old its counts are."""
    low, high = seen.outcome.range(0.8)
    of_seed = {lot.number for lot in own if lot.kind == "seed"}
    ages = [age for lot in own if lot.living and (age := lot.age_of_count(today)) is not None]
    facts: dict[str, object] = {
        "plant": seen.plant,
        "day": seen.for_on.isoformat(),
        "middle": seen.outcome.middle,
        "low": low,
        "high": high,
        "living": seen.living,
        "lots": len({part.lot for part in seen.parts}),
        "ready": sum(part.plants for part in seen.parts if part.stage == "ready"),
        "in_pots": sum(part.plants for part in seen.parts if part.stage == "pots"),
        "in_cells": sum(part.plants for part in seen.parts if part.stage == "cells"),
        "unrooted": sum(part.plants for part in seen.parts if part.stage == "unrooted"),
        "seeds": sum(part.plants for part in seen.parts if part.stage == "unrooted" and part.lot in of_seed),
        "kind": _kind(own),
        "oldest_count_days": max(ages, default=None),
        "old": list(seen.old_counts),
        "uncounted": list(seen.uncounted),
        "unexplained": [list(one) for one in seen.unexplained],
        "fork": None,
    }
    if seen.fork is not None:
        facts["fork"] = {
            "lots": list(dict.fromkeys(part.lot for part in seen.fork.parts)),
            "without": seen.fork.none.middle,
            "with": seen.fork.every.middle,
            "chance_with": seen.fork.chance_every,
            "chance_without": seen.fork.chance_none,
        }
    return facts


def _row(plant: str, count: int, due: date, every: Sequence[LotFigures], today: date) -> dict[str, object]:
    own = of_plant(every, plant)
    known = know(plant, every, kind=_kind(own), lots=own)
    ways = known.ways(growing_on_of(every))
    seen = bench_forecast(known, own, ways, today, due)
    if seen is None:
        return {"plant": plant, "needed": count, "day": due.isoformat(), "living": 0}
    low, high = seen.outcome.range(0.8)
    return {
        "plant": plant,
        "needed": count,
        "day": due.isoformat(),
        "living": seen.living,
        "middle": seen.outcome.middle,
        "low": low,
        "high": high,
        "chance": seen.outcome.chance_of(count),
    }


def _still_time(
    known: Known, ways: Ways, today: date, day: date, needed: int | None, seen: Forecast | None
) -> dict[str, object]:
    """What can still be done: how many to stick now, and whether that would be in time."""
    chance = chance_in_time(ways, today, day)
    number = stick_now(needed, known, ways, seen.outcome if seen else None) if needed else None
    return {
        "stick_now": number if chance >= 0.1 else None,
        "in_time": chance,
        "latest": last_day_to_stick(ways, day).isoformat(),
    }


def when_can_it_move(books: Books, entry: Entry, now: datetime) -> Answer:
    """When a lot can move on ("when can i pot up lot 22"), by what is known of its roots and its coming reminders."""
    told = what_is_due(books, entry, "", now)
    if not isinstance(told, DueTold) or not (entry.lots or entry.trays or entry.plant):
        return told
    zone = books.crew.zone
    every = figured(books.lots(open_only=False), zone) if told.lots else ()
    return FiguresTold(
        kind="when",
        facts={
            "lots": [_progress(lot, every, books, now) for lot in told.lots[:3]],
            "dues": [
                {
                    "kind": due.kind,
                    "on": due.due_at.astimezone(zone).date().isoformat(),
                    "subject_kind": due.subject.kind,
                    "subject": due.subject.name,
                }
                for due in told.dues[:2]
            ],
            "asked": entry.rest or entry.did,
        },
    )


def _progress(lot: Lot, every: Sequence[LotFigures], books: Books, now: datetime) -> dict[str, object]:
    zone = books.crew.zone
    facts: dict[str, object] = {
        "number": lot.number,
        "plant": lot.plant,
        "stage": lot.stage,
        "rooted": lot.rooted,
        "living": lot.living,
        "roots_out": lot.roots_out,
        "days": (now - lot.opened_at).days,
        "count_days": (now - lot.last_count_at).days if lot.last_count_at else None,
        "sample": None,
        "kind": lot.kind,
        "hold": lot.hold,
    }
    sample = lot.latest_sample
    if sample is not None and sample.state == "rooted" and sample.count is not None:
        facts["sample"] = [sample.count, sample.of]
    own = figures_of(lot, zone)
    if own is not None and lot.stage not in ("potted", "hardening", "closed") and lot.kind == "cuttings":
        time = know(lot.plant, every).time
        facts["first_on"] = _plus(own.started_on, time.day_of(0.1))
        facts["most_on"] = _plus(own.started_on, time.day_of(POT_WHEN_ROOTED + 0.1))
        facts["time_lots"] = time.lots
    return facts


def _plus(start: date, days: float) -> str:
    return date.fromordinal(start.toordinal() + round(days)).isoformat()


def _kind(own: Sequence[LotFigures]) -> str:
    return "seed" if own and all(lot.kind == "seed" for lot in own) else "cuttings"
