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


LINES = [pytest.param(reading, id=where) for where, reading in readings()]


@pytest.mark.parametrize("line", LINES)
def test_a_note_becomes_what_it_says(line: dict[str, Any]) -> None:
    reading = read(line["note"], datetime.fromisoformat(line["now"]))
    right = reading.as_keys() == line["want"]
    if line["note"] in KNOWN:
        assert not right, "mended: take its line out of known_failures.txt"
    else:
        assert reading.as_keys() == line["want"]


@pytest.mark.parametrize("line", LINES)
def test_what_is_read_survives_its_keys(line: dict[str, Any]) -> None:
    for entry in read(line["note"], datetime.fromisoformat(line["now"])).entries:
        assert Entry.from_keys(entry.as_keys()) == entry
