"""How many seeds, how many grams, how many to a cell, and what is a bag of seed worth?

Rules
1. Shares (purity, germination, survival) are 0 to 1. Purity is by weight, so it belongs in grams, never in a count.
2. Dividing target by rates gives a number that is enough in about half of all years; a stated chance takes more.
3. A germination test of n seeds is itself a sample: its beta posterior (Jeffreys prior, 1/2 and 1/2) is carried
   through, so that a small test asks for more seed. It speaks for that seed lot on a warm bench, in that year.
4. Nothing is rounded on the way; what is counted is rounded up at the end.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from core.figures.measures import GRAMS_PER, BadMeasure
from core.figures.rates import wilson
from core.figures.values import Interval

_PRIOR: Final = 0.5
_SMALL_TEST: Final = 100
_MOST_SEEDS: Final = 2_000_000
_EXACT_BELOW: Final = 3_000
_NODES: Final = 500


@dataclass(frozen=True, slots=True, kw_only=True)
class GerminationTest:
    """`germinated` of `tested` seeds came up in a test. Raises BadMeasure where that cannot be."""

    germinated: int
    tested: int

    def __post_init__(self) -> None:
        if not 0 <= self.germinated <= self.tested or self.tested == 0:
            raise BadMeasure(
                f"{self.germinated} of {self.tested} cannot have come up", words=f"{self.germinated}/{self.tested}"
            )

    @property
    def share(self) -> float:
        return self.germinated / self.tested

    def interval(self, *, level: float = 0.95) -> Interval:
        """Where the lot's true germination lies (Wilson's interval)."""
        return wilson(self.germinated, self.tested, level=level)


@dataclass(frozen=True, slots=True, kw_only=True)
class SeedNeed:
    """Pure seeds to sow for `target` plants, and grams from the packet where seeds per gram are known.

    `by_division` is the plain target / (germination x survival); `chance` is that of `seeds` reaching the target, None
    for a sum by division. `germination_range` and `small_test` (under 100 seeds) are known only from a test.
    """

    target: int
    seeds: int
    grams: float | None
    by_division: int
    chance: float | None
    germination: float
    survival: float
    germination_range: Interval | None = None
    small_test: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class CellSowing:
    """Seeds to each cell, and the share of cells that will hold a seedling."""

    seeds: int
    filled_share: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SowInFlat:
    """No sensible number to a cell: even `most_seeds` fill only `filled_share`. Sow a flat and prick out."""

    most_seeds: int
    filled_share: float


@dataclass(frozen=True, slots=True, kw_only=True)
class CellsFilled:
    """Cells with a seedling: mean and standard deviation, and the mean number of cells with two or more to thin."""

    cells: int
    filled: float
    filled_sd: float
    to_thin: float


def live_share(purity: float, germination: float, *, dormant: float = 0.0) -> float:
    """Pure live seed: purity x (germination + hard or dormant seed), shares of the bulk weight.

    Source: Ernst, Bulk vs. Pure Live Seed; Rangelands Gateway glossary. Raises BadMeasure outside 0 to 1.
    """
    _must_be_share(purity, "purity")
    _must_be_share(germination + dormant, "germination")
    return purity * (germination + dormant)


def bulk_for(live: float, *, purity: float, germination: float, dormant: float = 0.0) -> float:
    """Bulk weight that holds `live` of pure live seed, in the same unit: live / (purity x germination).

    Source: MBS Seed, What is pure live seed. Raises BadMeasure where no seed is live.
    """
    share = live_share(purity, germination, dormant=dormant)
    if share == 0:
        raise BadMeasure("no seed of that lot is alive", words=f"{purity:g} x {germination:g}")
    return live / share


def live_in(bulk: float, *, purity: float, germination: float, dormant: float = 0.0) -> float:
    """Pure live seed in `bulk`, in the same unit. Source: MBS Seed, What is pure live seed."""
    return bulk * live_share(purity, germination, dormant=dormant)


def price_of_live(price: float, *, purity: float, germination: float) -> float:
    """Price for a unit of pure live seed from the price for a unit of bulk (Wind River Seed, PLS sheet)."""
    return bulk_for(price, purity=purity, germination=germination)


def seeds_per_gram(count: float, unit: str) -> float:
    """Seeds in a gram from a count for one `unit` of weight ("lb", "oz", "kg", "mg"); lb and oz exact by NIST."""
    if unit not in GRAMS_PER or count <= 0:
        raise BadMeasure(f"{count:g} seeds in a {unit} cannot be", words=f"{count:g} {unit}")
    return count / float(GRAMS_PER[unit])


def grams_of(seeds: float, *, per_gram: float, purity: float = 1.0) -> float:
    """Grams of the packet that hold so many pure seeds: seeds / (pure seeds in a gram) / purity."""
    _must_be_share(purity, "purity")
    if purity == 0 or per_gram <= 0:
        raise BadMeasure("no seed is in that packet", words=f"{per_gram:g} per g, purity {purity:g}")
    return seeds / per_gram / purity


def seeds_in(grams: float, *, per_gram: float, purity: float = 1.0) -> float:
    """Pure seeds in so many grams of the packet: grams x purity x (pure seeds in a gram)."""
    _must_be_share(purity, "purity")
    return grams * purity * per_gram


def sow_by_division(
    target: int, *, germination: float, survival: float = 1.0, per_gram: float | None = None, purity: float = 1.0
) -> SeedNeed:
    """Seeds for `target` plants by plain division: target / (germination x survival), rounded up.

    Enough in about half of all years. Source: AH 730 sowing formulas (from memory). Raises BadMeasure outside 0 to 1.
    """
    seeds = _divide(target, germination, survival)
    return SeedNeed(
        target=target,
        seeds=seeds,
        grams=None if per_gram is None else grams_of(seeds, per_gram=per_gram, purity=purity),
        by_division=seeds,
        chance=None,
        germination=germination,
        survival=survival,
    )


def sow_for_chance(
    target: int,
    *,
    germination: float | GerminationTest,
    survival: float = 1.0,
    chance: float = 0.9,
    per_gram: float | None = None,
    purity: float = 1.0,
) -> SeedNeed:
    """The fewest seeds that reach `target` plants with at least `chance`.

    With a share the survivors are binomial; with a test the number germinated is beta-binomial and its survivors are
    thinned from it, so the test's own error is in the sum. Exact convolution; above 3,000 seeds the mean over 500
    quantiles of the beta (within 0.2 % of the chance). Raises BadMeasure where the target cannot be reached or a
    share is none.
    """
    if not 0 < chance < 1:
        raise BadMeasure(f"{chance:g} is no chance to plan on", words=f"{chance:g}", hint="0.9 is 9 in 10")
    share = germination.share if isinstance(germination, GerminationTest) else germination
    test = germination if isinstance(germination, GerminationTest) else None
    start = _divide(target, share if share else _PRIOR / (test.tested + 1) if test else share, survival)
    low, high = 0, max(start, 1)
    while chance_of(target, seeds=high, germination=germination, survival=survival) < chance:
        low, high = high, high * 2
        if high > _MOST_SEEDS:
            raise BadMeasure(f"no sensible number of seeds gives {target}", words=str(target))
    while high - low > 1:
        middle = (low + high) // 2
        if chance_of(target, seeds=middle, germination=germination, survival=survival) < chance:
            low = middle
        else:
            high = middle
    return SeedNeed(
        target=target,
        seeds=high,
        grams=None if per_gram is None else grams_of(high, per_gram=per_gram, purity=purity),
        by_division=_divide(target, share, survival) if share else high,
        chance=chance_of(target, seeds=high, germination=germination, survival=survival),
        germination=share,
        survival=survival,
        germination_range=test.interval() if test else None,
        small_test=test is not None and test.tested < _SMALL_TEST,
    )


def chance_of(target: int, *, seeds: int, germination: float | GerminationTest, survival: float = 1.0) -> float:
    """The chance that so many seeds give at least `target` plants; method as `sow_for_chance`. Raises BadMeasure."""
    _must_be_share(survival, "survival")
    if not isinstance(germination, GerminationTest):
        _must_be_share(germination, "germination")
    if target <= 0:
        return 1.0
    if seeds < target:
        return 0.0
    import numpy as np
    from scipy.stats import beta, betabinom, binom

    if not isinstance(germination, GerminationTest):
        return float(binom.sf(target - 1, seeds, germination * survival))
    a = germination.germinated + _PRIOR
    b = germination.tested - germination.germinated + _PRIOR
    if seeds <= _EXACT_BELOW:
        up = np.arange(target, seeds + 1)
        return float(betabinom.pmf(up, seeds, a, b) @ binom.sf(target - 1, up, survival))
    nodes = beta.ppf((np.arange(_NODES) + 0.5) / _NODES, a, b)
    return float(np.mean(binom.sf(target - 1, seeds, nodes * survival)))


def plants_from(
    seeds: int, *, germination: float | GerminationTest, survival: float = 1.0, level: float = 0.8
) -> Interval:
    """How many plants the seed on hand gives: from and to, with chance `level`; method as `sow_for_chance`."""

    def most_with(chance: float) -> int:
        low, high = 0, seeds + 1
        while high - low > 1:
            middle = (low + high) // 2
            if chance_of(middle, seeds=seeds, germination=germination, survival=survival) >= chance:
                low = middle
            else:
                high = middle
        return low

    tail = (1 - level) / 2
    return Interval(low=most_with(1 - tail), high=most_with(tail), level=level)


def cell_filled(seeds: int, *, germination: float | GerminationTest) -> float:
    """The share of cells that hold at least one seedling: 1 - (1 - g)^s; with a test, its mean over the test's error.

    Source: arithmetic; the sowing table of AH 730 after Wenny follows from it (from memory). The mean over the beta
    posterior is 1 - B(a, b + s)/B(a, b). Raises BadMeasure outside 0 to 1.
    """
    if seeds < 0:
        raise BadMeasure(f"{seeds} seeds to a cell cannot be", words=str(seeds))
    if not isinstance(germination, GerminationTest):
        _must_be_share(germination, "germination")
        return float(1 - (1 - germination) ** seeds)
    a = germination.germinated + _PRIOR
    b = germination.tested - germination.germinated + _PRIOR
    empty = math.lgamma(b + seeds) - math.lgamma(b) + math.lgamma(a + b) - math.lgamma(a + b + seeds)
    return 1 - math.exp(empty)


def seeds_per_cell(
    *, germination: float | GerminationTest, wanted_filled: float = 0.95, most_seeds: int = 6
) -> CellSowing | SowInFlat:
    """The fewest seeds to a cell that fill the wanted share of cells, or the advice to sow a flat and prick out.

    A flat is advised where it takes more than `most_seeds` (common practice). Method as `cell_filled`; the share is
    met to half a percent, as it is spoken.
    """
    _must_be_share(wanted_filled, "wanted share of cells")
    for seeds in range(1, most_seeds + 1):
        filled = cell_filled(seeds, germination=germination)
        if filled >= wanted_filled - 0.005:
            return CellSowing(seeds=seeds, filled_share=filled)
    return SowInFlat(most_seeds=most_seeds, filled_share=cell_filled(most_seeds, germination=germination))


def alternate_filled(germination: float) -> float:
    """The share of cells filled when one and two seeds go into alternate cells: the thrifty way where more than 8 in
    10 come up (FAO AD225E, chapter 3)."""
    return (cell_filled(1, germination=germination) + cell_filled(2, germination=germination)) / 2


def fill_cells(cells: int, *, seeds_each: int, germination: float) -> CellsFilled:
    """How many of `cells` will hold a seedling, and how many two or more (to thin). Binomial in each cell."""
    filled = cell_filled(seeds_each, germination=germination)
    single = seeds_each * germination * (1 - germination) ** (seeds_each - 1) if seeds_each else 0.0
    return CellsFilled(
        cells=cells,
        filled=cells * filled,
        filled_sd=math.sqrt(cells * filled * (1 - filled)),
        to_thin=cells * (filled - single),
    )


def cells_for(target: int, *, seeds_each: int, germination: float, survival: float = 1.0, chance: float = 0.9) -> int:
    """The fewest cells that give `target` plants, one kept in each, with `chance`: binomial over filled x survival."""
    filled = cell_filled(seeds_each, germination=germination)
    return sow_for_chance(target, germination=filled, survival=survival, chance=chance).seeds


def _divide(target: int, germination: float, survival: float) -> int:
    _must_be_share(germination, "germination")
    _must_be_share(survival, "survival")
    if target < 1:
        raise BadMeasure(f"a target of {target} plants is none", words=str(target))
    if germination * survival == 0:
        raise BadMeasure("nothing comes of that seed", words=f"{germination:g} x {survival:g}")
    needed = target / (germination * survival)
    whole = round(needed)
    return whole if math.isclose(needed, whole, rel_tol=1e-12) else math.ceil(needed)


def _must_be_share(share: float, name: str) -> None:
    if not 0 <= share <= 1:
        raise BadMeasure(f"{name} {share:g} is not between 0 and 1", words=f"{share:g}", hint="85 % is 0.85")
