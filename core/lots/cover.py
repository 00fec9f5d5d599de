"""Is the cover on, how are its vents, and which airings did the tray have?

Rules
1. Records are of one tray (or of a lot without one); what was said of a tray with several lots is read once.
2. `cover` ends an airing and goes on with the day count. After `uncover`, or with cuttings newly set beneath it, it
   begins anew. Cuttings told no later than a cover that went on some hours before their note were beneath it by then
   ("stuck 50 in tray 5, covered at 8am", written at 9).
3. "aired tray 9 20 min", "3x 15 min" is over; "dome off tray 9 20 min" has just begun, unless a cover follows in the
   same note or its time was past when the note was written. What neither says has begun: better a reminder too many
   than an open tray.
4. An airing's length is what was done: from off to back on, or as said where it was over when noted. One whose end
   nobody noted has none and confirms nothing.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import Final
from zoneinfo import ZoneInfo

from core.entries import Act
from core.lengths import Length
from core.lots.phrases import longest_in, parts_of, phrases, says
from core.lots.state import Cover
from core.records import Record, in_order

WILT_COUNTS_FOR: Final = timedelta(hours=12)
"""Wilting noted this long after an airing, and before the next, is laid to it (common practice)."""

_TOLD_AFTER: Final = timedelta(hours=24)
"""So long before the note of its cuttings may a cover have gone on that was told with them (common practice)."""

_SETS_BENEATH: Final = frozenset({Act.STICK, Act.SOW, Act.DIVIDE})


@dataclass(frozen=True, slots=True, kw_only=True)
class Session:
    """One airing: off at `began_at`, back on at `ended_at` (None: still off, or nobody noted it).

    `said_for` is the length that its note says, `times` how many times that day, `wilted` whether wilting was laid to
    it, `confirmed` whether its end is known. `reminder` is the key of the reminder that its note answers.
    """

    began_at: datetime
    ended_at: datetime | None
    said_for: Length | None = None
    times: int = 1
    wilted: bool = False
    confirmed: bool = False
    by: str = ""
    reminder: str | None = None

    def minutes(self) -> float | None:
        """Minutes that the cover was really off, each time; None where nobody knows."""
        if self.ended_at is None:
            return None
        return (self.ended_at - self.began_at).total_seconds() / 60


def fold_cover(records: Iterable[Record], zone: ZoneInfo, now: datetime) -> Cover:
    """The cover of one tray (or lot) at `now`, as its records (any order) tell it."""
    cover = Cover(on=False)
    planted_at: datetime | None = None
    ordered = _set_beneath_first([record for record in _once(records) if record.at <= now])
    covers = _covers_of_notes(ordered)
    for record in ordered:
        if record.entry.act in _SETS_BENEATH:
            planted_at = record.at
        cover = _after(cover, record, planted_at, covers, zone)
    return cover


def _set_beneath_first(ordered: list[Record]) -> list[Record]:
    """The records in order, cuttings no later than the cover that was put over them."""
    put_on = [one for one in ordered if one.entry.act is Act.COVER]
    moved = [_by_its_cover(one, put_on) if one.entry.act in _SETS_BENEATH else one for one in ordered]
    return sorted(moved, key=Record.order)


def _by_its_cover(planted: Record, put_on: list[Record]) -> Record:
    told_after = [
        one.at
        for one in put_on
        if (one.said_at, one.number) > (planted.said_at, planted.number)
        and timedelta() <= planted.at - one.at <= _TOLD_AFTER
    ]
    return replace(planted, at=min(told_after)) if told_after else planted


def sessions(records: Iterable[Record]) -> tuple[Session, ...]:
    """The airings of one tray (or lot), oldest first."""
    done: list[Session] = []
    open_now: Session | None = None
    ordered = _once(records)
    covers = _covers_of_notes(ordered)
    for record in ordered:
        act = record.entry.act
        if act is Act.AIR:
            if open_now is not None:
                done.append(open_now)
            over = _is_over(record, covers)
            found = _session(record, over=over)
            open_now = None if over else found
            if over:
                done.append(found)
        elif act in (Act.COVER, Act.UNCOVER) and open_now is not None:
            back = act is Act.COVER
            done.append(replace(open_now, ended_at=record.at, confirmed=True) if back else open_now)
            open_now = None
        elif act is Act.WILT:
            if open_now is not None:
                open_now = replace(open_now, wilted=True)
            elif done and record.at - (done[-1].ended_at or done[-1].began_at) <= WILT_COUNTS_FOR:
                done[-1] = replace(done[-1], wilted=True)
    return tuple(done if open_now is None else [*done, open_now])


def air_is_over(record: Record, now: datetime | None = None) -> bool:
    """True where an `air` was over when its note was written, by its words; False where the cover has just come off.

    A cover that follows in the same note is another record: `fold_cover` and `sessions` see it. `now` bounds what can
    have begun: an airing dated later than that is not over.
    """
    entry = record.entry
    if now is not None and record.at > now:
        return False
    if entry.ends or (entry.times or 1) > 1:
        return True
    if entry.duration is not None and record.at + _elapsed(entry.duration) <= record.said_at:
        return True
    return _words_say_over(record)


Covers = dict[tuple[str, datetime], tuple[datetime, datetime, int]]
"""Where in the order the last `cover` of each note stands, by note and instant."""


def _covers_of_notes(ordered: list[Record]) -> Covers:
    return {(record.message, record.at): record.order() for record in ordered if record.entry.act is Act.COVER}


def _is_over(record: Record, covers: Covers) -> bool:
    """True where the airing was over when noted, or the same note goes on to put the cover back, with no later time
    for it."""
    back = covers.get((record.message, record.at))
    return (back is not None and back > record.order()) or air_is_over(record)


def _session(record: Record, *, over: bool) -> Session:
    entry = record.entry
    length = _elapsed(entry.duration) if entry.duration is not None else timedelta()
    began_at, ended_at = record.at, None
    if over:
        # Told without an hour of its own, it ended when it was told; with one, that is when it began.
        timed = isinstance(entry.on, datetime)
        began_at = record.at if timed else record.at - length * (entry.times or 1)
        ended_at = began_at + length if length else None
    return Session(
        began_at=began_at,
        ended_at=ended_at,
        said_for=entry.duration,
        times=entry.times or 1,
        confirmed=over,
        by=record.by,
        reminder=record.reminder,
    )


def _after(cover: Cover, record: Record, planted_at: datetime | None, covers: Covers, zone: ZoneInfo) -> Cover:
    entry, at = record.entry, record.at
    match entry.act:
        case Act.COVER:
            fresh = not cover.on or cover.since is None or (planted_at is not None and planted_at > cover.since)
            vent = 0.0 if fresh else cover.vent_open
            since = at if fresh else cover.since
            return replace(
                cover, on=True, since=since, vent_open=vent, aired_at=None, back_at=None, off_for_good_at=None
            )  # fmt: skip
        case Act.VENT:
            return replace(cover, on=True, vent_open=entry.vent_open or 0.0, vented_at=at, off_for_good_at=None)
        case Act.AIR if _is_over(record, covers):
            return replace(cover, on=True, aired_at=None, back_at=None, off_for_good_at=None)
        case Act.AIR:
            back_at = _local_after(at, entry.duration, zone) if entry.duration is not None else None
            return replace(cover, on=True, aired_at=at, back_at=back_at, off_for_good_at=None)
        case Act.UNCOVER:
            return replace(cover, on=False, aired_at=None, back_at=None, off_for_good_at=at, since=cover.since)
        case Act.WILT:
            return replace(cover, wilted_at=at)
        case _:
            return cover


def _words_say_over(record: Record) -> bool:
    text = _part_about(record)
    words = phrases()
    return longest_in(text, words.air_over) > longest_in(text, words.air_begun)


def _part_about(record: Record) -> str:
    """The part of the note that tells of this airing; the whole note where that cannot be told."""
    parts = [part for part in parts_of(record.said) if says(part, phrases().air_about)]
    names = (*record.entry.trays, *record.entry.lots)
    naming = [part for part in parts if says(part, names)] if names else []
    chosen = naming or parts
    return chosen[0] if len(chosen) == 1 else " ".join(chosen) or record.said


def _once(records: Iterable[Record]) -> list[Record]:
    """The records in order, an act that counts for several lots of the tray only once."""
    seen: dict[object, Record] = {}
    for record in in_order(records):
        seen.setdefault((record.message, record.at, record.entry), record)
    return list(seen.values())


def _elapsed(length: Length) -> timedelta:
    return timedelta(days=length.day_count() - length.seconds // 86400, seconds=length.seconds)


def _local_after(at: datetime, length: Length, zone: ZoneInfo) -> datetime:
    """When a length ends: minutes and hours are elapsed time, days keep the wall clock."""
    if not (length.days or length.months):
        return at + timedelta(seconds=length.seconds)
    local = at.astimezone(zone).replace(tzinfo=None)
    return length.after(local).replace(tzinfo=zone).astimezone(at.tzinfo)
