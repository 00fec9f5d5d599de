"""How sure is a rate, and a difference of two rates, from counts alone?

Rules
1. These intervals take each plant as independent. Between lots that is not so: core.figures.spread carries that.
2. Nothing tried is nothing known: the interval is 0 to 1.
3. "Jeffreys" here is the equal-tailed interval of Beta(k + 1/2, n - k + 1/2), with 0 kept at no hit and 1 at all hits
   (Brown, Cai and DasGupta 2001, Statistical Science 16:101-133); not the highest-density one.
"""

from __future__ import annotations

import math
from typing import Literal

from core.figures.values import BadFigure, Interval


def z_of(level: float) -> float:
    """The normal quantile that leaves (1 - level)/2 in each tail; 1.96 for 0.95. Raises BadFigure outside 0 to 1."""
    from scipy.special import ndtri

    if not 0 < level < 1:
        raise BadFigure(f"{level} is no level between 0 and 1", words=str(level))
    return float(ndtri((1 + level) / 2))


def wilson(hits: float, tried: float, *, level: float = 0.95) -> Interval:
    """Wilson's score interval of a share (0 to 1).

    Source: Wilson 1927, JASA 22:209-212; method 3 of Newcombe 1998, Statistics in Medicine 17:857-872. Counts may be
    fractions, as after dividing by a design effect. Raises BadFigure for counts that cannot be.
    """
    _check(hits, tried)
    z = z_of(level)
    if tried == 0:
        return Interval(low=0.0, high=1.0, level=level)
    share = hits / tried
    middle = share + z * z / (2 * tried)
    half = z * math.sqrt(share * (1 - share) / tried + z * z / (4 * tried * tried))
    scale = 1 + z * z / tried
    low = 0.0 if hits == 0 else max((middle - half) / scale, 0.0)
    high = 1.0 if hits == tried else min((middle + half) / scale, 1.0)
    return Interval(low=low, high=high, level=level)


def jeffreys(hits: float, tried: float, *, level: float = 0.95) -> Interval:
    """Jeffreys' equal-tailed interval of a share (0 to 1); source in rule 3. Raises BadFigure."""
    from scipy.special import betaincinv

    _check(hits, tried)
    tail = (1 - level) / 2
    z_of(level)
    low = 0.0 if hits == 0 else float(betaincinv(hits + 0.5, tried - hits + 0.5, tail))
    high = 1.0 if hits == tried else float(betaincinv(hits + 0.5, tried - hits + 0.5, 1 - tail))
    return Interval(low=low, high=high, level=level)


def clopper_pearson(
    hits: int, tried: int, *, level: float = 0.95, sides: Literal["both", "lower", "upper"] = "both"
) -> Interval:
    """The exact interval of a share (0 to 1), or a one-sided limit with the other end at 0 or 1.

    Source: Clopper and Pearson 1934, Biometrika 26:404-413. Raises BadFigure.
    """
    from scipy.special import betaincinv

    _check(hits, tried)
    z_of(level)
    tail = (1 - level) / 2 if sides == "both" else 1 - level
    low = 0.0 if hits == 0 or sides == "upper" else float(betaincinv(hits, tried - hits + 1, tail))
    high = 1.0 if hits == tried or sides == "lower" else float(betaincinv(hits + 1, tried - hits, 1 - tail))
    return Interval(low=low, high=high, level=level)


def newcombe(
    first_hits: float, first_tried: float, second_hits: float, second_tried: float, *, level: float = 0.95
) -> Interval:
    """The interval of first share minus second share (-1 to 1), from their two Wilson intervals.

    Source: Newcombe 1998, Statistics in Medicine 17:873-890, method 10. With an arm that tried nothing: -1 to 1.
    """
    one = wilson(first_hits, first_tried, level=level)
    two = wilson(second_hits, second_tried, level=level)
    if first_tried == 0 or second_tried == 0:
        return Interval(low=-1.0, high=1.0, level=level)
    p, q = first_hits / first_tried, second_hits / second_tried
    low = p - q - math.hypot(p - one.low, two.high - q)
    high = p - q + math.hypot(one.high - p, q - two.low)
    return Interval(low=max(low, -1.0), high=min(high, 1.0), level=level)


def tail_at_or_below(hits: int, tried: int, share: float) -> float:
    """Chance of `hits` or fewer of `tried` independent plants at this share (binomial)."""
    from scipy.special import bdtr

    _check(hits, tried)
    return float(bdtr(hits, tried, share))


def number_to_know(share: float, within: float, *, level: float = 0.95) -> int:
    """How many plants to count to know a share to plus or minus `within`: z² p (1 - p) / d², rounded up.

    Source: Cochran, Sampling Techniques, section 4.4 (from memory). Plants of one lot only: lots differ by more.
    """
    if not 0 <= share <= 1 or not 0 < within < 1:
        raise BadFigure(f"a share of {share} to within {within} cannot be", words=f"{share} {within}")
    return max(math.ceil(z_of(level) ** 2 * share * (1 - share) / within**2 - 1e-9), 1)


def _check(hits: float, tried: float) -> None:
    if not 0 <= hits <= tried:
        raise BadFigure(f"{hits} of {tried} cannot be", words=f"{hits} of {tried}")
