"""How dry is the air: vapour-pressure deficit and dew point, as asked with figures or as noted last."""

from __future__ import annotations

import re
from datetime import datetime

from core.answers import Answer, FiguresTold, Refused
from core.entries import Entry
from core.errors import BenchError
from core.figures.air import judge_air
from core.figures.measures import to_celsius
from core.records import in_order, local_day
from core.storage import Books

_TEMPERATURE = re.compile(r"(-?\d+(?:\.\d+)?)\s*(?:°|deg(?:rees)?)?\s*(f|c|fahrenheit|celsius)\b")
_HUMIDITY = re.compile(r"\b(\d{1,3}(?:\.\d+)?)\s*(?:%|percent\b)")
_OPEN = re.compile(r"\b(outside|outdoors|open|lath|shade)\b")
_ROOTED = re.compile(r"\b(rooted|weaning|weaned)\b")


def how_dry_is_the_air(books: Books, entry: Entry, words: str, now: datetime) -> Answer:
    """The deficit and the dew point of the air asked about; without figures, of the last reading that was noted."""
    warm, wet = _TEMPERATURE.search(words), _HUMIDITY.search(words)
    noted_on = None
    if warm and wet:
        celsius = float(warm.group(1))
        if warm.group(2).startswith("f"):
            celsius = to_celsius(celsius)
        humidity = float(wet.group(1)) / 100
    else:
        noted = [one for one in in_order(books.records(acts=("temp",))) if _tells_air(one.entry)]
        if not noted:
            return Refused(why="air_needs", facts={})
        last = noted[-1]
        assert last.entry.temp_c is not None
        assert last.entry.humidity is not None
        celsius, humidity = last.entry.temp_c, last.entry.humidity
        noted_on = local_day(last.at, books.crew.zone).isoformat()
    stage = "open" if _OPEN.search(words) else "rooted" if _ROOTED.search(words) else "unrooted"
    try:
        air = judge_air(celsius, humidity, stage=stage)
    except BenchError as wrong:
        return Refused(why="sum_impossible", facts={"hint": str(wrong)})
    return FiguresTold(
        kind="air",
        facts={
            "celsius": celsius,
            "humidity": humidity,
            "deficit": air.deficit_kpa,
            "least": air.deficit_least_kpa,
            "most": air.deficit_most_kpa,
            "dew_c": air.dew_point_celsius,
            "stage": stage,
            "verdict": str(air.verdict),
            "sure": air.sure,
            "noted_on": noted_on,
        },
    )


def _tells_air(entry: Entry) -> bool:
    return entry.temp_c is not None and bool(entry.humidity)
