"""Is this lot failing, or is it only early?

Rules
1. What is expected by a day is the lot's own unknown final share times the share of the rooters due by then; both are
   uncertain, and lots are early or late as a whole. The count is binomial given the two.
2. Red when a count so low (or losses so high) has a chance under 5 %, amber under 20 %; with 40 lots an amber line
   rings some 8 times with nothing wrong, so amber is for the weekly list.
3. Where even none at all would not be rare, the look is no news.
"""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Final, Literal

from core.figures import defaults
from core.figures.outcomes import Outcome, passing, share_nodes
from core.figures.rooting_time import RootingTime, below
from core.figures.spread import Prior, Spread, fit, next_lot, share_weights
from core.figures.values import BadFigure, Interval, LotFigures

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

Level = Literal["red", "amber", "fine", "no news"]
_SHIFTS: Final = (-1.5, -0.5, 0.5, 1.5)


@dataclass(frozen=True, slots=True, kw_only=True)
class Outlook:
    """A look held against what was to be expected on its day.

    `expected` plants of `of`; `tail` is the chance of so few (so many, for losses) or worse; `amber_at` and `red_at`
    are the counts where each begins (None: no count would be that rare). `final` is where the lot's final share will
    likely end, eight times in ten (None for losses).
    """

    level: Level
    seen: int
    of: int
    day: int
    expected: float
    tail: float
    amber_at: int | None
    red_at: int | None
    final: Interval | None


def look_at_roots(seen: int, of: int, day: int, rooting: Spread, time: RootingTime) -> Outlook:
    """`seen` of `of` rooted (germinated) on `day` after start, a sample or the whole lot, against its plant's ways."""
    import numpy as np
    from scipy.special import bdtr

    if not 0 <= seen <= of or day < 0:
        raise BadFigure(f"{seen} of {of} on day {day} cannot be", words=f"{seen} of {of}")
    rows, mass = share_weights(rooting, 1)
    finals = np.asarray(mass @ rows, dtype=np.float64)
    due, due_weights = _due(time, day)
    now = finals @ passing(due, due_weights)
    tails = bdtr(np.arange(of + 1)[:, None], of, share_nodes()[None, :]) @ now
    red, amber = defaults.number("warning", "red"), defaults.number("warning", "amber")
    amber_at, red_at = (int(np.searchsorted(tails, limit, side="left")) - 1 for limit in (amber, red))
    tail = float(tails[seen])
    level: Level = "red" if tail < red else "amber" if tail < amber else "no news" if amber_at < 0 else "fine"
    return Outlook(
        level=level,
        seen=seen,
        of=of,
        day=day,
        expected=of * float(now @ share_nodes()),
        tail=tail,
        amber_at=amber_at if amber_at >= 0 else None,
        red_at=red_at if red_at >= 0 else None,
        final=_final(finals, due, due_weights, seen, of),
    )


def look_at_losses(lost: int, started: int, day: int, usual: Spread | None = None) -> Outlook:
    """`lost` of `started` by `day` against what is usual by then (`usual`, else defaults.toml), lots differing."""
    if not 0 <= lost <= started or day < 0:
        raise BadFigure(f"{lost} lost of {started} cannot be", words=f"{lost} of {started}")
    usual = usual or fit((), usual_losses(day))
    outcome = next_lot(usual, started)
    red, amber = defaults.number("warning", "red"), defaults.number("warning", "amber")
    tail = outcome.chance_of(lost)
    amber_at, red_at = (_first_above(outcome, limit, started) for limit in (amber, red))
    level: Level = "red" if tail < red else "amber" if tail < amber else "no news" if amber_at is None else "fine"
    return Outlook(
        level=level,
        seen=lost,
        of=started,
        day=day,
        expected=outcome.mean,
        tail=tail,
        amber_at=amber_at,
        red_at=red_at,
        final=None,
    )


def usual_losses(day: int) -> Prior:
    """What share of a lot is usually lost by `day`, as a prior.

    Between the days of defaults.toml on a straight line.
    """
    days = (0.0, *defaults.numbers("warning", "usual_loss_days"))
    shares = (0.005, *defaults.numbers("warning", "usual_loss_shares"))
    above = min(bisect_right(days, day), len(days) - 1)
    part = min(max((day - days[above - 1]) / (days[above] - days[above - 1]), 0.0), 1.0)
    mean = shares[above - 1] + part * (shares[above] - shares[above - 1])
    return Prior(
        mean=mean,
        worth=defaults.number("warning", "loss_worth") / min(mean, 0.5),
        rho=defaults.number("warning", "loss_rho"),
        rho_worth=defaults.number("warning", "loss_rho_worth"),
        basis="usual losses",
    )


def look_at(lot: LotFigures, rooting: Spread, time: RootingTime, *, on: date) -> tuple[Outlook | None, Outlook]:
    """The latest look at the lot's roots (None if nobody ever looked.

    No record is not zero), and its losses by `on`.
    """
    looks = [(look.on, look.whole, look.rooted, look.of) for look in lot.looks if look.on <= on]
    if lot.rooted is not None and lot.counted_on is not None and lot.counted_on <= on:
        looks.append((lot.counted_on, True, min(lot.rooted, lot.started), lot.started))
    roots = None
    if looks:
        seen_on, _, rooted, of = max(looks, key=lambda look: (look[0], look[1], look[3]))
        roots = look_at_roots(rooted, of, max(lot.day(seen_on), 0), rooting, time)
    return roots, look_at_losses(min(lot.lost, lot.started), lot.started, max(lot.day(on), 0))


def _due(time: RootingTime, day: int) -> tuple[Floats, Floats]:
    """Shares of the rooters that may be due by `day`, over curves and over a lot's own earliness, with weights."""
    import numpy as np

    middle, spread, weight = np.array(time.curves).T
    shifts = np.array(_SHIFTS)
    bells = np.exp(-(shifts**2) / 2)
    days = max(day, 1e-9) * np.exp(shifts * defaults.number("rooting_time", "lot_doubt"))
    found = below(days, middle, spread, time.family)
    return found.ravel(), np.multiply.outer(weight, bells / bells.sum()).ravel()


def _final(finals: Floats, due: Floats, due_weights: Floats, seen: int, of: int) -> Interval:
    """The middle 80 % of the lot's final share once `seen` of `of` are known."""
    import numpy as np

    nodes = share_nodes()
    now = np.clip(np.multiply.outer(nodes, due), 1e-300, 1 - 1e-12)
    logs = seen * np.log(now) + (of - seen) * np.log1p(-now)
    weights = finals * (np.exp(logs - logs.max()) @ due_weights)
    below_it = np.cumsum(weights / weights.sum())
    low, high = (float(nodes[np.searchsorted(below_it, chance)]) for chance in (0.1, 0.9))
    return Interval(low=low, high=high, level=0.8)


def _first_above(outcome: Outcome, limit: float, most: int) -> int | None:
    """The fewest losses whose chance (so many or more) is under `limit`; None where none is."""
    number = outcome.quantile(1 - limit)
    while number <= most and outcome.chance_of(number) >= limit:
        number += 1
    return number if number <= most else None
