"""Another cultivar, or another plant by its weight, after the one that a deed was told of before."""

from __future__ import annotations

from typing import Final

from core.notes.acts.slots import Slots
from core.notes.parting.clauses import Clause
from core.notes.words.pieces import COUNTS
from core.vocabulary.plants import split_cultivar

OF_CULTIVARS: Final = frozenset({"stick", "sow", "divide", "pot", "sell", "give", "plant_out", "reserve"})
"""Acts of which a count of another cultivar tells the act again."""


def of_another_cultivar(before: Slots, clause: Clause) -> bool:
    """`stuck 40 monkeyflower 'tin roof' & 20 'rain gauge'`: a count of another cultivar of the same plant."""
    named = "quote" in clause.kinds() and not clause.has("plant") and "'" in (before.values.get("plant") or "")
    return named and before.act in OF_CULTIVARS and bool(clause.kinds() & (COUNTS | {"amount"}))


def with_its_cultivar(plant: str, clause: Clause) -> str:
    """The plant of the act before, with the cultivar that a clause names instead."""
    quote = next((piece for piece in clause.pieces if piece.kind == "quote"), None)
    if quote is None or "'" not in plant:
        return plant
    quote.used = True
    return f"{split_cultivar(plant)[0]} '{quote.value}'"


def weighed_again(before: Slots, clause: Clause) -> bool:
    """`5 lb of acorns and 2 lb of buckeyes`: an amount of another plant after one whose plant nobody knows."""
    weighed = before.values.get("amount") is not None and before.values.get("plant") is None
    return weighed and before.act in ("collect", "sow") and "amount" in clause.kinds() and clause.has("plant")
