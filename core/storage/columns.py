"""How values become columns: instants, words and JSON.

Rules
1. An instant is aware or it is refused; it is stored as UTC and comes back aware, on both databases.
2. Words may hold anything a phone can send; what no database holds (a zero character, half a surrogate pair) becomes
   U+FFFD.
3. JSON is text, written in one way (sorted keys, ASCII), so that equal values are equal text.
"""

from __future__ import annotations

import json
import re
from datetime import UTC, datetime
from typing import Any

from sqlalchemy import DateTime, Dialect, Text
from sqlalchemy.types import TypeDecorator

_UNSTORABLE = re.compile("[\x00\ud800-\udfff]")


class UtcDateTime(TypeDecorator[datetime]):
    """An aware instant, stored in UTC. Raises ValueError for a naive datetime."""

    impl = DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        if value is None:
            return None
        if value.tzinfo is None:
            raise ValueError(f"an instant needs its zone: {value.isoformat()}")
        utc = value.astimezone(UTC)
        return utc.replace(tzinfo=None) if dialect.name == "sqlite" else utc

    def process_result_value(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        if value is None:
            return None
        return value.replace(tzinfo=UTC) if value.tzinfo is None else value.astimezone(UTC)


class Words(TypeDecorator[str]):
    """Text as people write it, with what no database holds replaced by U+FFFD."""

    impl = Text
    cache_ok = True

    def process_bind_param(self, value: str | None, dialect: Dialect) -> str | None:
        return None if value is None else _UNSTORABLE.sub("\ufffd", value)


class JsonText(TypeDecorator[Any]):
    """A JSON value as text. Raises TypeError for what JSON cannot say and ValueError for a number that is none."""

    impl = Text
    cache_ok = True

    def process_bind_param(self, value: Any, dialect: Dialect) -> str | None:
        return None if value is None else json.dumps(value, sort_keys=True, separators=(",", ":"), allow_nan=False)

    def process_result_value(self, value: str | None, dialect: Dialect) -> Any:
        return None if value is None else json.loads(value)
