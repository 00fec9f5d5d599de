"""How many plants of a kind will be fit to be sold on a day, from the lots as they stand?

Rules
1. A lot has up to four parts: noted ready, in pots, rooted in cells, not known rooted. Each still passes its own
   stages; what was noted ready passes none.
2. What of a part is late is late together: all or none. Where that is in doubt the forecast has a fork, and is shown
   with and without those lots, for the mean between the two would hardly ever come.
3. The growing-on rate of the plant is common to all its lots, and so is not knowing it: summed over beliefs, then lots.
4. Losses known by now are out already; frost, mice and theft to come are not in it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from functools import lru_cache
from typing import TYPE_CHECKING, Final

from core.figures import defaults
from core.figures.outcomes import (
    Outcome,
    add_up,
    binomial_table,
    condensed,
    cut,
    passing,
    share_nodes,
    spread_over_nodes,
    sum_of,
    through,
)
from core.figures.plan import stage_days
from core.figures.rooting_time import RootingTime
from core.figures.spread import Spread, share_weights
from core.figures.values import LotFigures

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

_SURE: Final = 0.9
_BELIEFS: Final = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Ways:
    """What a plant usually does: its rates of rooting, potting and growing on, its time to root, and the days after."""

    rooting: Spread
    potting: Spread
    growing_on: Spread
    time: RootingTime
    wean: Outcome
    pot: Outcome
    harden: Outcome
    slack: Outcome


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A part of a lot (`ready`, `pots`, `cells`, `unrooted`).

    `plants` are there now; `share` of them should be fit to sell if in time; `on_time` is the chance of that.
    """

    lot: str
    stage: str
    plants: int
    share: float
    on_time: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Fork:
    """Parts whose being in time is in doubt: what comes if none of them is in time, and if all are, and how likely."""

    parts: tuple[Part, ...]
    none: Outcome
    every: Outcome
    chance_none: float
    chance_every: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Forecast:
    """Saleable plants on `for_on` as an outcome, and what it rests on.

    `living` is alive now. `old_counts` are lots last counted more than four weeks ago, `uncounted` those never counted,
    `unexplained` (lot, plants) that no record accounts for.
    """

    plant: str
    for_on: date
    outcome: Outcome
    living: int
    parts: tuple[Part, ...]
    fork: Fork | None
    old_counts: tuple[str, ...]
    uncounted: tuple[str, ...]
    unexplained: tuple[tuple[str, int], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Shortfall:
    """Against `needed`: the chance of enough, and plants lacking if it goes middling or at the 1-in-10 low end."""

    needed: int
    chance: float
    lacking_middle: int
    lacking_low: int


def usual_ways(rooting: Spread, potting: Spread, growing_on: Spread, time: RootingTime) -> Ways:
    """The ways with the stage lengths of defaults.toml."""
    return Ways(
        rooting=rooting,
        potting=potting,
        growing_on=growing_on,
        time=time,
        wean=stage_days("wean"),
        pot=stage_days("pot"),
        harden=stage_days("harden"),
        slack=stage_days("slack"),
    )


def forecast(plant: str, lots: Sequence[LotFigures], ways: Ways, *, on: date, for_on: date) -> Forecast:
    """What `lots` of one plant will have fit to sell on `for_on`, seen from `on`; method in the rules above."""
    parts: list[tuple[str, str, int, float]] = []
    waiting: list[LotFigures] = []
    clock = _Clock(ways, on, for_on)
    for lot in lots:
        for stage, plants in _by_stage(lot):
            if plants and not (stage == "unrooted" and lot.closed):
                parts.append((lot.number, stage, plants, clock.in_time(lot, stage)))
                waiting += [lot] if stage == "unrooted" else []
    chances, means = _chances(waiting, [(stage, plants) for _, stage, plants, _ in parts], ways)
    named = tuple(
        Part(lot=lot, stage=stage, plants=plants, share=mean, on_time=on_time)
        for (lot, stage, plants, on_time), mean in zip(parts, means, strict=True)
    )
    outcome, fork = _summed(named, chances, ways)
    old = int(defaults.number("counting", "old_days"))
    ages = {lot.number: lot.age_of_count(on) for lot in lots if lot.living and not lot.closed}
    return Forecast(
        plant=plant,
        for_on=for_on,
        outcome=outcome,
        living=sum(lot.living for lot in lots),
        parts=named,
        fork=fork,
        old_counts=tuple(number for number, age in ages.items() if age is not None and age > old),
        uncounted=tuple(number for number, age in ages.items() if age is None),
        unexplained=tuple((lot.number, lot.unexplained) for lot in lots if lot.unexplained),
    )


def fit_from(lots: Sequence[LotFigures], ways: Ways, *, on: date) -> date | None:
    """The day by which half of what is rooted or potted now is usually fit to sell, of the lot that is first.

    None where nothing is rooted. A lot's wait begins on the day it was potted, or `on` where it still is to be.
    """
    pots = add_up((ways.pot, ways.harden))
    waits = {"pots": pots.middle, "cells": add_up((ways.slack, pots)).middle}
    days = [
        (lot.potted_on or on if stage == "pots" else on) + timedelta(days=waits[stage])
        for lot in lots
        for stage, plants in _by_stage(lot)
        if plants and stage in waits
    ]
    return min(days, default=None)


def shortfall(outcome: Outcome, needed: int) -> Shortfall:
    """What an outcome lacks against `needed`, and the chance of enough."""
    return Shortfall(
        needed=needed,
        chance=outcome.chance_of(needed),
        lacking_middle=max(needed - outcome.middle, 0),
        lacking_low=max(needed - outcome.quantile(0.1), 0),
    )


def _by_stage(lot: LotFigures) -> list[tuple[str, int]]:
    """The living plants of a lot by how far they are; those noted ready are the ones that are furthest."""
    parts, ready = [("ready", min(lot.ready, lot.living))], lot.ready
    for stage, plants in (("pots", lot.in_pots), ("cells", lot.in_cells), ("unrooted", lot.unrooted)):
        parts.append((stage, max(plants - ready, 0)))
        ready = max(ready - plants, 0)
    return parts


def _to_root(lots: Sequence[LotFigures], ways: Ways) -> Floats:
    """For each lot, weights of the share of its living, not yet rooted plants that will root.

    The plant's rates are drawn to the lot's own last count, and to a later sample; of the cuttings not found rooted
    at the count some will yet root, and all of those are among the living ones.
    """
    import numpy as np

    rows, mass = share_weights(ways.rooting, 1)
    nodes = share_nodes()
    seen = np.array([_last_look(lot) for lot in lots], dtype=np.float64)
    rooted, of, _, _, _, alive = seen.T[:, :, None]
    due_days = {float(one) for one in (*seen[:, 2], *seen[:, 4])}
    due = {one: ways.time.share_by(one) for one in due_days}
    by_look = nodes * np.array([[due[float(one)]] for one in seen[:, 2]])
    passed = np.array([[due[float(one)]] for one in seen[:, 4]])
    logs = np.log(mass @ rows + 1e-300) + rooted * np.log(by_look + 1e-300) + (of - rooted) * np.log1p(-by_look)
    weights = np.exp(np.maximum(logs - logs.max(axis=1, keepdims=True), -60))
    weights /= weights.sum(axis=1, keepdims=True)
    to_come = nodes * (1 - passed) / (1 - nodes * passed)
    return spread_over_nodes(np.minimum(to_come / alive, 1.0), weights)


def _last_look(lot: LotFigures) -> tuple[float, float, float, float, float, float]:
    """Rooted, of how many, on what day at the last look; rooted and day at the whole count; share alive of the rest."""
    whole = lot.rooted is not None and lot.counted_on is not None
    known = min(lot.rooted or 0, lot.started) if whole else 0
    known_day = max(lot.day(lot.counted_on), 0) if whole and lot.counted_on else 0
    alive = lot.unrooted / max(lot.started - known, lot.unrooted, 1)
    samples = [look for look in lot.looks if not look.whole and lot.day(look.on) > known_day]
    if samples:
        last = max(samples, key=lambda look: look.on)
        return last.rooted, last.of, lot.day(last.on), known, known_day, alive
    return known, lot.started if whole else 0, known_day, known, known_day, alive


class _Clock:
    """The chance of each part to be in time, for one plant on one day; asked once for lots that are alike."""

    def __init__(self, ways: Ways, on: date, for_on: date) -> None:
        import numpy as np

        self._on, self._for_on = on, for_on
        self._pots = add_up((ways.pot, ways.harden))
        self._cells = add_up((ways.slack, self._pots))
        self._rooted = add_up((ways.wean, self._cells))
        days = ways.time.days()
        self._lengths = days.first + np.arange(len(days.chances))
        self._to_root = np.asarray(days.chances)
        self._done = np.concatenate(([0.0], np.cumsum(self._rooted.chances)))
        self._known: dict[tuple[str, int, int], float] = {}

    def in_time(self, lot: LotFigures, stage: str) -> float:
        """Chance that the part of the lot at this stage is fit to sell on the day."""
        if stage == "ready":
            return 1.0
        since, begun = self._on, 0
        if stage == "pots":
            since = lot.potted_on or lot.counted_on or self._on
        elif stage == "unrooted":
            since = lot.started_on
            begun = max(lot.day(lot.counted_on), 0) if lot.rooted is not None and lot.counted_on else 0
        key = (stage, begun, (self._for_on - since).days)
        if key not in self._known:
            self._known[key] = self._chance(*key)
        return self._known[key]

    def _chance(self, stage: str, begun: int, until: int) -> float:
        import numpy as np

        if stage != "unrooted":
            return 1 - (self._pots if stage == "pots" else self._cells).chance_of(until + 1)
        # Rooting was not over on the day of the count, so only the later days are left to it.
        left = np.where(self._lengths > begun, self._to_root, 0.0)
        if left.sum() <= 0:
            return 1 - self._rooted.chance_of(until - begun + 1)
        at = np.minimum(np.maximum(until - self._lengths - self._rooted.first + 1, 0), len(self._done) - 1)
        return float(left @ self._done[at] / left.sum())


@lru_cache(maxsize=64)
def _later(potting: Spread, growing_on: Spread) -> tuple[Floats, Floats, tuple[Floats, ...], Floats]:
    """For each belief about growing on: weights for plants in pots, in cells, and the passage of unrooted ones."""
    import numpy as np

    rows, mass = share_weights(growing_on, _BELIEFS)
    pot_rows, pot_mass = share_weights(potting)
    potted, potted_weights = condensed(np.asarray(pot_mass @ pot_rows))
    cells = rows @ passing(potted, potted_weights)
    passages = tuple(passing(*condensed(one)) for one in cells)
    return rows, cells, passages, mass


def _chances(
    waiting: Sequence[LotFigures], kinds: Sequence[tuple[str, int]], ways: Ways
) -> tuple[list[Floats], list[float]]:
    """For each part a row for each belief: chances of 0, 1, 2 … saleable plants if in time; and the mean share."""
    import numpy as np

    rows, cells, passages, mass = _later(ways.potting, ways.growing_on)
    chances: list[Floats] = [rows] * len(kinds)
    alike: dict[tuple[str, int], list[int]] = {}
    for index, kind in enumerate(kinds):
        alike.setdefault(kind, []).append(index)
    unrooted: Floats = rows[None]
    if waiting:
        to_root = _to_root(waiting, ways)
        unrooted = np.stack([through(to_root, passage) for passage in passages], axis=1)
    place = {index: row for row, index in enumerate(i for i, kind in enumerate(kinds) if kind[0] == "unrooted")}
    for (stage, plants), which in alike.items():
        table = binomial_table(plants)
        if stage != "unrooted":
            ready = np.broadcast_to(np.eye(plants + 1)[plants], (len(rows), plants + 1))
            same = ready if stage == "ready" else (rows if stage == "pots" else cells) @ table
            for index in which:
                chances[index] = same
            continue
        for index, row in zip(which, unrooted[[place[index] for index in which]] @ table, strict=True):
            chances[index] = row
    means = [
        float(mass @ row @ np.arange(plants + 1)) / plants for row, (_, plants) in zip(chances, kinds, strict=True)
    ]
    return chances, means


def _summed(parts: Sequence[Part], chances: Sequence[Floats], ways: Ways) -> tuple[Outcome, Fork | None]:
    import numpy as np

    mass = _later(ways.potting, ways.growing_on)[3]
    doubtful = [index for index, part in enumerate(parts) if 1 - _SURE < part.on_time < _SURE]
    # What is nearly sure keeps its small doubt in the sum; only real doubt makes a fork.
    others = [index for index, part in enumerate(parts) if part.on_time > 0 and index not in set(doubtful)]

    def late_or_not(index: int) -> tuple[Floats, int]:
        rows = parts[index].on_time * chances[index]
        rows[:, 0] += 1 - parts[index].on_time
        return cut(rows)

    def blend(rows: Floats, first: int) -> Outcome:
        return Outcome.of(mass @ np.broadcast_to(rows, (mass.size, rows.shape[-1])), first)

    ground = sum_of([late_or_not(index) for index in others])
    none = blend(*ground)
    if not doubtful:
        return none, None
    mixed = blend(*sum_of([ground, *(late_or_not(index) for index in doubtful)]))
    fork = Fork(
        parts=tuple(parts[index] for index in sorted(doubtful, key=lambda one: -parts[one].plants * parts[one].share)),
        none=none,
        every=blend(*sum_of([ground, *(cut(chances[index]) for index in doubtful)])),
        chance_none=float(np.prod([1 - parts[index].on_time for index in doubtful])),
        chance_every=float(np.prod([parts[index].on_time for index in doubtful])),
    )
    return mixed, fork
