"""Which step a database is at, and how it is brought to the newest, whoever starts first.

Rules
1. Steps are numbered and run in one transaction under a lock: all of them or none.
2. On SQLite foreign keys are off while a step runs, and everything is checked before the commit.
3. Alembic is loaded only where there is something to upgrade.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from sqlalchemy import Connection, Engine, inspect, text

from core.errors import BooksBroken
from core.storage.engine import only_reading
from core.storage.faults import BooksNewer

if TYPE_CHECKING:
    from alembic.config import Config

HEAD: Final = "0001"
_FOLDER: Final = Path(__file__).parent / "migrations"
_LOCK: Final = 0x62656E6368  # an advisory lock of our own, the letters "bench"


def upgrade(engine: Engine, step: str = "head") -> None:
    """Brings the database to `step`. Raises BooksNewer where the database knows later steps than this program."""
    with only_reading(engine) as connection:
        if _step_of(connection) == HEAD:
            return
    with engine.connect() as connection:
        raw: Any = connection.connection.dbapi_connection
        on_sqlite = engine.dialect.name == "sqlite"
        if on_sqlite:
            raw.execute("PRAGMA foreign_keys=OFF")
        try:
            with connection.begin():
                _upgrade_under_lock(connection, step, on_sqlite)
        finally:
            if on_sqlite:
                raw.execute("PRAGMA foreign_keys=ON")


def _upgrade_under_lock(connection: Connection, step: str, on_sqlite: bool) -> None:
    if not on_sqlite:
        connection.execute(text("SELECT pg_advisory_xact_lock(:lock)"), {"lock": _LOCK})
    at = _step_of(connection)
    if at == HEAD:
        return
    if at is not None and at not in _known_steps():
        raise BooksNewer(f"the books are at step {at}, this program knows steps up to {HEAD}", words=at)
    from alembic import command

    command.upgrade(_config(connection), step)
    if on_sqlite:
        broken = connection.exec_driver_sql("PRAGMA foreign_key_check").fetchall()
        if broken:
            raise BooksBroken(f"after the upgrade {len(broken)} rows point to nothing", words=str(broken[0]))


def _step_of(connection: Connection) -> str | None:
    if not inspect(connection).has_table("alembic_version"):
        return None
    step: str | None = connection.execute(text("SELECT version_num FROM alembic_version")).scalar()
    return step


def _known_steps() -> frozenset[str]:
    return frozenset(path.name[:4] for path in (_FOLDER / "versions").glob("[0-9][0-9][0-9][0-9]_*.py"))


def _config(connection: Connection) -> Config:
    from alembic.config import Config

    config = Config()
    config.set_main_option("script_location", str(_FOLDER).replace("%", "%%"))
    config.attributes["connection"] = connection
    return config
