"""A folded lot as the figures want it, and what the crew's lots say of a plant.

Rules
1. No record is not zero: a lot whose start nobody counted gives no figures and is named as such.
2. Lots that were merged into another are left out, for their plants are counted there.
3. Every look at roots or seedlings counts, for the time to root rests on the early ones as well.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from functools import lru_cache
from zoneinfo import ZoneInfo

from core.entries import Hormone
from core.figures.forecast import Ways, usual_ways
from core.figures.rooting_time import RootingTime, fit_time, published_weeks, spans_of
from core.figures.spread import Spread, fit, prior_from, stage_prior
from core.figures.values import Counts, Look, LotFigures, Tally, rooted_tallies, saleable_tallies
from core.lots import Counted, Lot
from core.records import local_day
from core.treatments.plant_facts import fact_of
from core.vocabulary.plants import same_plant

SEED_STATE, ROOT_STATE = "germinated", "rooted"
_MOST_SPANS = 40


@dataclass(frozen=True, slots=True, kw_only=True)
class Known:
    """What is known of one plant and kind: its lots, the counts fit to speak of its rate, and the fitted ways."""

    plant: str
    kind: str
    lots: tuple[LotFigures, ...]
    counts: Counts
    spread: Spread
    time: RootingTime
    published: tuple[float, float] | None
    source: str

    def ways(self, growing_on: Spread | None = None) -> Ways:
        """The whole way to the sale, later stages as usual or as the crew's closed lots tell."""
        return usual_ways(self.spread, later_stage("potting"), growing_on or later_stage("growing_on"), self.time)


def figures_of(lot: Lot, zone: ZoneInfo) -> LotFigures | None:
    """The lot in numbers, or None where nobody said how many there were."""
    if lot.started is None or lot.merged_into is not None:
        return None
    started = lot.started + lot.merged_in - lot.merged_out - lot.split_off
    if started <= 0:
        return None
    state = SEED_STATE if lot.kind == "seed" else ROOT_STATE
    known = lot.germinated if lot.kind == "seed" else lot.rooted
    gone = lot.sold + lot.given + lot.planted_out
    rooted = None if known is None else min(known + (0 if lot.kind == "seed" else gone), started)
    counted = lot.counted(state)
    counted_on = _day_counted(lot, counted, zone) if rooted is not None else None
    left = lot.left
    if lot.kind == "seed" and left is None:
        left = started
    return LotFigures(
        number=lot.number,
        plant=lot.plant,
        started_on=local_day(lot.sown_at or lot.opened_at, zone),
        started=started,
        rooted=rooted,
        counted_on=counted_on,
        # The row has what stands in pots now; the figures want every plant ever potted, those that left among them.
        potted=lot.potted + gone if lot.kind != "seed" or lot.potted else 0,
        potted_on=local_day(lot.potted_at, zone) if lot.potted_at else None,
        lost=lot.lost,
        sold=lot.sold,
        given=lot.given,
        planted_out=lot.planted_out,
        left=left,
        ready=lot.ready or 0,
        looks=_looks(lot, zone),
        closed=lot.closed,
        approx=lot.approx,
        kind=lot.kind,
        cutting=lot.cutting or "",
        wood=lot.wood or "",
        hormone=hormone_words(lot.hormone),
        medium=lot.medium or "",
        mothers=_mothers(lot, started),
        trays=lot.trays,
        place=lot.place or "",
        by=lot.opened_by,
    )


def _mothers(lot: Lot, started: int) -> tuple[tuple[str, int], ...]:
    """Cuttings by mother; one mother named without a number gave them all, several without one are not told apart."""
    if len(lot.sources) == 1 and not lot.sources[0].count:
        return ((lot.sources[0].source, started),)
    return tuple((share.source, share.count) for share in lot.sources if share.count)


def figured(lots: Iterable[Lot], zone: ZoneInfo) -> tuple[LotFigures, ...]:
    """The lots that can be reckoned with, in the order given."""
    return tuple(one for one in (figures_of(lot, zone) for lot in lots) if one is not None)


def hormone_words(hormone: Hormone | None) -> str:
    """A hormone as its strength and form ("3000 ppm powder"), "none", or empty where nobody said."""
    if hormone is None:
        return ""
    strength = f"{hormone.ppm:g} ppm" if hormone.ppm else ""
    return " ".join(word for word in (strength, hormone.name or "", hormone.form or "") if word)


def of_plant(lots: Iterable[LotFigures], plant: str) -> tuple[LotFigures, ...]:
    """The lots of a plant, by whatever name they were texted."""
    names: dict[str, bool] = {}
    found = []
    for lot in lots:
        if lot.plant not in names:
            names[lot.plant] = same_plant(lot.plant, plant)
        if names[lot.plant]:
            found.append(lot)
    return tuple(found)


def know(plant: str, every: Sequence[LotFigures], *, kind: str = "cuttings", lots: Sequence[LotFigures] = ()) -> Known:
    """What the crew's lots and the books say of a plant; `lots` are its own (found among `every` where not handed in)."""
    own = tuple(lot for lot in (lots or of_plant(every, plant)) if _same_kind(lot.kind, kind))
    wood = _usual(lot.wood for lot in own)
    fact = fact_of(plant, "germination_share" if kind == "seed" else "rooting_share", wood)
    published = (fact.low, fact.high) if fact and fact.low is not None and fact.high is not None else None
    time = time_to_root(plant, own, kind=kind, wood=wood)
    counts = rooted_tallies(own, settled_day=time.day_of(0.9))
    others = _tallies_by_plant(tuple(lot for lot in every if lot not in set(own) and _same_kind(lot.kind, kind)))
    from_default = fact is None or fact.plant == "default"
    range_used = published if published and not (from_default and others) else None
    prior = prior_from(published=range_used, others=others)
    return Known(
        plant=plant,
        kind=kind,
        lots=own,
        counts=counts,
        spread=fit(counts.tallies, prior),
        time=time,
        published=published,
        source=fact.cite() if fact else "",
    )


def time_to_root(plant: str, own: Sequence[LotFigures], *, kind: str = "cuttings", wood: str = "") -> RootingTime:
    """Days to root (or to come up) from the lots' looks, with the published weeks as a weak prior."""
    days = fact_of(plant, "germination_days") if kind == "seed" else None
    weeks_fact = None if kind == "seed" else fact_of(plant, "weeks_to_root", wood or None)
    if days is not None and days.low and days.high:
        weeks = (days.low / 7, days.high / 7)
    elif weeks_fact is not None and weeks_fact.low and weeks_fact.high:
        weeks = (weeks_fact.low, weeks_fact.high)
    else:
        weeks = published_weeks("seed" if kind == "seed" else wood or "any")
    newest = tuple(sorted(own, key=lambda lot: lot.started_on, reverse=True)[:_MOST_SPANS])
    return _timed(newest, weeks)


def growing_on_of(every: Iterable[LotFigures]) -> Spread:
    """The share of rooted plants that become saleable, from the crew's closed lots, with the usual one as a prior."""
    return fit(saleable_tallies(every), stage_prior("growing_on"))


@lru_cache(maxsize=8)
def later_stage(name: str) -> Spread:
    """A later stage (`potting`, `growing_on`) as usual, before any lot of the crew's own."""
    return fit((), stage_prior(name))


@lru_cache(maxsize=64)
def _timed(own: tuple[LotFigures, ...], weeks: tuple[float, float]) -> RootingTime:
    spans, seen = spans_of(own)
    started = sum(lot.started for lot in own if lot.looks)
    rooted = sum(min(lot.rooted or 0, lot.started) for lot in own if lot.looks)
    could_root = min(max((rooted + 1) / (started + 2), 0.3), 0.95) if started else 1.0
    return fit_time(spans, weeks=weeks, could_root=could_root, lots=seen)


def _tallies_by_plant(lots: Sequence[LotFigures]) -> list[tuple[Tally, ...]]:
    """Counts of the other plants whose rooting is over, a group for each plant."""
    groups: dict[str, list[Tally]] = {}
    for lot in lots:
        if lot.rooted is not None and (lot.closed or lot.unrooted == 0 or lot.potted):
            groups.setdefault(lot.plant, []).append(Tally(hits=min(lot.rooted, lot.started), tried=lot.started))
    return [tuple(group) for group in groups.values()]


def _looks(lot: Lot, zone: ZoneInfo) -> tuple[Look, ...]:
    found = []
    for one in lot.looks:
        of = one.of or (lot.started or 0)
        if one.count is not None and one.count <= of:
            found.append(Look(on=local_day(one.at, zone), rooted=one.count, of=of, whole=not one.sample))
    return tuple(found)


def _day_counted(lot: Lot, counted: Counted | None, zone: ZoneInfo) -> date:
    known = lot.germinated if lot.kind == "seed" else lot.rooted
    gone = lot.sold + lot.given + lot.planted_out
    if counted is not None and counted.count is not None and counted.count >= (known or 0) + gone:
        return local_day(counted.at, zone)
    # Potting more than were counted tells of roots as well.
    moments: list[datetime] = [moment for moment in (counted.at if counted else None, lot.potted_at) if moment]
    return local_day(max(moments, default=lot.last_count_at or lot.opened_at), zone)


def _same_kind(one: str, other: str) -> bool:
    return (one == "seed") == (other == "seed")


def _usual(words: Iterable[str]) -> str:
    named = [word for word in words if word]
    return max(sorted(set(named)), key=named.count) if named else ""
