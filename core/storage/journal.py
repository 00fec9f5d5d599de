"""What was said and what was recorded of it: the messages of a crew and its records.

Rules
1. A message is known by channel, chat, message id and edit; heard again, it is the same message.
2. The records of a message are those of all its edits, so that an edit finds what the words before it had recorded.
3. Records are only ever added; supersede, take back and restore set marks beside them.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime
from typing import Any

from sqlalchemy import ColumnElement, Row, Select, and_, func, insert, select, update

from core.entries import Act, Entry
from core.records import Record
from core.storage.room import Room
from core.storage.tables import messages, outbox, record_trays, records
from core.storage.values import Heard, RecordDraft

_MARKS = frozenset({Act.UNDO, Act.AMEND})


def key_of_message(channel: str, chat: str, message_id: str, edit: int) -> str:
    """The one key under which records, answers and questions know a message."""
    return f"{channel}:{chat}:{message_id}:{edit}"


def record_from_row(row: Row[Any]) -> Record:
    """The record that a row of the record table holds."""
    return Record(
        number=row.number,
        lot=row.lot,
        trays=tuple(row.trays),
        entry=Entry.from_keys(row.entry),
        at=row.at,
        said_at=row.said_at,
        by=row.done_by,
        told_by=row.told_by,
        said=row.said,
        message=row.message_key,
        reminder=row.reminder_key,
        superseded_by=row.superseded_by,
        taken_back=row.taken_back,
        stands=row.stands,
    )


def tray_key(tray: str) -> str:
    """A tray's name as it is looked up: `b3` and `B3` are one tray."""
    return tray.strip().casefold()


class Journal(Room):
    """The messages and the records of one crew."""

    # -- messages

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

    def same_words(self, chat: str, text: str, *, since: datetime, but: str) -> bool:
        """True where another message of this chat since then had the same words and has records that hold."""
        said = self._rows(
            select(messages.c.key, messages.c.text).where(
                messages.c.crew_id == self._crew_id,
                messages.c.chat == chat,
                messages.c.said_at >= since,
                messages.c.key != but,
            )
        )
        wanted = _bare(text)
        keys = [row.key for row in said if _bare(row.text) == wanted]
        return bool(keys) and any(
            one.holds() and one.entry.act not in _MARKS for one in self._records_where(records.c.message_key.in_(keys))
        )

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

    # -- records

    def write(self, draft: RecordDraft) -> Record:
        """Adds a record under the crew's next number."""
        last = self._connection.execute(
            select(func.max(records.c.number)).where(records.c.crew_id == self._crew_id)
        ).scalar()
        record = Record(
            number=(last or 0) + 1,
            lot=draft.lot,
            trays=draft.trays,
            entry=draft.entry,
            at=draft.at,
            said_at=draft.said_at,
            by=draft.by,
            told_by=draft.told_by,
            said=draft.said,
            message=draft.message,
            reminder=draft.reminder,
        )
        self._write_rows([record])
        return record

    def _write_rows(self, written: Sequence[Record]) -> None:
        rows = [
            {
                "crew_id": self._crew_id,
                "number": one.number,
                "act": one.entry.act.value,
                "lot": one.lot,
                "plant": one.entry.plant,
                "at": one.at,
                "said_at": one.said_at,
                "done_by": one.by,
                "told_by": one.told_by,
                "said": one.said,
                "message_key": one.message,
                "reminder_key": one.reminder,
                "superseded_by": one.superseded_by,
                "taken_back": one.taken_back,
                "stands": one.superseded_by is None and not one.taken_back,
                "trays": list(one.trays),
                "entry": one.entry.as_keys(),
            }
            for one in written
        ]
        if rows:
            self._connection.execute(insert(records), rows)
        stands = [
            {"crew_id": self._crew_id, "tray": tray, "number": one.number}
            for one in written
            for tray in dict.fromkeys(tray_key(tray) for tray in one.trays)
        ]
        if stands:
            self._connection.execute(insert(record_trays), stands)

    def supersede(self, numbers: Iterable[int], by: int | None) -> None:
        """Marks records as corrected by record `by`; where that is None they are taken back."""
        self._mark(numbers, {"taken_back": True} if by is None else {"superseded_by": by})

    def take_back(self, numbers: Iterable[int], by: int | None = None) -> None:
        """Marks records as taken back, by the record of the undo where there is one."""
        self._mark(numbers, {"taken_back": True, "superseded_by": by})

    def restore(self, numbers: Iterable[int]) -> None:
        """Lets records hold again that were superseded or taken back."""
        self._mark(numbers, {"taken_back": False, "superseded_by": None})

    def _mark(self, marked: Iterable[int], marks: Mapping[str, Any]) -> None:
        numbers = list(marked)
        for number in numbers:
            self._connection.execute(
                update(records)
                .where(records.c.crew_id == self._crew_id, records.c.number == number)
                .values(**marks)
            )  # fmt: skip
        self._settle(numbers)

    def _settle(self, numbers: Iterable[int]) -> None:
        """Works out anew whether records hold: each holds while what supersedes it does not, and so on down the line."""
        waiting = list(numbers)
        while waiting:
            number = waiting.pop(0)
            record = self.record(number)
            if record is None:
                continue
            later = self.record(record.superseded_by) if record.superseded_by is not None else None
            stands = not record.taken_back and (later is None or not later.holds())
            if stands == record.stands:
                continue
            self._connection.execute(
                update(records)
                .where(records.c.crew_id == self._crew_id, records.c.number == number)
                .values(stands=stands)
            )  # fmt: skip
            waiting += [one.number for one in self.superseded_by(number)]

    def record(self, number: int) -> Record | None:
        """The record with this number, holding or not."""
        return next(iter(self._records_where(records.c.number == number)), None)

    def lot_records(self, lot: str) -> tuple[Record, ...]:
        """All records of a lot (full number), superseded ones too, in the order of the acts."""
        return self._records_where(records.c.lot == lot)

    def tray_records(self, tray: str) -> tuple[Record, ...]:
        """All records that count for a tray, superseded ones too, in the order of the acts."""
        query = _all_records(self._crew_id).join(
            record_trays,
            and_(record_trays.c.crew_id == records.c.crew_id, record_trays.c.number == records.c.number),
        )
        rows = self._rows(query.where(record_trays.c.crew_id == self._crew_id, record_trays.c.tray == tray_key(tray)))
        return tuple(record_from_row(row) for row in rows)

    def records_of_message(self, key: str) -> tuple[Record, ...]:
        """All records of a message and of its edits, superseded ones too, in the order they were written."""
        found = self._records_where(records.c.message_key.in_(self._keys_of_edits(key)))
        return tuple(sorted(found, key=lambda one: one.number))

    def superseded_by(self, number: int) -> tuple[Record, ...]:
        """The records that record `number` superseded."""
        return self._records_where(records.c.superseded_by == number, records.c.number != number)

    def records(
        self,
        acts: Iterable[str] | None = None,
        *,
        since: datetime | None = None,
        until: datetime | None = None,
        plant: str | None = None,
        lots: Iterable[str] | None = None,
        limit: int | None = None,
        holding: bool = True,
    ) -> tuple[Record, ...]:
        """Records in the order of the acts, with `limit` the latest of them; a plant is compared as the note has it."""
        narrowed: list[ColumnElement[bool]] = []
        if acts is not None:
            narrowed.append(records.c.act.in_([str(act) for act in acts]))
        if since is not None:
            narrowed.append(records.c.at >= since)
        if until is not None:
            narrowed.append(records.c.at < until)
        if plant is not None:
            narrowed.append(records.c.plant == plant)
        if lots is not None:
            narrowed.append(records.c.lot.in_(list(lots)))
        if holding:
            narrowed.append(_holds())
        return self._records_where(*narrowed, limit=limit)

    def latest_by(self, speaker: str, chat: str, *, since: datetime | None = None) -> tuple[Record, ...]:
        """The records that hold of the last note of this speaker in this chat, in the order they were written."""
        key = self.last_message_with_records(speaker, chat, since=since)
        if key is None:
            return ()
        return tuple(one for one in self.records_of_message(key) if one.holds())

    def last_message_with_records(
        self, speaker: str, chat: str, *, but: Iterable[Act] = (), since: datetime | None = None
    ) -> str | None:
        """The key of the speaker's last message in this chat that has a record that holds, acts in `but` left out."""
        query = (
            select(records.c.message_key)
            .join(messages, and_(messages.c.crew_id == records.c.crew_id, messages.c.key == records.c.message_key))
            .where(records.c.crew_id == self._crew_id, records.c.told_by == speaker, messages.c.chat == chat, _holds())
            .order_by(records.c.number.desc())
        )
        left_out = [act.value for act in but]
        if left_out:
            query = query.where(records.c.act.not_in(left_out))
        if since is not None:
            query = query.where(records.c.said_at >= since)
        row = self._row(query)
        return None if row is None else str(row.message_key)

    def what_holds_now(self, numbers: Iterable[int]) -> tuple[Record, ...]:
        """What became of these records: themselves where they hold, else the records that took their place."""
        found: dict[int, Record] = {}
        ahead, seen = list(numbers), set[int]()
        while ahead:
            number = ahead.pop(0)
            record = self.record(number) if number not in seen else None
            seen.add(number)
            if record is None:
                continue
            if record.holds():
                found[number] = record
            elif record.superseded_by is not None and not record.taken_back:
                ahead += self._successors(record.superseded_by)
        return tuple(found[number] for number in sorted(found))

    def _successors(self, number: int) -> list[int]:
        later = self.record(number)
        if later is None or later.entry.act is Act.UNDO:
            return []
        if later.entry.act is Act.AMEND:
            same = self.records_of_message(later.message)
            return [one.number for one in same if one.holds() and one.entry.act not in _MARKS]
        return [number]

    def _records_where(self, *narrowed: ColumnElement[bool], limit: int | None = None) -> tuple[Record, ...]:
        query = _all_records(self._crew_id).where(*narrowed)
        if limit is None:
            return tuple(record_from_row(row) for row in self._rows(query))
        latest = query.order_by(None).order_by(
            records.c.at.desc(), records.c.said_at.desc(), records.c.number.desc()
        )  # fmt: skip
        return tuple(record_from_row(row) for row in reversed(self._rows(latest.limit(limit))))


def _all_records(crew_id: int) -> Select[Any]:
    return (
        select(records)
        .where(records.c.crew_id == crew_id)
        .order_by(records.c.at, records.c.said_at, records.c.number)
    )  # fmt: skip


def _holds() -> ColumnElement[bool]:
    return records.c.stands.is_(True)


def _bare(text: str) -> str:
    return " ".join(text.casefold().split())
