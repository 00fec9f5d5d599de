"""How should cuttings be dealt to trays, so that a comparison means something?

Rules
1. Chance is drawn from the seed that is handed in and recorded; the same seed deals the same trays again (only the
   `random()` numbers of Python's generator are used, which stay the same between versions).
2. Half a tray to each arm (`half`) cancels the luck of trays; whole trays (`tray`) need many trays to say anything.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from core.figures.values import BadFigure


@dataclass(frozen=True, slots=True, kw_only=True)
class Bed:
    """A tray, or a part of one counted from its labelled end (`part` 1, 2 …), with what goes into it."""

    tray: int
    part: int
    arm: str
    cuttings: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Trial:
    """A trial as dealt: its seed, the unit that was dealt, and the beds in tray order."""

    seed: int
    unit: Literal["tray", "half"]
    beds: tuple[Bed, ...]

    def cuttings_of(self, arm: str) -> int:
        """How many cuttings of this arm were dealt."""
        return sum(bed.cuttings for bed in self.beds if bed.arm == arm)


def deal_trial(
    arms: Sequence[tuple[str, int]], *, trays: int, seed: int, unit: Literal["tray", "half"] = "tray"
) -> Trial:
    """Deal `arms` (name, cuttings) to `trays` at random by `seed`.

    `tray`: each tray has one arm; every arm has the same number of trays, as near as they go. `half`: each tray holds
    every arm, in parts whose order is dealt anew. Raises BadFigure for fewer than two arms, or fewer trays than arms.
    """
    if len({name for name, _ in arms}) != len(arms) or len(arms) < 2:
        raise BadFigure("a trial needs two ways with different names", words=", ".join(name for name, _ in arms))
    if trays < (len(arms) if unit == "tray" else 1) or any(count < 1 for _, count in arms):
        raise BadFigure(f"{trays} trays are too few for {len(arms)} ways", words=str(trays))
    chance = random.Random(seed)
    if unit == "half":
        dealt = {name: _portions(count, trays) for name, count in arms}
        beds = tuple(
            Bed(tray=tray + 1, part=part + 1, arm=name, cuttings=dealt[name][tray])
            for tray in range(trays)
            for part, name in enumerate(_mixed([name for name, _ in arms], chance))
            if dealt[name][tray]
        )
        return Trial(seed=seed, unit=unit, beds=beds)
    # Who has a tray more, where they do not divide evenly, is dealt too.
    order = _mixed([name for name, _ in arms], chance)
    owners = _mixed([order[tray % len(order)] for tray in range(trays)], chance)
    counts = dict(arms)
    left = {name: _portions(counts[name], owners.count(name)) for name in counts}
    beds = tuple(Bed(tray=tray + 1, part=1, arm=name, cuttings=left[name].pop(0)) for tray, name in enumerate(owners))
    return Trial(seed=seed, unit=unit, beds=beds)


def _mixed(names: Sequence[str], chance: random.Random) -> list[str]:
    keyed = [(chance.random(), index, name) for index, name in enumerate(names)]
    return [name for _, _, name in sorted(keyed)]


def _portions(count: int, parts: int) -> list[int]:
    small, larger = divmod(count, parts)
    return [small + (part < larger) for part in range(parts)]
