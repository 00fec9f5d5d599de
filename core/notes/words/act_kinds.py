"""Which acts open a lot, and which count no plants."""

from __future__ import annotations

from typing import Final

OPENING: Final = frozenset({"stick", "sow", "divide", "collect"})
COUNTLESS: Final = frozenset({"cover", "vent", "air", "uncover", "water", "tend", "treat", "harden", "hold", "clear"})
OF_PLANTS: Final = OPENING | {"pot", "sell", "give", "plant_out", "reserve"}
"""Acts whose statement may name several plants, each with its count."""
