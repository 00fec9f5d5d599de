"""What the tables are: SQLModel classes, known to this folder only.

Rules
1. Every row belongs to a crew. Every constraint and index has a name, by the convention below or given.
2. States and roles are text with a named check. No relationships: rows are read and written by plain statements.
3. A change here is a new numbered step in `migrations/versions`; a test compares the two.
"""

from datetime import datetime
from typing import Any, ClassVar

from sqlalchemy import CheckConstraint, ForeignKeyConstraint, Index, MetaData, Table, UniqueConstraint
from sqlalchemy.orm import registry
from sqlmodel import Field, SQLModel

from core.storage.columns import JsonText, UtcDateTime, Words
from core.storage.values import OUTBOX_STATES, REMINDER_STATES, ROLES

CONVENTION = {
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
    "fk": "fk_%(table_name)s_%(column_0_N_name)s",
    "pk": "pk_%(table_name)s",
}
METADATA = MetaData(naming_convention=CONVENTION)


class Row(SQLModel, registry=registry(metadata=METADATA)):
    """A row of any table here."""

    metadata: ClassVar[MetaData] = METADATA


def _of_crew() -> Any:
    return Field(foreign_key="crew.id")


def _crew_key() -> Any:
    return Field(foreign_key="crew.id", primary_key=True)


def _words(default: Any = ..., **more: Any) -> Any:
    return Field(default, sa_type=Words, **more)


def _instant(default: Any = ..., **more: Any) -> Any:
    return Field(default, sa_type=UtcDateTime, **more)


def _json(default: Any = ..., **more: Any) -> Any:
    return Field(default, sa_type=JsonText, **more)


def _one_of(column: str, words: tuple[str, ...]) -> CheckConstraint:
    listed = ", ".join(f"'{word}'" for word in words)
    return CheckConstraint(f"{column} in ({listed})", name=f"known_{column}")


class CrewRow(Row, table=True):
    __tablename__ = "crew"
    __table_args__ = (UniqueConstraint("code"),)
    id: int | None = Field(default=None, primary_key=True)
    name: str = _words()
    zone: str = _words()
    code: str = _words()
    group_channel: str | None = _words(None)
    group_chat: str | None = _words(None)


class MemberRow(Row, table=True):
    __tablename__ = "member"
    __table_args__ = (
        UniqueConstraint("crew_id", "name"),
        UniqueConstraint("crew_id", "channel", "user_id"),
        Index(None, "channel", "user_id"),
        _one_of("role", ROLES),
    )
    id: int | None = Field(default=None, primary_key=True)
    crew_id: int = _of_crew()
    name: str = _words()
    role: str = _words()
    channel: str | None = _words(None)
    user_id: str | None = _words(None)
    private_chat: str | None = _words(None)


class ChatRow(Row, table=True):
    __tablename__ = "chat"
    __table_args__ = (UniqueConstraint("channel", "chat"), Index(None, "crew_id", "chat"))
    id: int | None = Field(default=None, primary_key=True)
    crew_id: int = _of_crew()
    channel: str = _words()
    chat: str = _words()
    private: bool
    parked_at: datetime | None = _instant(None)


class SettingRow(Row, table=True):
    __tablename__ = "setting"
    crew_id: int = _crew_key()
    key: str = _words(primary_key=True)
    text: str = _words()


class LearnedRow(Row, table=True):
    __tablename__ = "learned"
    __table_args__ = (UniqueConstraint("crew_id", "kind", "name"),)
    id: int | None = Field(default=None, primary_key=True)
    crew_id: int = _of_crew()
    kind: str = _words()
    name: str = _words()


class MessageRow(Row, table=True):
    __tablename__ = "message"
    __table_args__ = (
        UniqueConstraint("crew_id", "channel", "chat", "message_id", "edit"),
        UniqueConstraint("crew_id", "key"),
        Index(None, "crew_id", "chat", "said_at"),
    )
    id: int | None = Field(default=None, primary_key=True)
    crew_id: int = _of_crew()
    key: str = _words()
    channel: str = _words()
    chat: str = _words()
    message_id: str = _words()
    edit: int
    speaker: str = _words()
    text: str = _words()
    said_at: datetime = _instant()
    heard_at: datetime = _instant()
    replied_to: str | None = _words(None)


class RecordRow(Row, table=True):
    __tablename__ = "record"
    __table_args__ = (
        Index(None, "crew_id", "lot"),
        Index(None, "crew_id", "message_key"),
        Index(None, "crew_id", "superseded_by"),
        Index(None, "crew_id", "act", "at"),
        Index(None, "crew_id", "plant", "at"),
        Index(None, "crew_id", "at"),
        Index(None, "crew_id", "told_by", "number"),
    )
    crew_id: int = _crew_key()
    number: int = Field(primary_key=True, sa_column_kwargs={"autoincrement": False})
    act: str = _words()
    lot: str | None = _words(None)
    plant: str | None = _words(None)
    at: datetime = _instant()
    said_at: datetime = _instant()
    done_by: str = _words()
    told_by: str = _words()
    said: str = _words()
    message_key: str = _words()
    reminder_key: str | None = _words(None)
    superseded_by: int | None = None
    taken_back: bool = False
    stands: bool = True
    trays: Any = _json(nullable=False)
    entry: Any = _json(nullable=False)


class RecordTrayRow(Row, table=True):
    __tablename__ = "record_tray"
    __table_args__ = (
        ForeignKeyConstraint(["crew_id", "number"], ["record.crew_id", "record.number"]),
        Index(None, "crew_id", "number"),
    )
    crew_id: int = Field(primary_key=True)
    tray: str = _words(primary_key=True)
    number: int = Field(primary_key=True, sa_column_kwargs={"autoincrement": False})


class LotRow(Row, table=True):
    __tablename__ = "lot"
    __table_args__ = (
        Index(None, "crew_id", "year", "serial"),
        Index(None, "crew_id", "tail"),
        Index(None, "crew_id", "plant"),
        Index(None, "crew_id", "closed", "opened_at"),
    )
    crew_id: int = _crew_key()
    number: str = _words(primary_key=True)
    year: int
    serial: int | None = None
    tail: str = _words()
    plant: str = _words()
    kind: str = _words()
    stage: str = _words()
    closed: bool
    opened_at: datetime = _instant()
    body: Any = _json(nullable=False)


class LotTrayRow(Row, table=True):
    __tablename__ = "lot_tray"
    __table_args__ = (
        ForeignKeyConstraint(["crew_id", "number"], ["lot.crew_id", "lot.number"]),
        Index(None, "crew_id", "number"),
    )
    crew_id: int = Field(primary_key=True)
    tray: str = _words(primary_key=True)
    number: str = _words(primary_key=True)


class ReminderRow(Row, table=True):
    __tablename__ = "reminder"
    __table_args__ = (
        UniqueConstraint("crew_id", "key"),
        Index(None, "state", "due_at"),
        Index(None, "state", "again_at"),
        Index(None, "crew_id", "state", "due_at"),
        Index(None, "crew_id", "subject_kind", "subject_name", "state"),
        Index(None, "crew_id", "closed_in"),
        _one_of("state", REMINDER_STATES),
    )
    id: int | None = Field(default=None, primary_key=True)
    crew_id: int = _of_crew()
    key: str = _words()
    subject_kind: str = _words()
    subject_name: str = _words()
    kind: str = _words()
    step: int
    planned_at: datetime = _instant()
    due_at: datetime = _instant()
    last_useful_at: datetime | None = _instant(None)
    timed: bool
    critical: bool
    soft: bool
    facts: Any = _json(nullable=False)
    done_means: Any = _json(None, nullable=True)
    to_name: str | None = _words(None)
    chat: str | None = _words(None)
    state: str = _words()
    claimed_at: datetime | None = _instant(None)
    sent_at: datetime | None = _instant(None)
    said_times: int = 0
    said_in: int | None = None
    said_chat: str | None = _words(None)
    again_at: datetime | None = _instant(None)
    closed_at: datetime | None = _instant(None)
    closed_by: str | None = _words(None)
    closed_in: str | None = _words(None)


class QuestionRow(Row, table=True):
    __tablename__ = "question"
    __table_args__ = (Index(None, "crew_id", "chat", "speaker", "closed"), Index(None, "crew_id", "message_key"))
    id: int | None = Field(default=None, primary_key=True)
    crew_id: int = _of_crew()
    chat: str = _words()
    speaker: str = _words()
    kind: str = _words()
    draft: Any = _json(nullable=False)
    message_key: str | None = _words(None)
    asked_at: datetime = _instant()
    expires_at: datetime = _instant()
    outbox_id: int | None = None
    closed: bool = False


class OutboxRow(Row, table=True):
    __tablename__ = "outbox"
    __table_args__ = (
        Index(None, "state", "channel", "chat", "id"),
        Index(None, "crew_id", "chat", "sent_message_id"),
        Index(None, "crew_id", "answers"),
        _one_of("state", OUTBOX_STATES),
    )
    id: int | None = Field(default=None, primary_key=True)
    crew_id: int = _of_crew()
    channel: str = _words()
    chat: str = _words()
    text: str = _words()
    buttons: Any = _json(nullable=False)
    reply_to: str | None = _words(None)
    document: str | None = _words(None)
    answers: str | None = _words(None)
    state: str = _words()
    posted_at: datetime = _instant()
    not_before: datetime | None = _instant(None)
    retry_at: datetime | None = _instant(None)
    claimed_at: datetime | None = _instant(None)
    tries: int = 0
    doubtful: bool = False
    sent_at: datetime | None = _instant(None)
    sent_message_id: str | None = _words(None)
    trouble: str | None = _words(None)


class OutboxRecordRow(Row, table=True):
    __tablename__ = "outbox_record"
    __table_args__ = (ForeignKeyConstraint(["crew_id", "number"], ["record.crew_id", "record.number"]),)
    crew_id: int = Field(primary_key=True)
    outbox_id: int = Field(foreign_key="outbox.id", primary_key=True)
    number: int = Field(primary_key=True, sa_column_kwargs={"autoincrement": False})


class OutboxReminderRow(Row, table=True):
    __tablename__ = "outbox_reminder"
    crew_id: int = _crew_key()
    outbox_id: int = Field(foreign_key="outbox.id", primary_key=True)
    reminder_id: int = Field(foreign_key="reminder.id", primary_key=True)


class ButtonRow(Row, table=True):
    __tablename__ = "button"
    token: str = _words(primary_key=True)
    crew_id: int = _of_crew()
    outbox_id: int = Field(foreign_key="outbox.id")
    label: str = _words()
    action: Any = _json(nullable=False)


class PhotoRow(Row, table=True):
    __tablename__ = "photo"
    __table_args__ = (Index(None, "crew_id", "at"),)
    id: int | None = Field(default=None, primary_key=True)
    crew_id: int = _of_crew()
    file: str = _words()
    caption: str = _words()
    sent_by: str = _words()
    at: datetime = _instant()


class PhotoLotRow(Row, table=True):
    __tablename__ = "photo_lot"
    crew_id: int = _crew_key()
    lot: str = _words(primary_key=True)
    photo_id: int = Field(foreign_key="photo.id", primary_key=True)


class RefusedUpdateRow(Row, table=True):
    __tablename__ = "refused_update"
    id: int | None = Field(default=None, primary_key=True)
    crew_id: int | None = Field(default=None, foreign_key="crew.id")
    channel: str = _words()
    raw: str = _words()
    why: str = _words()
    at: datetime = _instant()


def _table(row: type[Row]) -> Table:
    table: Table = row.__table__  # type: ignore[attr-defined]
    return table


crews, members, chats = _table(CrewRow), _table(MemberRow), _table(ChatRow)
settings, learned = _table(SettingRow), _table(LearnedRow)
messages, records, record_trays = _table(MessageRow), _table(RecordRow), _table(RecordTrayRow)
lots, lot_trays = _table(LotRow), _table(LotTrayRow)
reminders, questions = _table(ReminderRow), _table(QuestionRow)
outbox, outbox_records, outbox_reminders = _table(OutboxRow), _table(OutboxRecordRow), _table(OutboxReminderRow)
buttons, photos, photo_lots = _table(ButtonRow), _table(PhotoRow), _table(PhotoLotRow)
refused_updates = _table(RefusedUpdateRow)
