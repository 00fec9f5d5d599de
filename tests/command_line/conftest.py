"""The command line as a person uses it, in a folder of its own."""

from __future__ import annotations

import io
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest

from bot.__main__ import main


@dataclass(frozen=True, slots=True, kw_only=True)
class Ran:
    """What a command came to: its exit code and what it printed."""

    code: int
    out: str
    err: str


Run = Callable[..., Ran]


@pytest.fixture
def run(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path) -> Run:
    """Runs one command on an SQLite database in this test's folder; `lines` is its standard input."""
    monkeypatch.chdir(tmp_path)
    for name in ("BENCHHAND_DATABASE_URL", "BENCHHAND_ZONE", "BENCHHAND_TELEGRAM_TOKEN"):
        monkeypatch.delenv(name, raising=False)

    def run_one(*arguments: str, lines: str = "", **environment: str) -> Ran:
        for name, value in environment.items():
            monkeypatch.setenv(name, value)
        monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(lines.encode()), encoding="utf-8"))
        try:
            code = main(arguments)
        except SystemExit as left:
            code = int(left.code or 0)
        printed = capsys.readouterr()
        return Ran(code=code, out=printed.out, err=printed.err)

    return run_one
