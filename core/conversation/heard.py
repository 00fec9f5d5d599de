"""The words that the crew says in talk, from the files of this folder: the one way to their tables."""

from __future__ import annotations

import re
import tomllib
from functools import cache
from importlib.resources import files
from typing import Any


@cache
def page(name: str) -> dict[str, Any]:
    """A file of words of this folder ("shares" for shares.toml), as it stands."""
    return tomllib.loads(files("core.conversation").joinpath(f"{name}.toml").read_text(encoding="utf-8"))


@cache
def heard(name: str, table: str, key: str = "says") -> tuple[str, ...]:
    """The phrases under a key of a table, the longest first."""
    return tuple(sorted(map(str, page(name)[table][key]), key=len, reverse=True))


@cache
def either(name: str, table: str, key: str = "says") -> str:
    """A pattern for any of these phrases, the longest first."""
    return "|".join(map(re.escape, heard(name, table, key)))
