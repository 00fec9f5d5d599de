"""What was said: the messages of a crew, each known once.

Rules
1. A message is known by channel, chat, message id and edit; heard again, it is the same message.
2. All versions of a message have its channel, chat and id in common.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from sqlalchemy import Row, and_, select

from core.storage.room import Room
from core.storage.tables import messages, outbox
from core.storage.values import Heard

_LATELY = 8
"""How many messages back somebody is looked for what a talk is about (common practice)."""


def key_of_message(channel: str, chat: str, message_id: str, edit: int) -> str:
    """The one key under which records, answers and questions know a message."""
    return f"{channel}:{chat}:{message_id}:{edit}"


class Messages(Room):
    """The messages of one crew."""

    def hear(self, message: Mapping[str, Any], now: datetime) -> tuple[str, bool]:
        """Keeps a message; returns its key and whether it is heard for the first time.

        `message` holds channel, chat, message_id, edit, speaker, text, said_at, and may hold replied_to.
        """
        channel, chat, message_id = str(message["channel"]), str(message["chat"]), str(message["message_id"])
        edit = int(message.get("edit", 0))
        known = self.heard(channel, chat, message_id, edit)
        if known is not None:
            return known.key, False
        key = key_of_message(channel, chat, message_id, edit)
        self._add(
            messages,
            key=key,
            channel=channel,
            chat=chat,
            message_id=message_id,
            edit=edit,
            speaker=message["speaker"],
            text=message["text"],
            said_at=message["said_at"],
            heard_at=now,
            replied_to=message.get("replied_to"),
        )
        self._heard_key = key
        return key, True

    def heard(self, channel: str, chat: str, message_id: str, edit: int = 0) -> Heard | None:
        """The message under this key with the numbers of its answers, or None where it was never heard."""
        row = self._row(
            select(messages).where(
                messages.c.crew_id == self._crew_id,
                messages.c.channel == channel,
                messages.c.chat == chat,
                messages.c.message_id == message_id,
                messages.c.edit == edit,
            )
        )
        return None if row is None else self._heard_from(row)

    def latest_message(self, chat: str, speaker: str) -> Heard | None:
        """What this speaker said last in this chat."""
        row = self._row(
            select(messages)
            .where(messages.c.crew_id == self._crew_id, messages.c.chat == chat, messages.c.speaker == speaker)
            .order_by(messages.c.said_at.desc(), messages.c.id.desc())
        )
        return None if row is None else self._heard_from(row)

    def words_before(
        self, chat: str, speaker: str | None = None, *, since: datetime, until: datetime, but: str
    ) -> str | None:
        """What was last said in this chat between these instants, by whom it may be; message `but` is left out."""
        query = (
            select(messages.c.text)
            .where(
                messages.c.crew_id == self._crew_id,
                messages.c.chat == chat,
                messages.c.message_id != but,
                messages.c.said_at >= since,
                messages.c.said_at <= until,
            )
            .order_by(messages.c.said_at.desc(), messages.c.id.desc())
        )
        row = self._row(query if speaker is None else query.where(messages.c.speaker == speaker))
        return None if row is None else str(row.text)

    def words_lately(self, chat: str, *, since: datetime, until: datetime, but: str) -> str:
        """All that was said in this chat after `since` and up to `until`, a line a message; `but` is left out."""
        rows = self._rows(
            select(messages.c.text)
            .where(
                messages.c.crew_id == self._crew_id,
                messages.c.chat == chat,
                messages.c.message_id != but,
                messages.c.said_at > since,
                messages.c.said_at <= until,
            )
            .order_by(messages.c.said_at, messages.c.id)
        )
        return "\n".join(str(row.text) for row in rows)

    def said_lately(
        self, chat: str, speaker: str, *, since: datetime, until: datetime, but: str
    ) -> tuple[tuple[str, str], ...]:
        """Key and words of this speaker's latest messages in this chat, the last first; `but` is left out."""
        rows = self._rows(
            select(messages.c.key, messages.c.text)
            .where(
                messages.c.crew_id == self._crew_id,
                messages.c.chat == chat,
                messages.c.speaker == speaker,
                messages.c.message_id != but,
                messages.c.said_at >= since,
                messages.c.said_at <= until,
            )
            .order_by(messages.c.said_at.desc(), messages.c.id.desc())
            .limit(_LATELY)
        )
        return tuple((str(row.key), str(row.text)) for row in rows)

    def came_after(self, key: str, than: str) -> bool:
        """True where the message with `key` was heard later than the message `than`."""
        rows = self._rows(
            select(messages.c.key, messages.c.id).where(
                messages.c.crew_id == self._crew_id, messages.c.key.in_([key, than])
            )
        )
        heard = {row.key: row.id for row in rows}
        return key in heard and than in heard and bool(heard[key] > heard[than])

    def words_of(self, key: str) -> str | None:
        """The words of the message with this key."""
        row = self._row(select(messages.c.text).where(messages.c.crew_id == self._crew_id, messages.c.key == key))
        return None if row is None else str(row.text)

    def message(self, chat: str, message_id: str) -> Heard | None:
        """The latest version of a message of this chat."""
        row = self._row(
            select(messages)
            .where(messages.c.crew_id == self._crew_id, messages.c.chat == chat, messages.c.message_id == message_id)
            .order_by(messages.c.edit.desc())
        )
        return None if row is None else self._heard_from(row)

    def first_key(self, channel: str, chat: str, message_id: str) -> str | None:
        """The key of the earliest version of a message that was heard, or None."""
        row = self._row(
            select(messages.c.key)
            .where(
                messages.c.crew_id == self._crew_id,
                messages.c.channel == channel,
                messages.c.chat == chat,
                messages.c.message_id == message_id,
            )
            .order_by(messages.c.edit)
        )
        return None if row is None else str(row.key)

    def _heard_from(self, row: Row[Any]) -> Heard:
        answers = self._rows(
            select(outbox.c.id)
            .where(outbox.c.crew_id == self._crew_id, outbox.c.answers == row.key)
            .order_by(outbox.c.id)
        )
        return Heard(
            key=row.key,
            channel=row.channel,
            chat=row.chat,
            message_id=row.message_id,
            edit=row.edit,
            speaker=row.speaker,
            text=row.text,
            said_at=row.said_at,
            answers=tuple(one.id for one in answers),
        )

    def _keys_of_edits(self, key: str) -> list[str]:
        """The keys of all versions of the message that has `key`."""
        one = messages.alias("one")
        rows = self._rows(
            select(messages.c.key).join(
                one,
                and_(
                    one.c.crew_id == messages.c.crew_id,
                    one.c.channel == messages.c.channel,
                    one.c.chat == messages.c.chat,
                    one.c.message_id == messages.c.message_id,
                ),
            ).where(messages.c.crew_id == self._crew_id, one.c.key == key)
        )  # fmt: skip
        return [row.key for row in rows] or [key]
