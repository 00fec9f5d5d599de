"""Which of two pots is the smaller, by what they hold."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Final

from core.entries import Container

_SIZE: Final = re.compile(r"((?:\d+ )?\d+(?:\.\d+|/[1-9]\d*)?)\s*(in|gal|qt|l|cm|ml)\b")
"""`4 in`, `3.5 in`, `3 1/2 in`, `1 gal`."""


def is_smaller(one: Container | None, other: Container | None) -> bool:
    """Whether a pot is surely smaller than another: a `4 in` than a `1 gal`."""
    litres, more = _litres(one), _litres(other)
    return litres is not None and more is not None and litres < more


def _litres(container: Container | None) -> float | None:
    """Roughly what a pot holds, for telling the bigger of two; None for cells, trays and pots without a size."""
    found = _SIZE.match((container.size or "") if container else "")
    if found is None:
        return None
    number, unit = float(sum(Fraction(part) for part in found[1].split())), found[2]
    # A pot as wide as tall, tapered, holds about 0.6 of its cube (common practice); trade gallons are not full gallons.
    cubes = {"in": 0.6 * (number * 0.254) ** 3, "cm": 0.6 * (number * 0.1) ** 3}
    return cubes.get(unit, number * {"gal": 2.8, "qt": 0.95, "l": 1.0, "ml": 0.001}.get(unit, 1.0))
