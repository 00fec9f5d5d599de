"""What becomes of numbers beside acts that count no plants: a mixture, a reading, lots put together."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from core.notes.acts.slots import Slots
from core.notes.details.things import count_things
from core.notes.words.pieces import Piece


def _parts_of_mixture(slots: Slots, pieces: list[Piece], numbers: list[Piece]) -> None:
    """`1 to 9`, `9 to 1` of a solution."""
    for piece in numbers:
        if piece.value.high is not None and not piece.value.dashed and piece.value.whole is not None:
            slots.put("parts", (piece.value.whole, int(piece.value.high)), piece)
    _turned_parts(slots, pieces)


def _lots_merged(slots: Slots, _: list[Piece], numbers: list[Piece]) -> None:
    named = [piece for piece in numbers if piece.low.isdigit()]
    if named and "lots" not in slots.values and "trays" not in slots.values:
        slots.put("lots", tuple(piece.low for piece in named), *named)


def _unit_of_reading(slots: Slots, _: list[Piece], numbers: list[Piece]) -> None:
    alone = len(numbers) == 1 and not numbers[0].used
    if numbers and "temp_c" not in slots.values and (alone or "humidity" not in slots.values):
        slots.asks.append("unit")


def _count_nothing(_: Slots, __: list[Piece], ___: list[Piece]) -> None:
    """Acts beside which a number is only kept."""


def _turned_parts(slots: Slots, pieces: list[Piece]) -> None:
    """`9 to 1`, said of a solution: nine of water to one of it."""
    for place in range(len(pieces) - 2):
        water, joint, stuff = pieces[place : place + 3]
        if water.kind != "number" or stuff.kind != "number" or joint.low != "to":
            continue
        if stuff.value.whole == 1 and water.value.whole is not None and "parts" not in slots.values:
            slots.put("parts", (1, water.value.whole), water, joint, stuff)


BESIDE_NO_PLANTS: Final[dict[str, Callable[[Slots, list[Piece], list[Piece]], None]]] = {
    "sanitize": count_things, "mix": _parts_of_mixture, "merge": _lots_merged, "temp": _unit_of_reading,
    "pour_out": _count_nothing, "roster": _count_nothing, "note": _count_nothing,
}  # fmt: skip
"""What becomes of numbers beside acts that count no plants."""
