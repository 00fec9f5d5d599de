"""Which reminders stand in the books, and how they pass from planned to sent to closed.

Rules
1. A plan is saved as its difference: what is new is added, what no longer follows is cancelled, what was sent is not
   sent again.
2. A claim is one UPDATE over the index on state and due time; one that nobody finished ages out after `CLAIM_LASTS`.
3. Where a step was already said and its due time only shifted within the past, it is the same reminder, said already.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime, timedelta
from typing import Any, Final

from sqlalchemy import ColumnElement, Connection, Row, func, insert, or_, select, update

from core.entries import Entry
from core.reminders import Due, Subject
from core.storage.room import Room
from core.storage.tables import crews, outbox, outbox_reminders, reminders
from core.storage.values import CLOSED_HOW, OPEN_STATES, Difference, StoredReminder

CLAIM_LASTS: Final = timedelta(minutes=5)
"""How long a claim stands before another tick may take the reminder; far above the time that one tick needs."""


def stored_reminder(row: Row[Any]) -> StoredReminder:
    """The reminder that a row of the reminder table holds."""
    due = Due(
        subject=Subject(kind=row.subject_kind, name=row.subject_name),
        kind=row.kind,
        step=row.step,
        due_at=row.planned_at,
        timed=row.timed,
        critical=row.critical,
        soft=row.soft,
        last_useful_at=row.last_useful_at,
        facts=row.facts,
        done_means=None if row.done_means is None else Entry.from_keys(row.done_means),
        to=row.to_name,
        chat=row.chat,
    )
    return StoredReminder(
        number=row.id,
        crew=row.crew_id,
        due=due,
        state=row.state,
        due_at=row.due_at,
        said_times=row.said_times,
        sent_at=row.sent_at,
        said_in=row.said_in,
        said_chat=row.said_chat,
        again_at=row.again_at,
        closed_at=row.closed_at,
        closed_by=row.closed_by,
    )


def claim_due(
    connection: Connection,
    now: datetime,
    limit: int,
    *,
    crew_id: int | None = None,
    lease: timedelta = CLAIM_LASTS,
    sweep: bool = True,
) -> tuple[StoredReminder, ...]:
    """Claims what is due at `now`, soonest first: planned ones, those to be said again, and claims that aged out.

    Without `sweep` claims that aged out stay where they are.
    """
    ours: list[ColumnElement[bool]] = [] if crew_id is None else [reminders.c.crew_id == crew_id]
    if sweep:
        _sweep(connection, now - lease, ours)
    claimed: list[Row[Any]] = []
    for state, clock in (("planned", reminders.c.due_at), ("sent", reminders.c.again_at)):
        if len(claimed) == limit:
            break
        found = (
            select(reminders.c.id)
            .where(reminders.c.state == state, clock <= now, *ours)
            .order_by(clock)
            .limit(limit - len(claimed))
            .with_for_update(skip_locked=True)
            # Named, so that it runs once: inside IN, PostgreSQL may run it for every row and claim more than the limit.
            .cte("due_now")
        )
        taken = connection.execute(
            update(reminders)
            .where(reminders.c.id.in_(select(found.c.id)))
            .values(state="claimed", claimed_at=now)
            .returning(*reminders.c)
        )
        claimed += taken.all()
    return tuple(sorted((stored_reminder(row) for row in claimed), key=lambda one: (one.due_at, one.number)))


def _sweep(connection: Connection, before: datetime, ours: Sequence[ColumnElement[bool]]) -> None:
    """Gives back claims that nobody finished."""
    stale = (
        select(reminders.c.id)
        .where(reminders.c.state == "claimed", reminders.c.claimed_at <= before, *ours)
        .with_for_update(skip_locked=True)
    )
    connection.execute(
        update(reminders).where(reminders.c.id.in_(stale)).values(state="planned", claimed_at=None, again_at=None)
    )


class ReminderRows(Room):
    """The reminders of one crew."""

    def reminders(self, subject: Subject) -> tuple[StoredReminder, ...]:
        """The open reminders of a subject, soonest first."""
        return self.open_reminders(subject=subject)

    def open_reminders(
        self,
        chat: str | None = None,
        *,
        subject: Subject | None = None,
        kinds: Iterable[str] | None = None,
        sent: bool | None = None,
        until: datetime | None = None,
        states: Sequence[str] = OPEN_STATES,
    ) -> tuple[StoredReminder, ...]:
        """Reminders that nobody has answered, soonest first.

        `sent` True leaves only those already said, False only those not yet said; `until` those that come before then.
        `chat` is where they were said or will be: a reminder without a chat of its own belongs to the crew's group chat
        (to every chat, where the crew has no group).
        """
        query = select(reminders).where(reminders.c.crew_id == self._crew_id, reminders.c.state.in_(list(states)))
        if subject is not None:
            query = query.where(reminders.c.subject_kind == subject.kind, reminders.c.subject_name == subject.name)
        if kinds is not None:
            query = query.where(reminders.c.kind.in_(list(kinds)))
        if sent is not None:
            query = query.where(reminders.c.said_times > 0 if sent else reminders.c.said_times == 0)
        if until is not None:
            query = query.where(reminders.c.due_at < until)
        if chat is not None:
            group = select(crews.c.group_chat).where(crews.c.id == self._crew_id).scalar_subquery()
            query = query.where(func.coalesce(reminders.c.said_chat, reminders.c.chat, group, chat) == chat)
        rows = self._rows(query.order_by(reminders.c.due_at, reminders.c.id))
        return tuple(stored_reminder(row) for row in rows)

    def reminder(self, number: int) -> StoredReminder | None:
        """The reminder with this number, in any state."""
        row = self._row(select(reminders).where(reminders.c.crew_id == self._crew_id, reminders.c.id == number))
        return None if row is None else stored_reminder(row)

    def save_plan(self, subject: Subject, dues: Iterable[Due], now: datetime) -> Difference:
        """Makes the stored reminders of a subject those of a new plan, and returns what that changed."""
        wanted = {due.key(): due for due in reversed(list(dues))}
        stored = self._of_subject(subject, list(wanted))
        added: list[Due] = []
        kept: list[Due] = []
        shifted_ones: set[int] = set()
        stale = {
            (row.kind, row.step): row for row in stored.values() if row.state in OPEN_STATES and row.key not in wanted
        }
        for key, due in sorted(wanted.items(), key=lambda pair: (pair[1].due_at, pair[0])):
            row = stored.get(key)
            shifted = stale.get((due.kind, due.step))
            if row is not None and row.state in OPEN_STATES:
                self._keep(row, due)
                kept.append(due)
            elif row is not None and row.state == "cancelled":
                self._bring_back(row, due)
                (kept if row.said_times else added).append(due)
            elif row is not None:
                kept.append(due)
            elif shifted is not None and _same_said(shifted, due, now) and shifted.id not in shifted_ones:
                shifted_ones.add(shifted.id)
                self._change(reminders, shifted.id, {**_planned(due), "key": key, "due_at": due.due_at})
                kept.append(due)
            else:
                added.append(due)
        self._add_all([due for due in added if due.key() not in stored])
        gone = [row for row in stored.values() if row.state in OPEN_STATES and row.key not in wanted]
        gone = [row for row in gone if row.id not in shifted_ones]
        for row in gone:
            self._change(reminders, row.id, {"state": "cancelled", "closed_at": now, "again_at": None})
        return Difference(added=tuple(added), cancelled=tuple(stored_reminder(row) for row in gone), kept=tuple(kept))

    def _of_subject(self, subject: Subject, keys: Sequence[str]) -> dict[str, Row[Any]]:
        about = (
            reminders.c.crew_id == self._crew_id,
            reminders.c.subject_kind == subject.kind,
            reminders.c.subject_name == subject.name,
        )
        rows = self._rows(
            select(reminders).where(*about, or_(reminders.c.state.in_(OPEN_STATES), reminders.c.key.in_(keys)))
        )
        return {row.key: row for row in rows}

    def _keep(self, row: Row[Any], due: Due) -> None:
        changed = {name: value for name, value in _planned(due).items() if getattr(row, name) != value}
        if changed:
            self._change(reminders, row.id, changed)

    def _bring_back(self, row: Row[Any], due: Due) -> None:
        state = "sent" if row.said_times else "planned"
        fresh = {"state": state, "due_at": due.due_at, "claimed_at": None, "closed_at": None, "closed_by": None}
        self._change(reminders, row.id, {**_planned(due), **fresh, "closed_in": None})

    def _add_all(self, dues: Sequence[Due]) -> None:
        rows = [
            {
                "crew_id": self._crew_id,
                "key": due.key(),
                "subject_kind": due.subject.kind,
                "subject_name": due.subject.name,
                "due_at": due.due_at,
                "state": "planned",
                "said_times": 0,
                **_planned(due),
            }
            for due in dues
        ]
        if rows:
            self._connection.execute(insert(reminders), rows)

    def claim_due(
        self, now: datetime, limit: int = 100, *, lease: timedelta = CLAIM_LASTS, sweep: bool = True
    ) -> tuple[StoredReminder, ...]:
        """Claims what is due for this crew; a claim ends with `mark_sent`, `postpone`, a close or the lease."""
        return claim_due(self._connection, now, limit, crew_id=self._crew_id, lease=lease, sweep=sweep)

    def mark_sent(
        self,
        numbers: Iterable[int],
        at: datetime,
        message: int,
        *,
        again_at: datetime | None = None,
        chat: str | None = None,
    ) -> None:
        """Writes that reminders went into outbox message `message`; at `again_at` they are to be said once more.

        Where `chat` is given, the message was posted there and already speaks of them.
        """
        said = list(dict.fromkeys(numbers))
        said_chat = chat if chat is not None else self._chat_of(message)
        self._connection.execute(
            update(reminders)
            .where(reminders.c.crew_id == self._crew_id, reminders.c.id.in_(said))
            .values(
                state="sent",
                sent_at=at,
                said_times=reminders.c.said_times + 1,
                said_in=message,
                said_chat=said_chat,
                again_at=again_at,
                claimed_at=None,
            )
        )
        if chat is None:
            self._speak_of(message, said)

    def _chat_of(self, message: int) -> str | None:
        row = self._row(select(outbox.c.chat).where(outbox.c.crew_id == self._crew_id, outbox.c.id == message))
        return None if row is None else str(row.chat)

    def _speak_of(self, message: int, said: Sequence[int]) -> None:
        known = self._rows(select(outbox_reminders.c.reminder_id).where(outbox_reminders.c.outbox_id == message))
        linked = {row.reminder_id for row in known}
        links = [
            {"crew_id": self._crew_id, "outbox_id": message, "reminder_id": number}
            for number in said
            if number not in linked
        ]
        if links:
            self._connection.execute(insert(outbox_reminders), links)

    def close_reminder(
        self, number: int, *, how: str, at: datetime, by: str | None = None, message: str | None = None
    ) -> None:
        """Closes a reminder (`confirmed skipped cancelled asked gone`), by whom and in which message."""
        if how not in CLOSED_HOW:
            raise ValueError(f"a reminder is not closed by {how!r}")
        values = {"state": how, "closed_at": at, "closed_by": by, "closed_in": message}
        self._change(reminders, number, {**values, "again_at": None, "claimed_at": None})

    def postpone(self, number: int, until: datetime) -> None:
        """Puts a reminder off: it comes at `until`, under the same key."""
        self._change(reminders, number, {"state": "planned", "due_at": until, "again_at": None, "claimed_at": None})

    def reopen(self, number: int) -> None:
        """Opens a closed reminder again: as said, where it was said, else as planned."""
        row = self._row(select(reminders).where(reminders.c.crew_id == self._crew_id, reminders.c.id == number))
        if row is not None:
            self._reopen(row)

    def reopen_reminders_of(self, message: str, now: datetime) -> int:
        """Opens again what a message closed, where that is still of use; returns how many."""
        rows = self._rows(
            select(reminders).where(
                reminders.c.crew_id == self._crew_id,
                reminders.c.closed_in == message,
                reminders.c.state.in_(("confirmed", "skipped")),
                or_(reminders.c.last_useful_at.is_(None), reminders.c.last_useful_at > now),
            )
        )
        for row in rows:
            self._reopen(row)
        return len(rows)

    def _reopen(self, row: Row[Any]) -> None:
        state = "sent" if row.said_times else "planned"
        values = {"state": state, "closed_at": None, "closed_by": None, "closed_in": None, "claimed_at": None}
        self._change(reminders, row.id, values)


def _same_said(row: Row[Any], due: Due, now: datetime) -> bool:
    return bool(row.said_times) and due.due_at <= now


def _planned(due: Due) -> Mapping[str, Any]:
    """What a plan says of a reminder, apart from its key and its state."""
    return {
        "kind": due.kind,
        "step": due.step,
        "planned_at": due.due_at,
        "last_useful_at": due.last_useful_at,
        "timed": due.timed,
        "critical": due.critical,
        "soft": due.soft,
        "facts": due.facts,
        "done_means": None if due.done_means is None else due.done_means.as_keys(),
        "to_name": due.to,
        "chat": due.chat,
    }
