"""Which acts open a lot, and which count no plants."""

from __future__ import annotations

from typing import Final

OPENING: Final = frozenset({"stick", "sow", "divide", "collect"})
COUNTLESS: Final = frozenset({"cover", "vent", "air", "uncover", "water", "tend", "treat", "harden", "hold", "clear"})
