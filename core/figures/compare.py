"""Is one way of doing it better than another, how sure is that, and what would settle it?

Rules
1. Whole trays have their own luck. Where each arm is whole trays, counts are divided by the design effect
   1 + (m - 1) rho (Kish 1965, Survey Sampling; m cuttings a tray) before anything is concluded, and the answer says
   that trays were compared.
2. No verdict where the arms differ wholly in something else as well: date, mother, person, place, medium, hormone,
   wood.
3. Of many comparisons some win by luck: `looked_at` of them share the error.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, Literal

from core.figures import defaults
from core.figures.rates import newcombe, wilson, z_of
from core.figures.spread import rho_between
from core.figures.values import BadFigure, Interval, LotFigures, Tally

if TYPE_CHECKING:
    from datetime import date

Verdict = Literal["confounded", "nothing counted", "unclear", "leaning", "clear"]
_DAYS_APART: Final = 14
_FACTS: Final = ("mother", "by", "place", "medium", "hormone", "wood", "cutting", "kind", "plant")


@dataclass(frozen=True, slots=True, kw_only=True)
class Arm:
    """One of the ways compared: its name and its counts, a tally for each tray or lot."""

    name: str
    trays: tuple[Tally, ...]

    @property
    def hits(self) -> int:
        return sum(tray.hits for tray in self.trays)

    @property
    def tried(self) -> int:
        return sum(tray.tried for tray in self.trays)


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """Something besides the thing asked about in which the arms differ; `wholly` where they share nothing of it."""

    what: str
    first: tuple[str, ...]
    second: tuple[str, ...]
    wholly: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """First arm against second. `difference` is first minus second share.

    `interval` and `chance_better` (that the first is better) carry the design effect; `plain_interval` and
    `plain_chance` take every cutting as independent, as does Fisher's two-sided `fisher_p`. `worth` are the cuttings
    of each arm after the design effect. `needed` is how many an arm needs in all, `more` how many more each, to find
    this difference four times in five (None: there is no difference to find).
    """

    first: Arm
    second: Arm
    difference: float | None
    interval: Interval
    plain_interval: Interval
    chance_better: float
    plain_chance: float
    fisher_p: float
    by_tray: bool
    rho: float
    design_effect: float
    worth: tuple[float, float]
    needed: int | None
    more: tuple[int, int] | None
    differences: tuple[Difference, ...]
    looked_at: int
    verdict: Verdict


def compare(
    first: Arm,
    second: Arm,
    *,
    by_tray: bool = True,
    rho: float | None = None,
    differences: Sequence[Difference] = (),
    looked_at: int = 1,
) -> Comparison:
    """Compare two arms. `by_tray` False only where both arms stood in the same trays, half and half.

    `rho` is taken as given, else learned from the trays of the arms and the usual spread. Methods: Newcombe 1998
    (method 10), Fisher's exact test, beta posteriors from Jeffreys' prior. `looked_at` comparisons share the error
    (Bonferroni).
    """
    level = 1 - (1 - defaults.number("trial", "level")) / max(looked_at, 1)
    alike = rho if rho is not None else rho_between([first.trays, second.trays])
    alike = alike if by_tray else 0.0
    effects = [1 + (max(_cluster(arm), 1.0) - 1) * alike for arm in (first, second)]
    (hits, tried), (other_hits, other_tried) = (
        (arm.hits / effect, arm.tried / effect) for arm, effect in zip((first, second), effects, strict=True)
    )
    interval = newcombe(hits, tried, other_hits, other_tried, level=level)
    better = chance_first_better(hits, tried, other_hits, other_tried)
    effect = max(effects)
    known = first.tried > 0 and second.tried > 0
    difference = first.hits / first.tried - second.hits / second.tried if known else None
    per_arm = needed_per_arm(first.hits / first.tried, second.hits / second.tried, level=level) if known else None
    needed = None if per_arm is None else math.ceil(per_arm * effect)
    return Comparison(
        first=first,
        second=second,
        difference=difference,
        interval=interval,
        plain_interval=newcombe(first.hits, first.tried, second.hits, second.tried, level=level),
        chance_better=better,
        plain_chance=chance_first_better(first.hits, first.tried, second.hits, second.tried),
        fisher_p=fisher(first.hits, first.tried, second.hits, second.tried),
        by_tray=by_tray,
        rho=alike,
        design_effect=effect,
        worth=(tried, other_tried),
        needed=needed,
        more=None if needed is None else (max(needed - first.tried, 0), max(needed - second.tried, 0)),
        differences=tuple(differences),
        looked_at=looked_at,
        verdict=_verdict(known, differences, interval, better),
    )


def differences_of(
    first: Sequence[LotFigures], second: Sequence[LotFigures], *, asked: Sequence[str]
) -> tuple[Difference, ...]:
    """In what the lots of two arms differ besides what was `asked` (as `cutting`, `hormone`, `medium`, `wood`,
    `plant`).

    A fact that an arm's notes are silent about is not called a difference. Dates differ wholly when every lot of one
    arm was started more than two weeks from every lot of the other.
    """
    found = []
    for what in _FACTS:
        if what in asked:
            continue
        ours, theirs = _facts(first, what), _facts(second, what)
        if ours and theirs and set(ours) != set(theirs):
            found.append(Difference(what=what, first=ours, second=theirs, wholly=not set(ours) & set(theirs)))
    days = [sorted({lot.started_on for lot in arm}) for arm in (first, second)]
    if "date" not in asked and all(days) and _apart(*days):
        shown = [tuple(day.isoformat() for day in arm) for arm in days]
        found.append(Difference(what="date", first=shown[0], second=shown[1], wholly=True))
    return tuple(found)


def chance_first_better(hits: float, tried: float, other_hits: float, other_tried: float) -> float:
    """Chance that the first share is above the second, each a beta from its counts and Jeffreys' prior."""
    return chance_above(hits + 0.5, tried - hits + 0.5, other_hits + 0.5, other_tried - other_hits + 0.5)


def chance_above(a: float, b: float, other_a: float, other_b: float) -> float:
    """Chance that a draw from Beta(a, b) is above one from Beta(other_a, other_b).

    The other's distribution function, averaged over the quantiles of the first by adaptive quadrature: bounded and
    monotone, whatever the shapes. Large ones by the normal approximation.
    """
    from scipy.integrate import quad
    from scipy.special import betainc, betaincinv, ndtr

    if a + b > 2500 or other_a + other_b > 2500:
        means = [x / (x + y) for x, y in ((a, b), (other_a, other_b))]
        sizes = [a + b + 1, other_a + other_b + 1]
        spread = math.sqrt(sum(m * (1 - m) / size for m, size in zip(means, sizes, strict=True)))
        return float(ndtr((means[0] - means[1]) / spread))
    found = quad(
        lambda u: betainc(other_a, other_b, betaincinv(a, b, u)), 0, 1, epsabs=1e-6, limit=200, full_output=1
    )[0]
    return min(max(float(found), 0.0), 1.0)


def fisher(hits: int, tried: int, other_hits: int, other_tried: int) -> float:
    """Fisher's exact two-sided p for two arms (Fisher 1935): tables no likelier than the one seen, margins fixed."""
    import numpy as np
    from scipy.special import gammaln

    successes = hits + other_hits
    ours = np.arange(max(0, successes - other_tried), min(successes, tried) + 1)
    theirs = successes - ours
    # Factorials of the cells that change; the margins cancel when the chances are made to add up to 1.
    logs = -(gammaln(ours + 1) + gammaln(tried - ours + 1) + gammaln(theirs + 1) + gammaln(other_tried - theirs + 1))
    chances = np.exp(logs - logs.max())
    seen = chances[hits - ours[0]]
    return float(min(chances[chances <= seen * (1 + 1e-7)].sum() / chances.sum(), 1.0))


def needed_per_arm(share: float, other: float, *, power: float | None = None, level: float = 0.95) -> int | None:
    """Cuttings an arm to tell two shares apart with `power` (usually 0.8), each independent; None if they are equal.

    Source: the two-proportion formula with pooled variance under no difference (Fleiss, Statistical Methods for Rates
    and Proportions, section 4.2, without continuity correction; from memory).
    """
    from scipy.special import ndtri

    if not (0 <= share <= 1 and 0 <= other <= 1):
        raise BadFigure(f"{share} and {other} are no shares", words=f"{share} {other}")
    if share == other:
        return None
    power = defaults.number("trial", "power") if power is None else power
    pooled = (share + other) / 2
    top = z_of(level) * math.sqrt(2 * pooled * (1 - pooled))
    top += float(ndtri(power)) * math.sqrt(share * (1 - share) + other * (1 - other))
    return math.ceil((top / (share - other)) ** 2)


def share_of(arm: Arm, *, level: float = 0.95) -> Interval:
    """Wilson's interval of an arm, each cutting taken as independent."""
    return wilson(arm.hits, arm.tried, level=level)


def _cluster(arm: Arm) -> float:
    """Cuttings of the tray that a cutting stands in, on average (Kish's size-weighted mean)."""
    return sum(tray.tried**2 for tray in arm.trays) / arm.tried if arm.tried else 0.0


def _verdict(known: bool, differences: Sequence[Difference], interval: Interval, better: float) -> Verdict:
    if not known:
        return "nothing counted"
    if any(one.wholly for one in differences):
        return "confounded"
    if interval.low > 0 or interval.high < 0:
        return "clear"
    return "leaning" if max(better, 1 - better) >= 0.9 else "unclear"


def _facts(lots: Sequence[LotFigures], what: str) -> tuple[str, ...]:
    if what == "mother":
        return tuple(sorted({name for lot in lots for name, _ in lot.mothers}))
    return tuple(sorted({str(getattr(lot, what)) for lot in lots} - {""}))


def _apart(first: Sequence[date], second: Sequence[date]) -> bool:
    return min(abs((one - two).days) for one in first for two in second) > _DAYS_APART
