"""How does a plant do, given that its lots differ from each other far more than cuttings within a lot?

Rules
1. A lot has a share of its own, drawn from a beta distribution with mean m; cuttings within the lot are then
   independent. rho = 1 / (a + b + 1) is the intra-lot correlation: 0, all lots are alike; 1, all or none.
   Source: Skellam 1948, JRSS B 10:257-261; Crowder 1978, Applied Statistics 27:34-37.
2. Both m and rho carry a stated prior (`Prior`), so that one lot, or none, still gives an honest answer: 3 of 3 is not
   100 %. All pairs (m, rho) that the lots allow are kept with their weights; a prediction is the weighted mixture of
   beta-binomials, hence wider than the best single pair would make it (Gelman et al., Bayesian Data Analysis, ch. 5).
3. The order of the lots never matters.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Final, Literal

from core.figures import defaults
from core.figures.outcomes import Outcome, beta_weights, binomial_table
from core.figures.posterior import weigh
from core.figures.values import BadFigure, Interval, Tally

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

Basis = Literal["nothing known", "published range", "other plants", "stage", "usual losses"]
_MEANS: Final = (-7.0, 7.0, 15)
_RHOS: Final = (-7.0, 3.0, 11)
_EXACT_UP_TO: Final = 2_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Prior:
    """What is believed before any lot of this plant: m ~ Beta(mean, worth), rho ~ Beta(rho, rho_worth).

    `worth` is in cuttings; `basis` says what it rests on. Raises BadFigure unless 0 < mean, rho < 1, worths > 0.
    """

    mean: float
    worth: float
    rho: float
    rho_worth: float
    basis: Basis = "nothing known"

    def __post_init__(self) -> None:
        if not (0 < self.mean < 1 and 0 < self.rho < 1 and self.worth > 0 and self.rho_worth > 0):
            raise BadFigure(f"no prior can be {self.mean}, {self.worth}, {self.rho}, {self.rho_worth}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Spread:
    """A plant's rate between lots, after its lots were seen.

    `mean` and `rho` are posterior means; `lots`, `hits`, `tried` are what it rests on; `lowest` and `highest` are the
    shares of the worst and best lot seen (None without a lot). `shapes` are the (a, b, weight) of the mixture.
    """

    mean: float
    rho: float
    lots: int
    hits: int
    tried: int
    lowest: float | None
    highest: float | None
    prior: Prior
    shapes: tuple[tuple[float, float, float], ...]

    def mean_range(self, level: float = 0.95) -> Interval:
        """Where the mean over many lots lies: the beta with the posterior's mean and variance."""
        import numpy as np
        from scipy.special import betaincinv

        a, b, weights = _columns(self)
        means = a / (a + b)
        # The grid's own variance, never below what the prior and the plants seen could pin down.
        variance = max(float(weights @ (means - self.mean) ** 2), 1e-10)
        worth = max(self.mean * (1 - self.mean) / variance - 1, 1e-3)
        ends = betaincinv(self.mean * worth, (1 - self.mean) * worth, np.array([(1 - level) / 2, (1 + level) / 2]))
        return Interval(low=float(ends[0]), high=float(ends[1]), level=level)

    def lot_range(self, level: float = 0.8) -> Interval:
        """Where the share of one more lot lies."""
        a, b, weights = _columns(self)
        low, high = (_mixture_quantile(a, b, weights, (1 + side * level) / 2) for side in (-1, 1))
        return Interval(low=low, high=high, level=level)


@dataclass(frozen=True, slots=True, kw_only=True)
class Shrunk:
    """A lot's own share (0 to 1), drawn towards what its plant usually does: mean and interval."""

    mean: float
    low: float
    high: float
    level: float


def no_history() -> Prior:
    """The prior of a plant that nobody has grown and no book knows; numbers in defaults.toml."""
    heading = "between_lots"
    return Prior(
        mean=defaults.number(heading, "mean"),
        worth=defaults.number(heading, "mean_worth"),
        rho=defaults.number(heading, "rho"),
        rho_worth=defaults.number(heading, "rho_worth"),
    )


def stage_prior(stage: str) -> Prior:
    """The prior of a later stage (`potting`, `growing_on`); numbers in defaults.toml."""
    mean, worth, rho, rho_worth = (
        defaults.number("stages", stage, key) for key in ("mean", "mean_worth", "rho", "rho_worth")
    )
    return Prior(mean=mean, worth=worth, rho=rho, rho_worth=rho_worth, basis="stage")


def prior_from(*, published: tuple[float, float] | None = None, others: Sequence[Sequence[Tally]] = ()) -> Prior:
    """The prior of a plant from its published range of shares, else from the crew's other plants (each with its lots).

    The range is read as the middle 80 % of lots. How much lots differ (rho) is learned from the other plants either
    way, by the pooled analysis-of-variance estimator (Ridout, Demétrio and Firth 1999, Biometrics 55:137-148). Raises
    BadFigure for a range that is none.
    """
    plain = no_history()
    seen, _ = _rho_of(others)
    rho_mean = rho_between(others)
    rho_worth = plain.rho_worth + min(seen, 3 * plain.rho_worth)
    if published is not None:
        low, high = published
        if not 0 <= low <= high <= 1:
            raise BadFigure(f"{low} to {high} is no range of shares", words=f"{low} to {high}")
        mean = min(max((low + high) / 2, 0.02), 0.98)
        deviation = max((high - low) / 2 / 1.2816, 0.05)
        worth = min(max(mean * (1 - mean) / deviation**2 - 1, 2.0), defaults.number("between_lots", "published_worth"))
        return Prior(mean=mean, worth=worth, rho=rho_mean, rho_worth=rho_worth, basis="published range")
    shares = [sum(t.hits for t in lots) / sum(t.tried for t in lots) for lots in others if any(t.tried for t in lots)]
    if not shares:
        return Prior(mean=plain.mean, worth=plain.worth, rho=rho_mean, rho_worth=rho_worth)
    count = len(shares)
    mean = (plain.mean * 2 + sum(shares)) / (2 + count)
    # Two plants' worth of the plain belief keeps a crew with one plant from being sure of the next.
    variance = (2 * mean * (1 - mean) / (plain.worth + 1) + sum((one - mean) ** 2 for one in shares)) / (2 + count)
    worth = min(max(mean * (1 - mean) / variance - 1, 2.0), defaults.number("between_lots", "others_worth"))
    return Prior(mean=mean, worth=worth, rho=rho_mean, rho_worth=rho_worth, basis="other plants")


def fit(tallies: Sequence[Tally], prior: Prior | None = None) -> Spread:
    """The rate of a plant from its lots (any number, none too), each a tally; order does not matter.

    Shares are 0 to 1. The cost grows with the number of different counts, not with the number of lots.
    """
    prior = prior or no_history()
    lots = tuple(sorted((tally.hits, tally.tried) for tally in tallies if tally.tried))
    return _fit(lots, prior)


@lru_cache(maxsize=512)
def _fit(lots: tuple[tuple[int, int], ...], prior: Prior) -> Spread:
    import numpy as np

    likelihood = _Likelihood(lots)

    def log_weight(x: Floats, y: Floats) -> Floats:
        m, rho = 1 / (1 + np.exp(-x)), 1 / (1 + np.exp(-y))
        belief = prior.worth * (prior.mean * np.log(m) + (1 - prior.mean) * np.log1p(-m))
        belief += prior.rho_worth * (prior.rho * np.log(rho) + (1 - prior.rho) * np.log1p(-rho))
        return np.asarray(belief + likelihood.at(m, rho), dtype=np.float64)

    x, y, weights = weigh(log_weight, first=_MEANS, second=_RHOS)
    m, rho = 1 / (1 + np.exp(-x)), 1 / (1 + np.exp(-y))
    size = (1 - rho) / rho
    shares = [hits / tried for hits, tried in lots]
    return Spread(
        mean=float(weights @ m),
        rho=float(weights @ rho),
        lots=len(lots),
        hits=sum(hits for hits, _ in lots),
        tried=sum(tried for _, tried in lots),
        lowest=min(shares, default=None),
        highest=max(shares, default=None),
        prior=prior,
        shapes=tuple(zip((m * size).tolist(), ((1 - m) * size).tolist(), weights.tolist(), strict=True)),
    )


def most_likely(tallies: Sequence[Tally]) -> tuple[float, float]:
    """The single pair (mean, rho) that explains the lots best, with no prior: maximum likelihood (Crowder 1978).

    Raises BadFigure for fewer than two lots, for one lot says nothing about how lots differ.
    """
    import numpy as np
    from scipy.optimize import minimize

    lots = tuple((tally.hits, tally.tried) for tally in tallies if tally.tried)
    if len(lots) < 2:
        raise BadFigure("one lot says nothing about how lots differ", hint="count another lot")
    likelihood = _Likelihood(lots)

    def worse(place: Floats) -> float:
        m, rho = 1 / (1 + np.exp(-place))
        return -float(likelihood.at(np.array([m]), np.array([rho]))[0])

    best = minimize(worse, np.array([0.0, -2.0]), method="Nelder-Mead", bounds=[(-12, 12), (-12, 6)],
                    options={"xatol": 1e-7, "fatol": 1e-10, "maxiter": 4000})  # fmt: skip
    m, rho = 1 / (1 + np.exp(-np.asarray(best.x)))
    return float(m), float(rho)


def next_lot(spread: Spread, tried: int) -> Outcome:
    """How many of `tried` plants in one more lot will succeed: the beta-binomial predictive, in closed form."""
    import numpy as np

    if tried < 0:
        raise BadFigure(f"{tried} is no number of plants", words=str(tried))
    a, b, weights = _columns(spread)
    if tried > _EXACT_UP_TO:
        return Outcome.of(weights @ beta_weights(a, b) @ binomial_table(tried))
    return Outcome.of(np.asarray(weights @ _beta_binomial(a, b, tried), dtype=np.float64))


def lot_share(spread: Spread, tally: Tally, *, level: float = 0.8) -> Shrunk:
    """A lot's own share once `tally` of it was seen, drawn towards the plant's lots: 3 of 3 is not 100 %."""
    a, b, weights = updated(spread, tally)
    low, high = (_mixture_quantile(a, b, weights, (1 + side * level) / 2) for side in (-1, 1))
    return Shrunk(mean=float(weights @ (a / (a + b))), low=low, high=high, level=level)


def lot_from_sample(spread: Spread, sample: Tally, living: int) -> Outcome:
    """How many of a lot's `living` plants are rooted, from a sample of them; the range, never the sample's own share.

    The rest of the lot is beta-binomial given the sample. Raises BadFigure for a sample larger than the lot.
    """
    import numpy as np

    if sample.tried > living:
        raise BadFigure(f"a sample of {sample.tried} from {living} living cannot be", words=str(sample.tried))
    a, b, weights = updated(spread, sample)
    return Outcome.of(np.asarray(weights @ _beta_binomial(a, b, living - sample.tried)), sample.hits)


def updated(spread: Spread, tally: Tally) -> tuple[Floats, Floats, Floats]:
    """Shapes (a, b) and weights of a lot's own share after `tally` of it."""
    import numpy as np
    from scipy.special import betaln

    a, b, weights = _columns(spread)
    misses = tally.tried - tally.hits
    logs = np.log(weights) + betaln(a + tally.hits, b + misses) - betaln(a, b)
    chances = np.exp(logs - logs.max())
    return a + tally.hits, b + misses, np.asarray(chances / chances.sum(), dtype=np.float64)


@lru_cache(maxsize=256)
def share_weights(spread: Spread, groups: int = 9) -> tuple[Floats, Floats]:
    """A lot's share over the fixed shares: one row for each of at most `groups` beliefs about m, and the rows' weights.

    Lots are independent within a row only: not knowing the mean is common to them all, and more lots do not cure it.
    """
    import numpy as np

    a, b, weights = _columns(spread)
    table = beta_weights(a, b)
    means = a / (a + b)
    order = np.argsort(means, kind="stable")
    before = np.cumsum(weights[order]) - weights[order] / 2
    place = np.empty(order.size, dtype=np.intp)
    place[order] = np.minimum((before * groups).astype(np.intp), groups - 1)
    rows: Floats = np.zeros((groups, table.shape[1]))
    np.add.at(rows, place, weights[:, None] * table)
    mass: Floats = np.asarray(np.bincount(place, weights, groups), dtype=np.float64)
    kept = mass > 0
    rows, mass = rows[kept] / mass[kept, None], mass[kept]
    rows.setflags(write=False)
    mass.setflags(write=False)
    return rows, mass


def rho_between(plants: Sequence[Sequence[Tally]]) -> float:
    """How alike cuttings of a lot (or tray) are, from lots within each group and the usual spread worth eight lots."""
    seen, rho = _rho_of(plants)
    return (defaults.number("between_lots", "rho") * 8 + rho * seen) / (8 + seen)


class _Likelihood:
    """The beta-binomial log-likelihood of all lots at many (m, rho) at once, from the counts that differ."""

    def __init__(self, lots: Sequence[tuple[int, int]]) -> None:
        import numpy as np

        pairs = np.array(lots, dtype=np.int64).reshape(-1, 2)
        self._hits = np.unique(pairs[:, 0], return_counts=True)
        self._misses = np.unique(pairs[:, 1] - pairs[:, 0], return_counts=True)
        self._tried = np.unique(pairs[:, 1], return_counts=True)

    def at(self, m: Floats, rho: Floats) -> Floats:
        size = (1 - rho) / rho
        return _rising(m * size, *self._hits) + _rising((1 - m) * size, *self._misses) - _rising(size, *self._tried)


def _rising(shape: Floats, counts: NDArray[np.int64], times: NDArray[np.intp]) -> Floats:
    import numpy as np
    from scipy.special import gammaln

    return np.asarray(gammaln(np.add.outer(shape, counts)) @ times - gammaln(shape) * times.sum(), dtype=np.float64)


def _beta_binomial(a: Floats, b: Floats, tried: int) -> Floats:
    import numpy as np
    from scipy.special import betaln, gammaln

    hits = np.arange(tried + 1)
    choose = gammaln(tried + 1) - gammaln(hits + 1) - gammaln(tried - hits + 1)
    logs = choose + betaln(np.add.outer(a, hits), np.add.outer(b, tried - hits)) - betaln(a, b)[:, None]
    return np.asarray(np.exp(logs), dtype=np.float64)


def _columns(spread: Spread) -> tuple[Floats, Floats, Floats]:
    import numpy as np

    a, b, weights = np.array(spread.shapes).T
    return a, b, weights


def _mixture_quantile(a: Floats, b: Floats, weights: Floats, chance: float) -> float:
    from scipy.optimize import brentq
    from scipy.special import betainc

    return float(brentq(lambda share: float(weights @ betainc(a, b, share)) - chance, 0.0, 1.0, xtol=1e-6))


def _rho_of(plants: Sequence[Sequence[Tally]]) -> tuple[int, float]:
    """Degrees of freedom between lots, and the pooled estimate of rho within plants (0 to 0.5)."""
    between = within = size_sum = 0.0
    lots_free = plants_free = 0
    for lots in plants:
        kept = [tally for tally in lots if tally.tried]
        total = sum(tally.tried for tally in kept)
        if len(kept) < 2 or total <= len(kept):
            continue
        share = sum(tally.hits for tally in kept) / total
        between += sum(tally.tried * (tally.hits / tally.tried - share) ** 2 for tally in kept)
        within += sum(tally.hits * (1 - tally.hits / tally.tried) for tally in kept)
        size_sum += total - sum(tally.tried**2 for tally in kept) / total
        lots_free += len(kept) - 1
        plants_free += total - len(kept)
    if not lots_free or between + within == 0:
        return 0, 0.0
    mean_between, mean_within, size = between / lots_free, within / plants_free, size_sum / lots_free
    rho = (mean_between - mean_within) / (mean_between + (size - 1) * mean_within)
    return lots_free, min(max(rho, 0.005), 0.5)
