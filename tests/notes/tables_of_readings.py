"""The lines of the readings tables, each with where it stands: for the tests that read them all."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

_TABLES = Path(__file__).parent.parent / "readings"


def readings() -> list[tuple[str, dict[str, Any]]]:
    """Every reading of every table (`now`, `note`, `want`), after the table and the line where it stands."""
    return [
        (f"{table.stem}:{number}", json.loads(line))
        for table in sorted(_TABLES.glob("*.jsonl"))
        for number, line in enumerate(table.read_text(encoding="utf-8").splitlines(), start=1)
        if line.strip()
    ]
