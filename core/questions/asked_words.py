"""The words that tell one question from another, from the files of this folder: the one way to their tables."""

from __future__ import annotations

import tomllib
from functools import cache
from importlib.resources import files
from typing import Any


@cache
def page(name: str) -> dict[str, Any]:
    """A file of words of this folder ("kept" for kept.toml), as it stands."""
    return tomllib.loads(files("core.questions").joinpath(f"{name}.toml").read_text(encoding="utf-8"))


def asked_words() -> dict[str, Any]:
    """The tables of asked_words.toml, which several questions share."""
    return page("asked_words")
