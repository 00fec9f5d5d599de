"""How much chilling has the seed had, and on which days could it be enough?

Rules
1. A bag in the fridge is taken as cold unless a reading or a note says otherwise.
2. Nobody knows what warm days undo. So the answer has two ends: the warm time counts fully, or not at all.
3. A reading out of the band makes the time back to the last good reading, and on to the next, possibly warm; the
   likely time reaches half-way to them. Time between two bad readings is surely warm.
4. Sprouts override every count.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import groupby

from core.figures.air import ChillBand, open_air_page
from core.figures.measures import BadMeasure

_DAY = timedelta(days=1)
Span = tuple[datetime, datetime]


@dataclass(frozen=True, slots=True, kw_only=True)
class FridgeReading:
    """A noted temperature of the fridge, Celsius. All instants of one sum are of one kind (all aware or all local)."""

    at: datetime
    celsius: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Interruption:
    """A time that the seed is known to have been out of the cold: fridge off, bag on the bench, frozen or dry."""

    began_at: datetime
    ended_at: datetime

    def __post_init__(self) -> None:
        if self.ended_at < self.began_at:
            raise BadMeasure("an interruption ends after it began", words=str(self.began_at))


@dataclass(frozen=True, slots=True, kw_only=True)
class ChillSoFar:
    """Days of chilling up to now. `least` counts no time that may have been out of the band, `likely` none that
    probably was, `most` all of it. `lead_decides` where the likely warm time is longer than the book allows unasked."""

    started_at: datetime
    least_days: float
    likely_days: float
    most_days: float
    lead_decides: bool
    source: str

    @property
    def out_days(self) -> float:
        """Days that may have been out of the band."""
        return self.most_days - self.least_days


@dataclass(frozen=True, slots=True, kw_only=True)
class ChillEnd:
    """When a target of chilling is reached: at the earliest (warm time counts) and at the latest (it does not)."""

    earliest_at: datetime
    latest_at: datetime


def accumulate_chill(
    *,
    started_at: datetime,
    now: datetime,
    readings: Iterable[FridgeReading] = (),
    interruptions: Iterable[Interruption] = (),
    band: ChillBand | None = None,
) -> ChillSoFar:
    """Days of chilling from `started_at` to `now`, as a range. The band and its source come from air.toml.

    Method: rules above; common practice, since no general law is published. Raises BadMeasure where the end is before
    the start.
    """
    if now < started_at:
        raise BadMeasure("chilling has not begun", words=str(started_at))
    cold = band or open_air_page().chill
    ordered = sorted((one for one in readings if started_at <= one.at <= now), key=lambda one: one.at)
    known = [(one.began_at, one.ended_at) for one in interruptions]
    possible, likely = _warm_spans(ordered, started_at, now, cold)
    out_most = _days_of([*known, *possible], started_at, now)
    out_likely = _days_of([*known, *likely], started_at, now)
    elapsed = (now - started_at) / _DAY
    return ChillSoFar(
        started_at=started_at,
        least_days=elapsed - out_most,
        likely_days=elapsed - out_likely,
        most_days=elapsed,
        lead_decides=out_likely > cold.lead_decides_after_days,
        source=cold.source,
    )


def chill_end(so_far: ChillSoFar, target_days: float) -> ChillEnd:
    """When `target_days` of chilling will be reached if the fridge stays cold from now on. Raises BadMeasure."""
    if target_days <= 0:
        raise BadMeasure(f"{target_days:g} days is no chilling", words=f"{target_days:g}")
    earliest = so_far.started_at + timedelta(days=target_days)
    return ChillEnd(earliest_at=earliest, latest_at=earliest + timedelta(days=so_far.out_days))


def _warm_spans(
    ordered: Sequence[FridgeReading], started_at: datetime, now: datetime, cold: ChillBand
) -> tuple[list[Span], list[Span]]:
    """The possibly and the probably warm spans around each run of readings out of the band."""
    possible: list[Span] = []
    likely: list[Span] = []
    place = 0
    for is_cold, run in groupby(ordered, key=lambda one: cold.least_celsius <= one.celsius <= cold.most_celsius):
        readings = list(run)
        first, last = readings[0].at, readings[-1].at
        before = ordered[place - 1].at if place else started_at
        place += len(readings)
        after = ordered[place].at if place < len(ordered) else now
        if not is_cold:
            possible.append((before, after))
            likely.append((before + (first - before) / 2, last + (after - last) / 2))
    return possible, likely


def _days_of(spans: Iterable[Span], started_at: datetime, now: datetime) -> float:
    """Days covered by the spans within the time in the fridge, overlaps counted once."""
    covered, reached = timedelta(0), started_at
    for began, ended in sorted(spans):
        began, ended = max(began, reached), min(ended, now)
        if ended > began:
            covered += ended - began
            reached = ended
    return covered / _DAY
