"""What is too warm or too wet: the limits at which a noted reading is answered at once, from limits.toml."""

from __future__ import annotations

import tomllib
from functools import cache
from importlib.resources import files
from typing import Any


@cache
def _limits() -> dict[str, Any]:
    return tomllib.loads(files("core.treatments").joinpath("limits.toml").read_text(encoding="utf-8"))


def too_warm_celsius() -> float:
    """The temperature under a cover (degrees Celsius) from which it is too warm."""
    return float(_limits()["under_cover"]["celsius"])


def deepest_water_in() -> float:
    """The depth of water in a covered tray (inches) above which it must be tipped out."""
    return float(_limits()["water_in_tray"]["inches"])
