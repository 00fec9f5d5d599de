"""Which kinds of reminder are there, and how does each come: the rows of kinds.toml."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import timedelta
from functools import cache
from importlib.resources import files
from typing import Any, Final

from core.errors import BadTradeFile

SUBJECTS: Final = ("tray", "lot", "solution", "target", "crew")
PASTS: Final = ("ask", "goes")


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """A kind of reminder. Exactly one of `useful_for` (elapsed) and `useful_days` (until that day's end) is set.

    `once` marks an early warning: it is said once, and nobody need answer. `past` tells what comes of it
    after its last useful time: `ask` (a question) or `goes`.
    """

    name: str
    says: str
    subject: str
    timed: bool
    critical: bool
    soft: bool
    running: bool
    repeats_while_open: bool
    once: bool
    confirmed_by: tuple[str, ...]
    useful_for: timedelta | None
    useful_days: int | None
    past: str


@cache
def kinds() -> Mapping[str, Kind]:
    """Every kind by its name. Raises BadTradeFile with the kind that cannot be read."""
    try:
        told = tomllib.loads(files("core.reminders").joinpath("kinds.toml").read_text(encoding="utf-8"))
    except tomllib.TOMLDecodeError as wrong:
        raise BadTradeFile(f"kinds.toml cannot be read: {wrong}", words="kinds.toml") from wrong
    return {name: _read_kind(name, row) for name, row in told.items()}


def _read_kind(name: str, row: Mapping[str, Any]) -> Kind:
    lasts = [key for key in ("useful_minutes", "useful_days") if key in row]
    if len(lasts) != 1 or row.get("subject") not in SUBJECTS or row.get("past") not in PASTS or not row.get("says"):
        raise BadTradeFile(
            f"kinds.toml: {name} needs says, subject, past and one of useful_minutes, useful_days", words=name
        )
    return Kind(
        name=name,
        says=row["says"],
        subject=row["subject"],
        timed=row["timed"],
        critical=row.get("critical", False),
        soft=row.get("soft", True),
        running=row.get("running", False),
        repeats_while_open=row.get("again") == "open",
        once=row.get("once", False),
        confirmed_by=tuple(row["confirmed_by"]),
        useful_for=timedelta(minutes=row["useful_minutes"]) if "useful_minutes" in row else None,
        useful_days=row.get("useful_days"),
        past=row["past"],
    )
