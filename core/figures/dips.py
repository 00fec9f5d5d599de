"""How much hormone or alcohol makes that strength: from a concentrate, from a salt by weight, by volume, as talc.

Rules
1. Dilution keeps the solute: C1 V1 = C2 V2. Strengths are ppm (mg in a litre), % x 10,000, or millimolar.
2. A salt such as K-IBA weighs more than the acid whose ppm the trade counts: by the ratio of their molar masses.
3. Alcohol goes by volume and is filled up to the mark: alcohol and water shrink a little when mixed (a few percent).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from core.figures.measures import BadMeasure, BothWays, measure_out
from core.figures.solution_book import DipMethod, SolutionBook, WoodStrength, open_book


class DipWarning(StrEnum):
    """What must be said beside a dip or a disinfecting alcohol."""

    TOO_SMALL_TO_POUR = "too_small_to_pour"
    NOT_SOLUBLE_IN_WATER = "not_soluble_in_water"
    WEAKER_THAN_USUAL = "weaker_than_usual"
    STRONGER_THAN_USUAL = "stronger_than_usual"
    FILL_TO_THE_MARK = "fill_to_the_mark"
    AS_IT_COMES = "as_it_comes"


@dataclass(frozen=True, slots=True, kw_only=True)
class Dilution:
    """So much of the stock, and so much of what it is thinned with (None where the stock is used as it comes).

    `stock_strength` and `wanted_strength` share one unit: ppm for hormones, % by volume for alcohol.
    """

    stock: BothWays
    thinner: BothWays | None
    finished: BothWays
    stock_strength: float
    wanted_strength: float
    warnings: tuple[DipWarning, ...]
    caution: str


@dataclass(frozen=True, slots=True, kw_only=True)
class WeighedDip:
    """Grams of a compound for a finished volume, so that it holds `ppm` of `counted_as` and `millimolar` of either."""

    compound: str
    counted_as: str
    grams: float
    ppm: float
    millimolar: float
    finished: BothWays
    warnings: tuple[DipWarning, ...]
    caution: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TalcNeed:
    """Grams of talc to tip out for so many cuttings, with the caution that goes with it."""

    grams: float
    cuttings: int
    source: str
    caution: str


def dilute_hormone(
    *, stock_ppm: float, wanted_ppm: float, finished_ml: float, book: SolutionBook | None = None
) -> Dilution:
    """A finished volume (ml) at `wanted_ppm` from a concentrate of `stock_ppm`: stock = wanted x volume / stock ppm.

    Source: C1 V1 = C2 V2. Raises BadMeasure where the stock is weaker than wanted, or for nothing.
    """
    page = (book or open_book()).hormone
    return _dilute(stock_ppm, wanted_ppm, finished_ml, page.caution, "ppm")


def weigh_hormone(
    *,
    compound: str,
    wanted_ppm: float,
    finished_ml: float,
    counted_as: str | None = None,
    book: SolutionBook | None = None,
) -> WeighedDip:
    """Grams of `compound` for `finished_ml` at `wanted_ppm` of `counted_as`.

    Without `counted_as` a salt is counted as its acid (K-IBA as IBA), because the trade's ppm are the acid's; with
    counted_as equal to the compound its own weight counts. grams = ppm x litres / 1,000 x ratio of molar masses.
    Source: molar masses from standard atomic weights, in the book. Raises BadMeasure for an unknown compound, or two
    compounds that are not the same acid.
    """
    page = (book or open_book()).hormone
    weighed = page.compound(compound)
    acid = page.compound(counted_as or weighed.acts_as or weighed.name)
    if (weighed.acts_as or weighed.name) != (acid.acts_as or acid.name):
        raise BadMeasure(f"{weighed.name} does not count as {acid.name}", words=f"{compound} {counted_as}")
    _must_be_positive(wanted_ppm)
    finished = measure_out(finished_ml)
    return WeighedDip(
        compound=weighed.name,
        counted_as=acid.name,
        grams=wanted_ppm * finished_ml / 1e6 * weighed.molar_mass / acid.molar_mass,
        ppm=wanted_ppm,
        millimolar=wanted_ppm / acid.molar_mass,
        finished=finished,
        warnings=() if weighed.water_soluble else (DipWarning.NOT_SOLUBLE_IN_WATER,),
        caution=page.caution,
    )


def millimolar_of(compound: str, ppm: float, *, book: SolutionBook | None = None) -> float:
    """Millimoles in a litre at so many ppm of the compound: 1,000 ppm IBA are 4.92 mM (standard atomic weights)."""
    return ppm / (book or open_book()).hormone.compound(compound).molar_mass


def ppm_of(compound: str, millimolar: float, *, book: SolutionBook | None = None) -> float:
    """ppm at so many millimoles in a litre: 1 mM IBA is 203.24 mg in a litre (standard atomic weights)."""
    return millimolar * (book or open_book()).hormone.compound(compound).molar_mass


def parts_of_concentrate(*, stock_ppm: float, concentrate_parts: float, thinner_parts: float) -> float:
    """ppm of so many parts of concentrate with so many of thinner: ppm x parts / all parts. Raises BadMeasure."""
    if not (concentrate_parts > 0 and thinner_parts >= 0):
        raise BadMeasure("parts are above nothing", words=f"{concentrate_parts:g}:{thinner_parts:g}")
    return stock_ppm * concentrate_parts / (concentrate_parts + thinner_parts)


def talc_for(cuttings: int, *, book: SolutionBook | None = None) -> TalcNeed:
    """Grams of talc hormone for so many cuttings, by one label's count of cuttings to the ounce. Tip out, never dip
    into the jar. Raises BadMeasure for no cuttings."""
    if cuttings <= 0:
        raise BadMeasure("no cuttings to dip", words=str(cuttings))
    page = (book or open_book()).hormone
    grams = cuttings * page.talc_mg_a_cutting / 1000
    return TalcNeed(grams=grams, cuttings=cuttings, source=page.talc_source, caution=page.caution)


def usual_strength(wood: str, *, book: SolutionBook | None = None) -> WoodStrength | None:
    """The usual span of ppm for that wood ("softwood", "semi-hardwood", "hardwood"), or None where none is known."""
    found = (one for one in (book or open_book()).hormone.strengths if one.wood == wood)
    return next(found, None)


def usual_methods(ppm: float, *, book: SolutionBook | None = None) -> tuple[DipMethod, ...]:
    """The liquid methods (soak, quick dip) whose published span holds this strength; none is an answer too."""
    methods = (book or open_book()).hormone.methods
    return tuple(one for one in methods if one.ppm_least <= ppm <= one.ppm_most)


def dilute_alcohol(
    *, stock_percent: float, wanted_percent: float, finished_ml: float, book: SolutionBook | None = None
) -> Dilution:
    """A finished volume (ml) of alcohol at `wanted_percent` by volume: volume x wanted / stock, water to the mark.

    `thinner` is the volume to the mark; a little more goes in, because the mixture shrinks by up to about 4 %. The mix
    warns outside the span that disinfects (70 to 90 %, Swiecki & Bernhardt s. 2.3). Raises BadMeasure where the stock
    is weaker than wanted or either is no percent.
    """
    page = (book or open_book()).alcohol
    if not 0 < stock_percent <= 100:
        raise BadMeasure(f"{stock_percent:g} % is no alcohol", words=f"{stock_percent:g}")
    mixed = _dilute(stock_percent, wanted_percent, finished_ml, page.caution, "%")
    checks = {
        DipWarning.FILL_TO_THE_MARK: mixed.thinner is not None,
        DipWarning.WEAKER_THAN_USUAL: wanted_percent < page.least_percent,
        DipWarning.STRONGER_THAN_USUAL: wanted_percent > page.most_percent,
    }
    warnings = mixed.warnings + tuple(warning for warning, applies in checks.items() if applies)
    return Dilution(
        stock=mixed.stock,
        thinner=mixed.thinner,
        finished=mixed.finished,
        stock_strength=stock_percent,
        wanted_strength=wanted_percent,
        warnings=warnings,
        caution=page.caution,
    )


def _dilute(stock: float, wanted: float, finished_ml: float, caution: str, unit: str) -> Dilution:
    _must_be_positive(stock)
    _must_be_positive(wanted)
    if wanted > stock:
        raise BadMeasure(
            f"{wanted:g} {unit} cannot be had from {stock:g} {unit}",
            words=f"{wanted:g}",
            hint="check the strength on the label",
        )
    stock_ml = finished_ml * wanted / stock
    poured = measure_out(stock_ml)
    warnings = [] if poured.metric.measurable else [DipWarning.TOO_SMALL_TO_POUR]
    if wanted == stock:
        warnings.append(DipWarning.AS_IT_COMES)
    return Dilution(
        stock=poured,
        thinner=None if wanted == stock else measure_out(finished_ml - stock_ml),
        finished=measure_out(finished_ml),
        stock_strength=stock,
        wanted_strength=wanted,
        warnings=tuple(warnings),
        caution=caution,
    )


def _must_be_positive(number: float) -> None:
    if not (math.isfinite(number) and number > 0):
        raise BadMeasure(f"{number:g} is no strength", words=f"{number:g}")
