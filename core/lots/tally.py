"""Where is every plant of a lot: the double-entry count behind a fold.

Rules
1. base + merged in + unexplained = seeds not up + unrooted + rooted + potted + lost + sold + given + planted out +
   split off + merged out, at any time. Every step keeps it; nothing is ever forced.
2. No pool goes below zero: what is taken beyond what is there was *found*. It raises `unexplained`, or the base of a
   lot whose start nobody counted (`open_ended`).
3. Losses take the least grown first, departures the most grown, potting the rooted.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Final


class Pool(StrEnum):
    """How far a plant has come."""

    UNSPROUTED = "unsprouted"
    UNROOTED = "unrooted"
    ROOTED = "rooted"
    POTTED = "potted"


class Way(StrEnum):
    """How plants leave a lot."""

    LOST = "lost"
    SOLD = "sold"
    GIVEN = "given"
    PLANTED_OUT = "planted_out"
    SPLIT_OFF = "split_off"
    MERGED_OUT = "merged_out"


LOSS_ORDER: Final = (Pool.UNROOTED, Pool.ROOTED, Pool.POTTED, Pool.UNSPROUTED)
SEED_LOSS_ORDER: Final = (Pool.UNSPROUTED, *LOSS_ORDER[:3])
GOING_ORDER: Final = (Pool.POTTED, Pool.ROOTED, Pool.UNROOTED, Pool.UNSPROUTED)
PARTING_ORDER: Final = (Pool.ROOTED, Pool.POTTED, Pool.UNROOTED, Pool.UNSPROUTED)
POTTING_ORDER: Final = (Pool.ROOTED, Pool.UNROOTED, Pool.UNSPROUTED)


def _no_plants() -> dict[Pool, int]:
    return dict.fromkeys(Pool, 0)


@dataclass(slots=True, kw_only=True)
class Tally:
    """The plants of one lot by pool, and what has left it by way. Changed step by step while a lot is folded."""

    base: int = 0
    open_ended: bool = False
    merged_in: int = 0
    unexplained: int = 0
    pools: dict[Pool, int] = field(default_factory=_no_plants)
    gone: dict[Way, int] = field(default_factory=lambda: dict.fromkeys(Way, 0))

    @property
    def living(self) -> int:
        """Plants that live and are ours, as far as counted; seeds not yet up are none."""
        return self.unpotted + self.pools[Pool.POTTED]

    @property
    def unpotted(self) -> int:
        return self.pools[Pool.UNROOTED] + self.pools[Pool.ROOTED]

    def begin(self, count: int | None, pool: Pool) -> None:
        """Plants or seeds that start the lot, or join it from outside the books; None: not counted."""
        if count is None:
            self.open_ended = True
        else:
            self.base += count
            self.pools[pool] += count

    def join(self, count: int, pool: Pool) -> None:
        """Plants that came from another lot."""
        self.merged_in += count
        self.pools[pool] += count

    def take(self, count: int, order: Iterable[Pool]) -> dict[Pool, int]:
        """Takes `count` plants out of the pools in `order`; what is not there is found first. Says how many of
        which."""
        taken = _no_plants()
        still = count
        for pool in order:
            part = min(still, self.pools[pool])
            self.pools[pool] -= part
            taken[pool] += part
            still -= part
        if still:
            self._find(still)
            taken[Pool.UNROOTED] += still
        return taken

    def leave(self, count: int, way: Way, order: Iterable[Pool]) -> dict[Pool, int]:
        """Plants leave the lot by `way`. Says how many of which pool."""
        taken = self.take(count, order)
        self.gone[way] += count
        return taken

    def advance(self, count: int, to: Pool, order: Iterable[Pool]) -> None:
        """`count` plants are now in the pool `to`, taken from the others in `order`."""
        self.take(count, (pool for pool in order if pool is not to))
        self.pools[to] += count

    def stand_at(self, pool: Pool, count: int, order: Iterable[Pool]) -> None:
        """The pool holds `count`: more come from the others in `order`; fewer fall back to the first of them."""
        others = [other for other in order if other is not pool]
        change = count - self.pools[pool]
        if change >= 0:
            self.advance(change, pool, others)
        else:
            self.pools[pool] = count
            self.pools[others[0]] -= change

    def recount(self, change: int) -> None:
        """A count found `change` plants more (or fewer) than the books hold, and no record says why."""
        if change < 0:
            self.take(-change, LOSS_ORDER[:3])
            self.unexplained += change
        elif change:
            self._find(change)
            self.pools[Pool.UNROOTED] += change

    def adds_up(self) -> bool:
        """True where every plant that came is somewhere (rule 1)."""
        return self.base + self.merged_in + self.unexplained == sum(self.pools.values()) + sum(self.gone.values())

    def _find(self, count: int) -> None:
        if self.open_ended:
            self.base += count
        else:
            self.unexplained += count
