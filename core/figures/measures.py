"""How much is that in the cups, spoons, gallons and litres at hand?

Rules
1. Conversions are exact: inch 2.54 cm, pound 453.59237 g, US gallon 231 cubic inches (NIST Handbook 44, Appendix C).
   All units are the US customary ones; a trade gallon of a pot is no unit and is found in containers.toml.
2. A poured measure is one that a US set of cups and spoons, a jug with ounce marks or a litre jug can measure.
   Its error against the volume asked for is always stated, never hidden by the rounding.
3. The fewest scoops win while they are within 2 % of the volume asked for; else the nearest wins.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final

from core.figures.values import BadFigure


class BadMeasure(BadFigure):
    """Numbers that cannot be true of a bench: a share above one, a volume below nothing, an unknown unit."""


_CM_PER_INCH: Final = Fraction(254, 100)
_ML_PER_CUBIC_INCH: Final = _CM_PER_INCH**3
_ML_PER_GALLON: Final = 231 * _ML_PER_CUBIC_INCH
_GRAMS_PER_POUND: Final = Fraction(45359237, 100000)

ML_PER: Final[Mapping[str, Fraction]] = {
    "ml": Fraction(1),
    "l": Fraction(1000),
    "tsp": _ML_PER_GALLON / 768,
    "tbsp": _ML_PER_GALLON / 256,
    "fl oz": _ML_PER_GALLON / 128,
    "cup": _ML_PER_GALLON / 16,
    "pt": _ML_PER_GALLON / 8,
    "qt": _ML_PER_GALLON / 4,
    "gal": _ML_PER_GALLON,
    "cu in": _ML_PER_CUBIC_INCH,
    "cu ft": 1728 * _ML_PER_CUBIC_INCH,
    "cu yd": 46656 * _ML_PER_CUBIC_INCH,
}
"""Millilitres in one of each unit of volume, exact."""

GRAMS_PER: Final[Mapping[str, Fraction]] = {
    "mg": Fraction(1, 1000),
    "g": Fraction(1),
    "kg": Fraction(1000),
    "oz": _GRAMS_PER_POUND / 16,
    "lb": _GRAMS_PER_POUND,
}
"""Grams in one of each unit of weight, exact (ounce and pound avoirdupois)."""

CM_PER: Final[Mapping[str, Fraction]] = {
    "mm": Fraction(1, 10),
    "cm": Fraction(1),
    "m": Fraction(100),
    "in": _CM_PER_INCH,
    "ft": 12 * _CM_PER_INCH,
    "yd": 36 * _CM_PER_INCH,
}
"""Centimetres in one of each unit of length, exact."""

_FAMILIES: Final = (ML_PER, GRAMS_PER, CM_PER)


def convert(value: float, unit: str, into: str) -> float:
    """`value` of `unit` in the unit `into`, both of volume, weight or length. Raises BadMeasure where they differ.

    Source: NIST Handbook 44, Appendix C (exact definitions). "oz" is a weight here; a fluid ounce is "fl oz".
    """
    if not math.isfinite(value):
        raise BadMeasure(f"{value} {unit} is no amount", words=str(value))
    for family in _FAMILIES:
        if unit in family and into in family:
            return float(Fraction(value) * family[unit] / family[into])
    raise BadMeasure(f"{unit} cannot be turned into {into}", words=f"{unit} {into}")


def to_ml(value: float, unit: str) -> float:
    """Millilitres in `value` of a unit of volume. "oz" is read as fluid ounces. Raises BadMeasure for other units."""
    return convert(value, "fl oz" if unit == "oz" else unit, "ml")


def from_ml(ml: float, unit: str) -> float:
    """A volume in millilitres, in another unit of volume ("oz" is fluid ounces). Raises BadMeasure for other units."""
    return convert(ml, "ml", "fl oz" if unit == "oz" else unit)


def to_celsius(fahrenheit: float) -> float:
    """Degrees Celsius; F = 32 + 9/5 C, exact (NIST SP 811, appendix B.8)."""
    return float((Fraction(fahrenheit) - 32) * Fraction(5, 9))


def to_fahrenheit(celsius: float) -> float:
    """Degrees Fahrenheit; F = 32 + 9/5 C, exact (NIST SP 811, appendix B.8)."""
    return float(Fraction(celsius) * Fraction(9, 5) + 32)


@dataclass(frozen=True, slots=True, kw_only=True)
class Poured:
    """A volume as it can be measured out: its words, the millilitres they hold, and how far off that is.

    `off_share` is (measured - asked) / asked: +0.01 pours one percent too much. `measurable` is False where the volume
    is too small for spoons or marks, so that `text` names a syringe's millilitres instead.
    """

    text: str
    ml: float
    off_share: float
    measurable: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class BothWays:
    """One volume in US kitchen measures, in fluid ounces, in metric; `ml` is the exact volume asked for."""

    ml: float
    kitchen: Poured
    fluid_ounces: Poured
    metric: Poured


def measure_out(ml: float) -> BothWays:
    """The volume in every family of measures a crew may have at hand. Raises BadMeasure below or at nothing."""
    return BothWays(ml=ml, kitchen=in_kitchen(ml), fluid_ounces=in_fluid_ounces(ml), metric=in_metric(ml))


def speak_fraction(amount: Fraction) -> str:
    """A mixed number as a cook writes it: `3 3/8`, `1/2`, `5`."""
    whole, rest = divmod(amount, 1)
    if not rest:
        return str(whole)
    return f"{whole} {rest}" if whole else str(rest)


_TSP_PER: Final = {"gal": Fraction(768), "cup": Fraction(48), "tbsp": Fraction(3), "tsp": Fraction(1)}
_EIGHTHS_AND_THIRDS: Final = tuple(sorted({Fraction(n, 8) for n in range(8)} | {Fraction(1, 3), Fraction(2, 3)}))
_CUP_SCOOPS: Final = (Fraction(1, 4), Fraction(1, 3), Fraction(1, 2), Fraction(2, 3), Fraction(3, 4), Fraction(1))
_FEWEST_WITHIN: Final = Fraction(2, 100)
_Scoops = tuple[tuple[Fraction, str], ...]


def in_kitchen(ml: float) -> Poured:
    """The volume in US cups and spoons (with gallons above one gallon).

    Cups go by eighths (ounce marks) and thirds, tablespoons whole, teaspoons by quarters, the least an eighth.
    Common practice; US measuring sets. Raises BadMeasure for nothing or less.
    """
    asked = _positive(ml) / ML_PER["tsp"]
    if asked < Fraction(1, 8):
        return replace(in_metric(ml), measurable=False)
    choices = list(_kitchen_choices(asked))
    near = [scoops for scoops in choices if abs(_teaspoons(scoops) - asked) <= _FEWEST_WITHIN * asked]
    if near:
        best = min(near, key=lambda scoops: (len(scoops), abs(_teaspoons(scoops) - asked), _how_often(scoops)))
    else:
        best = min(choices, key=lambda scoops: (abs(_teaspoons(scoops) - asked), len(scoops)))
    return _poured(" + ".join(_speak_scoop(*scoop) for scoop in best), _teaspoons(best) * ML_PER["tsp"], ml)


def in_fluid_ounces(ml: float) -> Poured:
    """The volume in US fluid ounces: whole ones from 8 up, halves from 2, quarters from 1; under 1 no mark is sure."""
    ounces = _positive(ml) / ML_PER["fl oz"]
    if ounces < 1:
        return replace(in_metric(ml), measurable=False)
    step = Fraction(1) if ounces >= 8 else Fraction(1, 2) if ounces >= 2 else Fraction(1, 4)
    rounded = _nearest(ounces, step)
    return _poured(f"{speak_fraction(rounded)} fl oz", rounded * ML_PER["fl oz"], ml)


def in_metric(ml: float) -> Poured:
    """The volume in ml or l to a step a jug or cylinder shows: about half a percent or better from 100 ml up."""
    asked = _positive(ml)
    for below, step in ((1, "0.01"), (10, "0.1"), (100, "0.5"), (250, "1"), (1000, "5"), (10_000, "10")):
        if asked < below:
            rounded = _nearest(asked, Fraction(step))
            break
    else:
        rounded = _nearest(asked, Fraction(100))
    text = f"{float(rounded / 1000):g} l" if rounded >= 1000 else f"{float(rounded):g} ml"
    return _poured(text, rounded, ml, measurable=asked >= Fraction(1, 10))


def _kitchen_choices(asked: Fraction) -> Iterator[_Scoops]:
    """Every way of scooping that lies near `asked` teaspoons, as (amount, unit) pairs."""
    if asked >= _TSP_PER["gal"] - 3:
        yield from _gallons_near(asked)
    elif asked >= _TSP_PER["cup"]:
        yield from _cups_near(asked)
    elif asked >= _TSP_PER["cup"] / 4:
        for scoop in _CUP_SCOOPS:
            for spoons in range(4):
                for teaspoons in range(3):
                    yield _drop_empty((scoop, "cup"), (Fraction(spoons), "tbsp"), (Fraction(teaspoons), "tsp"))
        yield from (((Fraction(spoons), "tbsp"),) for spoons in range(4, 8))
    elif asked >= _TSP_PER["tbsp"]:
        yield ((Fraction(1, 4), "cup"),)
        yield from (((Fraction(spoons), "tsp"),) for spoons in range(3, 7))
        for spoons in range(1, 5):
            for quarters in range(12):
                yield _drop_empty((Fraction(spoons), "tbsp"), (Fraction(quarters, 4), "tsp"))
    else:
        yield from (((Fraction(eighths, 8), "tsp"),) for eighths in range(1, 9))
        yield from (((Fraction(quarters, 4), "tsp"),) for quarters in range(5, 12))
        yield ((Fraction(1), "tbsp"),)


def _gallons_near(asked: Fraction) -> Iterator[_Scoops]:
    gallons, rest = divmod(asked, _TSP_PER["gal"])
    step = Fraction(1, 4) if asked < 10 * _TSP_PER["gal"] else Fraction(1)
    cups = _nearest(rest / _TSP_PER["cup"], step)
    if cups == 16:
        gallons, cups = gallons + 1, Fraction(0)
    if cups == 8:
        yield ((gallons + Fraction(1, 2), "gal"),)
    else:
        yield _drop_empty((Fraction(gallons), "gal"), (cups, "cup"))


def _cups_near(asked: Fraction) -> Iterator[_Scoops]:
    whole = asked // _TSP_PER["cup"]
    fractions = [whole + part for part in _EIGHTHS_AND_THIRDS] + [Fraction(whole + 1)]
    for cups in fractions:
        yield ((cups, "cup"),)
        if whole < 4:
            yield ((cups, "cup"), (Fraction(1), "tbsp"))


def _drop_empty(*scoops: tuple[Fraction, str]) -> _Scoops:
    return tuple(scoop for scoop in scoops if scoop[0])


def _how_often(scoops: _Scoops) -> Fraction:
    """How often one scoops: 2 tbsp are sooner measured than 6 tsp."""
    return sum((amount for amount, _ in scoops), Fraction(0))


def _teaspoons(scoops: _Scoops) -> Fraction:
    return sum((amount * _TSP_PER[unit] for amount, unit in scoops), Fraction(0))


def _speak_scoop(amount: Fraction, unit: str) -> str:
    return f"{speak_fraction(amount)} {'cups' if unit == 'cup' and amount > 1 else unit}"


def _positive(ml: float) -> Fraction:
    if not (math.isfinite(ml) and ml > 0):
        raise BadMeasure(f"{ml} ml is nothing to measure out", words=str(ml))
    return Fraction(ml)


def _nearest(amount: Fraction, step: Fraction) -> Fraction:
    return step * math.floor(amount / step + Fraction(1, 2))


def _poured(text: str, measured: Fraction, asked: float, *, measurable: bool = True) -> Poured:
    return Poured(text=text, ml=float(measured), off_share=float(measured) / asked - 1, measurable=measurable)
