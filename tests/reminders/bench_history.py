"""Histories for the tests of reminders: a shade house of our own invention, its notes as records, and their plans."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, datetime
from typing import Any
from zoneinfo import ZoneInfo

from core.entries import Act, Entry
from core.lengths import Length
from core.lots import fold
from core.records import Record
from core.reminders import Due, History, Subject, plan
from core.treatments import Protocols, protocols

ZONE = ZoneInfo("America/Los_Angeles")
LOT = "26-001"
TRAY = "2"


def at(local: str, zone: ZoneInfo = ZONE) -> datetime:
    """The instant of a local wall-clock moment, such as "2026-03-09 09:30"."""
    return datetime.fromisoformat(local).replace(tzinfo=zone).astimezone(UTC)


def minutes(count: int) -> Length:
    return Length.of_minutes(count)


class Notes:
    """Notes as they come in: each call adds a record of an act at a local time."""

    def __init__(self, zone: ZoneInfo = ZONE) -> None:
        self.zone = zone
        self.records: list[Record] = []

    def note(
        self, when: str, act: str, *, lot: str | None = LOT, trays: tuple[str, ...] = (TRAY,), said: str = "",
        reminder: str | None = None, by: str = "imke", **more: Any,
    ) -> Notes:  # fmt: skip
        number = len(self.records) + 1
        moment = at(when, self.zone)
        self.records.append(
            Record(
                number=number, lot=lot, trays=trays, entry=Entry(act=Act(act), trays=trays, **more), at=moment,
                said_at=moment, by=by, told_by=by, said=said or f"note {number}", message=f"m{number}",
                reminder=reminder,
            )
        )  # fmt: skip
        return self

    def free(self, when: str, act: str, **more: Any) -> Notes:
        """A note about no lot and no tray."""
        return self.note(when, act, lot=None, trays=(), **more)


def plan_of(
    notes: Notes | Iterable[Record],
    now: str | datetime,
    *,
    of: str = "lot",
    name: str | None = None,
    zone: ZoneInfo = ZONE,
    rules: Protocols | None = None,
) -> tuple[Due, ...]:
    """The plan of one subject of these notes at a local time."""
    records = tuple(notes.records if isinstance(notes, Notes) else notes)
    zone = notes.zone if isinstance(notes, Notes) else zone
    instant = at(now, zone) if isinstance(now, str) else now
    numbers = dict.fromkeys(record.lot for record in records if record.lot)
    lots = [
        lot
        for number in numbers
        if (lot := fold(number, [record for record in records if record.lot == number], zone)) is not None
    ]
    subject = Subject(kind=of, name=name or {"lot": LOT, "tray": TRAY, "solution": "bleach", "crew": "crew"}[of])
    ours = {
        "lot": [record for record in records if record.lot == subject.name],
        "tray": [record for record in records if subject.name in record.trays],
    }.get(of, list(records))
    history = History(
        subject=subject,
        records=tuple(ours),
        zone=zone,
        lot=next((lot for lot in lots if of == "lot" and lot.number == subject.name), None),
        lots=tuple(
            lot for lot in lots if not lot.closed and ((of == "tray" and subject.name in lot.trays) or of == "target")
        ),
    )
    return plan(history, rules or protocols(), instant)


def told(dues: Iterable[Due], *kinds: str, zone: ZoneInfo = ZONE) -> list[tuple[str, str]]:
    """Kind and local time of the reminders, of these kinds or of all."""
    return [
        (due.kind, f"{due.due_at.astimezone(zone):%Y-%m-%d %H:%M}") for due in dues if not kinds or due.kind in kinds
    ]


def one(dues: Iterable[Due], kind: str) -> Due:
    """The only reminder of a kind."""
    found = [due for due in dues if due.kind == kind]
    assert len(found) == 1, [due.key() for due in dues]
    return found[0]


def covered(zone: ZoneInfo = ZONE, plant: str = "tussock wort") -> Notes:
    """Seventy-two cuttings stuck and covered on Monday 23 February 2026 at nine."""
    return Notes(zone).note("2026-02-23 09:00", "stick", plant=plant, count=72).note("2026-02-23 09:00", "cover")
