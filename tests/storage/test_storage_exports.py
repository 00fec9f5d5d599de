"""Do the books leave and come back the same?"""

from __future__ import annotations

import json
import shutil
import sqlite3
from dataclasses import replace
from pathlib import Path

import pytest
from bench_rows import DAY, NOW, draft, found

from core.entries import Act, Entry
from core.storage import BadAddress, BadRow, NotEmpty, Store, open_store

PUBLISHED = {"id", "lot", "at", "by", "said", "superseded_by"}


@pytest.fixture
def crew(store: Store) -> int:
    return found(store).number


def fill(store: Store, crew: int) -> None:
    """Books with a correction, an undo, a late note, a reminder that was asked for, and an act of somebody else's."""
    with store.books(crew) as books:
        books.write(draft("m1", Act.STICK, plant="coyote brush", count=72, lot="26-001", trays=("2",)))
        books.write(draft("m2", Act.LOSE, count=4, cause="rot", lot="26-001", at=NOW - DAY, trays=("2",)))
        books.write(draft("m3", Act.LOSE, count=5, cause="rot", lot="26-001"))
        books.supersede([2], by=3)
        by_other = replace(draft("m4"), entry=Entry(act=Act.WATER, by="odo", method="mist", trays=("2",)), by="odo")
        books.write(replace(by_other, reminder="tray:2|mist|1|20260302T1900Z"))
        asked = Entry.from_keys({"act": "remind", "text": "vent tray 2", "at": "2026-03-02T15:00"})
        books.write(replace(draft("m5"), entry=asked, said="remind me 3pm to vent tray 2 \u202e"))
        books.take_back([5])


def test_a_row_has_the_published_keys(store: Store, crew: int):
    fill(store, crew)
    rows = list(store.export_rows(crew, whole=False))
    assert rows[1] == {
        "id": 2, "lot": "26-001", "at": "2026-03-01T17:10:00Z", "by": "ilse", "said": "misted tray 2",
        "superseded_by": 3, "act": "lose", "count": 4, "cause": "rot",
    }  # fmt: skip
    assert all(set(row) >= PUBLISHED and "books" not in row for row in rows)
    assert (rows[3]["by"], rows[3]["trays"]) == ("odo", ["2"])
    assert (rows[4]["at"], rows[4]["remind_at"]) == ("2026-03-02T17:10:00Z", "2026-03-02T15:00")
    assert [row.get("taken_back") for row in rows] == [None, None, None, None, True]


def test_what_was_exported_and_imported_is_exported_the_same(store: Store, crew: int, tmp_path: Path):
    fill(store, crew)
    rows = [json.loads(json.dumps(row)) for row in store.export_rows(crew)]
    other = open_store(f"sqlite:///{tmp_path / 'other.db'}")
    theirs = found(other, "Heron Row").number
    with other.books(theirs) as books:
        assert books.import_rows(rows) == ("26-001",)
    assert list(other.export_rows(theirs)) == rows
    with store.reading(crew) as ours, other.reading(theirs) as copies:
        assert copies.records(holding=False) == ours.records(holding=False)
        assert copies.tray_records("2") == ours.tray_records("2")
    with other.books(theirs) as books:
        assert books.write(draft()).number == 6
    other.close()


def test_rows_with_the_published_keys_alone_are_read_too(store: Store, crew: int):
    fill(store, crew)
    rows = list(store.export_rows(crew, whole=False))
    copy = found(store, "Heron Row", "heron").number
    with store.books(copy) as books:
        books.import_rows(rows)
    assert list(store.export_rows(copy, whole=False)) == rows


def test_many_rows_come_back_in_order(store: Store, crew: int):
    copy = found(store, "Heron Row", "heron").number
    row = {"id": 1, "lot": None, "at": "2026-03-02T09:00:00+02:00", "by": "odo", "act": "water"}
    with store.books(crew) as books:
        books.import_rows(row | {"id": number} for number in range(1202, 0, -1))
    rows = list(store.export_rows(crew))
    assert [one["id"] for one in rows] == list(range(1, 1203))
    assert rows[0]["at"] == "2026-03-02T07:00:00Z"
    assert list(store.export_rows(copy)) == []


GOOD = {
    "id": 1,
    "lot": None,
    "at": "2026-03-02T09:00:00Z",
    "by": "odo",
    "said": "x",
    "superseded_by": None,
    "act": "water",
}


@pytest.mark.parametrize(
    "wrong",
    [
        {"id": 0}, {"id": "1"}, {"id": True}, {"id": 10**40}, {"at": "2026-03-02T09:00:00"}, {"at": 5}, {"at": None},
        {"act": "juggle"}, {"glow": 1}, {"by": None}, {"superseded_by": 7}, {"count": -3}, {"books": 4}, {"lot": 14},
        {"said": ["x"]}, {"books": {"trays": 4}},
    ],
    ids=str,
)  # fmt: skip
def test_a_row_that_is_no_record_is_refused_and_nothing_is_kept(store: Store, crew: int, wrong):
    with pytest.raises(BadRow, match="row 2"), store.books(crew) as books:
        books.import_rows([GOOD | {"id": 3}, GOOD | wrong])
    with pytest.raises(BadRow, match="row 1 has no at"), store.books(crew) as books:
        books.import_rows([{"id": 1, "by": "odo", "act": "water"}])
    assert list(store.export_rows(crew)) == []


def test_a_number_that_comes_twice_is_refused(store: Store, crew: int):
    with pytest.raises(BadRow, match="two rows 1"), store.books(crew) as books:
        books.import_rows([GOOD, GOOD])


def test_books_that_hold_something_take_no_import(store: Store, crew: int):
    fill(store, crew)
    with pytest.raises(NotEmpty), store.books(crew) as books:
        books.import_rows([GOOD])


# -- a copy of the file


def test_a_copy_taken_while_the_books_are_in_use_is_whole_and_sound(tmp_path: Path, laid_file: Path):
    shutil.copy(laid_file, tmp_path / "bench.db")
    store = open_store(f"sqlite:///{tmp_path / 'bench.db'}")
    crew = found(store).number
    fill(store, crew)
    rows = list(store.export_rows(crew))
    copy = tmp_path / "copy.db"
    copy.write_text("an older copy")
    with store.books(crew) as books:
        books.write(draft("not committed yet"))
        store.back_up(copy)
    store.close()
    assert not (tmp_path / "copy.db.part").exists()
    alone = tmp_path / "elsewhere" / "bench.db"
    alone.parent.mkdir()
    shutil.copy(copy, alone)
    assert sqlite3.connect(alone).execute("PRAGMA integrity_check").fetchone() == ("ok",)
    again = open_store(f"sqlite:///{alone}")
    assert list(again.export_rows(crew)) == rows
    again.close()


def test_the_books_are_never_overwritten_by_their_copy(store: Store, tmp_path: Path):
    with pytest.raises(BadAddress) as refused:
        store.back_up(tmp_path / "bench.db")
    assert refused.value.words or "pg_dump" in refused.value.hint
    assert store.crews() == ()
