"""What a planner stands on: the records of one subject in order, the answers to its reminders, the numbers, and now.

Rules
1. A reminder is open until a record answers its key (its act, done, skip, no, stop) or its last useful time is past.
2. "later" leaves the key as it is and moves the instant at which it comes.
3. Words about a tray are one act, though the books hold a record for each lot in it.
4. What was noted of a tray before its present lots, or of lots that have left it, says nothing of its cover now.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import UTC, date, datetime, time, timedelta
from typing import Any, Final
from zlib import crc32
from zoneinfo import ZoneInfo

from core.entries import Act, Entry
from core.lengths import Length
from core.lots import Cover, Lot, Session, fold_cover, sessions
from core.records import Record, in_order
from core.reminders import clock
from core.reminders.kinds import kinds
from core.reminders.lasting import useful_until
from core.reminders.values import Due, Subject
from core.treatments import Protocol


@dataclass(frozen=True, slots=True, kw_only=True)
class History:
    """All that a subject's plan rests on.

    `records` are those of the subject, in any order. `lot` is the lot folded (for a lot), `lots` the open lots that
    stand in it (for a tray). `private` tells for the key of a message in which private chat it was said.
    """

    subject: Subject
    records: tuple[Record, ...]
    zone: ZoneInfo
    lot: Lot | None = None
    lots: tuple[Lot, ...] = ()
    private: Mapping[str, str] = field(default_factory=dict)


NO_COVER: Final = Cover(on=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Ground:
    """One subject's records that hold, in order, with the protocol and the instant for which it is planned.

    `cover` and `airings` are those of a tray, or of a lot that stands in none, folded once for all planners.
    """

    history: History
    protocol: Protocol
    now: datetime
    records: tuple[Record, ...]
    answers: Mapping[str, tuple[Record, ...]]
    cover: Cover = NO_COVER
    airings: tuple[Session, ...] = ()

    @property
    def subject(self) -> Subject:
        return self.history.subject

    @property
    def zone(self) -> ZoneInfo:
        return self.history.zone

    @property
    def today(self) -> date:
        return self.day(self.now)

    def of(self, *acts: Act) -> tuple[Record, ...]:
        """The records of these acts, in order."""
        return tuple(record for record in self.records if record.entry.act in acts)

    def day(self, instant: datetime) -> date:
        return clock.day_of(instant, self.zone)

    def wall(self, day: date, hour: time) -> datetime:
        return clock.wall(day, hour, self.zone)

    def morning(self, day: date) -> datetime:
        """When the list of that day is sent."""
        return self.wall(day, self.protocol.hour("morning_list"))

    def at_bench(self, instant: datetime) -> datetime:
        """The instant, moved to the next opening where the bench is shut."""
        return clock.within_bench(
            instant, self.protocol.hour("bench_open"), self.protocol.hour("bench_close"), self.zone
        )

    def after(self, start: datetime, length: Length) -> datetime:
        """When a length begun at `start` ends: days and months by the calendar, hours and minutes as elapsed time."""
        if not length.months and not length.days:
            return start.astimezone(UTC) + timedelta(seconds=length.seconds)
        local = start.astimezone(self.zone).replace(tzinfo=None)
        return clock.local_after(start, length.after(local), self.zone)

    def due(
        self,
        kind: str,
        due_at: datetime,
        *,
        step: int = 0,
        until: datetime | None = None,
        facts: Mapping[str, Any] | None = None,
        done_means: Entry | None = None,
        to: str | None = None,
        chat: str | None = None,
    ) -> Due:
        """A reminder of this subject with the marks of its kind; `until` is its last useful instant."""
        row = kinds()[kind]
        if row.timed and not row.running:
            due_at = self.at_bench(due_at)
        if row.useful_for is not None:
            usual = due_at + row.useful_for
        else:
            usual = clock.end_of_day(self.day(due_at) + timedelta(days=row.useful_days or 0), self.zone)
        return Due(
            subject=self.subject,
            kind=kind,
            step=step,
            due_at=due_at.astimezone(UTC),
            timed=row.timed,
            critical=row.critical,
            soft=row.soft,
            last_useful_at=until.astimezone(UTC) if until is not None else usual,
            facts=self._common_facts() | dict(facts or {}) | {"when": clock.local_text(due_at, self.zone)},
            done_means=done_means,
            to=to,
            chat=chat,
        )

    def still_open(self, due: Due) -> Due | None:
        """The reminder as its answers leave it (put off, or as it is); None where answered or no longer useful."""
        for record in self.answers.get(due.key(), ()):
            if record.entry.act is not Act.REPLY or record.entry.answer != "later":
                return None
            wait = record.entry.duration or Length.of_minutes(self.protocol.minutes("later"))
            due = replace(due, put_off_until=self.after(record.at, wait))
        last = useful_until(due, due.put_off_until or due.due_at, self.zone)
        return None if last is not None and last <= self.now else due

    @staticmethod
    def numbered(number: int, *words: str) -> int:
        """A step that tells reminders of the same kind and minute apart by their words, the same in any order."""
        return crc32("|".join((str(number), *words)).encode()) % 1_000_000_000

    def first_open(self, candidates: Iterable[Due]) -> tuple[Due, ...]:
        """The first of a chain that is still open: no second offer of a kind while one is open. Empty where none is."""
        for due in candidates:
            found = self.still_open(due)
            if found is not None:
                return (found,)
        return ()

    def all_open(self, dues: Iterable[Due]) -> tuple[Due, ...]:
        """Those that are still open."""
        return tuple(found for found in map(self.still_open, dues) if found is not None)

    def refused(self, kind: str) -> tuple[Record, ...]:
        """The answers "no" (not yet) to reminders of this kind, in order."""
        return tuple(
            record
            for key, records in self.answers.items()
            for record in records
            if key.split("|")[1] == kind and record.entry.answer == "no"
        )

    def has_cover(self) -> bool:
        """True where the subject is what a cover belongs to: a tray, or a lot that stands in none."""
        if self.subject.kind == "tray":
            return bool(self.records)
        lot = self.history.lot
        return self.subject.kind == "lot" and lot is not None and not lot.trays

    def naming(self, entry: Entry) -> Entry:
        """The entry said of this subject: its tray, or its lot."""
        name = (self.subject.name,)
        return replace(entry, trays=name) if self.subject.kind == "tray" else replace(entry, lots=name)

    def _common_facts(self) -> dict[str, Any]:
        lots = self.history.lots if self.subject.kind == "tray" else tuple(filter(None, [self.history.lot]))
        facts: dict[str, Any] = {}
        if lots:
            facts["lots"] = [lot.number for lot in lots]
            facts["plants"] = list(dict.fromkeys(lot.plant for lot in lots))
        trays = [self.subject.name] if self.subject.kind == "tray" else [tray for lot in lots for tray in lot.trays]
        return facts | ({"trays": trays} if trays else {})


def survey(history: History, protocol: Protocol, now: datetime) -> Ground:
    """The ground of a plan: the records that hold and speak of the subject as it is now, in order."""
    records = tuple(in_order(history.records))
    answers: dict[str, list[Record]] = {}
    for record in records:
        if record.reminder is not None:
            answers.setdefault(record.reminder, []).append(record)
    if history.subject.kind == "tray":
        records = _of_present_lots(records, history.lots)
    ground = Ground(
        history=history,
        protocol=protocol,
        now=now.astimezone(UTC),
        records=records,
        answers={key: tuple(found) for key, found in answers.items()},
    )
    return _under_cover(ground) if ground.has_cover() else ground


def _under_cover(ground: Ground) -> Ground:
    known = [record for record in ground.records if record.at <= ground.now]
    return replace(ground, cover=fold_cover(known, ground.zone, ground.now), airings=sessions(known))


def _of_present_lots(records: tuple[Record, ...], lots: tuple[Lot, ...]) -> tuple[Record, ...]:
    present = {lot.number for lot in lots}
    first = min((lot.opened_at for lot in lots), default=None)
    seen: set[tuple[Any, ...]] = set()
    kept = []
    for record in records:
        before = record.lot is None and first is not None and record.at < first
        if before or (record.lot is not None and record.lot not in present):
            continue
        act = (record.message, record.at, repr(record.entry))
        if act not in seen:
            seen.add(act)
            kept.append(record)
    return tuple(kept)
