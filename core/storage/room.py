"""What every part of the books stands on: one transaction of one crew."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from sqlalchemy import Connection, Row, Select, Table, insert, update

from core.errors import BooksBroken


class Room:
    """One crew's share of the database, inside one transaction."""

    def __init__(self, connection: Connection, crew_id: int) -> None:
        self._connection = connection
        self._crew_id = crew_id
        self._heard_key: str | None = None

    def _rows(self, query: Select[Any]) -> list[Row[Any]]:
        return list(self._connection.execute(query).all())

    def _row(self, query: Select[Any]) -> Row[Any] | None:
        return self._connection.execute(query.limit(1)).first()

    def _add(self, table: Table, **values: Any) -> int:
        """Writes one row of this crew and returns its number."""
        written = self._connection.execute(insert(table).values(crew_id=self._crew_id, **values))
        key = written.inserted_primary_key
        if key is None:
            raise BooksBroken(f"{table.name} gave no number")
        return int(key[-1])

    def _change(self, table: Table, number: int, values: Mapping[str, Any]) -> None:
        """Changes the row with this `id`, where it is this crew's."""
        self._connection.execute(
            update(table).where(table.c.crew_id == self._crew_id, table.c.id == number).values(**values)
        )
