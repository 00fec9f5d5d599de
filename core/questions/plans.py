"""How many must be stuck, by when, for so many on a day; what stands on the bench counts.

Rules
1. The number is given for 9 in 10 and for 8 in 10, beside what plain division would give (a coin toss).
2. The last day to stick is for lots in time 9 times in 10; a number for sticking today weighs the chance to be late.
3. What is on the bench counts only as far as the forecast brings it through by the day.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date, datetime, timedelta

from core.answers import Answer, FiguresTold, Refused
from core.entries import Entry
from core.figures.forecast import Forecast, Ways, forecast
from core.figures.outcomes import Outcome
from core.figures.plan import (
    Enough,
    OutOfReach,
    Stick,
    Way,
    chance_with,
    how_many,
    latest_start,
    needs_of,
    on_time_chance,
    outcome_of,
)
from core.figures.values import BadFigure, LotFigures
from core.questions.figured_lots import Known, figured, growing_on_of, know, of_plant
from core.questions.sale_days import day_asked, target_of
from core.records import local_day
from core.storage import Books

SURE, LESS_SURE = 0.9, 0.8
_SEED = re.compile(r"\b(sow|sown|seeds?|sowing)\b")


def how_many_and_when(books: Books, entry: Entry, words: str, now: datetime) -> Answer:
    """How many to stick, and by when; without a number the target's, without a target the last day alone."""
    target = target_of(books, entry.plant, now)
    plant = entry.plant or (target.plant if target else None)
    if plant is None:
        return Refused(why="name_plant", facts={"example": "how many toyon do i need to stick for 60 by 17 april"})
    zone = books.crew.zone
    today = local_day(now, zone)
    needed = entry.count or (target.count if target else None)
    day = day_asked(books, entry, words, now)
    every = figured(books.lots(open_only=False), zone)
    own = of_plant(every, plant)
    seed = bool(_SEED.search(words)) or (bool(own) and all(lot.kind == "seed" for lot in own))
    known = know(plant, every, kind="seed" if seed else "cuttings", lots=own)
    ways = known.ways(growing_on_of(every))
    stages = _stages(ways)
    facts: dict[str, object] = {
        "plant": plant,
        "kind": known.kind,
        "needed": needed,
        "day": day.isoformat() if day else None,
        "today": today.isoformat(),
        "lots": known.spread.lots,
        "tried": known.spread.tried,
        "basis": known.spread.prior.basis,
        "worst": known.spread.lowest,
        "best": known.spread.highest,
        "rate": known.spread.mean,
    }
    if day is not None:
        if day <= today:
            return Refused(why="day_past", facts={"day": day.isoformat()})
        facts["latest"] = latest_start(day, stages, chance=SURE).isoformat()
        facts["latest_8"] = latest_start(day, stages, chance=LESS_SURE).isoformat()
        facts["latest_even"] = latest_start(day, stages, chance=0.5).isoformat()
        facts["on_time_today"] = on_time_chance(today, day, stages)
    else:
        facts["days_9"] = _days_needed(stages, SURE)
        facts["days_even"] = _days_needed(stages, 0.5)
    if needed is None:
        return FiguresTold(kind="plan", facts=facts)
    bench = bench_forecast(known, own, ways, today, day) if day and own else None
    return FiguresTold(kind="plan", facts=facts | _numbers(needed, known, ways, bench))


def _numbers(needed: int, known: Known, ways: Ways, bench: Forecast | None) -> dict[str, object]:
    way = Way(rooting=known.spread, later=(ways.potting, ways.growing_on))
    on_bench = bench.outcome if bench and bench.living else None
    found = how_many(needed, way, chance=SURE, on_bench=on_bench)
    facts: dict[str, object] = {"bench": bench_facts(bench)}
    match found:
        case Stick():
            less = how_many(needed, way, chance=LESS_SURE, on_bench=on_bench)
            split = how_many(needed, way, chance=SURE, stickings=4, on_bench=on_bench)
            wants = needs_of(found.number, saleable=needed)
            facts |= {
                "number": found.number,
                "number_8": less.number if isinstance(less, Stick) else None,
                "division": found.by_division,
                "in_four": split.number if isinstance(split, Stick) else None,
                "trays": wants.trays,
                "packs": wants.packs,
                "mothers": wants.mothers,
            }
        case Enough():
            facts["enough"] = found.chance
        case OutOfReach():
            facts["out_of_reach"] = {"tried": found.tried, "best": found.best}
    return facts


def what_if(books: Books, entry: Entry, words: str, now: datetime) -> Answer:
    """What comes of sticking only so many: the likely number and the chance of the target."""
    target = target_of(books, entry.plant, now)
    plant = entry.plant or (target.plant if target else None)
    if plant is None or entry.count is None:
        return Refused(why="name_plant", facts={"example": "what if we only stick 90 toyon for 60 by 17 april"})
    zone = books.crew.zone
    today = local_day(now, zone)
    every = figured(books.lots(open_only=False), zone)
    own = of_plant(every, plant)
    known = know(plant, every, lots=own)
    ways = known.ways(growing_on_of(every))
    day = day_asked(books, entry, words, now)
    on_time = on_time_chance(today, day, _stages(ways)) if day and day > today else 1.0
    bench = bench_forecast(known, own, ways, today, day) if day and own and day > today else None
    on_bench = bench.outcome if bench and bench.living else None
    way = Way(rooting=known.spread, later=(ways.potting, ways.growing_on))
    got = outcome_of(entry.count, way)
    low, high = got.range(0.8)
    return FiguresTold(
        kind="what_if",
        facts={
            "plant": plant,
            "stuck": entry.count,
            "middle": got.middle,
            "low": low,
            "high": high,
            "needed": target.count if target else None,
            "day": day.isoformat() if day else None,
            "on_time": on_time,
            "chance": chance_with(entry.count, target.count, way, on_bench=on_bench) if target else None,
            "bench": bench_facts(bench),
            "lots": known.spread.lots,
            "tried": known.spread.tried,
            "basis": known.spread.prior.basis,
        },
    )


def bench_forecast(
    known: Known, own: Sequence[LotFigures], ways: Ways, today: date, day: date | None
) -> Forecast | None:
    """What the plant's open lots will give by the day, or None where none is open."""
    still = [lot for lot in own if lot.living and not (lot.closed and not lot.in_pots)]
    if not still or day is None:
        return None
    return forecast(known.plant, still, ways, on=today, for_on=day)


def bench_facts(bench: Forecast | None) -> dict[str, object] | None:
    """The bench in a line: what is alive, and what of it should be there."""
    if bench is None or not bench.living:
        return None
    low, high = bench.outcome.range(0.8)
    return {
        "living": bench.living,
        "middle": bench.outcome.middle,
        "low": low,
        "high": high,
        "lots": sorted({part.lot for part in bench.parts}),
    }


def last_day_to_stick(ways: Ways, day: date, chance: float = SURE) -> date:
    """The last day on which a sticking is in time with this chance."""
    return latest_start(day, _stages(ways), chance=chance)


def chance_in_time(ways: Ways, today: date, day: date) -> float:
    """The chance that what is stuck today is ready on the day."""
    return on_time_chance(today, day, _stages(ways))


def stick_now(needed: int, known: Known, ways: Ways, bench: Outcome | None) -> int | None:
    """How many to stick today to make good a shortfall, if they are in time; None where no number would."""
    way = Way(rooting=known.spread, later=(ways.potting, ways.growing_on))
    try:
        found = how_many(needed, way, chance=SURE, on_bench=bench)
    except BadFigure:
        return None
    return found.number if isinstance(found, Stick) else 0 if isinstance(found, Enough) else None


def _stages(ways: Ways) -> tuple[Outcome, ...]:
    return (ways.time.days(), ways.wean, ways.slack, ways.pot, ways.harden)


def _days_needed(stages: Sequence[Outcome], chance: float) -> int:
    far = date(2000, 1, 1) + timedelta(days=4000)
    return (far - latest_start(far, stages, chance=chance)).days
