"""What is known of a lot in the middle of a fold: the sheet that each record is written on."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from datetime import datetime

from core.entries import Container, Entry, Hormone
from core.lots.state import Counted, Outing, Parted, PartMoved, Told
from core.lots.tally import LOSS_ORDER, SEED_LOSS_ORDER, Pool, Tally


@dataclass(frozen=True, slots=True, kw_only=True)
class Potting:
    """What one note told of potting: whether plants went on from smaller pots, and the smallest ones before it."""

    message: str
    went_on: bool
    before: Container | None


@dataclass(slots=True, kw_only=True)
class Standing:
    """A lot while its records are read. It never leaves the fold."""

    number: str
    kind: str
    tally: Tally
    started: int | None = None
    approx: bool = False
    sprouts_known: bool = False
    rooted_known: bool = False
    roots_mixed_at: datetime | None = None
    callused: int | None = None
    germinated: int | None = None
    ready: int | None = None
    roots_out: bool = False
    counts: dict[str, Counted] = field(default_factory=dict)
    parts: dict[str, dict[tuple[str, ...], int]] = field(default_factory=dict)
    sample: Counted | None = None
    looks: list[Counted] = field(default_factory=list)
    last_count_at: datetime | None = None
    losses: Counter[str] = field(default_factory=Counter)
    last_loss: Told | None = None
    reserved: Counter[str] = field(default_factory=Counter)
    parted: list[Parted] = field(default_factory=list)
    trays: tuple[str, ...] = ()
    place: str | None = None
    placed_at: datetime | None = None
    moved_at: datetime | None = None
    moved_partly: tuple[str, ...] = ()
    parts_moved: list[PartMoved] = field(default_factory=list)
    outing: Outing | None = None
    hardened_at: datetime | None = None
    treated: tuple[str, ...] = ()
    hormone: Hormone | None = None
    medium: str | None = None
    container: Container | None = None
    hold: str | None = None
    held_at: datetime | None = None
    sown_at: datetime | None = None
    potted_at: datetime | None = None
    potting: Potting | None = None
    pots: Counter[str] = field(default_factory=Counter)
    smallest_pot: Container | None = None
    given_up: bool = False
    merged_into: str | None = None
    closed_at: datetime | None = None

    @property
    def is_seed(self) -> bool:
        return self.kind == "seed"

    def living(self) -> int | None:
        """Plants that live and are ours, or None where nobody has counted them."""
        known = self.sprouts_known if self.is_seed else not self.tally.open_ended
        return self.tally.living if known or self.given_up else None

    def loss_order(self, of: str | None = None) -> tuple[Pool, ...]:
        """Which plants a loss takes first: those that it was said to be of; of seed of which nothing is up, the
        seeds."""
        order = SEED_LOSS_ORDER if self.is_seed and not self.tally.living else LOSS_ORDER
        return tuple(sorted(order, key=lambda pool: pool.value != of)) if of is not None else order

    def is_over(self) -> bool:
        """True where nothing of the lot is left and nothing more can come of it."""
        if self.given_up or self.merged_into is not None:
            return True
        tally = self.tally
        if self.living() != 0 or not any(tally.gone.values()):
            return False
        only_losses = not any(count for way, count in tally.gone.items() if way != "lost")
        if not self.is_seed:
            return True
        return not only_losses or (not tally.open_ended and not tally.pools[Pool.UNSPROUTED])

    def share_of(self, entry: Entry, of: int) -> int | None:
        """How many of `of` plants the entry means: a count, all, all but some, or a share; None where it says none."""
        if entry.count is not None:
            return entry.count
        if entry.all_of:
            return of
        if entry.left is not None:
            return max(of - entry.left, 0)
        return None if entry.share is None else round(entry.share * of)
