"""How the books are opened: the store of all crews, and the books of one crew within one transaction.

Rules
1. What a turn changes is committed whole or not at all.
2. Writers of one crew take turns: on SQLite there is one writer, on PostgreSQL they wait at the crew's row.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from sqlalchemy import Engine, func, insert, select
from sqlalchemy.exc import OperationalError

from core.storage import outbox as outbox_room
from core.storage import reminder_rows
from core.storage.crews import crew_of_chat, crews_of_account, move_chat, read_crews
from core.storage.engine import only_reading, open_engine, read_address, writing
from core.storage.exports import Imports, back_up, export_rows
from core.storage.faults import BadAddress, NoSuchCrew
from core.storage.lots_shelf import LotShelf
from core.storage.migrating import upgrade
from core.storage.outbox import Outbox
from core.storage.question_rows import QuestionRows
from core.storage.reminder_rows import ReminderRows
from core.storage.tables import crews, outbox, refused_updates, reminders
from core.storage.values import Crew, OutboxMessage, StoredReminder


class Books(Outbox, QuestionRows, LotShelf, ReminderRows, Imports):
    """All that one crew has in writing, inside one transaction."""


def open_store(address: str) -> Store:
    """Opens a database, brought to the newest step. Raises BadAddress and BooksNewer."""
    engine = open_engine(read_address(address))
    try:
        upgrade(engine)
    except OperationalError as wrong:
        engine.dispose()
        raise BadAddress(f"the database cannot be opened: {wrong.orig}") from wrong
    except BaseException:
        engine.dispose()
        raise
    return Store(engine)


class Store:
    """The database: every crew's books, and what the postman and the tick need across crews."""

    def __init__(self, engine: Engine) -> None:
        self._engine = engine

    def close(self) -> None:
        """Lets go of the database."""
        self._engine.dispose()

    @contextmanager
    def books(self, crew: int) -> Iterator[Books]:
        """A crew's books to read and write: one transaction, committed at the end, rolled back on any error."""
        with writing(self._engine) as connection:
            # Other writers of this crew wait here; rows that only point to the crew do not.
            found = connection.execute(select(crews.c.id).where(crews.c.id == crew).with_for_update(key_share=True))
            if found.first() is None:
                raise NoSuchCrew(f"there is no crew {crew}")
            yield Books(connection, crew)

    @contextmanager
    def reading(self, crew: int) -> Iterator[Books]:
        """A crew's books at one moment, to read only."""
        with only_reading(self._engine) as connection:
            yield Books(connection, crew)

    # -- crews

    def found_crew(self, name: str, zone: ZoneInfo, code: str) -> Crew:
        """Begins a crew; `code` is what its first lead sends to be let in."""
        with writing(self._engine) as connection:
            written = connection.execute(insert(crews).values(name=name, zone=zone.key, code=code))
            key = written.inserted_primary_key
            assert key is not None
            return read_crews(connection, int(key[0]))[0]

    def crews(self) -> tuple[Crew, ...]:
        """All crews, oldest first."""
        with only_reading(self._engine) as connection:
            return read_crews(connection)

    def crew_of_chat(self, channel: str, chat: str) -> Crew | None:
        """The crew that a chat belongs to, or None."""
        with only_reading(self._engine) as connection:
            number = crew_of_chat(connection, channel, chat)
            return None if number is None else read_crews(connection, number)[0]

    def crew_of_code(self, code: str) -> Crew | None:
        """The crew that this code lets in to, or None."""
        return next((crew for crew in self.crews() if crew.code == code), None)

    def crews_of_account(self, channel: str, user_id: str) -> tuple[Crew, ...]:
        """The crews that have a member who writes from this account."""
        with only_reading(self._engine) as connection:
            numbers = crews_of_account(connection, channel, user_id)
            return tuple(crew for number in numbers for crew in read_crews(connection, number))

    def move_chat(self, channel: str, old: str, new: str) -> None:
        """Gives a chat its new name wherever something is still to come there."""
        with writing(self._engine) as connection:
            move_chat(connection, channel, old, new)

    # -- leaving and coming back

    def export_rows(self, crew: int, *, whole: bool = True) -> Iterator[dict[str, Any]]:
        """A crew's records as rows of JSON values in the order of their numbers, all of one moment.

        `whole` adds the key `books`, from which an import gets back what the published keys do not say.
        """
        with only_reading(self._engine) as connection:
            yield from export_rows(connection, crew, whole=whole)

    def back_up(self, path: Path) -> None:
        """Copies the whole database into one file. Raises BadAddress on PostgreSQL."""
        back_up(self._engine, path)

    # -- the tick

    def claim_due(
        self, now: datetime, limit: int = 1000, *, lease: timedelta = reminder_rows.CLAIM_LASTS
    ) -> tuple[StoredReminder, ...]:
        """Claims what is due for any crew, soonest first; what is not settled within `lease` is claimed again."""
        with writing(self._engine) as connection:
            return reminder_rows.claim_due(connection, now, limit, lease=lease)

    def crews_due(self, now: datetime) -> tuple[int, ...]:
        """The numbers of the crews that have a reminder due."""
        due = (
            select(reminders.c.crew_id).distinct().where(reminders.c.state == "planned", reminders.c.due_at <= now),
            select(reminders.c.crew_id).distinct().where(reminders.c.state == "sent", reminders.c.again_at <= now),
        )
        with only_reading(self._engine) as connection:
            return tuple(sorted({number for query in due for number in connection.execute(query).scalars()}))

    def next_due_at(self) -> datetime | None:
        """When the next planned reminder of any crew falls due, or None where nothing is planned."""
        with only_reading(self._engine) as connection:
            soonest: datetime | None = connection.execute(
                select(func.min(reminders.c.due_at)).where(reminders.c.state == "planned")
            ).scalar()
            return soonest

    # -- the postman

    def outbox_due(
        self,
        now: datetime,
        limit: int = 100,
        *,
        channel: str | None = None,
        lease: timedelta = outbox_room.SENDING_LASTS,
    ) -> tuple[OutboxMessage, ...]:
        """Takes the first unsent message of each chat, in the order posted; ask again after settling them."""
        with writing(self._engine) as connection:
            return outbox_room.take_due(connection, now, limit, channel=channel, lease=lease)

    def outbox_state(
        self,
        number: int,
        state: str,
        *,
        at: datetime | None = None,
        sent_message_id: str | None = None,
        retry_at: datetime | None = None,
        trouble: str | None = None,
    ) -> None:
        """Settles a message that the postman took.

        `sent` (with `at` and the channel's message id); `waiting` with `retry_at` (it was surely not sent); `unknown`
        (it may have been: with `retry_at` it is offered again as doubtful, without it is left at that); `refused`
        (it can never be sent); `unreachable` (nor can anything else: the chat is parked).
        """
        with writing(self._engine) as connection:
            outbox_room.settle_sending(
                connection, number, state, at=at, sent_message_id=sent_message_id, retry_at=retry_at, trouble=trouble
            )

    def outbox_waits(self) -> datetime | None:
        """When the first waiting message may go (its post, start or retry time); None where none waits."""
        ready_at = func.coalesce(
            outbox.c.retry_at, outbox.c.not_before, outbox.c.posted_at, type_=outbox.c.posted_at.type
        )
        with only_reading(self._engine) as connection:
            soonest: datetime | None = connection.execute(
                select(func.min(ready_at, type_=outbox.c.posted_at.type)).where(outbox.c.state == "waiting")
            ).scalar()
            return soonest

    def keep_refused(self, channel: str, raw: str, why: str, at: datetime, crew: int | None = None) -> None:
        """Keeps an update that could not be read, so that it is neither lost nor asked for again."""
        with writing(self._engine) as connection:
            connection.execute(insert(refused_updates).values(crew_id=crew, channel=channel, raw=raw, why=why, at=at))
