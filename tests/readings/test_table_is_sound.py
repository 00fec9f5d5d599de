"""Is the table of readings itself sound: every line a valid reading, no note twice?

The table says what a note must become. Each line is judged by the published keys of `benchhand parse`, never by what the
reader happens to say. To add a reading, append a line to the file of its act or theme:

    {"now": "2026-03-02T09:10", "note": "misted tray 3", "want": {"entries": [...], "asks": []}}
"""

from __future__ import annotations

import json
from collections import Counter
from datetime import datetime

import pytest

from core.entries import KNOWN_ASKS, Act, Entry
from tests.notes.tables_of_readings import readings

READINGS = readings()


@pytest.mark.parametrize("stem", sorted({where.partition(":")[0] for where, _ in READINGS}))
def test_every_expected_entry_is_valid_and_written_in_its_published_keys(stem: str) -> None:
    for where, reading in READINGS:
        if where.startswith(f"{stem}:"):
            assert set(reading) == {"now", "note", "want"}, where
            assert set(reading["want"]) == {"entries", "asks"}, where
            assert datetime.fromisoformat(reading["now"]).tzinfo is None, where
            for keys in reading["want"]["entries"]:
                assert json.loads(json.dumps(Entry.from_keys(keys).as_keys())) == keys, f"{where}: {keys}"


def test_every_question_is_a_known_one_and_asked_once() -> None:
    for where, reading in READINGS:
        asks = reading["want"]["asks"]
        assert set(asks) <= set(KNOWN_ASKS), where
        assert len(asks) == len(set(asks)), where


def test_no_note_stands_twice() -> None:
    seen = Counter((reading["now"], reading["note"].casefold().strip()) for _, reading in READINGS)
    assert [note for note, times in seen.items() if times > 1] == []


def test_every_act_and_every_question_is_read_at_least_three_times() -> None:
    acts = Counter(keys["act"] for _, reading in READINGS for keys in reading["want"]["entries"])
    asks = Counter(word for _, reading in READINGS for word in reading["want"]["asks"])
    assert [act.value for act in Act if acts[act.value] < 3] == []
    assert [word for word in KNOWN_ASKS if asks[word] < 3] == []
