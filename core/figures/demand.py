"""How many of a plant should be grown for the next sale?

Rules
1. Sold out early means demand was at least what was sold: it is scaled by the share of the day's trade usually done by
   that hour. Asked for in vain counts as demand seen, never on top of what that scaling already adds.
2. What is unsold is lost, so grow to the quantile (price - cost) / (price - worth of a left-over) of demand.
3. A sale nobody kept count of says nothing; it is not a sale of none.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from core.figures import defaults
from core.figures.values import BadFigure


@dataclass(frozen=True, slots=True, kw_only=True)
class Sale:
    """One year's sale of a plant: brought, sold (None: nobody counted), the share of the opening time gone when the
    last was sold (None: never sold out), and how many were asked for in vain."""

    year: int
    brought: int
    sold: int | None
    sold_out_at: float | None = None
    asked_in_vain: int = 0

    def __post_init__(self) -> None:
        if self.brought < 0 or self.asked_in_vain < 0 or (self.sold is not None and not 0 <= self.sold <= self.brought):
            raise BadFigure(f"{self.sold} sold of {self.brought} brought cannot be", words=str(self.sold))
        if self.sold_out_at is not None and not 0 <= self.sold_out_at <= 1:
            raise BadFigure(f"{self.sold_out_at} is no share of the day", words=str(self.sold_out_at))


@dataclass(frozen=True, slots=True, kw_only=True)
class Demand:
    """What people would have bought.

    The middle, its standard deviation, the 1-in-10 ends, and the years it rests on.
    """

    middle: float
    deviation: float
    low: int
    high: int
    years: tuple[int, ...]
    at_least: bool


def traded_by(opened: float) -> float:
    """The share of the day's trade usually done once this share of the opening time is gone; see defaults.toml."""
    times, shares = defaults.numbers("sale", "opened"), defaults.numbers("sale", "traded")
    if not 0 <= opened <= 1:
        raise BadFigure(f"{opened} is no share of the day", words=str(opened))
    for (t0, s0), (t1, s1) in zip(
        zip(times, shares, strict=True), zip(times[1:], shares[1:], strict=True), strict=False
    ):
        if opened <= t1:
            return s0 + (opened - t0) / (t1 - t0) * (s1 - s0)
    return 1.0


def demand_of(sales: Sequence[Sale]) -> Demand | None:
    """Demand from the years that were counted, later years weighing more; None where none was."""
    counted = [sale for sale in sales if sale.sold is not None]
    if not counted:
        return None
    latest = max(sale.year for sale in counted)
    fading, doubt = defaults.number("sale", "fading"), defaults.number("sale", "doubt")
    weights = [fading ** (latest - sale.year) for sale in counted]
    wanted = [_wanted(sale) for sale in counted]
    middle = sum(w * number for w, number in zip(weights, wanted, strict=True)) / sum(weights)
    scatter = sum(w * (number - middle) ** 2 for w, number in zip(weights, wanted, strict=True)) / sum(weights)
    # Poisson buyers, the usual difference between years, and the scatter of the years seen.
    deviation = math.sqrt(middle + (doubt * middle) ** 2 + scatter)
    return Demand(
        middle=middle,
        deviation=deviation,
        low=max(round(middle - 1.2816 * deviation), 0),
        high=round(middle + 1.2816 * deviation),
        years=tuple(sorted(sale.year for sale in counted)),
        at_least=any(sale.sold == sale.brought and sale.sold_out_at is None for sale in counted),
    )


def grow_for(demand: Demand, *, price: float, cost: float, left_over: float = 0.0) -> int:
    """How many to have on the table: the newsvendor quantile of a normal demand.

    Source: Arrow, Harris and Marschak 1951, Econometrica 19:250-272. Prices in any one currency. Raises BadFigure
    unless left_over < cost < price.
    """
    return max(round(newsvendor(demand.middle, demand.deviation, price=price, cost=cost, left_over=left_over)), 0)


def newsvendor(mean: float, deviation: float, *, price: float, cost: float, left_over: float = 0.0) -> float:
    """Mean plus deviation times the normal quantile at (price - cost) / (price - left_over)."""
    from scipy.special import ndtri

    if not left_over < cost < price:
        raise BadFigure(f"price {price}, cost {cost} and left-over {left_over} leave no choice", words=str(price))
    return float(mean + deviation * ndtri((price - cost) / (price - left_over)))


def _wanted(sale: Sale) -> float:
    sold = sale.sold or 0
    if sale.sold_out_at is not None:
        return max(sold / max(traded_by(sale.sold_out_at), 0.05), float(sold + sale.asked_in_vain))
    return float(sold + sale.asked_in_vain)
