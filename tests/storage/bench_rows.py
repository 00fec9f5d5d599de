"""Values for the tests of storage: a crew of our own invention, its notes, records, lots and reminders."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from core.entries import Act, Entry
from core.lots import Lot
from core.reminders import Due, Subject
from core.storage import Books, Crew, RecordDraft, Store

NOW = datetime(2026, 3, 2, 17, 10, tzinfo=UTC)
MINUTE = timedelta(minutes=1)
HOUR = timedelta(hours=1)
DAY = timedelta(days=1)
ZONE = ZoneInfo("America/Los_Angeles")
CHAT = "bench"


def found(store: Store, name: str = "Wren Gulch Growers", code: str = "kestrel") -> Crew:
    return store.found_crew(name, ZONE, code)


def said(message_id: int | str, text: str = "misted tray 2", **more: Any) -> dict[str, Any]:
    values: dict[str, Any] = {
        "channel": "console", "chat": CHAT, "message_id": str(message_id), "edit": 0, "speaker": "ilse", "text": text,
        "said_at": NOW,
    }  # fmt: skip
    return values | more


def draft(key: str = "k", act: Act = Act.WATER, **more: Any) -> RecordDraft:
    entry_keys = {name: more.pop(name) for name in ("plant", "count", "cause", "method") if name in more}
    values: dict[str, Any] = {
        "lot": None, "trays": (), "entry": Entry(act=act, **entry_keys), "at": NOW, "said_at": NOW, "by": "ilse",
        "told_by": "ilse", "said": "misted tray 2", "message": key,
    }  # fmt: skip
    return RecordDraft(**(values | more))


def lot(number: str = "26-001", **more: Any) -> Lot:
    values: dict[str, Any] = {
        "number": number, "kind": "cuttings", "plant": "coyote brush", "opened_at": NOW, "opened_by": "ilse",
        "started": 72,
    }  # fmt: skip
    return Lot(**(values | more))


def due(step: int = 1, at: datetime = NOW, kind: str = "vent", name: str = "2", **more: Any) -> Due:
    subject = Subject(kind=more.pop("subject_kind", "tray"), name=name)
    return Due(subject=subject, kind=kind, step=step, due_at=at, timed=more.pop("timed", True), **more)


TRAY_2 = Subject(kind="tray", name="2")


def say_due(books: Books, numbers: list[int], at: datetime = NOW, **more: Any) -> int:
    """Puts reminders into the outbox as a tick does, and returns the number of the message."""
    message = books.post(chat=CHAT, text="vent tray 2", at=at, reminders=numbers)
    books.mark_sent(numbers, at, message.number, **more)
    return message.number
