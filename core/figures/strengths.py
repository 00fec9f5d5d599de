"""How strong is it: percent, ppm and millimolar, and the two figures that are both called the strength of bleach.

Rules
1. Sodium hypochlorite % (a US jug) and available chlorine % (powders, health tables) are different types and are
   never compared without turning one into the other by weight: 1 % NaOCl = 0.9525 % available chlorine.
2. ppm = % x 10,000, the trade's rule; density is ignored by it, as it is by every published table.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final, assert_never

from core.figures.measures import BadMeasure

PPM_PER_PERCENT: Final = 10_000
# g/mol from standard atomic weights; one NaOCl has the oxidising power of one Cl2, which is what "available" means.
_CHLORINE_PER_HYPOCHLORITE: Final = 70.906 / 74.44
PERCENT_PER_CHLORUM: Final = 0.3


@dataclass(frozen=True, slots=True, kw_only=True)
class SodiumHypochlorite:
    """Percent sodium hypochlorite (NaOCl), the figure on a US bleach jug. Raises BadMeasure outside 0 to 100."""

    percent: float

    def __post_init__(self) -> None:
        _must_be_percent(self.percent)

    @classmethod
    def of_ppm(cls, ppm: float) -> SodiumHypochlorite:
        return cls(percent=ppm / PPM_PER_PERCENT)

    @property
    def ppm(self) -> float:
        return self.percent * PPM_PER_PERCENT


@dataclass(frozen=True, slots=True, kw_only=True)
class AvailableChlorine:
    """Percent available chlorine by weight, the figure of powders and health tables. Raises BadMeasure as above."""

    percent: float

    def __post_init__(self) -> None:
        _must_be_percent(self.percent)

    @classmethod
    def of_ppm(cls, ppm: float) -> AvailableChlorine:
        return cls(percent=ppm / PPM_PER_PERCENT)

    @classmethod
    def of_chlorum(cls, degrees: float) -> AvailableChlorine:
        """The strength that a label gives in degrees chlorum: about 0.3 % each (CDC, hypochlorite factsheet)."""
        return cls(percent=degrees * PERCENT_PER_CHLORUM)

    @property
    def ppm(self) -> float:
        return self.percent * PPM_PER_PERCENT


ChlorineStrength = SodiumHypochlorite | AvailableChlorine


def as_available_chlorine(strength: ChlorineStrength) -> AvailableChlorine:
    """The strength as available chlorine by weight: % NaOCl x 70.906 / 74.44 (molar masses of Cl2 and NaOCl)."""
    match strength:
        case AvailableChlorine():
            return strength
        case SodiumHypochlorite(percent=percent):
            return AvailableChlorine(percent=percent * _CHLORINE_PER_HYPOCHLORITE)
        case _:
            assert_never(strength)


def as_sodium_hypochlorite(strength: ChlorineStrength) -> SodiumHypochlorite:
    """The strength as sodium hypochlorite: % available chlorine x 74.44 / 70.906 (molar masses of NaOCl and Cl2)."""
    match strength:
        case SodiumHypochlorite():
            return strength
        case AvailableChlorine(percent=percent):
            return SodiumHypochlorite(percent=percent / _CHLORINE_PER_HYPOCHLORITE)
        case _:
            assert_never(strength)


def ppm_from_percent(percent: float) -> float:
    """ppm = % x 10,000; 1 ppm is 1 mg in a litre of water (HORT 221, exercise 6)."""
    return percent * PPM_PER_PERCENT


def percent_from_ppm(ppm: float) -> float:
    """% = ppm / 10,000 (HORT 221, exercise 6)."""
    return ppm / PPM_PER_PERCENT


def millimolar_from_ppm(ppm: float, molar_mass: float) -> float:
    """mmol/l = (mg/l) / (g/mol). `molar_mass` comes from the solution book, e.g. IBA 203.24."""
    _must_be_positive(molar_mass)
    return ppm / molar_mass


def ppm_from_millimolar(millimolar: float, molar_mass: float) -> float:
    """mg/l = (mmol/l) x (g/mol). `molar_mass` comes from the solution book, e.g. IBA 203.24."""
    _must_be_positive(molar_mass)
    return millimolar * molar_mass


def _must_be_percent(percent: float) -> None:
    if not (math.isfinite(percent) and 0 < percent <= 100):
        raise BadMeasure(f"{percent:g} % is no strength", words=f"{percent:g}", hint="text the % on the label")


def _must_be_positive(number: float) -> None:
    if not (math.isfinite(number) and number > 0):
        raise BadMeasure(f"{number:g} is not above nothing", words=f"{number:g}")
