"""The books: what is kept, and the only door to SQL. Names are loaded when they are first asked for."""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any, Final

from core.storage.faults import BadAddress, BadRow, BooksNewer, NameTaken, NoSuchCrew, NotEmpty
from core.storage.values import (
    Crew,
    Difference,
    Heard,
    KnownNames,
    Member,
    OpenQuestion,
    OutboxMessage,
    Photo,
    RecordDraft,
    SpokenOf,
    StoredReminder,
)

if TYPE_CHECKING:
    from core.storage.store import Books, Store, open_store

__all__ = [
    "BadAddress",
    "BadRow",
    "Books",
    "BooksNewer",
    "Crew",
    "Difference",
    "Heard",
    "KnownNames",
    "Member",
    "NameTaken",
    "NoSuchCrew",
    "NotEmpty",
    "OpenQuestion",
    "OutboxMessage",
    "Photo",
    "RecordDraft",
    "SpokenOf",
    "Store",
    "StoredReminder",
    "open_store",
]

_LATER: Final = {"Books", "Store", "open_store"}


def __getattr__(name: str) -> Any:
    if name in _LATER:
        return getattr(import_module("core.storage.store"), name)
    raise AttributeError(f"core.storage has no {name}")
