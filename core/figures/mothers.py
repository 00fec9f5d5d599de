"""On how many mother plants does a lot, or a sale plant, rest?"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from core.figures import defaults
from core.figures.values import BadFigure, LotFigures


@dataclass(frozen=True, slots=True, kw_only=True)
class Clones:
    """Plants by clone: how many clones, the effective number n² / Σ nᵢ², the largest one with its share.

    `unknown` plants have no mother on record and count in none of these. `captured` is the chance to hold at least
    one copy of an allele at 5 % in the wild, and `narrow` is True below the crew's own aim (defaults.toml).
    """

    clones: int
    effective: float
    largest: str
    largest_share: float
    unknown: int
    captured: float
    narrow: bool


def effective_mothers(counts: Iterable[int]) -> float:
    """n² / Σ nᵢ² for the plants of each mother: 12 from each of 6 are 6 mothers, 40 + 20 + 12 are 2.4; 0 of none.

    Source: Laakso and Taagepera 1979, Comparative Political Studies 12:3-27 (the inverse of Simpson's index).
    """
    numbers = [count for count in counts if count]
    if any(count < 0 for count in numbers):
        raise BadFigure("a mother cannot have given fewer than no cuttings")
    return sum(numbers) ** 2 / sum(count**2 for count in numbers) if numbers else 0.0


def captured_alleles(mothers: int, *, frequency: float = 0.05, selfing: bool = False) -> float:
    """Chance that `mothers` unrelated plants hold at least one copy of an allele at `frequency` (0 to 1).

    An outcrossing plant brings two independent copies, a selfing one a single: 1 - (1 - f)^(2n) or ^n. Source: Brown
    and Marshall 1995, in Collecting Plant Genetic Diversity (from memory), whose 30 and 59 plants for 95 % it gives.
    """
    if mothers < 0 or not 0 < frequency < 1:
        raise BadFigure(f"{mothers} mothers at {frequency} cannot be", words=str(frequency))
    return 1 - (1 - frequency) ** (mothers * (1 if selfing else 2))


def mothers_for(*, chance: float = 0.95, frequency: float = 0.05, selfing: bool = False) -> int:
    """The fewest unrelated mothers that hold an allele at `frequency` with `chance`; 30 outcrossing or 59 selfing."""
    if not 0 < chance < 1 or not 0 < frequency < 1:
        raise BadFigure(f"{chance} is no chance between 0 and 1", words=str(chance))
    copies = math.ceil(math.log(1 - chance) / math.log(1 - frequency) - 1e-12)
    return copies if selfing else math.ceil(copies / 2)


def clones_of(lots: Iterable[LotFigures], *, clone_of: Mapping[str, str] | None = None) -> Clones:
    """The clones behind the plants of these lots still living, each lot's mothers in their proportions when started.

    `clone_of` names the clone of a mother where several mothers are one; otherwise each mother is a clone of its own.
    """
    plants: dict[str, float] = {}
    unknown = 0.0
    for lot in lots:
        named = sum(count for _, count in lot.mothers)
        if not named:
            unknown += lot.living
            continue
        share = lot.living / max(lot.started, named)
        for mother, count in lot.mothers:
            clone = (clone_of or {}).get(mother, mother)
            plants[clone] = plants.get(clone, 0.0) + count * share
        unknown += max(lot.started - named, 0) * share
    total = sum(plants.values())
    if not total:
        return Clones(
            clones=0, effective=0.0, largest="", largest_share=0.0, unknown=round(unknown), captured=0.0, narrow=False
        )
    largest = max(sorted(plants), key=lambda clone: plants[clone])
    effective = total**2 / sum(count**2 for count in plants.values())
    return Clones(
        clones=len(plants),
        effective=effective,
        largest=largest,
        largest_share=plants[largest] / total,
        unknown=round(unknown),
        captured=captured_alleles(len(plants)),
        narrow=effective < defaults.number("mothers", "few"),
    )
