"""What must be handed in for a figure: tallies, looks at a lot, and a lot in numbers.

Rules
1. No record is not zero: what nobody counted is None, and a figure says so instead of guessing.
2. A sample (`whole=False`) speaks for the plants that were tugged, never for the lot.
3. A share is a number from 0 to 1; a day count is whole days since the lot was started.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Final

from core.errors import BenchError


class BadFigure(BenchError):
    """Numbers that no bench could have given."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tally:
    """`hits` out of `tried` plants, with the lot or tray (`of`) that they came from. Raises BadFigure if impossible."""

    hits: int
    tried: int
    of: str = ""

    def __post_init__(self) -> None:
        if not 0 <= self.hits <= self.tried:
            raise BadFigure(f"{self.hits} of {self.tried} cannot be", words=f"{self.hits} of {self.tried}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Interval:
    """From `low` to `high`, meant to hold the truth with chance `level`; in the unit of what it is about."""

    low: float
    high: float
    level: float = 0.95


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """One look: `rooted` (germinated, alive) of `of` plants seen on a day; `whole` where the whole lot was counted."""

    on: date
    rooted: int
    of: int
    whole: bool = True

    def __post_init__(self) -> None:
        if not 0 <= self.rooted <= self.of:
            raise BadFigure(f"{self.rooted} of {self.of} cannot be", words=f"{self.rooted} of {self.of}")


@dataclass(frozen=True, slots=True, kw_only=True)
class LotFigures:
    """A lot in whole plants, as its folded books tell it.

    `started` were stuck, sown or divided. `rooted` is the most ever known rooted (germinated, for seed), potted and
    sold ones included; None where no count was taken. `potted` counts every plant potted so far, `left` what is alive
    and still ours (None: follows from the others), `ready` what of it was noted fit to sell. `looks` are in any order.
    `mothers` are (mother or clone, cuttings). `closed` lots will root no further. Texts are as noted, empty where the
    note was silent; `potted_on` is the latest potting.
    """

    number: str
    plant: str
    started_on: date
    started: int
    rooted: int | None = None
    counted_on: date | None = None
    potted: int = 0
    potted_on: date | None = None
    lost: int = 0
    sold: int = 0
    given: int = 0
    planted_out: int = 0
    left: int | None = None
    ready: int = 0
    looks: tuple[Look, ...] = ()
    closed: bool = False
    approx: bool = False
    kind: str = "cuttings"
    cutting: str = ""
    wood: str = ""
    hormone: str = ""
    medium: str = ""
    mothers: tuple[tuple[str, int], ...] = ()
    trays: tuple[str, ...] = ()
    place: str = ""
    by: str = ""

    @property
    def gone(self) -> int:
        """Plants that left alive: sold, given, planted out."""
        return self.sold + self.given + self.planted_out

    @property
    def living(self) -> int:
        """Plants alive and still ours: as counted, else what the books leave."""
        return self.left if self.left is not None else max(self.started - self.lost - self.gone, 0)

    @property
    def in_pots(self) -> int:
        """Potted plants still ours; those that left are taken to have been potted ones."""
        return min(max(self.potted - self.gone, 0), self.living)

    @property
    def in_cells(self) -> int:
        """Plants known rooted and not yet potted."""
        return min(max((self.rooted or 0) - max(self.potted, self.gone), 0), self.living - self.in_pots)

    @property
    def unrooted(self) -> int:
        """Living plants not known to be rooted."""
        return self.living - self.in_pots - self.in_cells

    @property
    def unexplained(self) -> int:
        """Plants that no record accounts for (negative: more than the books allow). Shown, never forced to 0."""
        return self.started - self.living - self.gone - self.lost

    @property
    def season(self) -> str:
        """The season it was started in, as `autumn 2026`; meteorological seasons of the northern hemisphere."""
        names = ("winter", "spring", "summer", "autumn")
        year = self.started_on.year + (self.started_on.month == 12)
        return f"{names[self.started_on.month % 12 // 3]} {year}"

    def day(self, on: date) -> int:
        """Whole days from start to `on`."""
        return (on - self.started_on).days

    def age_of_count(self, on: date) -> int | None:
        """Days since the last count of the whole lot, or None where there was none."""
        return None if self.counted_on is None else (on - self.counted_on).days


@dataclass(frozen=True, slots=True, kw_only=True)
class Counts:
    """Tallies fit to speak of a final rate, and the lots left out of them: never counted, or counted too early."""

    tallies: tuple[Tally, ...]
    uncounted: tuple[str, ...]
    too_early: tuple[str, ...]


GROUPINGS: Final = ("number", "plant", "kind", "cutting", "wood", "hormone", "medium", "season", "place", "by")


def rooted_tallies(lots: Iterable[LotFigures], *, settled_day: float | None = None) -> Counts:
    """Rooted (germinated) of started, lot by lot, from lots whose rooting is over.

    Over means: closed, nothing unrooted left, or last counted at `settled_day` or later (days after start, the time by
    which 90 % of the eventual rooters root; None: such counts are not trusted). A lot with nothing but samples gives
    its latest late sample, as plants seen.
    """
    tallies: list[Tally] = []
    uncounted: list[str] = []
    too_early: list[str] = []
    for lot in lots:
        late = [look for look in lot.looks if settled_day is not None and lot.day(look.on) >= settled_day]
        if lot.rooted is not None and lot.counted_on is not None:
            counted_late = settled_day is not None and lot.day(lot.counted_on) >= settled_day
            if lot.closed or counted_late or lot.unrooted == 0:
                tallies.append(Tally(hits=min(lot.rooted, lot.started), tried=lot.started, of=lot.number))
            else:
                too_early.append(lot.number)
        elif late:
            last = max(late, key=lambda look: look.on)
            tallies.append(Tally(hits=last.rooted, tried=last.of, of=lot.number))
        elif lot.looks:
            too_early.append(lot.number)
        else:
            uncounted.append(lot.number)
    return Counts(tallies=tuple(tallies), uncounted=tuple(uncounted), too_early=tuple(too_early))


def survived_tallies(lots: Iterable[LotFigures]) -> tuple[Tally, ...]:
    """Of all started in closed lots, those that were not lost (left alive, or are still there); lot by lot."""
    return tuple(
        Tally(hits=min(lot.living + lot.gone, lot.started), tried=lot.started, of=lot.number)
        for lot in lots
        if lot.closed and lot.started
    )


def saleable_tallies(lots: Iterable[LotFigures]) -> tuple[Tally, ...]:
    """Of all rooted in closed lots, those that left alive or stand in pots: the share grown on to be sold."""
    return tuple(
        Tally(hits=min(lot.gone + lot.in_pots, lot.rooted), tried=lot.rooted, of=lot.number)
        for lot in lots
        if lot.closed and lot.rooted
    )


def grouped(lots: Iterable[LotFigures], by: str) -> Mapping[str, tuple[LotFigures, ...]]:
    """Lots by what `by` names (one of GROUPINGS, or `mother`), silent ones left out; in order of the group's name.

    A lot of several mothers counts under none of them, for nobody counted their cuttings apart. Raises BadFigure.
    """
    if by not in (*GROUPINGS, "mother"):
        raise BadFigure(f"lots are not grouped by {by}", words=by, hint=f"try {', '.join(GROUPINGS)} or mother")
    groups: dict[str, list[LotFigures]] = {}
    for lot in lots:
        mother = lot.mothers[0][0] if len(lot.mothers) == 1 else ""
        name = mother if by == "mother" else str(getattr(lot, by))
        if name:
            groups.setdefault(name, []).append(lot)
    return {name: tuple(groups[name]) for name in sorted(groups)}
