"""How a database is opened and how a transaction begins, on SQLite and on PostgreSQL.

Rules
1. SQLite: WAL, synchronous FULL, foreign keys on, a busy timeout; the driver begins nothing by itself, we do.
2. A transaction that may write begins with BEGIN IMMEDIATE on SQLite; one that only reads cannot write.
3. PostgreSQL: reading sees one snapshot; writers of one crew wait for each other at the crew's row (see `store`).
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from sqlite3 import OperationalError
from typing import Any, Final

from sqlalchemy import URL, Connection, Engine, create_engine, event, make_url
from sqlalchemy.exc import ArgumentError
from sqlalchemy.pool import NullPool, QueuePool

from core.storage.faults import BadAddress

BUSY_TIMEOUT_MS: Final = 20_000
_LOCK_TRIES: Final = 50
_HINT = "write it like sqlite:///benchhand.db or postgresql://user@host/benchhand"


def read_address(text: str) -> URL:
    """The database that an address names. Raises BadAddress for anything but a SQLite file or PostgreSQL."""
    try:
        url = make_url(text)
    except ArgumentError as wrong:
        raise BadAddress("this is no database address", words=text, hint=_HINT) from wrong
    kind = url.drivername.partition("+")[0]
    if kind in ("postgresql", "postgres"):
        return url.set(drivername="postgresql+psycopg")
    if kind != "sqlite":
        raise BadAddress(f"books are kept in SQLite or PostgreSQL, not in {kind}", words=kind, hint=_HINT)
    if not url.database or ":memory:" in url.database or "mode=memory" in text:
        raise BadAddress("books need a file: a database in memory ends with its thread", words=text, hint=_HINT)
    return url.set(drivername="sqlite+pysqlite")


def open_engine(url: URL, *, pooled: bool = True) -> Engine:
    """An engine whose every connection keeps the rules above."""
    if url.drivername == "postgresql+psycopg":
        return create_engine(url, poolclass=QueuePool if pooled else NullPool, pool_pre_ping=True)
    engine = create_engine(
        url,
        poolclass=QueuePool if pooled else NullPool,
        connect_args={
            "isolation_level": None,
            "check_same_thread": False,
            "timeout": BUSY_TIMEOUT_MS / 1000,
        },
    )
    event.listen(engine, "connect", _set_pragmas)
    event.listen(engine, "begin", _begin)
    return engine


def _set_pragmas(raw: Any, _record: object) -> None:
    raw.execute(f"PRAGMA busy_timeout={BUSY_TIMEOUT_MS}")
    _keep_log(raw)
    raw.execute("PRAGMA synchronous=FULL")
    raw.execute("PRAGMA foreign_keys=ON")


def _keep_log(raw: Any) -> None:
    """Writes ahead to a log. Of two that change a new file to it at once SQLite refuses one without waiting, for a
    reader that wants to write; that one waits here, as a writer does, until the other is through.
    """
    for _ in range(_LOCK_TRIES):
        try:
            raw.execute("PRAGMA journal_mode=WAL")
        except OperationalError:
            raw.execute("BEGIN IMMEDIATE")
            raw.execute("ROLLBACK")
        else:
            return
    raw.execute("PRAGMA journal_mode=WAL")


def _begin(connection: Connection) -> None:
    reads_only = connection.get_execution_options().get("reads_only", False)
    connection.exec_driver_sql("BEGIN" if reads_only else "BEGIN IMMEDIATE")


@contextmanager
def writing(engine: Engine) -> Iterator[Connection]:
    """One transaction that may write: committed at the end, rolled back on any error."""
    with engine.connect() as connection, connection.begin():
        yield connection


@contextmanager
def only_reading(engine: Engine) -> Iterator[Connection]:
    """One transaction that sees a single moment of the books and cannot write."""
    with engine.connect() as plain:
        if engine.dialect.name != "sqlite":
            reader = plain.execution_options(isolation_level="REPEATABLE READ", postgresql_readonly=True)
            with reader.begin():
                yield reader
            return
        raw: Any = plain.connection.dbapi_connection
        raw.execute("PRAGMA query_only=ON")
        try:
            reader = plain.execution_options(reads_only=True)
            with reader.begin():
                yield reader
        finally:
            raw.execute("PRAGMA query_only=OFF")
