"""Where did every plant of a lot go: book against shelf, in one line that adds up."""

from __future__ import annotations

from dataclasses import dataclass

from core.lots.state import Lot


@dataclass(frozen=True, slots=True, kw_only=True)
class Balance:
    """What came and where it is: `came` = the parts together, with what nobody can explain as a part of its own.

    `came` is what was started and what joined by merges. `unexplained` as in `Lot`: positive where more were found
    than came. Parts that are zero are still here; `parts` leaves them out. `str()` writes the bare sum ("72 = 32
    unrooted + 31 rooted + 9 lost").
    """

    came: int
    started: int
    merged_in: int
    unsprouted: int
    unrooted: int
    rooted: int
    potted: int
    lost: int
    sold: int
    given: int
    planted_out: int
    split_off: int
    merged_out: int
    unexplained: int
    kind: str = "cuttings"
    rooted_known: bool = True

    def parts(self) -> tuple[tuple[str, int], ...]:
        """The parts that are not zero, in the order in which plants grow and go, by name, without what is unexplained.

        Living plants are `living` where nobody counted roots (seedlings, divisions, cuttings not looked at).
        """
        living = "unrooted" if self.rooted_known and self.kind == "cuttings" else "living"
        parts = (
            ("not up", self.unsprouted), (living, self.unrooted), ("rooted", self.rooted), ("potted", self.potted),
            ("lost", self.lost), ("sold", self.sold), ("given", self.given), ("planted out", self.planted_out),
            ("split off", self.split_off), ("merged", self.merged_out),
        )  # fmt: skip
        return tuple((name, count) for name, count in parts if count)

    def adds_up(self) -> bool:
        """True where the parts and what is unexplained make what came; a fold never gives another."""
        return self.came + self.unexplained == sum(count for _, count in self.parts())

    def __str__(self) -> str:
        line = f"{self.came} = " + " + ".join(f"{count} {name}" for name, count in self.parts() or (("left", 0),))
        if self.unexplained < 0:
            return f"{line} + {-self.unexplained} unexplained"
        return f"{line} − {self.unexplained} unexplained" if self.unexplained else line


def books_line(lot: Lot) -> Balance | None:
    """The books of a lot as a sum, or None where nobody said how many there were at the start.

    Seed of which nothing has been seen yet counts as not up. The rooted are those not yet potted.
    """
    if lot.started is None or (lot.kind == "seed" and lot.unsprouted is None):
        return None
    return Balance(
        came=lot.started + lot.merged_in,
        started=lot.started,
        merged_in=lot.merged_in,
        unsprouted=lot.unsprouted or 0,
        unrooted=lot.unrooted or 0,
        rooted=max((lot.rooted or 0) - lot.potted, 0),
        potted=lot.potted,
        lost=lot.lost,
        sold=lot.sold,
        given=lot.given,
        planted_out=lot.planted_out,
        split_off=lot.split_off,
        merged_out=lot.merged_out,
        unexplained=lot.unexplained,
        kind=lot.kind,
        rooted_known=lot.rooted is not None,
    )
