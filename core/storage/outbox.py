"""What the bot has to say, and what it spoke of: messages that wait for the postman, their buttons and their subjects.

Rules
1. Order is per chat: only the first message of a chat that is not yet sent is given to a postman.
2. A postman takes a message for `SENDING_LASTS`; one that was taken and never settled is offered again, as doubtful.
3. A chat that cannot be reached is parked; it is tried again after somebody writes there.
4. Messages of reminders leave a chat at least `REMINDERS_APART`; what answers a person goes ahead of one that waits.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import UTC, datetime, timedelta
from typing import Any, Final

from sqlalchemy import ColumnElement, Connection, Row, and_, exists, func, insert, or_, select, update

from core.storage.crews import Crews
from core.storage.journal import Journal
from core.storage.tables import buttons, chats, outbox, outbox_records, outbox_reminders
from core.storage.values import OUTBOX_STATES, OutboxMessage, SpokenOf

SENDING_LASTS: Final = timedelta(minutes=2)
"""How long a postman may take over one message (the longest send plus its waits, with room to spare)."""
PARKED_KEEPS: Final = timedelta(hours=24)
"""How old a message may be that is still told when a parked chat comes back (common practice)."""

REMINDERS_APART: Final = timedelta(minutes=1)
"""A chat gets at most one message of reminders a minute, however late the one before it left."""

_DIGITS: Final = "0123456789abcdefghijklmnopqrstuvwxyz"


def outbox_message(row: Row[Any]) -> OutboxMessage:
    """The message that a row of the outbox holds."""
    return OutboxMessage(
        number=row.id,
        crew=row.crew_id,
        channel=row.channel,
        chat=row.chat,
        text=row.text,
        state=row.state,
        buttons=tuple((label, token) for label, token in row.buttons),
        reply_to=row.reply_to,
        document=row.document,
        answers=row.answers,
        posted_at=row.posted_at,
        not_before=row.not_before,
        retry_at=row.retry_at,
        tries=row.tries,
        doubtful=row.doubtful,
        sent_at=row.sent_at,
        sent_message_id=row.sent_message_id,
        trouble=row.trouble,
    )


def take_due(
    connection: Connection, now: datetime, limit: int, *, channel: str | None, lease: timedelta = SENDING_LASTS
) -> tuple[OutboxMessage, ...]:
    """Takes the first message of each chat that may be sent now, in the order they were posted.

    A message of reminders whose chat has just had one is put back for the rest of the minute.
    """
    _offer_again(connection, now - lease)
    while taken := _take_first_ones(connection, now, limit, channel):
        kept = [row for row in taken if not _put_back(connection, row, now)]
        if kept:
            return tuple(outbox_message(row) for row in kept)
    return ()


def _take_first_ones(connection: Connection, now: datetime, limit: int, channel: str | None) -> Sequence[Row[Any]]:
    pending = outbox.alias("pending")
    heads = (
        select(func.min(pending.c.id))
        .where(pending.c.state.in_(("waiting", "sending")), _may_go(pending.c, now))
        .group_by(pending.c.channel, pending.c.chat)
    )
    parked = exists().where(
        chats.c.channel == outbox.c.channel, chats.c.chat == outbox.c.chat, chats.c.parked_at.is_not(None)
    )
    ready = (
        select(outbox.c.id)
        .where(
            outbox.c.id.in_(heads),
            outbox.c.state == "waiting",
            or_(outbox.c.retry_at.is_(None), outbox.c.retry_at <= now),
            ~parked,
        )
        .order_by(outbox.c.id)
        .limit(limit)
        .with_for_update(skip_locked=True)
    )
    if channel is not None:
        ready = ready.where(outbox.c.channel == channel)
    # Named, so that it runs once: inside IN, PostgreSQL may run it for every row and take more than the limit.
    first_ones = ready.cte("first_ones")
    taken = connection.execute(
        update(outbox)
        .where(outbox.c.id.in_(select(first_ones.c.id)), outbox.c.state == "waiting")
        .values(state="sending", claimed_at=now, tries=outbox.c.tries + 1)
        .returning(*outbox.c)
    )
    return sorted(taken, key=lambda row: int(row.id))


def _put_back(connection: Connection, row: Row[Any], now: datetime) -> bool:
    """True where a message of reminders was put back, because its chat has just had one."""
    if row.answers is not None or not _speaks_of_reminders(connection, row):
        return False
    before = outbox.alias("before")
    told = (
        select(before.c.sent_at)
        .where(
            before.c.state == "sent",
            before.c.channel == row.channel,
            before.c.chat == row.chat,
            before.c.answers.is_(None),
            exists().where(outbox_reminders.c.crew_id == before.c.crew_id, outbox_reminders.c.outbox_id == before.c.id),
        )
        .order_by(before.c.id.desc())
        .limit(1)
    )
    last: datetime | None = connection.execute(told).scalar()
    if last is None or not now - REMINDERS_APART < last <= now:
        return False
    connection.execute(
        update(outbox)
        .where(outbox.c.id == row.id)
        .values(state="waiting", claimed_at=None, tries=row.tries - 1, not_before=last + REMINDERS_APART)
    )
    return True


def _speaks_of_reminders(connection: Connection, row: Row[Any]) -> bool:
    here = (outbox_reminders.c.crew_id == row.crew_id, outbox_reminders.c.outbox_id == row.id)
    of_it = select(outbox_reminders.c.reminder_id).where(*here).limit(1)
    return connection.execute(of_it).first() is not None


def _may_go(columns: Any, now: datetime) -> ColumnElement[bool]:
    return or_(columns.not_before.is_(None), columns.not_before <= now)


def _offer_again(connection: Connection, before: datetime) -> None:
    stale = (
        select(outbox.c.id)
        .where(outbox.c.state == "sending", outbox.c.claimed_at <= before)
        .with_for_update(skip_locked=True)
    )
    connection.execute(
        update(outbox).where(outbox.c.id.in_(stale)).values(state="waiting", claimed_at=None, doubtful=True)
    )


def settle_sending(
    connection: Connection,
    number: int,
    state: str,
    *,
    at: datetime | None = None,
    sent_message_id: str | None = None,
    retry_at: datetime | None = None,
    trouble: str | None = None,
) -> None:
    """Writes how the sending of a message came out; see `Store.outbox_state`."""
    if state not in OUTBOX_STATES:
        raise ValueError(f"an outbox message is not {state!r}")
    row = connection.execute(select(outbox).where(outbox.c.id == number)).first()
    if row is None:
        return
    # An unknown outcome with a time to try again goes on waiting, marked as one that may have arrived.
    again = state == "unknown" and retry_at is not None
    values: dict[str, Any] = {"state": "waiting" if again else state, "retry_at": retry_at, "claimed_at": None}
    if state == "unknown":
        values["doubtful"] = True
    if trouble is not None:
        values["trouble"] = trouble
    if state == "sent":
        values |= {"sent_at": at, "sent_message_id": sent_message_id}
    connection.execute(update(outbox).where(outbox.c.id == number).values(**values))
    if state == "unreachable":
        connection.execute(
            update(chats)
            .where(chats.c.channel == row.channel, chats.c.chat == row.chat, chats.c.parked_at.is_(None))
            .values(parked_at=at or row.posted_at)
        )


class Outbox(Journal, Crews):
    """The outgoing messages of one crew."""

    def hear(self, message: Mapping[str, Any], now: datetime) -> tuple[str, bool]:
        """Keeps a message (see `Journal.hear`); its chat is known from then on, and not parked any more."""
        key, first_time = super().hear(message, now)
        if first_time:
            self.know_chat(str(message["channel"]), str(message["chat"]), private=message.get("private"))
            self._unpark(str(message["channel"]), str(message["chat"]), now)
        return key, first_time

    def _unpark(self, channel: str, chat: str, now: datetime) -> None:
        here = (chats.c.crew_id == self._crew_id, chats.c.channel == channel, chats.c.chat == chat)
        came_back = self._connection.execute(
            update(chats).where(*here, chats.c.parked_at.is_not(None)).values(parked_at=None)
        )
        if came_back.rowcount:
            self._connection.execute(
                update(outbox)
                .where(
                    outbox.c.crew_id == self._crew_id,
                    outbox.c.channel == channel,
                    outbox.c.chat == chat,
                    outbox.c.state == "waiting",
                    outbox.c.posted_at < now - PARKED_KEEPS,
                )
                .values(state="unreachable")
            )

    def post(
        self,
        *,
        chat: str,
        text: str,
        at: datetime,
        buttons: Iterable[tuple[str, Mapping[str, Any]]] = (),
        reply_to: str | None = None,
        not_before: datetime | None = None,
        document: str | None = None,
        records: Iterable[int] = (),
        reminders: Iterable[int] = (),
        channel: str | None = None,
        answers: str | None = None,
    ) -> OutboxMessage:
        """Puts a message into the outbox, for after the commit.

        `buttons` are labels with what pressing them does (JSON values). `records` and `reminders` are what it speaks
        of, so that a reply can find them. `answers` is the key of the message answered, by default the one heard in
        this transaction. `channel` is the chat's own where it is not said.
        """
        channel = channel or self._channel_of(chat)
        values: dict[str, Any] = {
            "channel": channel,
            "chat": chat,
            "text": text,
            "buttons": [],
            "reply_to": reply_to,
            "document": document,
            "answers": answers or self._heard_key,
            "state": "waiting",
            "posted_at": at,
            "not_before": not_before,
            "tries": 0,
            "doubtful": False,
        }
        number = self._add(outbox, **values)
        offered = self._offer_all(number, list(buttons))
        self._link(number, "number", outbox_records, records)
        self._link(number, "reminder_id", outbox_reminders, reminders)
        return OutboxMessage(
            number=number, crew=self._crew_id, channel=channel, chat=chat, text=text, state="waiting",
            buttons=tuple(offered), reply_to=reply_to, document=document, answers=values["answers"],
            posted_at=at.astimezone(UTC), not_before=None if not_before is None else not_before.astimezone(UTC),
        )  # fmt: skip

    def _offer_all(self, number: int, wanted: Sequence[tuple[str, Mapping[str, Any]]]) -> list[tuple[str, str]]:
        """Writes the buttons of a new message at once; returns their labels and tokens."""
        if not wanted:
            return []
        rows = [
            {"token": _token(number, place), "crew_id": self._crew_id, "outbox_id": number, "label": label,
             "action": dict(action)}
            for place, (label, action) in enumerate(wanted)
        ]  # fmt: skip
        self._connection.execute(insert(buttons), rows)
        offered = [(label, _token(number, place)) for place, (label, _) in enumerate(wanted)]
        self._change(outbox, number, {"buttons": [list(pair) for pair in offered]})
        return offered

    def _link(self, number: int, column: str, table: Any, spoken_of: Iterable[int]) -> None:
        rows = [{"crew_id": self._crew_id, "outbox_id": number, column: one} for one in dict.fromkeys(spoken_of)]
        if rows:
            self._connection.execute(insert(table), rows)

    def _channel_of(self, chat: str) -> str:
        row = self._row(
            select(chats.c.channel).where(chats.c.crew_id == self._crew_id, chats.c.chat == chat).order_by(chats.c.id)
        )
        if row is not None:
            return str(row.channel)
        return self.crew.group_channel or "console"

    def _offer(self, number: int, place: int, label: str, action: Mapping[str, Any]) -> str:
        token = _token(number, place)
        self._connection.execute(
            insert(buttons).values(
                token=token, crew_id=self._crew_id, outbox_id=number, label=label, action=dict(action)
            )
        )
        return token

    def offer(self, number: int, label: str, action: Mapping[str, Any]) -> str:
        """Adds a button to a message that is not sent yet, and returns its token."""
        row = self._row(select(outbox.c.buttons).where(outbox.c.crew_id == self._crew_id, outbox.c.id == number))
        offered: list[list[str]] = [] if row is None else list(row.buttons)
        token = self._offer(number, len(offered), label, action)
        self._change(outbox, number, {"buttons": [*offered, [label, token]]})
        return token

    def pressed(self, token: str) -> dict[str, Any] | None:
        """What the button with this token does, or None where this crew has no such button."""
        row = self._row(select(buttons.c.action).where(buttons.c.crew_id == self._crew_id, buttons.c.token == token))
        return None if row is None else dict(row.action)

    def spoken_of(self, chat: str, message_id: str) -> SpokenOf | None:
        """What a message of this chat was about, the bot's own or a person's; None where the books do not know it."""
        row = self._row(
            select(outbox.c.id, outbox.c.text, outbox.c.answers).where(
                outbox.c.crew_id == self._crew_id, outbox.c.chat == chat, outbox.c.sent_message_id == message_id
            )
        )
        if row is None:
            heard = self.message(chat, message_id)
            if heard is None:
                return None
            written = [one.number for one in self.records_of_message(heard.key)]
            return SpokenOf(records=self.what_holds_now(written), text=heard.text)
        numbers = self._rows(
            select(outbox_records.c.number)
            .where(and_(outbox_records.c.crew_id == self._crew_id, outbox_records.c.outbox_id == row.id))
            .order_by(outbox_records.c.number)
        )
        dues = self._rows(
            select(outbox_reminders.c.reminder_id)
            .where(outbox_reminders.c.crew_id == self._crew_id, outbox_reminders.c.outbox_id == row.id)
            .order_by(outbox_reminders.c.reminder_id)
        )
        return SpokenOf(
            records=self.what_holds_now(one.number for one in numbers),
            reminders=tuple(one.reminder_id for one in dues),
            text=row.text,
            answers=row.answers,
        )

    def posted(self, numbers: Sequence[int]) -> tuple[OutboxMessage, ...]:
        """These outbox messages, as they stand now."""
        rows = self._rows(
            select(outbox)
            .where(outbox.c.crew_id == self._crew_id, outbox.c.id.in_(list(numbers)))
            .order_by(outbox.c.id)
        )
        return tuple(outbox_message(row) for row in rows)

    def tell_lead(self, text: str, *, at: datetime, but: str | None = None) -> OutboxMessage | None:
        """Posts words to the lead's private chat, else the group; None where there is neither or the lead is `but`."""
        crew = self.crew
        lead = self.member(crew.lead) if crew.lead else None
        if lead is not None and lead.name == but:
            return None
        if lead is not None and lead.private_chat:
            return self.post(chat=lead.private_chat, text=text, at=at, channel=lead.channel)
        if crew.group_chat:
            return self.post(chat=crew.group_chat, text=text, at=at, channel=crew.group_channel)
        return None


def _token(number: int, place: int) -> str:
    return f"{_in_base_36(number)}.{_in_base_36(place)}"


def _in_base_36(number: int) -> str:
    digits = ""
    while True:
        number, rest = divmod(number, 36)
        digits = _DIGITS[rest] + digits
        if not number:
            return digits
