"""The words of corrections.toml: by table, and whether a text has one of them."""

from __future__ import annotations

import re
import tomllib
from functools import cache
from importlib.resources import files


@cache
def said(table: str, key: str = "says") -> tuple[str, ...]:
    """The phrases under a key of a table, the longest first."""
    text = files("core.conversation").joinpath("corrections.toml").read_text(encoding="utf-8")
    return tuple(sorted(tomllib.loads(text)[table][key], key=len, reverse=True))


def bare(text: str) -> str:
    """The words of a text in lower case, one space between them, without marks."""
    return " ".join(re.findall(r"[\w.:/-]+", text.lower().replace("'", "").replace("\u2019", ""))).strip(" .:")


def has_one(text: str, table: str) -> bool:
    """True where the words of a table stand in a text."""
    words = f" {bare(text)} "
    return any(f" {phrase} " in words for phrase in said(table))
