"""What was recorded: the records of a crew, and which of them stand.

Rules
1. The records of a message are those of all its edits, so that an edit finds what the words before it had recorded.
2. Records are only ever added; supersede, take back and restore set marks beside them. Which records stand after that
   is worked out in `standing`, and kept with them.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime
from typing import Any

from sqlalchemy import ColumnElement, Row, Select, and_, func, insert, or_, select, update

from core.entries import Act, Entry
from core.records import Record
from core.storage.hearing import Messages
from core.storage.standing import stands
from core.storage.tables import messages, record_trays, records
from core.storage.values import RecordDraft

_MARKS = frozenset({Act.UNDO, Act.AMEND})


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


class Journal(Messages):
    """The records of one crew, beside the messages that said them."""

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

    def _settle(self, changed: Iterable[int]) -> None:
        """Works out anew which records stand, of those whose marks changed and of all that they superseded."""
        waiting, seen = list(changed), set[int]()
        while waiting:
            number = waiting.pop(0)
            record = self.record(number) if number not in seen else None
            seen.add(number)
            if record is None:
                continue
            now_stands = stands(record, self.record)
            if now_stands != record.stands:
                self._connection.execute(
                    update(records)
                    .where(records.c.crew_id == self._crew_id, records.c.number == number)
                    .values(stands=now_stands)
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

    def told_by(self, speaker: str, chat: str, *, since: datetime) -> tuple[Record, ...]:
        """The records that hold of all this speaker's notes in this chat since then, in the order they were written."""
        return tuple(one for one in self.told_in(chat, since=since) if one.told_by == speaker)

    def told_in(self, chat: str, *, since: datetime, until: datetime | None = None) -> tuple[Record, ...]:
        """The records that hold of all notes in this chat in this time, in the order they were written.

        What a correction wrote is as old as the correction.
        """
        keys = select(messages.c.key).where(messages.c.crew_id == self._crew_id, messages.c.chat == chat)
        since_then = or_(records.c.said_at >= since, records.c.message_key.in_(keys.where(messages.c.said_at >= since)))
        told = self._records_where(records.c.message_key.in_(keys), since_then, _holds())
        in_time = (one for one in told if until is None or one.said_at <= until)
        return tuple(sorted(in_time, key=lambda one: one.number))

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
