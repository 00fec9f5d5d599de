"""Which lots are of a plant as people name it: by its name, else by words of it ("wildrye" for blue wildrye)."""

from __future__ import annotations

from collections.abc import Iterable

from core.lots.state import Lot
from core.vocabulary.plants import same_plant


def lots_of_plant(plant: str, lots: Iterable[Lot]) -> tuple[Lot, ...]:
    """The lots of this plant; where there is none, those whose name has its words ("the sage" may be two plants)."""
    every = tuple(lots)
    named = tuple(lot for lot in every if same_plant(lot.plant, plant))
    return named or tuple(lot for lot in every if _shortens(plant, lot.plant))


def _shortens(name: str, plant: str) -> bool:
    """Whether a name is some of the words of another, in their order, one of them may be a plural."""
    wanted, words = _words(name), _words(plant)
    spans = (words[start : start + len(wanted)] for start in range(len(words)))
    return bool(wanted) and len(wanted) < len(words) and any(span == wanted for span in spans)


def _words(name: str) -> list[str]:
    return [word.removesuffix("s") for word in name.lower().split()]
