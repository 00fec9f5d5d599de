"""What a lot is now: the values that a fold of its records gives."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from core.entries import Amount, Container, Hormone, SourceShare
from core.lengths import Length


@dataclass(frozen=True, slots=True, kw_only=True)
class Counted:
    """A count as somebody took it: `count` (or `share`) in `state` out of `of`, when and by whom; a sample is not the
    lot.

    `books` is what the books held living just before (None: not known); `trays` names the part of the lot that was
    counted, where it stands in other trays too.
    """

    state: str
    count: int | None
    of: int | None
    share: float | None
    at: datetime
    by: str
    approx: bool = False
    sample: bool = False
    books: int | None = None
    trays: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Loss:
    """Plants lost to one cause (`unknown` where nobody said)."""

    cause: str
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """A loss as somebody told it, for asking "again, or in all?" when the next one comes."""

    count: int
    at: datetime
    by: str
    told_by: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Parted:
    """Plants that went to another lot (`to`, None where its number was not said), by split or merge, and how far they
    were; `mixed` where rooted and unrooted ones went together, not counted apart. `message` is the
    key of the note that says so."""

    to: str | None
    at: datetime
    count: int
    rooted: int = 0
    potted: int = 0
    unsprouted: int = 0
    mixed: bool = False
    message: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PartMoved:
    """A part of a lot that was moved to a tray ("tray 9") or place: how many (None: nobody said); not `sure` where
    something told of the lot since may have changed that."""

    to: str
    count: int | None
    sure: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Outing:
    """Plants carried out for a while and not yet noted as brought in: where, since when, and back when (if said);
    `trays` are those that went out, none where it was the whole lot."""

    began_at: datetime
    to: str | None = None
    back_at: datetime | None = None
    hardening: bool = False
    trays: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Cover:
    """The cover of a tray (or of a lot with no tray): on since when, vents, and whether it is off for a while.

    `on` stays true while the cover is off for a while: the tray still lives under one. `since` is when the day count
    of this cover began (kept through `air`, begun anew after `uncover`); `vent_open` is the last vent setting, 0 to 1,
    noted at `vented_at`; `aired_at` is set while the cover is off for a while, with `back_at` where a time was said.
    """

    on: bool
    since: datetime | None = None
    vent_open: float = 0.0
    aired_at: datetime | None = None
    back_at: datetime | None = None
    off_for_good_at: datetime | None = None
    vented_at: datetime | None = None
    wilted_at: datetime | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Cold:
    """A stratification: warm or cold, days asked, when it began, days already counted, and whether its clock runs now.

    Days are local calendar days. `days_counted` are surely in the cold, up to `counted_to` (the last record, or the
    `now` that was handed in); `days_uncertain` may or may not count; `days_out` surely do not. `asked` and `asked_max`
    keep the lengths as said (`P3M` is no number of days). `ended_at` is set while it is out, sown or over; "back in"
    takes it away again. With `planned` it has not begun: `began_at` is when the one before it will be long enough.
    """

    treatment: str
    began_at: datetime
    days_asked: int | None
    days_asked_max: int | None
    days_counted: float
    days_uncertain: float
    running: bool
    ended_at: datetime | None
    asked: Length | None = None
    asked_max: Length | None = None
    days_out: int = 0
    running_since: datetime | None = None
    counted_to: datetime | None = None
    planned: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Lot:
    """A lot as its records tell it.

    Counts are whole plants. `started` is what was stuck, sown or divided (None: never said). `living` is started (or
    germinated, for seed) less what was lost, sold, given, planted out and split off; `left` is what is living and still
    ours, potted ones included (both None where nobody has counted). `rooted` is the total known, potted ones included,
    as of the last count, less rooted ones that have left since. `unexplained` is what a recount found that no record
    accounts for (negative: missing), never forced to zero. `unsprouted` are seeds sown of which nothing has been seen
    yet.
    """

    number: str
    kind: str  # cuttings | seed | divisions
    plant: str
    opened_at: datetime
    opened_by: str
    started: int | None
    approx: bool = False
    amount: Amount | None = None
    parent: str | None = None
    merged_into: str | None = None
    cutting: str | None = None
    wood: str | None = None
    hormone: Hormone | None = None
    medium: str | None = None
    container: Container | None = None
    sources: tuple[SourceShare, ...] = ()
    rooted: int | None = None
    roots_mixed_at: datetime | None = None  # when unrooted and rooted ones were split, not counted apart since
    callused: int | None = None
    germinated: int | None = None
    roots_out: bool = False
    ready: int | None = None
    potted: int = 0
    pots: tuple[tuple[str, int], ...] = ()  # how many of the potted by size of pot ("4 in"), "" where nobody knows
    sold: int = 0
    given: int = 0
    planted_out: int = 0
    split_off: int = 0
    merged_in: int = 0
    reserved: int = 0
    losses: tuple[Loss, ...] = ()
    living: int | None = None
    left: int | None = None
    unexplained: int = 0
    counts: tuple[Counted, ...] = ()  # the latest of each state, newest last
    latest_sample: Counted | None = None
    looks: tuple[Counted, ...] = ()  # every count and sample of roots (of seedlings, for seed), oldest first
    trays: tuple[str, ...] = ()
    place: str | None = None
    colds: tuple[Cold, ...] = ()
    treated: tuple[str, ...] = ()
    hold: str | None = None
    sown_at: datetime | None = None
    potted_at: datetime | None = None
    closed: bool = False
    closed_at: datetime | None = None
    stage: str = "stuck"  # seed | stuck | sown | rooted | germinated | potted | hardening | closed
    last_entry_at: datetime | None = None
    last_count_at: datetime | None = None
    unrooted: int | None = None
    unsprouted: int | None = None
    merged_out: int = 0
    parted: tuple[Parted, ...] = ()
    outing: Outing | None = None
    hardened_at: datetime | None = None
    moved_at: datetime | None = None
    moved_partly: tuple[str, ...] = ()
    parts_moved: tuple[PartMoved, ...] = ()
    held_at: datetime | None = None
    last_loss: Told | None = None
    opened_told_by: str | None = None
    reserved_for: tuple[str, ...] = ()
    reserved_each: tuple[int, ...] = ()  # how many for each of `reserved_for`; the others are kept for nobody named

    @property
    def unsown(self) -> bool:
        """Whether it is seed that nobody has sown yet, sprouted in the cold or not."""
        return self.kind == "seed" and self.sown_at is None and not self.closed

    @property
    def free(self) -> int | None:
        """How many are left and kept for nobody, or None where nobody has counted them."""
        return None if self.left is None else self.left - self.reserved

    @property
    def kept_for(self) -> tuple[tuple[str, int], ...]:
        """For whom plants of this lot are kept, and how many."""
        return tuple(zip(self.reserved_for, self.reserved_each, strict=False))

    @property
    def lost(self) -> int:
        return sum(loss.count for loss in self.losses)

    def counted(self, state: str) -> Counted | None:
        """The latest count of the whole lot in this state, or None where there is no record of one."""
        return next((count for count in reversed(self.counts) if count.state == state and not count.sample), None)
