"""Is the database that the steps build the one that the tables describe, and does whoever starts first build it?"""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from bench_rows import draft, found
from sqlalchemy import Engine, inspect, text

from core.storage import BooksNewer, Store, open_store
from core.storage.engine import open_engine, read_address
from core.storage.migrating import _FOLDER, HEAD, upgrade
from core.storage.tables import METADATA


@pytest.fixture
def bare(empty_url: str):
    """An engine on a database in which nothing has been built."""
    engine = open_engine(read_address(empty_url))
    yield engine
    engine.dispose()


def test_the_steps_build_what_the_tables_say(bare: Engine):
    upgrade(bare)
    with bare.connect() as connection:
        context = MigrationContext.configure(connection, opts={"compare_type": True})
        assert compare_metadata(context, METADATA) == []


def shape(engine: Engine) -> dict[str, object]:
    """Every table with its columns and the names of all its constraints and indexes."""
    seen = inspect(engine)
    return {
        table: {
            "columns": sorted((one["name"], str(one["type"]), one["nullable"]) for one in seen.get_columns(table)),
            "primary key": (
                seen.get_pk_constraint(table)["name"],
                sorted(seen.get_pk_constraint(table)["constrained_columns"]),
            ),
            "unique": sorted((one["name"], one["column_names"]) for one in seen.get_unique_constraints(table)),
            "foreign": sorted(
                (one["name"], one["constrained_columns"], one["referred_table"], one["referred_columns"])
                for one in seen.get_foreign_keys(table)
            ),
            "checks": sorted(
                (one["name"], "".join(one["sqltext"].split())) for one in seen.get_check_constraints(table)
            ),
            "indexes": sorted((one["name"], one["column_names"]) for one in seen.get_indexes(table)),
        }
        for table in sorted(seen.get_table_names())
        if table != "alembic_version"
    }


def test_the_steps_and_the_tables_agree_in_every_name_and_check(bare: Engine):
    upgrade(bare)
    by_steps = shape(bare)
    with bare.begin() as connection:
        METADATA.drop_all(connection)
        METADATA.create_all(connection)
    assert shape(bare) == by_steps
    assert len(by_steps) == 19


def test_every_constraint_and_index_has_a_name_and_every_table_a_crew():
    for table in METADATA.sorted_tables:
        assert all(one.name for one in (*table.constraints, *table.indexes)), table.name
        assert "crew_id" in table.columns or table.name == "crew"


def test_the_newest_step_is_the_one_the_program_expects():
    assert ScriptDirectory(str(_FOLDER)).get_heads() == [HEAD]


def test_opening_again_changes_nothing(empty_url: str):
    first = open_store(empty_url)
    crew = found(first)
    with first.books(crew.number) as books:
        written = books.write(draft(trays=("2",)))
    first.close()
    again = open_store(empty_url)
    with again.reading(crew.number) as books:
        assert books.tray_records("2") == (written,)
    again.close()


def test_many_may_open_a_new_database_at_once(empty_url: str):
    with ThreadPoolExecutor(6) as many:
        stores = list(many.map(lambda _: open_store(empty_url), range(6)))
    codes = [found(store, code=f"code {place}").code for place, store in enumerate(stores)]
    assert [crew.code for crew in stores[0].crews()] == codes
    for store in stores:
        store.close()


def test_books_of_a_later_program_are_left_alone(store: Store, database_url: str):
    with store._engine.begin() as connection:
        connection.execute(text("UPDATE alembic_version SET version_num = '0999'"))
    with pytest.raises(BooksNewer):
        open_store(database_url)


def test_foreign_keys_are_on_again_after_the_steps(tmp_path):
    engine = open_engine(read_address(f"sqlite:///{tmp_path / 'bench.db'}"))
    with engine.connect() as connection:
        raw = connection.connection.dbapi_connection
    upgrade(engine)
    with engine.connect() as connection:
        assert connection.connection.dbapi_connection is raw
        assert connection.exec_driver_sql("PRAGMA foreign_keys").scalar() == 1
        assert connection.exec_driver_sql("PRAGMA foreign_key_check").fetchall() == []
    engine.dispose()
