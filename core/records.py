"""What stands in the books: an entry with when it was done, who did it, who said so, and in which words.

Rules
1. Records are append-only: an edit or an undo supersedes, and never changes or deletes an entry. A record holds while
   what supersedes it does not: an undo of an undo brings the first back.
2. `at` is when the act was done; `said_at` is when the note was sent. Order is by `at`, then `said_at`, then `number`.
3. An act on several lots is a record for each, all with the same `said`. What is said of a tray is a record for each
   lot that stood in it, and one without a lot where none did.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date, datetime, time
from zoneinfo import ZoneInfo

from core.entries import Entry, LocalMoment

NOON = time(12, 0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Record:
    """One entry in a crew's books.

    `lot` is the crew's full lot number (`26-014`) or None; `trays` are the trays it counts for, said or looked up;
    `by` did it, `told_by` wrote the note; `message` is the key of the message that said it; `reminder` is the key of
    the reminder that it answers, where it answers one.
    """

    number: int
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
    superseded_by: int | None = None
    taken_back: bool = False
    stands: bool | None = field(default=None, compare=False)

    def holds(self) -> bool:
        """True where no later word that holds itself corrected or took back this record.

        The books work that out (`stands`); without them a record that anything supersedes does not hold.
        """
        return self.stands if self.stands is not None else self.superseded_by is None and not self.taken_back

    def order(self) -> tuple[datetime, datetime, int]:
        """What records are sorted by, so that notes that arrive late fall into their place."""
        return (self.at, self.said_at, self.number)


def in_order(records: Iterable[Record]) -> list[Record]:
    """The records that hold, in the order in which the acts were done."""
    return sorted((one for one in records if one.holds()), key=Record.order)


def instant_of(moment: LocalMoment | None, said_at: datetime, zone: ZoneInfo) -> datetime:
    """The instant of an act: its own moment (a date without an hour is noon), else the message's. Aware, in UTC.

    On the day of the message a date without an hour is noon or the message's time, whichever comes first, so that an
    act is never later than the word of it.
    """
    if moment is None:
        return said_at
    if isinstance(moment, datetime):
        return moment.replace(tzinfo=zone).astimezone(said_at.tzinfo)
    noon = datetime.combine(moment, NOON, zone).astimezone(said_at.tzinfo)
    return min(noon, said_at) if moment == local_day(said_at, zone) else noon


def local_day(instant: datetime, zone: ZoneInfo) -> date:
    """The crew's calendar day on which `instant` (aware) fell."""
    return instant.astimezone(zone).date()
