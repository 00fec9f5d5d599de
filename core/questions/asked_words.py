"""The words that tell one question from another: the door to asked_words.toml."""

from __future__ import annotations

import tomllib
from functools import cache
from importlib.resources import files
from typing import Any


@cache
def asked_words() -> dict[str, Any]:
    """The tables of asked_words.toml."""
    return tomllib.loads(files("core.questions").joinpath("asked_words.toml").read_text(encoding="utf-8"))
