"""Does finding what is due look only at what is due, however many reminders there are?"""

from __future__ import annotations

from datetime import timedelta
from typing import Any

from bench_rows import CHAT, NOW, draft, found, lot
from sqlalchemy import event, text

from core.storage import Store

MANY = 100_000
DUE = 40


def fill(store: Store, crew: int) -> None:
    """A hundred thousand reminders, of which forty are due, laid by the database itself."""
    series = (
        f"WITH RECURSIVE series(n) AS (SELECT 1 UNION ALL SELECT n + 1 FROM series WHERE n < {MANY}) SELECT "
        if store._engine.dialect.name == "sqlite"
        else "SELECT "
    )
    source = (
        "FROM series" if store._engine.dialect.name == "sqlite" else f"FROM generate_series(1, {MANY}) AS series(n)"
    )
    with store._engine.begin() as connection:
        connection.execute(
            text(
                "INSERT INTO reminder (crew_id, key, subject_kind, subject_name, kind, step, planned_at, due_at, "
                f"timed, critical, soft, facts, state, said_times) {series} :crew, 'key ' || n, 'tray', "
                "'tray ' || (n % 997), "
                f"'vent', n, :later, CASE WHEN n <= {DUE} THEN :due ELSE :later END, true, false, true, '{{}}', "
                f"CASE WHEN n % 3 = 0 AND n > {DUE} THEN 'confirmed' ELSE 'planned' END, 0 {source}"
            ).bindparams(**stamps(store)),
            {"crew": crew},
        )
    with store._engine.connect().execution_options(isolation_level="AUTOCOMMIT") as connection:
        connection.exec_driver_sql("ANALYZE")


def stamps(store: Store) -> dict[str, Any]:
    """The instants as each database wants them in a statement written by hand."""
    if store._engine.dialect.name == "sqlite":
        return {"due": "2026-03-02 17:00:00.000000", "later": "2026-09-01 17:00:00.000000"}
    return {"due": NOW - timedelta(minutes=10), "later": NOW + timedelta(days=183)}


def plans_of(store: Store, work, *, few_rows: bool = False) -> list[str]:
    """The query plan of every statement that `work` runs on our tables.

    With `few_rows` PostgreSQL is asked for the plan it would take were reading whole tables dear, as it is with many;
    SQLite plans without counting rows where nothing was analysed.
    """
    seen: list[tuple[str, Any]] = []

    def listen(_connection, _cursor, statement, parameters, _context, _many):
        seen.append((statement, parameters))

    event.listen(store._engine, "before_cursor_execute", listen)
    work()
    event.remove(store._engine, "before_cursor_execute", listen)
    explain = "EXPLAIN QUERY PLAN " if store._engine.dialect.name == "sqlite" else "EXPLAIN "
    plans = []
    with store._engine.connect() as connection:
        if few_rows and store._engine.dialect.name != "sqlite":
            connection.exec_driver_sql("SET LOCAL enable_seqscan = off")
        for statement, parameters in seen:
            if any(word in statement for word in ("reminder", "record", "outbox", "lot")):
                rows = connection.exec_driver_sql(explain + statement, parameters).fetchall()
                plans.append(" | ".join(str(row[-1]) for row in rows))
        connection.rollback()
    return plans


def reads_whole_table(plan: str, table: str) -> bool:
    steps = plan.split(" | ")
    return (
        any(step.startswith(f"SCAN {table}") and "INDEX" not in step for step in steps)
        or f"Seq Scan on {table}" in plan
    )


def test_finding_what_is_due_among_a_hundred_thousand_uses_the_index(store: Store):
    crew = found(store).number
    fill(store, crew)
    claimed: list[int] = []

    def look() -> None:
        assert store.next_due_at() is not None
        assert store.crews_due(NOW) == (crew,)

    def claim_for_one_crew() -> None:
        with store.books(crew) as books:
            claimed.extend(one.number for one in books.claim_due(NOW, DUE // 2))

    def claim_for_all() -> None:
        claimed.extend(one.number for one in store.claim_due(NOW, 1000))

    for work in (look, claim_for_one_crew, claim_for_all):
        plans = plans_of(store, work)
        assert any("state_due_at" in plan for plan in plans), plans
        assert not any(reads_whole_table(plan, "reminder") for plan in plans), plans
    assert len(claimed) == len(set(claimed)) == DUE


def test_trays_lots_and_messages_are_looked_up(store: Store):
    crew = found(store).number
    with store.books(crew) as books:
        record = books.write(draft("console:bench:1:0", lot="26-001", trays=("2",)))
        books.save_lot(lot(trays=("2",)))
        books.post(chat=CHAT, text="noted", at=NOW, records=[record.number])

    def look() -> None:
        with store.reading(crew) as books:
            books.tray_records("2")
            books.lot_records("26-001")
            books.lots(tray="2")
            books.resolve("14", 26)
            books.records_of_message("console:bench:1:0")
            books.spoken_of(CHAT, "9")

    plans = plans_of(store, look, few_rows=True)
    assert len(plans) >= 6
    tables = ("record", "record_tray", "lot", "lot_tray", "message", "outbox")
    assert not any(reads_whole_table(plan, table) for plan in plans for table in tables), plans
