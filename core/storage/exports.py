"""How the books leave and come back: records as rows of published keys, and a whole copy of a SQLite file.

Rules
1. A row has the published keys of its entry beside `id`, `lot`, `at` (when it was done, UTC), `by`, `said` and
   `superseded_by`. A reminder's own time, which the entry also calls `at`, is `remind_at` in a row.
   `superseded_by` is null for a record that stands, also where what superseded it was undone.
2. What the books know beyond those keys stands in one more, `books`; rows without it are read with what they say.
3. What was exported and imported is exported the same again.
"""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Iterable, Iterator, Mapping
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, Final

from sqlalchemy import Connection, Engine, func, select

from core.entries import Entry
from core.errors import BenchError, BooksBroken
from core.records import Record
from core.storage.faults import BadAddress, BadRow, NotEmpty
from core.storage.journal import Journal, record_from_row
from core.storage.tables import records

_OF_THE_RECORD: Final = ("id", "lot", "at", "by", "said", "superseded_by", "remind_at", "taken_back", "books")
_LARGEST_NUMBER: Final = 2**31 - 1
_AT_A_TIME: Final = 500


def export_rows(connection: Connection, crew_id: int, *, whole: bool) -> Iterator[dict[str, Any]]:
    """A crew's records as rows, in the order of their numbers."""
    query = select(records).where(records.c.crew_id == crew_id).order_by(records.c.number)
    for row in connection.execution_options(yield_per=_AT_A_TIME).execute(query):
        yield write_row(record_from_row(row), whole=whole)


def write_row(record: Record, *, whole: bool = True) -> dict[str, Any]:
    """One record as a row of JSON values; without `whole` only the published keys."""
    keys = record.entry.as_keys()
    row: dict[str, Any] = {
        "id": record.number,
        "lot": record.lot,
        "at": _write_instant(record.at),
        "by": record.by,
        "said": record.said,
        "superseded_by": None if record.holds() else record.superseded_by,
        **{key: value for key, value in keys.items() if key not in ("at", "by")},
    }
    if "at" in keys:
        row["remind_at"] = keys["at"]
    if record.taken_back:
        row["taken_back"] = True
    if whole:
        row["books"] = {
            "said_at": _write_instant(record.said_at),
            "told_by": record.told_by,
            "trays": list(record.trays),
            "message": record.message,
            **({"reminder": record.reminder} if record.reminder is not None else {}),
            **({"named": keys["by"]} if "by" in keys else {}),
            **({"undone": record.superseded_by} if row["superseded_by"] != record.superseded_by else {}),
        }
    return row


def read_row(row: Mapping[str, Any], place: int) -> Record:
    """The record that `write_row` wrote. Raises BadRow, which names the row by its `place`."""
    try:
        books = row.get("books") or {}
        keys = {key: value for key, value in row.items() if key not in _OF_THE_RECORD}
        if "remind_at" in row:
            keys["at"] = row["remind_at"]
        if "named" in books:
            keys["by"] = _text(books["named"])
        at = _read_instant(row["at"])
        by = _text(row["by"])
        pointer = row["superseded_by"] if row.get("superseded_by") is not None else books.get("undone")
        return Record(
            number=_number(row["id"]),
            lot=None if row.get("lot") is None else _text(row["lot"]),
            trays=tuple(_text(tray) for tray in books.get("trays", row.get("trays", ()))),
            entry=Entry.from_keys(keys),
            at=at,
            said_at=_read_instant(books["said_at"]) if "said_at" in books else at,
            by=by,
            told_by=_text(books.get("told_by", by)),
            said=_text(row.get("said") or ""),
            message=_text(books.get("message", f"import:{row['id']}")),
            reminder=None if books.get("reminder") is None else _text(books["reminder"]),
            superseded_by=None if pointer is None else _number(pointer),
            taken_back=bool(row.get("taken_back", False)),
        )
    except BenchError as wrong:
        raise BadRow(f"row {place}: {wrong}", words=wrong.words, hint=wrong.hint) from wrong
    except KeyError as missing:
        raise BadRow(f"row {place} has no {missing.args[0]}", words=str(missing.args[0])) from missing
    except (TypeError, ValueError, AttributeError) as wrong:
        raise BadRow(f"row {place}: {wrong}", words=str(dict(row))[:200]) from wrong


class Imports(Journal):
    """The way back into a crew's books."""

    def import_rows(self, rows: Iterable[Mapping[str, Any]]) -> tuple[str, ...]:
        """Writes exported rows into empty books under their own numbers; returns the lots that they name.

        Lots and reminders follow from records: fold and plan those lots afterwards. Raises NotEmpty where the crew has
        records already, and BadRow for a row that is none, a number that comes twice, or a successor that is missing.
        """
        count = self._connection.execute(
            select(func.count()).select_from(records).where(records.c.crew_id == self._crew_id)
        ).scalar_one()
        if count:
            raise NotEmpty(f"these books hold {count} records already", hint="import into a new database")
        seen: set[int] = set()
        pointed_to: dict[int, int] = {}
        marked: list[int] = []
        named: dict[str, None] = {}
        superseded: set[int] = set()
        waiting: list[Record] = []
        for place, row in enumerate(rows, start=1):
            record = read_row(row, place)
            if record.number in seen:
                raise BadRow(f"row {place}: there are two rows {record.number}", words=str(record.number))
            seen.add(record.number)
            if record.superseded_by is not None:
                superseded.add(record.number)
                pointed_to.setdefault(record.superseded_by, place)
            if record.superseded_by is not None or record.taken_back:
                marked.append(record.number)
            if record.lot is not None:
                named[record.lot] = None
            waiting.append(record)
            if len(waiting) == _AT_A_TIME:
                self._write_rows(waiting)
                waiting.clear()
        self._write_rows(waiting)
        for number, place in pointed_to.items():
            if number not in seen:
                raise BadRow(f"row {place} is superseded by {number}, which is missing", words=str(number))
        self._settle(sorted(superseded, reverse=True))
        self._settle(marked)
        return tuple(named)


def back_up(engine: Engine, path: Path) -> None:
    """Copies a SQLite database into one file while it is in use, and checks the copy.

    The file appears whole or not at all; an older copy of the same name is replaced. Raises BadAddress on PostgreSQL
    (its own tools copy it) and where `path` is the database itself, BooksBroken where the copy is not sound.
    """
    if engine.dialect.name != "sqlite":
        raise BadAddress("only a SQLite file is copied like this", hint="use pg_dump for a PostgreSQL database")
    source_path = Path(engine.url.database or "")
    if path.exists() and source_path.exists() and os.path.samefile(path, source_path):
        raise BadAddress("a copy needs another name than the books themselves", words=str(path))
    partial = path.with_name(path.name + ".part")
    partial.unlink(missing_ok=True)
    try:
        with closing(sqlite3.connect(source_path)) as source, closing(sqlite3.connect(partial)) as copy:
            source.backup(copy)
            copy.execute("PRAGMA journal_mode=DELETE")
            verdict = copy.execute("PRAGMA integrity_check").fetchone()[0]
        if verdict != "ok":
            raise BooksBroken("the copy is not sound", words=str(verdict))
        with partial.open("rb+") as written:
            os.fsync(written.fileno())
        os.replace(partial, path)
    finally:
        partial.unlink(missing_ok=True)


def _write_instant(at: datetime) -> str:
    return at.astimezone(UTC).isoformat().replace("+00:00", "Z")


def _read_instant(text: Any) -> datetime:
    at = datetime.fromisoformat(_text(text))
    if at.tzinfo is None:
        raise ValueError(f"an instant needs its zone: {text}")
    return at.astimezone(UTC)


def _text(value: Any) -> str:
    if not isinstance(value, str):
        raise TypeError(f"{value!r} is not text")
    return value


def _number(value: Any) -> int:
    if not isinstance(value, int) or isinstance(value, bool) or not 0 < value <= _LARGEST_NUMBER:
        raise ValueError(f"{value!r} is no record number")
    return value
