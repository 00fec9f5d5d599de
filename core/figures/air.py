"""How thirsty is the air over the cuttings, and where will it drip?

Rules
1. Vapour pressure is FAO-56's (Allen and others 1998, equation 11), in kPa; temperatures in Celsius, humidity 0 to 1.
2. Over a day the saturation pressure is the mean of those at the highest and the lowest temperature (equation 12);
   that at the mean temperature is lower.
3. Near saturation a cheap hygrometer's error is as large as the deficit, so the deficit is given with its range.
"""

from __future__ import annotations

import math
import tomllib
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from importlib.resources import files
from typing import Final

from core.errors import BadTradeFile
from core.figures.measures import BadMeasure
from core.figures.trade_blocks import read_block, read_blocks

_FILE: Final = "air.toml"


class AirVerdict(StrEnum):
    """What the air means for plants of a stage."""

    TOO_WET = "too_wet"
    FITS = "fits"
    TOO_DRY = "too_dry"


@dataclass(frozen=True, slots=True, kw_only=True)
class StageBand:
    """The span of vapour-pressure deficit (kPa) that suits a stage: `unrooted`, `rooted` (under cover) or `open`."""

    name: str
    least_kpa: float
    most_kpa: float
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ChillBand:
    """The temperatures that count as chilling, and the days out of them after which the lead decides."""

    least_celsius: float
    most_celsius: float
    lead_decides_after_days: float
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class AirPage:
    """The whole of air.toml."""

    humidity_error_share: float
    stages: tuple[StageBand, ...]
    chill: ChillBand


@dataclass(frozen=True, slots=True, kw_only=True)
class AirReading:
    """A noted temperature and humidity, worked out: deficit (kPa) with the range of the meter's error, dew point (C),
    and what it means for the stage; `sure` is False where the meter's error could change the verdict."""

    celsius: float
    humidity: float
    deficit_kpa: float
    deficit_least_kpa: float
    deficit_most_kpa: float
    dew_point_celsius: float
    stage: str
    verdict: AirVerdict
    sure: bool
    source: str


def saturation_kpa(celsius: float) -> float:
    """Saturation vapour pressure, kPa: 0.6108 exp(17.27 T / (T + 237.3)). FAO-56 equation 11. Raises BadMeasure."""
    if not -50 <= celsius <= 100:
        raise BadMeasure(f"{celsius:g} C is no temperature of this formula", words=f"{celsius:g}")
    return 0.6108 * math.exp(17.27 * celsius / (celsius + 237.3))


def mean_saturation_kpa(lowest_celsius: float, highest_celsius: float) -> float:
    """Saturation vapour pressure of a day, kPa: the mean of both ends. FAO-56 equation 12."""
    return (saturation_kpa(lowest_celsius) + saturation_kpa(highest_celsius)) / 2


def saturation_slope(celsius: float) -> float:
    """How fast saturation rises, kPa for a degree: 4098 e / (T + 237.3)^2. FAO-56 equation 13."""
    return 4098 * saturation_kpa(celsius) / (celsius + 237.3) ** 2


def vapour_kpa(celsius: float, humidity: float) -> float:
    """Vapour pressure of air at that temperature and humidity (0 to 1), kPa. FAO-56 equation 10 turned round."""
    _must_be_humidity(humidity)
    return humidity * saturation_kpa(celsius)


def vapour_of_day_kpa(
    lowest_celsius: float, highest_celsius: float, *, highest_humidity: float, lowest_humidity: float | None = None
) -> float:
    """Vapour pressure of a day, kPa, from its extremes (FAO-56 equation 17), or from the highest humidity alone where
    the lowest is unknown (equation 18): the coolest hour is the most humid."""
    coolest = vapour_kpa(lowest_celsius, highest_humidity)
    return coolest if lowest_humidity is None else (coolest + vapour_kpa(highest_celsius, lowest_humidity)) / 2


def vapour_from_wet_bulb_kpa(dry_celsius: float, wet_celsius: float, *, pressure_kpa: float = 101.3) -> float:
    """Vapour pressure from a ventilated wet and dry bulb, kPa: e(wet) - 0.000662 P (dry - wet). FAO-56 equation 15."""
    if wet_celsius > dry_celsius:
        raise BadMeasure("a wet bulb is never the warmer one", words=f"{dry_celsius:g} and {wet_celsius:g}")
    return saturation_kpa(wet_celsius) - 0.000662 * pressure_kpa * (dry_celsius - wet_celsius)


def deficit_kpa(celsius: float, humidity: float, *, leaf_celsius: float | None = None) -> float:
    """Vapour-pressure deficit, kPa: what the leaf (at the air's temperature unless given) could lose to the air.

    e(leaf) - humidity x e(air); below nothing where the leaf is colder than the dew point: water settles on it.
    """
    return saturation_kpa(celsius if leaf_celsius is None else leaf_celsius) - vapour_kpa(celsius, humidity)


def dew_point_celsius(celsius: float, humidity: float) -> float:
    """The temperature at which this air drips, C; never above the air's own.

    (116.91 + 237.3 ln e) / (16.78 - ln e), FAO-56 annex (from memory), within 0.02 C of equation 11 turned round.
    Raises BadMeasure for air without any water.
    """
    if humidity <= 0:
        raise BadMeasure("air without water has no dew point", words=f"{humidity:g}")
    return min(dew_point_of_kpa(vapour_kpa(celsius, humidity)), celsius)


def dew_point_of_kpa(vapour: float) -> float:
    """The dew point of a vapour pressure in kPa, C; formula as `dew_point_celsius`."""
    if vapour <= 0:
        raise BadMeasure("air without water has no dew point", words=f"{vapour:g}")
    return (116.91 + 237.3 * math.log(vapour)) / (16.78 - math.log(vapour))


def judge_air(celsius: float, humidity: float, *, stage: str = "unrooted", page: AirPage | None = None) -> AirReading:
    """What a noted temperature and humidity mean for plants of a stage (`unrooted`, `rooted`, `open`).

    Bands from air.toml with their source. Raises BadMeasure for a stage that it does not hold.
    """
    air = page or open_air_page()
    band = next((one for one in air.stages if one.name == stage), None)
    if band is None:
        raise BadMeasure(f"no band for {stage}", words=stage, hint=", ".join(one.name for one in air.stages))
    deficit = deficit_kpa(celsius, humidity)
    driest = deficit_kpa(celsius, max(humidity - air.humidity_error_share, 0))
    wettest = deficit_kpa(celsius, min(humidity + air.humidity_error_share, 1))
    verdict = _verdict(deficit, band)
    return AirReading(
        celsius=celsius,
        humidity=humidity,
        deficit_kpa=deficit,
        deficit_least_kpa=wettest,
        deficit_most_kpa=driest,
        dew_point_celsius=dew_point_celsius(celsius, humidity) if humidity else -math.inf,
        stage=stage,
        verdict=verdict,
        sure=_verdict(wettest, band) is verdict is _verdict(driest, band),
        source=band.source,
    )


@cache
def open_air_page() -> AirPage:
    """The page that ships with the program. Raises BadTradeFile where a grower's edit made it unreadable."""
    try:
        page = tomllib.loads(files("core.figures").joinpath(_FILE).read_text(encoding="utf-8"))
    except tomllib.TOMLDecodeError as wrong:
        raise BadTradeFile(f"{_FILE} cannot be read: {wrong}", hint="undo the last edit of that file") from wrong
    parts = {
        "humidity_error_share": page.get("humidity_error_share"),
        "stages": read_blocks(StageBand, page.get("stage"), file=_FILE),
        "chill": read_block(ChillBand, page.get("chill", {}), file=_FILE),
    }
    return read_block(AirPage, parts, file=_FILE)


def _verdict(deficit: float, band: StageBand) -> AirVerdict:
    if deficit < band.least_kpa:
        return AirVerdict.TOO_WET
    return AirVerdict.TOO_DRY if deficit > band.most_kpa else AirVerdict.FITS


def _must_be_humidity(humidity: float) -> None:
    if not 0 <= humidity <= 1:
        raise BadMeasure(f"humidity {humidity:g} is not between 0 and 1", words=f"{humidity:g}", hint="95 % is 0.95")
