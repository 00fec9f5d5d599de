"""Which acts open a lot, which count no plants, and which are done to none."""

from __future__ import annotations

from typing import Final

OPENING: Final = frozenset({"stick", "sow", "divide", "collect"})
COUNTLESS: Final = frozenset({"cover", "vent", "air", "uncover", "water", "tend", "treat", "harden", "hold", "clear"})
OF_PLANTS: Final = OPENING | {"pot", "sell", "give", "plant_out", "reserve"}
"""Acts whose statement may name several plants, each with its count."""
NO_SUBJECT: Final = frozenset({
    "mix", "pour_out", "sanitize", "temp", "target", "remind", "roster", "hello", "reply", "undo", "amend", "rule",
    "ask",
})  # fmt: skip
"""Acts that are done to no lot, tray or plant, so that none is handed on to them."""
