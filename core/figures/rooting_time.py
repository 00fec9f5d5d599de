"""How long does a plant take to root, or to germinate, when it is only looked at now and then?

Rules
1. A plant found rooted today rooted some time since the look before: the time lies in an interval, open at its left end
   and closed at its right. One not rooted yet is not seen (`by=None`).
2. Times are of the plants that root at all. `could_root` is the share that ever will, so that the dead and the idle are
   not taken for slow ones.
3. Cuttings of a lot root together, so its counts are divided by the design effect before they may move the curve.
4. Published weeks are a weak prior: the middle 80 % of plants, believed to within the doubts in defaults.toml.
Days are whole or part days from sticking or sowing.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import TYPE_CHECKING, Final, Literal

from core.figures import defaults
from core.figures.outcomes import Outcome
from core.figures.posterior import weigh
from core.figures.values import BadFigure, LotFigures

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

Family = Literal["log-normal", "weibull"]
_LONGEST: Final = 1_500
_LEAST: Final = 1e-300


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """`count` plants rooted after day `after` and by day `by` (None: not yet seen); equal days are an exact time."""

    after: float
    by: float | None
    count: float = 1.0

    def __post_init__(self) -> None:
        if self.after < 0 or self.count < 0 or (self.by is not None and self.by < self.after):
            raise BadFigure(f"from day {self.after} to {self.by} cannot be", words=str(self.by))


@dataclass(frozen=True, slots=True, kw_only=True)
class Steps:
    """The distribution that fits the spans best, no shape assumed: (after, by, share) pieces; by None: never seen."""

    pieces: tuple[tuple[float, float | None, float], ...]

    def share_left(self, day: float) -> float | None:
        """The share not yet rooted just after `day`; None inside a piece, where it is not defined."""
        left = 0.0
        for after, by, share in self.pieces:
            if after < day and (by is None or day < by):
                return None
            if after >= day and not (after == by == day):
                left += share
        return left


_DAYS_SOUGHT: Final = (1e-6, 1e6)
"""A day is sought between these; curves that are nearly flat there have it at the one or the other."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RootingTime:
    """Days to root of the plants that root: all curves that the checks allow, as (log-days middle, spread, weight).

    `plants` and `lots` are what was seen rooting or waiting; none, and only the published weeks speak.
    """

    family: Family
    curves: tuple[tuple[float, float, float], ...]
    plants: int
    lots: int
    weeks: tuple[float, float]

    def share_by(self, day: float) -> float:
        """The share of the eventual rooters that have rooted by `day` (0 to 1)."""
        import numpy as np

        middle, spread, weight = np.array(self.curves).T
        return float(weight @ below(np.full(1, day), middle, spread, self.family)[:, 0])

    def day_of(self, share: float) -> float:
        """The day by which this share of the eventual rooters has rooted; 0.1 is when a first look is worth it."""
        from scipy.optimize import brentq

        if not 0 < share < 1:
            raise BadFigure(f"{share} is no share between 0 and 1", words=str(share))
        soonest, latest = _DAYS_SOUGHT
        if self.share_by(soonest) >= share:
            return soonest
        if self.share_by(latest) <= share:
            return latest
        return float(brentq(lambda day: self.share_by(day) - share, soonest, latest, xtol=1e-4))

    def days(self) -> Outcome:
        """The whole days to root of one plant, as a distribution to add stages to."""
        return _days_of(self)


@lru_cache(maxsize=256)
def _days_of(time: RootingTime) -> Outcome:
    import numpy as np

    middle, spread, weight = np.array(time.curves).T
    edges = np.asarray(np.arange(0, min(int(time.day_of(0.9995)) + 2, _LONGEST)) + 0.5, dtype=np.float64)
    return Outcome.of(np.diff(weight @ below(edges, middle, spread, time.family), prepend=0.0))


def spans_of(lots: Iterable[LotFigures], *, rho: float | None = None) -> tuple[tuple[Span, ...], int]:
    """What the lots' looks say of the time to root, each lot's counts divided by its design effect; and how many lots.

    Counts of the whole lot give what rooted between looks; a sample gives rooted by then, or not yet. In a closed lot
    those that never rooted are left out. `rho` is how alike cuttings of a lot are in time (defaults.toml).
    """
    rho = defaults.number("rooting_time", "rho") if rho is None else rho
    spans: list[Span] = []
    speaking = 0
    for lot in lots:
        looks = sorted((look for look in lot.looks if lot.day(look.on) > 0), key=lambda look: (look.on, look.rooted))
        if not looks:
            continue
        speaking += 1
        found: list[Span] = []
        before, seen = 0, 0
        for look in (one for one in looks if one.whole):
            if look.rooted > seen:
                found.append(Span(after=before, by=lot.day(look.on), count=look.rooted - seen))
                seen = look.rooted
            before = lot.day(look.on)
        waiting = max(lot.started - lot.lost - seen, 0)
        if before and waiting and not lot.closed:
            found.append(Span(after=before, by=None, count=waiting))
        for look in (one for one in looks if not one.whole and lot.day(one.on) > before):
            found.append(Span(after=0, by=lot.day(look.on), count=look.rooted))
            found.append(Span(after=lot.day(look.on), by=None, count=look.of - look.rooted))
        effect = 1 + (max(sum(span.count for span in found), 1) - 1) * rho
        spans += [Span(after=s.after, by=s.by, count=s.count / effect) for s in found if s.count]
    return tuple(spans), speaking


def turnbull(spans: Sequence[Span]) -> Steps:
    """The non-parametric maximum-likelihood estimate of the time distribution from spans.

    Source: Turnbull 1976, JRSS B 38:290-295 (self-consistency, here by EM); for exact and not-yet-seen times it is
    Kaplan and Meier's. Raises BadFigure without a span.
    """
    import numpy as np

    if not spans:
        raise BadFigure("no look at any plant", hint="count a lot first")
    # Ends in order: an exact left end lies before a right end at the same day, an open left end after it.
    lefts = [(span.after, -1 if span.by == span.after else 1) for span in spans]
    rights = [(float("inf") if span.by is None else span.by, 0) for span in spans]
    ends = sorted({(left, "left") for left in lefts} | {(right, "right") for right in rights})
    inner = [(a[0], b[0]) for a, b in pairwise(ends) if a[1] == "left" and b[1] == "right"]
    inside = np.array([[left <= a and b <= right for a, b in inner] for left, right in zip(lefts, rights, strict=True)])
    counts = np.array([span.count for span in spans])
    table, which = np.unique(inside, axis=0, return_inverse=True)
    counts = np.bincount(which.ravel(), counts)
    table = table.astype(float)
    shares = np.full(len(inner), 1 / len(inner))
    for _ in range(50_000):
        fresh = shares * (counts @ (table / (table @ shares)[:, None])) / counts.sum()
        moved = float(np.abs(fresh - shares).max())
        shares = fresh
        if moved < 1e-10:
            break
    pieces = tuple(
        (a[0], None if b[0] == float("inf") else b[0], float(share))
        for (a, b), share in zip(inner, shares, strict=True)
        if share > 1e-6
    )
    return Steps(pieces=pieces)


def published_weeks(kind: str) -> tuple[float, float]:
    """The usual weeks to root by wood (`softwood`, `semi-hardwood`, `hardwood`), to germinate (`seed`), else `any`."""
    heading = kind if kind in defaults.headings("weeks_to_root") else "any"
    return defaults.number("weeks_to_root", heading, "low"), defaults.number("weeks_to_root", heading, "high")


def fit_time(
    spans: Sequence[Span],
    *,
    weeks: tuple[float, float],
    could_root: float = 1.0,
    lots: int = 0,
    family: Family = "log-normal",
) -> RootingTime:
    """The time to root from spans of checks (see `spans_of`) and published `weeks` (low, high) as weak prior.

    Direct interval-censored likelihood with the share `could_root` that ever roots. Raises BadFigure for impossible
    weeks.
    """
    import numpy as np

    low, high = weeks
    if not 0 < low <= high or not 0 < could_root <= 1:
        raise BadFigure(f"{low} to {high} weeks cannot be", words=f"{low} to {high}")
    tenth, ninth = _score(0.1, family), _score(0.9, family)
    width = max(float(np.log(high / low)) / (ninth - tenth), 0.1)
    middle = float(np.log(7 * low) + np.log(7 * high) - (tenth + ninth) * width) / 2
    # The published width is shared out, so that with no look at all the curve is the published one again.
    middle_doubt = defaults.number("rooting_time", "middle_doubt") * width
    spread = float(np.sqrt(max(width**2 - middle_doubt**2, 0.01 * width**2)))
    spread_doubt = defaults.number("rooting_time", "spread_doubt")
    ends = _ends(spans)

    def log_weight(x: Floats, y: Floats) -> Floats:
        belief = -0.5 * ((x - middle) / middle_doubt) ** 2 - 0.5 * ((y - np.log(spread)) / spread_doubt) ** 2
        return np.asarray(belief + _log_likelihood(x, np.exp(y), ends, could_root, family), dtype=np.float64)

    x, y, weights = weigh(
        log_weight,
        first=(middle - 2.0, middle + 2.0, 21),
        second=(float(np.log(spread)) - 2.0, float(np.log(spread)) + 2.0, 11),
    )
    return RootingTime(
        family=family,
        curves=tuple(zip(x.tolist(), np.exp(y).tolist(), weights.tolist(), strict=True)),
        plants=round(sum(span.count for span in spans)),
        lots=lots,
        weeks=(float(low), float(high)),
    )


def most_likely_time(
    spans: Sequence[Span], *, could_root: float = 1.0, family: Family = "log-normal"
) -> tuple[float, float]:
    """The single best (log-days middle, spread) with no prior: interval-censored maximum likelihood."""
    import numpy as np
    from scipy.optimize import minimize

    if not spans:
        raise BadFigure("no look at any plant", hint="count a lot first")
    ends = _ends(spans)
    start = np.log(max(np.median([(s.after + (s.by or 2 * s.after + 1)) / 2 for s in spans]), 1.0))

    def worse(place: Floats) -> float:
        return -float(_log_likelihood(place[:1], np.exp(place[1:]), ends, could_root, family)[0])

    best = minimize(worse, np.array([start, -0.5]), method="Nelder-Mead", options={"xatol": 1e-8, "fatol": 1e-10})
    return float(best.x[0]), float(np.exp(best.x[1]))


def _score(share: float, family: Family) -> float:
    import numpy as np
    from scipy.special import ndtri

    return float(ndtri(share)) if family == "log-normal" else float(np.log(-np.log1p(-share)))


def below(days: Floats, middle: Floats, spread: Floats, family: Family) -> Floats:
    """The share rooted by each of `days`: a row for each curve."""
    import numpy as np
    from scipy.special import ndtr

    logs = np.log(np.maximum(days, 1e-9))
    score = (logs[None, :] - middle[:, None]) / spread[:, None]
    found = ndtr(score) if family == "log-normal" else -np.expm1(-np.exp(np.minimum(score, 30)))
    return np.asarray(found, dtype=np.float64)


def _ends(spans: Sequence[Span]) -> tuple[Floats, Floats, Floats]:
    """Spans with the same ends put together: after, by (infinite where not yet), counts."""
    import numpy as np

    together: dict[tuple[float, float], float] = {}
    for span in spans:
        # An exact time is a day wide, for nobody looks by the minute.
        by = np.inf if span.by is None else span.by
        after = span.after if by > span.after else max(span.after - 1.0, 0.0)
        together[(after, by)] = together.get((after, by), 0.0) + span.count
    rows = np.array([(a, b, count) for (a, b), count in sorted(together.items())]).reshape(-1, 3)
    return rows[:, 0], rows[:, 1], rows[:, 2]


def _log_likelihood(
    middle: Floats, spread: Floats, ends: tuple[Floats, Floats, Floats], could_root: float, family: Family
) -> Floats:
    import numpy as np

    after, by, counts = ends
    if not counts.size:
        return np.zeros_like(middle)
    seen = np.isfinite(by)
    start = below(after, middle, spread, family)
    end = below(np.where(seen, by, 1.0), middle, spread, family)
    chance = np.where(seen, end - start, 1 - could_root * start)
    return np.asarray(np.log(np.maximum(chance, _LEAST)) @ counts, dtype=np.float64)
