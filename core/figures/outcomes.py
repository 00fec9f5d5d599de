"""With what chance will there be so many? Distributions over whole plants, and the arithmetic of shares behind them.

Rules
1. Nothing is simulated. A share of unknown size is a set of weights over 160 fixed shares (`share_nodes`), which are
   Gauss-Chebyshev points, so that beta densities are integrated with spectral accuracy; plants given a share are
   binomial; independent lots are added by convolution.
2. A stage that a plant must also pass (potting, growing on) multiplies shares, for a lot that has a share p at one
   stage and s at the next brings each plant through with p s.
3. Tails lighter than 1e-12 are cut, so that sums over many lots stay short.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

NODES: Final = 160
_LIGHT: Final = 1e-12
_AT_ONCE: Final = 8
_NOTHING: Final = 1e-40
_NARROW: Final = 2_500


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """How many plants there will be: `chances[i]` is the chance of exactly `first + i`. They add up to 1."""

    first: int
    chances: tuple[float, ...]

    @classmethod
    def of(cls, chances: Floats, first: int = 0) -> Outcome:
        """The outcome of an array of chances, light tails cut."""
        kept, first = cut(chances, first)
        return cls(first=first, chances=tuple((kept / kept.sum()).tolist()))

    @classmethod
    def certain(cls, number: int) -> Outcome:
        """So many, and no doubt of it."""
        return cls(first=number, chances=(1.0,))

    @property
    def mean(self) -> float:
        """The average, which may be a number that hardly ever comes (see Forecast.forks)."""
        return self.first + sum(index * chance for index, chance in enumerate(self.chances))

    @property
    def middle(self) -> int:
        """The median: as likely above as below."""
        return self.quantile(0.5)

    def chance_of(self, number: int) -> float:
        """Chance of `number` plants or more."""
        return 1.0 if number <= self.first else min(sum(self.chances[number - self.first :]), 1.0)

    def quantile(self, chance: float) -> int:
        """The smallest number not exceeded with this chance (0 to 1)."""
        total = 0.0
        for index, one in enumerate(self.chances):
            total += one
            if total >= chance - 1e-9:
                return self.first + index
        return self.first + len(self.chances) - 1

    def range(self, level: float = 0.8) -> tuple[int, int]:
        """The middle `level` of it, lowest and highest; 0.8 leaves 1 in 10 at each end."""
        return self.quantile((1 - level) / 2), self.quantile((1 + level) / 2)


def cut(chances: Floats, first: int = 0) -> tuple[Floats, int]:
    """The chances (a row, or rows side by side) without their light tails, and what their first one stands for."""
    import numpy as np

    heavy = chances > _LIGHT
    kept = np.flatnonzero(heavy if heavy.ndim == 1 else heavy.any(axis=0))
    if not kept.size:
        return chances, first
    return chances[..., kept[0] : kept[-1] + 1], first + int(kept[0])


def add_up(outcomes: Iterable[Outcome]) -> Outcome:
    """The sum of independent outcomes; of none, nothing for certain."""
    import numpy as np

    total, first = sum_of([(np.asarray(one.chances), one.first) for one in outcomes])
    return Outcome.of(total, first)


def sum_of(parts: Sequence[tuple[Floats, int]]) -> tuple[Floats, int]:
    """The distribution of a sum, from (chances, first) of each independent part.

    Chances are a row of chances, or several rows (one for each belief) that are added up side by side. Some parts at a
    time are added by the product of their Fourier transforms, so that the sum of many lots stays quick.
    """
    import numpy as np
    from scipy.fft import next_fast_len

    row = list(parts)
    if not row:
        return np.ones(1), 0
    while len(row) > 1:
        together = []
        for start in range(0, len(row), _AT_ONCE):
            some = row[start : start + _AT_ONCE]
            length = sum(chances.shape[-1] - 1 for chances, _ in some) + 1
            padded = next_fast_len(length, real=True)
            beside = np.zeros((len(some), max(chances.size // chances.shape[-1] for chances, _ in some), padded))
            for place, (chances, _) in enumerate(some):
                beside[place, :, : chances.shape[-1]] = chances
            wave = np.prod(np.fft.rfft(beside, axis=-1), axis=0)
            total = np.maximum(np.fft.irfft(wave, padded, axis=-1)[..., :length], 0.0)
            total = total[0] if all(chances.ndim == 1 for chances, _ in some) else total
            together.append(cut(total, sum(first for _, first in some)))
        row = together
    return row[0]


@lru_cache(maxsize=1)
def share_nodes() -> Floats:
    """The fixed shares: (1 - cos t) / 2 at the middles of 160 equal steps of t from 0 to pi."""
    import numpy as np

    nodes = (1 - np.cos((np.arange(NODES) + 0.5) * np.pi / NODES)) / 2
    nodes.setflags(write=False)
    return nodes


def beta_weights(a: Floats, b: Floats) -> Floats:
    """Weights over the fixed shares for each Beta(a, b): one row each, adding up to 1."""
    import numpy as np

    nodes = share_nodes()
    logs = np.multiply.outer(a - 0.5, np.log(nodes)) + np.multiply.outer(b - 0.5, np.log1p(-nodes))
    weights = _lit(np.exp(logs - logs.max(axis=-1, keepdims=True)))
    narrow = a + b > _NARROW
    if narrow.any():
        # Narrower than the nodes are apart: all of it at its mean.
        weights[narrow] = spread_over_nodes((a / (a + b))[narrow, None], np.ones((int(narrow.sum()), 1)))
    return np.asarray(weights / weights.sum(axis=-1, keepdims=True), dtype=np.float64)


def spread_over_nodes(shares: Floats, weights: Floats) -> Floats:
    """Weights over the fixed shares, row by row, that keep the mean: each of `shares` goes to its two neighbours."""
    import numpy as np

    nodes = share_nodes()
    right = np.minimum(np.maximum(np.searchsorted(nodes, shares), 1), NODES - 1)
    left = right - 1
    toward = np.minimum(np.maximum((shares - nodes[left]) / (nodes[right] - nodes[left]), 0.0), 1.0)
    rows = np.arange(shares.shape[0])[:, None] * NODES
    flat = np.bincount((rows + left).ravel(), (weights * (1 - toward)).ravel(), shares.shape[0] * NODES)
    flat = flat + np.bincount((rows + right).ravel(), (weights * toward).ravel(), shares.shape[0] * NODES)
    return _lit(np.asarray(flat.reshape(-1, NODES), dtype=np.float64))


def passing(shares: Floats, weights: Floats) -> Floats:
    """The matrix that takes weights over shares through one more stage whose share is `shares` with `weights`."""
    import numpy as np

    return spread_over_nodes(np.multiply.outer(share_nodes(), shares), np.tile(weights, (NODES, 1)))


def through(rows: Floats, passage: Floats) -> Floats:
    """Each row of weights taken through a passage. Small products do without threads."""
    import numpy as np

    if rows.size * passage.shape[1] < 4_000_000:
        return np.asarray(np.einsum("rn,nm->rm", rows, passage), dtype=np.float64)
    return np.asarray(rows @ passage, dtype=np.float64)


def condensed(weights: Floats, count: int = 24) -> tuple[Floats, Floats]:
    """At most `count` shares that stand for the weights: means of equal portions of their mass, and those portions."""
    import numpy as np

    nodes = share_nodes()
    portion = np.minimum((np.cumsum(weights) - weights / 2) / weights.sum() * count, count - 1).astype(np.intp)
    mass = np.bincount(portion, weights, count)
    sums = np.bincount(portion, weights * nodes, count)
    kept = mass > 0
    return sums[kept] / mass[kept], mass[kept] / mass.sum()


@lru_cache(maxsize=96)
def binomial_table(tried: int) -> Floats:
    """Chance of 0 … `tried` plants at each of the fixed shares: one row a share."""
    import numpy as np
    from scipy.special import gammaln

    nodes = share_nodes()
    hits = np.arange(tried + 1)
    choose = gammaln(tried + 1) - gammaln(hits + 1) - gammaln(tried - hits + 1)
    logs = choose + np.multiply.outer(np.log(nodes), hits) + np.multiply.outer(np.log1p(-nodes), tried - hits)
    table = _lit(np.exp(logs))
    table.setflags(write=False)
    return table


def _lit(chances: Floats) -> Floats:
    """Chances with the unthinkably small at nothing, for arithmetic on denormal numbers is slow."""
    import numpy as np

    return np.where(chances < _NOTHING, 0.0, chances)
