"""What comes out of storage: frozen values, never rows."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime
from typing import Any, Final
from zoneinfo import ZoneInfo

from core.entries import Entry
from core.records import Record
from core.reminders import Due

REMINDER_STATES: Final = ("planned", "claimed", "sent", "confirmed", "skipped", "cancelled", "asked", "gone")
OPEN_STATES: Final = ("planned", "claimed", "sent")
CLOSED_HOW: Final = ("confirmed", "skipped", "cancelled", "asked", "gone")
OUTBOX_STATES: Final = ("waiting", "sending", "sent", "unknown", "refused", "unreachable")
ROLES: Final = ("lead", "member")


@dataclass(frozen=True, slots=True, kw_only=True)
class Crew:
    """A crew: its zone, the code that lets a lead in, its lead's name, and the chat that reminders go to."""

    number: int
    name: str
    zone: ZoneInfo
    code: str
    lead: str | None = None
    group_channel: str | None = None
    group_chat: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Member:
    """Somebody of the crew: role `lead` or `member`, the account they write from, and the private chat where known."""

    number: int
    name: str
    role: str
    channel: str | None = None
    user_id: str | None = None
    private_chat: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Heard:
    """A message that the journal holds, and the outbox numbers of what was answered to it."""

    key: str
    channel: str
    chat: str
    message_id: str
    edit: int
    speaker: str
    text: str
    said_at: datetime
    answers: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordDraft:
    """A record before the books have given it a number."""

    lot: str | None
    trays: tuple[str, ...]
    entry: Entry
    at: datetime
    said_at: datetime
    by: str
    told_by: str
    said: str
    message: str
    reminder: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class SpokenOf:
    """What a message was about: records that hold now, reminder numbers, its own words, what it answers (a key)."""

    records: tuple[Record, ...] = ()
    reminders: tuple[int, ...] = ()
    text: str = ""
    answers: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """What a new plan changed: added dues, cancelled ones (as they were stored), and those kept."""

    added: tuple[Due, ...] = ()
    cancelled: tuple[StoredReminder, ...] = ()
    kept: tuple[Due, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class StoredReminder:
    """A reminder as stored. `due` is as planned; `due_at` is when it comes now (later where it was put off).

    `said_in` is the outbox number of the message that said it last, `said_chat` that message's chat; `said_times`
    counts how often it was said; `again_at` is when it is to be said once more, where it is.
    """

    number: int
    crew: int
    due: Due
    state: str
    due_at: datetime
    said_times: int = 0
    sent_at: datetime | None = None
    said_in: int | None = None
    said_chat: str | None = None
    again_at: datetime | None = None
    closed_at: datetime | None = None
    closed_by: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class OutboxMessage:
    """A message of the bot's: its words and buttons (label, token), where it goes, and how its sending stands.

    `doubtful` is True where an earlier try may have arrived, so that a repeat can say so. `answers` is the key of the
    message that it answers.
    """

    number: int
    crew: int
    channel: str
    chat: str
    text: str
    state: str
    buttons: tuple[tuple[str, str], ...] = ()
    reply_to: str | None = None
    document: str | None = None
    answers: str | None = None
    posted_at: datetime | None = None
    not_before: datetime | None = None
    retry_at: datetime | None = None
    tries: int = 0
    doubtful: bool = False
    sent_at: datetime | None = None
    sent_message_id: str | None = None
    trouble: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenQuestion:
    """A question that the bot asked and nobody has answered yet."""

    number: int
    chat: str
    speaker: str
    kind: str
    draft: dict[str, Any]
    asked_at: datetime
    expires_at: datetime
    outbox: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class KnownNames:
    """Names that the crew has used, oldest first."""

    plants: tuple[str, ...] = ()
    people: tuple[str, ...] = ()
    places: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Photo:
    """A picture that somebody sent, by the channel's name of the file, and the lots that its caption names."""

    number: int
    file: str
    caption: str
    by: str
    at: datetime
    lots: tuple[str, ...] = field(default=())
