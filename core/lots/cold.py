"""How long has seed been in the cold (or the warm), and when is that enough?

Rules
1. Days are local calendar days, counted only while in; months are the calendar's (`Length.after`). Days out move the
   end.
2. `treat` of seed with `cold_stratify` or `warm_stratify` begins one, `ends` stops its clock, the same again without a
   duration goes on ("back in the fridge"). With a duration it sets the length of the one that runs, or begins a new
   one.
3. Cold begun ends warm, and the other way; sowing in a later note ends both. A move out of a known cold place stops the
   clock, a move into one goes on.
4. Two told at once are one after the other ("60 days warm, then 60 in the fridge"): the second is to begin when the
   first is long enough, and begins when somebody says that it has.
5. "Back in" without an "out" before, or a fridge found warm: the days since the last evidence may or may not count.
   They make the end a range: all of them count, or none does. So do the days until it is told to run again. No
   published law says what warm days undo (common practice).
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from core.entries import Act, Entry
from core.lengths import Length
from core.lots.phrases import phrases, says
from core.lots.state import Cold
from core.records import Record, in_order, local_day

STRATIFYING = ("cold_stratify", "warm_stratify")
_SOME_DAYS = re.compile(r"(\d{1,3})\s*(?:days?|d)\b")


@dataclass(slots=True, kw_only=True)
class _Clock:
    """One stratification while its records are read."""

    treatment: str
    began: Record
    began_at: datetime
    asked: Length | None
    asked_max: Length | None
    running_since: datetime | None
    stopped_at: datetime | None = None
    over: bool = False
    days_out: int = 0
    unsure: list[tuple[date, date]] = field(default_factory=list)
    seen_at: datetime
    asked_in: str = ""
    after: _Clock | None = None
    in_cold_place: bool = False
    trouble_since: datetime | None = None


def fold_colds(records: Iterable[Record], zone: ZoneInfo, now: datetime | None = None) -> tuple[Cold, ...]:
    """The stratifications of one lot's records (any order), oldest first, counted up to `now` (else to the last
    record)."""
    ordered = in_order(records)
    if now is not None:
        ordered = [record for record in ordered if record.at <= now]
    clocks: list[_Clock] = []
    for record in ordered:
        _read(clocks, record, zone)
    counted_to = now or (ordered[-1].at if ordered else None)
    if counted_to is None:
        return ()
    return tuple(_cold(clock, zone, counted_to) for clock in clocks if not (clock.after is not None and clock.over))


def cold_ends(cold: Cold, zone: ZoneInfo) -> tuple[date, date] | None:
    """The first and the last local day on which a running stratification is long enough; the same day where it is sure.

    None where no length was asked, or where its clock stands (out, sown, over). The range spans the lengths asked ("60
    to 90 days") and the days that may not count.
    """
    if cold.asked is None or not (cold.running or cold.planned):
        return None
    began = cold.began_at.astimezone(zone).replace(tzinfo=None)
    first = cold.asked.after(began).date() + timedelta(days=cold.days_out)
    last = (cold.asked_max or cold.asked).after(began).date() + timedelta(days=cold.days_out)
    return first, max(first, last) + timedelta(days=round(cold.days_uncertain))


def cold_up_to(cold: Cold, now: datetime, zone: ZoneInfo) -> Cold:
    """The same stratification, its days counted up to `now`, where no record has changed it since."""
    if not cold.running or cold.counted_to is None or now <= cold.counted_to:
        return cold
    more = (local_day(now, zone) - local_day(cold.counted_to, zone)).days
    return replace(cold, days_counted=cold.days_counted + more, counted_to=now)


def _read(clocks: list[_Clock], record: Record, zone: ZoneInfo) -> None:
    entry = record.entry
    if entry.act is Act.TREAT and entry.treatment in STRATIFYING:
        _treat(clocks, record, entry.treatment, zone)
    elif entry.act is Act.SOW:
        for clock in clocks:
            if clock.began.message != record.message and not clock.over:
                _stop(clock, record.at)
                clock.over = True
    elif entry.act is Act.MOVE:
        _move(clocks, record, zone)
    running = clocks[-1] if clocks and clocks[-1].running_since is not None else None
    if running is None:
        return
    if entry.act is Act.NOTE and tells_of_cold_trouble(entry):
        _doubt(running, _trouble_began(running, record, zone), record.at, zone)
        running.trouble_since = record.at
    elif entry.act is Act.NOTE and running.trouble_since is not None and tells_of_cold_again(entry):
        _doubt(running, running.trouble_since, record.at, zone)
        running.trouble_since = None
    running.seen_at = max(running.seen_at, record.at)


def _treat(clocks: list[_Clock], record: Record, treatment: str, zone: ZoneInfo) -> None:
    entry = record.entry
    current = next((clock for clock in reversed(clocks) if clock.treatment == treatment), None)
    if entry.ends:
        if current is not None:
            _stop(current, record.at)
        return
    before = _told_just_before(clocks, record, treatment)
    if before is not None:
        clocks.append(_clock(record, treatment, after=before))
        return
    for clock in clocks:
        if clock.treatment != treatment and not clock.over and (clock.after is None or clock.after is not current):
            _stop(clock, record.at)
            clock.over = True
    if current is None or current.over or (entry.duration is not None and current.running_since is None):
        if current is not None and current.after is not None:
            current.over = True
        clocks.append(_clock(record, treatment))
    elif current.after is not None:
        current.began, current.after = record, None
        current.began_at = current.running_since = current.seen_at = record.at
    elif entry.duration is not None:
        current.asked, current.asked_max, current.asked_in = entry.duration, entry.duration_max, record.message
    elif current.running_since is not None:
        _doubt(current, current.seen_at, record.at, zone)
    else:
        _go_on(current, record.at, zone)


def _clock(record: Record, treatment: str, after: _Clock | None = None) -> _Clock:
    entry = record.entry
    return _Clock(
        treatment=treatment, began=record, began_at=record.at, asked=entry.duration, asked_max=entry.duration_max,
        asked_in=record.message, running_since=None if after else record.at, seen_at=record.at, after=after,
    )  # fmt: skip


def _told_just_before(clocks: list[_Clock], record: Record, treatment: str) -> _Clock | None:
    """The other stratification to which the same note gave a length, for the same hour; this one comes after it. None
    where the words say that the other is over.
    """
    if says(record.said, phrases().warm_had) and not says(record.said, phrases().warm_then):
        return None
    for clock in clocks:
        told_here = clock.asked_in == record.message and clock.asked is not None and clock.treatment != treatment
        if told_here and clock.running_since is not None and clock.seen_at <= record.at:
            return clock
    return None


def _begins_at(clock: _Clock, zone: ZoneInfo, now: datetime) -> datetime | None:
    """When what is planned may begin: at the same hour of the day on which the one before is long enough, and not
    before `now`; None where nothing is planned.
    """
    before = clock.after
    if before is None or before.asked is None:
        return None
    began = before.began_at.astimezone(zone).replace(tzinfo=None)
    ends = before.asked.after(began) + timedelta(days=before.days_out)
    return max(ends.replace(tzinfo=zone).astimezone(now.tzinfo), now)


def _move(clocks: list[_Clock], record: Record, zone: ZoneInfo) -> None:
    clock = clocks[-1] if clocks else None
    if clock is None or clock.over or record.entry.to is None or record.entry.count is not None:
        return
    cold_place = clock.treatment == "cold_stratify" and says(record.entry.to, phrases().cold_places)
    if cold_place and clock.running_since is None:
        _go_on(clock, record.at, zone)
    elif not cold_place and clock.in_cold_place:
        _stop(clock, record.at)
    clock.in_cold_place = cold_place


def _stop(clock: _Clock, at: datetime) -> None:
    if clock.running_since is not None:
        clock.running_since, clock.stopped_at = None, at


def _go_on(clock: _Clock, at: datetime, zone: ZoneInfo) -> None:
    assert clock.stopped_at is not None
    clock.days_out += (local_day(at, zone) - local_day(clock.stopped_at, zone)).days
    clock.running_since, clock.stopped_at = at, None
    clock.seen_at = at


def _doubt(clock: _Clock, from_at: datetime, to_at: datetime, zone: ZoneInfo) -> None:
    assert clock.running_since is not None
    first = max(local_day(from_at, zone), local_day(clock.running_since, zone))
    clock.unsure.append((first, local_day(to_at, zone)))


def tells_of_cold_trouble(entry: Entry) -> bool:
    """True for a note that seed in the cold may have been warm ("fridge was unplugged over the weekend")."""
    text = f"{entry.text or ''} {entry.rest or ''}"
    return says(text, phrases().trouble_where) and says(text, phrases().trouble_what)


def tells_of_cold_again(entry: Entry) -> bool:
    """True for a note that what kept seed cold runs again ("fridge is back on")."""
    text = f"{entry.text or ''} {entry.rest or ''}"
    return says(text, phrases().trouble_where) and says(text, phrases().trouble_over)


def _trouble_began(clock: _Clock, record: Record, zone: ZoneInfo) -> datetime:
    """When the cold may have failed: as many days ago as the note says, else since the last evidence."""
    text = (record.entry.text or "").lower()
    digits = _SOME_DAYS.search(text)
    named = [(len(phrase), days) for phrase, days in phrases().trouble_days if says(text, (phrase,))]
    days = int(digits[1]) if digits else max(named)[1] if named else None
    return clock.seen_at if days is None else record.at - timedelta(days=days)


def _unsure_days(clock: _Clock) -> int:
    """Days that may not count, each once. A spell is its nights: from Friday to Monday is three days."""
    nights = {first + timedelta(days=step) for first, last in clock.unsure for step in range((last - first).days)}
    return len(nights)


def _cold(clock: _Clock, zone: ZoneInfo, counted_to: datetime) -> Cold:
    began_at = _begins_at(clock, zone, counted_to) or clock.began_at
    until = clock.stopped_at or counted_to
    began = local_day(began_at, zone)
    unsure = _unsure_days(clock)
    return Cold(
        treatment=clock.treatment,
        began_at=began_at,
        days_asked=clock.asked.day_count() if clock.asked else None,
        days_asked_max=clock.asked_max.day_count() if clock.asked_max else None,
        days_counted=max((local_day(until, zone) - began).days - clock.days_out - unsure, 0),
        days_uncertain=unsure,
        running=clock.running_since is not None,
        ended_at=clock.stopped_at,
        asked=clock.asked,
        asked_max=clock.asked_max,
        days_out=clock.days_out,
        running_since=clock.running_since,
        counted_to=until,
        planned=clock.after is not None,
    )
