"""How much bleach, and how much water: by parts, by strength, from powder; and how much of it is left by now.

Rules
1. "1:9" is 1 part bleach and 9 parts water, 1 part in 10 of the finished solution. "1:10" is read as written, 1 + 10;
   the reading 1 in 10 is stronger, so both strengths are given.
2. "10 % bleach" means a share of the jug (1 + 9), never 10 % sodium hypochlorite.
3. An answer without the jug's label is for the label assumed in the book, and says so.
4. Strengths of both kinds keep their kind: a wanted strength of the other kind than the label's is turned by weight.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from typing import Final, assert_never

from core.figures.measures import BadMeasure, BothWays, measure_out
from core.figures.solution_book import BleachPage, SolutionBook, open_book
from core.figures.strengths import (
    AvailableChlorine,
    ChlorineStrength,
    SodiumHypochlorite,
    as_available_chlorine,
    as_sodium_hypochlorite,
)

_ROUGH_SHARE: Final = 0.03


class MixWarning(StrEnum):
    """What must be said beside a mix."""

    LABEL_ASSUMED = "label_assumed"
    WANTED_ASSUMED = "wanted_assumed"
    LABEL_UNUSUAL = "label_unusual"
    RATIO_READ_TWO_WAYS = "ratio_read_two_ways"
    SHARE_OF_JUG = "share_of_jug"
    STRONG_SOLUTION = "strong_solution"
    KINDS_CONVERTED = "kinds_converted"
    ROUGH_MEASURE = "rough_measure"


@dataclass(frozen=True, slots=True, kw_only=True)
class BleachMix:
    """A bleach solution: parts, volumes in both families of units, strength, and what must be said beside it.

    `parts_water` is to 1 part of bleach. `result` is of the label's kind and `ppm` is its % x 10,000;
    `available_chlorine_ppm` is the same solution by weight of chlorine. `other_reading_ppm` is the strength if "1:n"
    was meant as 1 in n. `water` is None for bleach as it comes. `poured_ppm` is what the kitchen measure of bleach,
    filled up to `finished`, really gives.
    `caution` names the caution that goes with every such answer.
    """

    label: ChlorineStrength
    parts_water: float
    bleach: BothWays
    water: BothWays | None
    finished: BothWays
    result: ChlorineStrength
    ppm: float
    available_chlorine_ppm: float
    poured_ppm: float
    other_reading_ppm: float | None
    warnings: tuple[MixWarning, ...]
    caution: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PowderMix:
    """A chlorine solution from powder: grams to weigh for the finished volume, and grams per litre."""

    grams: float
    grams_per_litre: float
    finished: BothWays
    result: AvailableChlorine
    caution: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BatchAge:
    """A batch after `hours`: the share of its strength left by the half-life in force, and which rules it has outlived.

    Free chlorine falls faster with dirt, sun and heat: a test strip tells, a clock guesses.
    """

    hours: float
    share_left: float
    half_life_hours: float
    in_force_hours: float
    in_force_source: str
    outlived: tuple[str, ...]

    @property
    def still_good(self) -> bool:
        """Whether the batch is within the rule in force (the first life rule of the book)."""
        return self.hours <= self.in_force_hours


def parts_of_water(label: ChlorineStrength, wanted: ChlorineStrength) -> float:
    """Parts of water to one part of bleach: label % / wanted % - 1.

    Source: CDC, Environmental Cleaning in Global Healthcare Facilities, appendix E. Raises BadMeasure where the wanted
    strength is above the label's.
    """
    aimed = _of_kind_of(label, wanted)
    if aimed.percent > label.percent:
        raise BadMeasure(
            f"{aimed.percent:g} % cannot be had from {label.percent:g} %",
            words=f"{aimed.percent:g}",
            hint="check the % on the jug's label",
        )
    return label.percent / aimed.percent - 1


def mix_bleach(
    *,
    finished_ml: float,
    label: ChlorineStrength | None = None,
    wanted: ChlorineStrength | None = None,
    book: SolutionBook | None = None,
) -> BleachMix:
    """A finished volume (ml) at a wanted strength: bleach = volume x wanted % / label %, water to the volume.

    Without `label` or `wanted` the book's figures are assumed and the mix warns of it.
    Source: CDC appendix E (parts = label / wanted - 1). Raises BadMeasure for a strength or volume that cannot be.
    """
    page = (book or open_book()).bleach
    jug, aim = label or _assumed_label(page), wanted or SodiumHypochlorite(percent=page.wanted_percent)
    warnings = [MixWarning.WANTED_ASSUMED] if wanted is None else []
    if type(aim) is not type(jug):
        warnings.append(MixWarning.KINDS_CONVERTED)
    return _mix(page, label, parts_of_water(jug, aim), finished_ml, warnings)


def mix_bleach_by_parts(
    *,
    finished_ml: float,
    water_parts: float,
    bleach_parts: float = 1,
    label: ChlorineStrength | None = None,
    book: SolutionBook | None = None,
) -> BleachMix:
    """A finished volume (ml) at so many parts of bleach to so many of water: "1:9" is 1 and 9.

    `other_reading_ppm` holds the strength of "1 in n"; the mix warns where n is one that people use both ways
    (10, 50, 100 …). Source: arithmetic; 1 + 9 in Penn State Extension, Disinfesting Tools. Raises BadMeasure for
    parts below nothing.
    """
    if not (bleach_parts > 0 and water_parts >= 0 and math.isfinite(bleach_parts) and math.isfinite(water_parts)):
        raise BadMeasure("parts are above nothing", words=f"{bleach_parts:g}:{water_parts:g}", hint="text it like 1:9")
    page = (book or open_book()).bleach
    parts = water_parts / bleach_parts
    twofold = parts >= 1 and parts % 5 == 0
    warnings = [MixWarning.RATIO_READ_TWO_WAYS] if twofold else []
    other = (label or _assumed_label(page)).ppm / parts if parts >= 1 else None
    return _mix(page, label, parts, finished_ml, warnings, other)


def mix_bleach_by_share(
    *, finished_ml: float, jug_share: float, label: ChlorineStrength | None = None, book: SolutionBook | None = None
) -> BleachMix:
    """A finished volume (ml) of which `jug_share` is bleach as it comes: "10 % bleach" is 0.10, so 1 + 9.

    The mix warns that the percent was taken as a share of the jug. Common practice. Raises BadMeasure outside 0 to 1.
    """
    if not 0 < jug_share <= 1:
        raise BadMeasure(f"{jug_share:.0%} of the jug cannot be", words=f"{jug_share}", hint="text it like 10% or 1:9")
    page = (book or open_book()).bleach
    return _mix(page, label, 1 / jug_share - 1, finished_ml, [MixWarning.SHARE_OF_JUG])


def stretch_bleach(
    *,
    bleach_ml: float,
    label: ChlorineStrength | None = None,
    wanted: ChlorineStrength | None = None,
    book: SolutionBook | None = None,
) -> BleachMix:
    """What `bleach_ml` of bleach can be made into at the wanted strength; otherwise as `mix_bleach`."""
    page = (book or open_book()).bleach
    jug, aim = label or _assumed_label(page), wanted or SodiumHypochlorite(percent=page.wanted_percent)
    finished_ml = bleach_ml * (parts_of_water(jug, aim) + 1)
    return mix_bleach(finished_ml=finished_ml, label=label, wanted=wanted, book=book)


def strength_of_mix(*, bleach_ml: float, water_ml: float, label: ChlorineStrength) -> ChlorineStrength:
    """The strength of bleach and water poured together, of the label's kind: label % x bleach / (bleach + water).

    Water added to bleach is not water filled up to a mark: 250 ml in 1 l more of water is weaker than 250 ml made up
    to 1 l. Source: arithmetic. Raises BadMeasure for volumes below nothing.
    """
    if not (bleach_ml > 0 and water_ml >= 0 and math.isfinite(bleach_ml + water_ml)):
        raise BadMeasure("there is no such mix", words=f"{bleach_ml:g} and {water_ml:g} ml")
    return _with_percent(label, label.percent * bleach_ml / (bleach_ml + water_ml))


def mix_powder(
    *, finished_ml: float, powder: AvailableChlorine, wanted: AvailableChlorine, book: SolutionBook | None = None
) -> PowderMix:
    """Chlorine powder to weigh: grams per litre = wanted % / powder % x 1,000 (CDC appendix E, example 2).

    Powders are labelled in available chlorine by weight. Raises BadMeasure where the powder is weaker than wanted.
    """
    if wanted.percent > powder.percent:
        raise BadMeasure(f"{wanted.percent:g} % cannot be had from {powder.percent:g} % powder")
    per_litre = wanted.percent / powder.percent * 1000
    finished = measure_out(finished_ml)
    caution = (book or open_book()).bleach.caution
    return PowderMix(
        grams=per_litre * finished_ml / 1000,
        grams_per_litre=per_litre,
        finished=finished,
        result=wanted,
        caution=caution,
    )


def share_left(*, hours: float, half_life_hours: float) -> float:
    """The share of strength left after `hours`: 0.5 ^ (hours / half-life). Raises BadMeasure below nothing."""
    if not (hours >= 0 and half_life_hours > 0 and math.isfinite(hours)):
        raise BadMeasure("a solution is not younger than new", words=f"{hours:g} h")
    return float(0.5 ** (hours / half_life_hours))


def judge_bleach_age(hours: float, *, book: SolutionBook | None = None) -> BatchAge:
    """A bleach batch after so many hours, by the book's rules of working life, the first of which is in force.

    Published answers range from 2 hours in use to a day and more; each rule in the book carries its source.
    Raises BadMeasure for hours below nothing, or where the rule in force states no half-life.
    """
    rules = (book or open_book()).bleach.life
    in_force = rules[0]
    if in_force.half_life_hours is None:
        raise BadMeasure(f"the rule {in_force.rule} states no half-life", words=in_force.rule)
    return BatchAge(
        hours=hours,
        share_left=share_left(hours=hours, half_life_hours=in_force.half_life_hours),
        half_life_hours=in_force.half_life_hours,
        in_force_hours=in_force.hours,
        in_force_source=in_force.source,
        outlived=tuple(one.rule for one in rules if hours > one.hours),
    )


def _mix(
    page: BleachPage,
    label: ChlorineStrength | None,
    parts: float,
    finished_ml: float,
    warnings: list[MixWarning],
    other_reading_ppm: float | None = None,
) -> BleachMix:
    jug = label or _assumed_label(page)
    hypochlorite = as_sodium_hypochlorite(jug).percent
    if hypochlorite > page.strongest_label_percent:
        raise BadMeasure(
            f"no jug of bleach holds {jug.percent:g} %",
            words=f"{jug.percent:g}",
            hint="text the % on the label; a powder is weighed, not poured",
        )
    result = _with_percent(jug, jug.percent / (parts + 1))
    finished, bleach = measure_out(finished_ml), measure_out(finished_ml / (parts + 1))
    water_ml = finished_ml * parts / (parts + 1)
    spoken = {
        MixWarning.LABEL_ASSUMED: label is None,
        MixWarning.LABEL_UNUSUAL: hypochlorite < page.weakest_label_percent,
        MixWarning.STRONG_SOLUTION: as_sodium_hypochlorite(result).percent > page.strong_solution_percent,
        MixWarning.ROUGH_MEASURE: abs(bleach.kitchen.off_share) > _ROUGH_SHARE,
    }
    return BleachMix(
        label=jug,
        parts_water=parts,
        bleach=bleach,
        water=measure_out(water_ml) if water_ml else None,
        finished=finished,
        result=result,
        ppm=result.ppm,
        available_chlorine_ppm=as_available_chlorine(result).ppm,
        poured_ppm=result.ppm * (1 + bleach.kitchen.off_share),
        other_reading_ppm=other_reading_ppm,
        warnings=(*warnings, *(warning for warning, applies in spoken.items() if applies)),
        caution=page.caution,
    )


def _assumed_label(page: BleachPage) -> SodiumHypochlorite:
    return SodiumHypochlorite(percent=page.assumed_label_percent)


def _with_percent(like: ChlorineStrength, percent: float) -> ChlorineStrength:
    match like:
        case SodiumHypochlorite():
            return SodiumHypochlorite(percent=percent)
        case AvailableChlorine():
            return AvailableChlorine(percent=percent)
        case _:
            assert_never(like)


def _of_kind_of(like: ChlorineStrength, strength: ChlorineStrength) -> ChlorineStrength:
    match like:
        case SodiumHypochlorite():
            return as_sodium_hypochlorite(strength)
        case AvailableChlorine():
            return as_available_chlorine(strength)
        case _:
            assert_never(like)
