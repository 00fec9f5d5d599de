"""What is assumed until the crew's own lots say otherwise: defaults.toml, read and checked."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from functools import lru_cache
from importlib.resources import files
from typing import Any

from core.errors import BadTradeFile

FILE = "core/figures/defaults.toml"


@lru_cache(maxsize=1)
def _read() -> Mapping[str, Any]:
    text = files("core.figures").joinpath("defaults.toml").read_text(encoding="utf-8")
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as wrong:
        raise BadTradeFile(f"{FILE}: {wrong}", hint="undo the last edit of that file") from wrong


def number(*path: str) -> float:
    """The number under such headings, as `number("stages", "potting", "mean")`. Raises BadTradeFile."""
    found = _at(path)
    if isinstance(found, bool) or not isinstance(found, (int, float)):
        raise BadTradeFile(f"{FILE}: {'.'.join(path)} cannot be {found!r}", words=str(found), hint="it is a number")
    return float(found)


def numbers(*path: str) -> tuple[float, ...]:
    """The list of numbers under such a heading. Raises BadTradeFile where it is none."""
    found = _at(path)
    if not isinstance(found, list) or not all(isinstance(one, (int, float)) for one in found):
        raise BadTradeFile(f"{FILE}: {'.'.join(path)} cannot be {found!r}", words=str(found), hint="numbers in [ ]")
    return tuple(float(one) for one in found)


def source(*path: str) -> str:
    """Where the numbers under this heading are from."""
    return str(_at((*path, "source")))


def headings(name: str) -> tuple[str, ...]:
    """The headings below `name`, in the file's order."""
    found = _at((name,))
    return tuple(key for key, value in found.items() if isinstance(value, dict)) if isinstance(found, dict) else ()


def _at(path: tuple[str, ...]) -> Any:
    found: Any = _read()
    for step in path:
        if not isinstance(found, Mapping) or step not in found:
            raise BadTradeFile(
                f"{FILE}: {'.'.join(path)} is missing", words=step, hint="undo the last edit of that file"
            )
        found = found[step]
    return found
