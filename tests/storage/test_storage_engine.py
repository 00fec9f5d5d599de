"""Does the database keep the rules that the rest relies on?"""

from __future__ import annotations

import sqlite3
from datetime import UTC, datetime, timedelta, timezone

import pytest
import sqlalchemy.exc
from bench_rows import NOW, draft, found, said
from sqlalchemy import event, text

from core.storage import BadAddress, NoSuchCrew, Store, open_store
from core.storage.engine import open_engine, read_address


def test_sqlite_keeps_its_pragmas_on_every_connection(tmp_path):
    # The numbers are SQLite's own: synchronous 2 is FULL (sqlite.org/pragma.html#pragma_synchronous).
    store = open_store(f"sqlite:///{tmp_path / 'bench.db'}")
    wanted = {"journal_mode": "wal", "synchronous": 2, "foreign_keys": 1, "busy_timeout": 20_000}
    with store._engine.connect() as one, store._engine.connect() as other:
        for raw in (one.connection.dbapi_connection, other.connection.dbapi_connection):
            for pragma, value in wanted.items():
                assert raw.execute(f"PRAGMA {pragma}").fetchone() == (value,)
    store.close()


def test_a_writer_on_sqlite_takes_its_lock_at_once(tmp_path):
    store = open_store(f"sqlite:///{tmp_path / 'bench.db'}")
    crew = found(store)
    seen: list[str] = []
    store._engine.connect().connection.dbapi_connection.set_trace_callback(seen.append)
    with store.books(crew.number):
        pass
    assert "BEGIN IMMEDIATE" in seen
    store.close()


def test_a_new_file_that_another_is_writing_is_waited_for(tmp_path):
    other = sqlite3.connect(tmp_path / "bench.db", isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    engine = open_engine(read_address(f"sqlite:///{tmp_path / 'bench.db'}"))

    def end_the_other(statement: str) -> None:
        if statement == "BEGIN IMMEDIATE" and other.in_transaction:
            other.execute("COMMIT")

    event.listen(engine, "connect", lambda raw, _: raw.set_trace_callback(end_the_other), insert=True)
    with engine.connect() as connection:
        assert connection.exec_driver_sql("PRAGMA journal_mode").scalar() == "wal"
    engine.dispose()
    other.close()


def test_foreign_keys_are_held(store: Store):
    crew = found(store)
    with pytest.raises(sqlalchemy.exc.IntegrityError), store.books(crew.number) as books:
        books.post(chat="c", text="of a record that is not there", at=NOW, records=[99])


def test_a_state_that_is_none_is_refused_by_the_database(store: Store):
    crew = found(store)
    with store.books(crew.number) as books:
        books.post(chat="c", text="hello", at=NOW)
    with pytest.raises(sqlalchemy.exc.IntegrityError, match="ck_outbox_known_state"), store._engine.begin() as one:
        one.execute(text("UPDATE outbox SET state = 'lost'"))


def test_an_instant_without_a_zone_is_refused(store: Store):
    crew = found(store)
    naive = datetime(2026, 3, 2, 9, 10)  # noqa: DTZ001
    with pytest.raises(sqlalchemy.exc.StatementError, match="needs its zone"), store.books(crew.number) as books:
        books.write(draft(at=naive))
    with pytest.raises(sqlalchemy.exc.StatementError, match="needs its zone"), store.books(crew.number) as books:
        books.hear(said(1, said_at=naive), NOW)


@pytest.mark.parametrize("hours", [-9, 0, 5.5, 14])
def test_an_instant_comes_back_the_same_and_in_utc(store: Store, hours):
    crew = found(store)
    at = datetime(2026, 3, 2, 12, 0, 1, 250_000, tzinfo=timezone(timedelta(hours=hours)))
    with store.books(crew.number) as books:
        books.write(draft(at=at))
    with store.reading(crew.number) as books:
        (record,) = books.records()
    assert record.at == at
    assert record.at.tzinfo is UTC


def test_words_that_no_database_holds_are_kept_as_far_as_they_can_be(store: Store):
    crew = found(store)
    words = "tray\x002 \ud83e\u202e <b>'; DROP TABLE record; --"
    with store.books(crew.number) as books:
        books.hear(said(1, words), NOW)
        books.write(draft(said=words, plant="a\x00b"))
    with store.reading(crew.number) as books:
        heard, (record,) = books.heard("console", "bench", "1"), books.records()
    assert heard.text == record.said == "tray\ufffd2 \ufffd\u202e <b>'; DROP TABLE record; --"
    assert record.entry.plant == "a\x00b"


def test_an_error_takes_the_whole_turn_back(store: Store):
    crew = found(store)

    def turn_that_fails():
        with store.books(crew.number) as books:
            key, _ = books.hear(said(1), NOW)
            books.write(draft(key))
            books.settle("jug", "5.25")
            books.post(chat="bench", text="noted", at=NOW)
            raise RuntimeError("the lamp went out")

    with pytest.raises(RuntimeError):
        turn_that_fails()
    with store.reading(crew.number) as books:
        assert books.heard("console", "bench", "1") is None
        assert books.records() == ()
        assert books.setting("jug") is None
    assert store.outbox_due(NOW) == ()


def test_reading_cannot_write(store: Store):
    crew = found(store)
    with pytest.raises(sqlalchemy.exc.DBAPIError), store.reading(crew.number) as books:
        books.settle("jug", "5.25")
    with store.books(crew.number) as books:
        books.settle("jug", "6")


def test_reading_sees_one_moment(store: Store):
    crew = found(store)
    with store.reading(crew.number) as before:
        assert before.records() == ()
        with store.books(crew.number) as books:
            books.write(draft())
        assert before.records() == ()
    with store.reading(crew.number) as after:
        assert len(after.records()) == 1


def test_books_of_no_crew_are_refused(store: Store):
    with pytest.raises(NoSuchCrew), store.books(7):
        pass


def test_one_crew_never_sees_the_books_of_another(store: Store):
    ours, theirs = found(store), found(store, "Heron Row", "heron")
    with store.books(ours.number) as books:
        key, _ = books.hear(said(1), NOW)
        books.write(draft(key, lot="26-001", trays=("2",)))
        token = books.post(chat="bench", text="noted", at=NOW, buttons=[("undo", {"undo": key})]).buttons[0][1]
        books.settle("jug", "5.25")
        books.learn("plant", "toyon")
    with store.books(theirs.number) as books:
        assert books.heard("console", "bench", "1") is None
        assert books.records() == books.lot_records("26-001") == books.tray_records("2") == ()
        assert books.pressed(token) is None
        assert books.setting("jug") is None
        assert books.names().plants == ()
        assert books.write(draft()).number == 1


@pytest.mark.parametrize(
    "address", ["mysql://bench", "sqlite://", "sqlite:///:memory:", "no address", "sqlite:///file::memory:?uri=true"]
)
def test_an_address_of_no_use_is_refused_in_words(address):
    with pytest.raises(BadAddress) as refused:
        open_store(address)
    assert refused.value.hint


def test_every_way_of_writing_a_postgresql_address_is_read():
    for scheme in ("postgres", "postgresql", "postgresql+psycopg", "postgresql+psycopg2"):
        assert read_address(f"{scheme}://fern@dell/books").drivername == "postgresql+psycopg"
