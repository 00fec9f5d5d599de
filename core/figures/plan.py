"""How many must be stuck, and by when, for so many fit to be sold on a day?

Rules
1. A sticking has one share p of plants that come through: rooting times potting times growing on, each drawn for the
   lot. The chance of a number is summed over all such shares; it is never simulated.
2. Several stickings are independent given the plant's mean. Not knowing that mean is common to them, so splitting helps
   only with the luck of single lots.
3. Late is all or none: `on_time` is one chance for all that is stuck now, and multiplies.
4. Lengths of stages are distributions of whole days and are added as such: medians added would be too short, all
   90 % points added too long.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from functools import lru_cache
from typing import TYPE_CHECKING, Final

from core.figures import defaults
from core.figures.outcomes import Outcome, add_up, binomial_table, condensed, passing, share_nodes
from core.figures.spread import Spread, share_weights
from core.figures.values import BadFigure

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

MOST_TO_STICK: Final = 20_000
_NINE_IN_TEN: Final = 1.6449


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """From cutting to sale: the rates of rooting (germinating) and of later stages, and the chance to be in time."""

    rooting: Spread
    later: tuple[Spread, ...] = ()
    on_time: float = 1.0

    def __post_init__(self) -> None:
        if not 0 <= self.on_time <= 1:
            raise BadFigure(f"{self.on_time} is no chance", words=str(self.on_time))


@dataclass(frozen=True, slots=True, kw_only=True)
class Stick:
    """Stick `number` (in all, over `stickings` lots) for `chance` of enough; `by_division` is the coin toss."""

    number: int
    stickings: int
    chance: float
    by_division: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Enough:
    """What is on the bench already gives `chance` of enough; nothing need be stuck."""

    chance: float


@dataclass(frozen=True, slots=True, kw_only=True)
class OutOfReach:
    """No number up to `tried` gives the chance asked for; `best` is the chance that `tried` would give."""

    tried: int
    best: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Needs:
    """What sticking a number takes: trays (the last in part), mother plants to visit, packs for what should sell."""

    trays: int
    cells_left_over: int
    packs: int
    mothers: int


def how_many(
    needed: int,
    way: Way,
    *,
    chance: float = 0.9,
    stickings: int = 1,
    on_bench: Outcome | None = None,
    at_most: int = MOST_TO_STICK,
) -> Stick | Enough | OutOfReach:
    """The fewest cuttings to stick for `needed` saleable plants with `chance`, counting what `on_bench` will give.

    Method: beta-binomial predictive through all stages (rule 1). Raises BadFigure for a chance outside 0 to 1.
    """
    if not 0 < chance < 1 or needed < 0 or stickings < 1:
        raise BadFigure(f"{needed} with chance {chance} in {stickings} cannot be planned", words=str(chance))

    def of(number: int) -> float:
        return chance_with(number, needed, way, stickings=stickings, on_bench=on_bench)

    if (already := of(0)) >= chance:
        return Enough(chance=already)
    mean = expected_share(way)
    lacking = max(needed - (on_bench.middle if on_bench else 0), 1)
    division = min(math.ceil(lacking / max(mean, 1e-6)), at_most)
    low, high = 0, division
    while of(high) < chance:
        if high >= at_most:
            return OutOfReach(tried=at_most, best=of(at_most))
        low, high = high, min(math.ceil(high * 1.25) + 1, at_most)
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if of(middle) >= chance else (middle, high)
    return Stick(number=high, stickings=stickings, chance=of(high), by_division=division)


def chance_with(number: int, needed: int, way: Way, *, stickings: int = 1, on_bench: Outcome | None = None) -> float:
    """Chance of `needed` or more saleable plants if `number` are stuck now, in equal stickings, besides the bench."""
    late = 1.0 if needed <= 0 else on_bench.chance_of(needed) if on_bench else 0.0
    if number == 0 or way.on_time == 0:
        return late
    if stickings == 1 and on_bench is None:
        from scipy.special import bdtrc

        rows, mass = _through(way.rooting, way.later)
        enough = bdtrc(needed - 1, number, share_nodes()) if 0 < needed <= number else share_nodes() * 0
        in_time = 1.0 if needed <= 0 else float(mass @ rows @ enough)
    else:
        total = _together(number, way, stickings, on_bench)
        in_time = min(float(total[max(needed, 0) :].sum()), 1.0)
    return way.on_time * in_time + (1 - way.on_time) * late


def outcome_of(number: int, way: Way, *, stickings: int = 1, on_bench: Outcome | None = None) -> Outcome:
    """How many saleable plants `number` cuttings stuck now will give, the bench included if handed in."""
    import numpy as np

    total = _together(number, way, stickings, on_bench)
    bench = np.zeros_like(total)
    first, chances = (on_bench.first, on_bench.chances) if on_bench else (0, (1.0,))
    bench[first : first + len(chances)] = chances
    return Outcome.of(way.on_time * total + (1 - way.on_time) * bench)


def expected_share(way: Way) -> float:
    """The mean share of cuttings that become saleable plants, if in time."""
    share = way.rooting.mean
    for stage in way.later:
        share *= stage.mean
    return share


def days_between(low: float, high: float) -> Outcome:
    """A length of a stage in whole days, nine in ten between `low` and `high`.

    Log-normal, for stages drag on more than they hurry; from nothing (low = 0) it is any day up to `high` alike.
    """
    import numpy as np
    from scipy.special import ndtr

    if not 0 <= low <= high or high <= 0:
        raise BadFigure(f"{low} to {high} days is no length", words=f"{low} to {high}")
    if high - low < 1:
        return Outcome.certain(round((low + high) / 2))
    if low == 0:
        days = int(high) + 1
        return Outcome.of(np.full(days, 1 / days))
    middle, doubt = math.log(low * high) / 2, math.log(high / low) / (2 * _NINE_IN_TEN)
    edges = np.arange(0, math.ceil(math.exp(middle + 5 * doubt)) + 1) + 0.5
    below = ndtr((np.log(edges) - middle) / doubt)
    return Outcome.of(np.diff(below, prepend=0.0))


def stage_days(name: str) -> Outcome:
    """The usual days of a stage (`wean`, `pot`, `harden`, `slack`); numbers in defaults.toml."""
    return days_between(defaults.number("stage_days", name, "low"), defaults.number("stage_days", name, "high"))


def latest_start(ready_on: date, stages: Sequence[Outcome], *, chance: float = 0.9) -> date:
    """The last day to start for being ready on `ready_on` with `chance`, from the sum of the stages' days."""
    return ready_on - timedelta(days=add_up(stages).quantile(chance))


def on_time_chance(start_on: date, ready_on: date, stages: Sequence[Outcome]) -> float:
    """Chance that what starts on `start_on` is through all stages by `ready_on`."""
    return 1 - add_up(stages).chance_of((ready_on - start_on).days + 1)


def needs_of(
    number: int,
    *,
    saleable: int,
    cells: int | None = None,
    pack: int | None = None,
    cuttings_each: int | None = None,
) -> Needs:
    """Trays, packs and mother plants for `number` cuttings of which `saleable` should sell; see defaults.toml."""
    cells = cells or int(defaults.number("trays", "cells"))
    pack = pack or int(defaults.number("trays", "pack"))
    cuttings_each = cuttings_each or int(defaults.number("mothers", "cuttings_each"))
    if number < 0 or saleable < 0 or min(cells, pack, cuttings_each) < 1:
        raise BadFigure(f"{number} cuttings in trays of {cells} cannot be", words=str(number))
    trays = math.ceil(number / cells)
    return Needs(
        trays=trays,
        cells_left_over=trays * cells - number,
        packs=math.ceil(saleable / pack),
        mothers=math.ceil(number / cuttings_each),
    )


@lru_cache(maxsize=128)
def later_share(later: tuple[Spread, ...]) -> tuple[Floats, Floats]:
    """A few shares, and their weights, that stand for one lot's passage through all the later stages."""
    import numpy as np

    shares, weights = np.ones(1), np.ones(1)
    for stage in later:
        rows, mass = share_weights(stage)
        one = mass @ rows
        if shares.size > 1:
            one = one @ passing(shares, weights)
        shares, weights = condensed(one)
    return shares, weights


@lru_cache(maxsize=128)
def _through(rooting: Spread, later: tuple[Spread, ...]) -> tuple[Floats, Floats]:
    """Weights over the fixed shares of coming all the way through, a row for each belief about the plant's mean."""
    rows, mass = share_weights(rooting)
    if not later:
        return rows, mass
    return rows @ passing(*later_share(later)), mass


def _together(number: int, way: Way, stickings: int, on_bench: Outcome | None) -> Floats:
    """Chances of 0, 1, 2 … saleable plants in time, from all stickings and the bench."""
    import numpy as np
    from scipy.fft import irfft, next_fast_len, rfft

    rows, mass = _through(way.rooting, way.later)
    size, larger = divmod(number, stickings)
    bench_top = on_bench.first + len(on_bench.chances) if on_bench else 1
    length = next_fast_len(number + bench_top, real=True)
    waves = np.ones((1, length // 2 + 1), dtype=complex)
    if size:
        waves = rfft(rows @ binomial_table(size), length) ** (stickings - larger)
    if larger:
        waves = waves * rfft(rows @ binomial_table(size + 1), length) ** larger
    wave = mass @ waves if waves.shape[0] > 1 else waves[0]
    if on_bench:
        bench = np.zeros(bench_top)
        bench[on_bench.first :] = on_bench.chances
        wave = wave * rfft(bench, length)
    return np.clip(np.asarray(irfft(wave, length), dtype=np.float64)[: number + bench_top], 0.0, None)
