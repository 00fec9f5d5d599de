"""Each line of the readings tables: a note, when it was sent, and what it becomes.

Known failures stand in `known_failures.txt` beside this file, one note a line (a line end in it as `\\n`) with its
reason; each must keep failing until it is mended, and then its line goes.
"""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
from tables_of_readings import readings

from core.entries import Entry
from core.notes import read

KNOWN = {
    line.split("\t")[0].replace("\\n", "\n")
    for line in (Path(__file__).parent / "known_failures.txt").read_text(encoding="utf-8").splitlines()
    if line and not line.startswith("#")
}


def _tables() -> dict[str, list[tuple[str, dict[str, Any]]]]:
    """The readings of each table, with where they stand."""
    tables: dict[str, list[tuple[str, dict[str, Any]]]] = {}
    for where, reading in readings():
        tables.setdefault(where.partition(":")[0], []).append((where, reading))
    return tables


TABLES = _tables()


@pytest.mark.parametrize("table", TABLES)
def test_each_note_becomes_what_it_says(table: str) -> None:
    wrong = {}
    for where, line in TABLES[table]:
        got = read(line["note"], datetime.fromisoformat(line["now"])).as_keys()
        if (got == line["want"]) == (line["note"] in KNOWN):
            mended = "mended: take its line out of known_failures.txt"
            wrong[where, line["note"]] = mended if line["note"] in KNOWN else got
    assert wrong == {}


@pytest.mark.parametrize("table", TABLES)
def test_what_is_read_survives_its_keys(table: str) -> None:
    changed = [
        (where, entry)
        for where, line in TABLES[table]
        for entry in read(line["note"], datetime.fromisoformat(line["now"])).entries
        if Entry.from_keys(entry.as_keys()) != entry
    ]
    assert changed == []
