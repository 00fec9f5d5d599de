"""When does the cover go back on, and when is the next weaning session, how long: the ladder to cover off for good.

Rules
1. What was really done moves the ladder, a quarter longer each time, rounded up to five minutes; within five minutes of
   the length asked (by the ladder, else by the note) counts as asked. One whose end nobody confirmed moves nothing.
2. Wilting: the next session is half of the one that wilted, never under the first, and not before the next morning.
   Where the first length already wilts, weaning is held until a root check shows roots.
3. A session is offered at the first of the day's hours that has not passed and at which none was begun; a missed one
   is offered again. One that would end after the latest end waits until the next morning; long ones begin early.
4. One that falls due while the cover is off is dropped; a cover left off without a word stops the offers of that day.
5. "Not yet" moves the offer by three days. After days without any word of the tray it is offered once a day.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta

from core.entries import Act, Entry
from core.lengths import Length
from core.lots import Session
from core.records import Record
from core.reminders import clock
from core.reminders.ground import Ground
from core.reminders.values import Due
from core.treatments import Protocol

_ROOTS = frozenset({"rooted", "roots_out"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Rung:
    """Where a tray stands on the ladder: minutes of the next session, sessions done, and what holds it back.

    `not_before` is the first day of the next session; `waits_for_roots` where only a root check lets it go on; `over`
    where the next session would be so long that the cover comes off instead, `last_on` the day of the last session.
    """

    minutes: int
    done: int = 0
    not_before: date | None = None
    waits_for_roots: bool = False
    over: bool = False
    last_on: date | None = None
    after_wilt: bool = False


def longer(minutes: float, protocol: Protocol) -> int:
    """The session after one of `minutes` that went well: a quarter longer, rounded up to five minutes."""
    return _rounded(minutes * protocol.times("wean_growth"), protocol)


def climb(ground: Ground, airings: tuple[Session, ...]) -> Rung:
    """The ladder after these airings of one cover, oldest first."""
    protocol = ground.protocol
    rung = Rung(minutes=protocol.minutes("wean_first"))
    for airing in airings:
        rung = _step(ground, rung, airing)
    return rung


def cover_back(ground: Ground) -> tuple[Due, ...]:
    """A cover that is off for a while goes back on: at the time said, else the session's, else after 20 minutes."""
    cover = ground.cover
    if cover.aired_at is None:
        return ()
    minutes = asked_at(ground, cover.aired_at) or ground.protocol.minutes("air_lasts")
    back_at = cover.back_at or cover.aired_at + timedelta(minutes=minutes)
    wilted = cover.wilted_at is not None and cover.wilted_at >= cover.aired_at
    if wilted and cover.wilted_at is not None:
        back_at = min(back_at, cover.wilted_at)
    facts = {
        "off_at": clock.local_text(cover.aired_at, ground.zone),
        "back_at": clock.local_text(back_at, ground.zone),
        "minutes": round((back_at - cover.aired_at).total_seconds() / 60),
        "wilted": wilted,
    }
    done = ground.naming(Entry(act=Act.COVER))
    return ground.all_open([ground.due("cover_back", back_at, facts=facts, done_means=done)])


def wean(ground: Ground) -> tuple[Due, ...]:
    """The next session of a covered tray, offered with a look for roots where it is the first."""
    cover = ground.cover
    if not cover.on or cover.since is None:
        return ()
    airings = _airings(ground, cover.since)
    rung = climb(ground, airings)
    if rung.over or (rung.waits_for_roots and not roots_seen_since(ground, airings)):
        return ()
    first = rung.done == 0 and not airings
    if first and ground.protocol.share("weaning_needs_roots") and not roots_seen_since(ground, airings):
        return ()
    return ground.first_open(_offers(ground, cover.since, cover.aired_at, airings, rung, first=first))


def cover_off(ground: Ground) -> tuple[Due, ...]:
    """The cover comes off for good, the morning after the last session of the ladder."""
    cover = ground.cover
    if not cover.on or cover.since is None:
        return ()
    rung = climb(ground, _airings(ground, cover.since))
    if not rung.over or rung.last_on is None:
        return ()
    day = max(rung.last_on + timedelta(days=1), rung.not_before or date.min)
    done = ground.naming(Entry(act=Act.UNCOVER))
    facts = {"sessions": rung.done}
    while ground.morning(day) + timedelta(days=7) <= ground.now:  # asked again each week that it stays on
        day += timedelta(days=7)
    return ground.all_open([ground.due("cover_off", ground.morning(day), facts=facts, done_means=done)])


def asked_at(ground: Ground, began_at: datetime) -> int | None:
    """The minutes that the ladder asked of a session begun at `began_at`; None before weaning has begun."""
    cover = ground.cover
    since = cover.since
    if since is None or ground.day(began_at) < _start(ground, since):
        return None
    airings = tuple(airing for airing in _airings(ground, since) if airing.began_at < began_at)
    return climb(ground, airings).minutes


def _airings(ground: Ground, since: datetime) -> tuple[Session, ...]:
    return tuple(airing for airing in ground.airings if airing.began_at >= since)


def _start(ground: Ground, since: datetime) -> date:
    return ground.day(since) + timedelta(days=ground.protocol.days("weaning_start"))


def _step(ground: Ground, rung: Rung, airing: Session) -> Rung:
    protocol = ground.protocol
    day = ground.day(airing.began_at)
    wilted_at = _wilted_at(ground, airing)
    if airing.wilted:
        really = _minutes_until_wilt(airing, wilted_at)
        asked = round(airing.said_for.seconds / 60) if airing.said_for is not None else rung.minutes
        counted = _as_asked(really if really is not None else asked, (asked,), protocol)
        first = protocol.minutes("wean_first")
        half = max(first, _rounded(counted * protocol.share("wean_after_wilt"), protocol))
        morning = ground.day(wilted_at or airing.ended_at or airing.began_at) + timedelta(days=1)
        return Rung(
            minutes=half, done=rung.done + 1, not_before=morning, waits_for_roots=counted <= first, last_on=day,
            after_wilt=True,
        )  # fmt: skip
    minutes = airing.minutes() if airing.confirmed else None
    if minutes is None:
        return replace(rung, last_on=rung.last_on or day)
    said = () if airing.said_for is None else (round(airing.said_for.seconds / 60),)
    counted = _as_asked(minutes, (rung.minutes, *said), protocol)
    next_up = max(longer(counted, protocol), protocol.minutes("wean_first"))
    over = next_up >= protocol.minutes("wean_off")
    return Rung(minutes=next_up, done=rung.done + airing.times, over=over, last_on=day)


def _as_asked(minutes: float, asked: tuple[int, ...], protocol: Protocol) -> float:
    """What counts as done: the first of the lengths asked that is near enough, else the minutes themselves."""
    near = protocol.minutes("wean_as_asked")
    return next((one for one in asked if abs(minutes - one) <= near), minutes)


def _rounded(minutes: float, protocol: Protocol) -> int:
    step = protocol.minutes("wean_round")
    return math.ceil(round(minutes / step, 6)) * step


def _wilted_at(ground: Ground, airing: Session) -> datetime | None:
    return next((record.at for record in ground.of(Act.WILT) if record.at >= airing.began_at), None)


def _minutes_until_wilt(airing: Session, wilted_at: datetime | None) -> float | None:
    ends = [end for end in (airing.ended_at, wilted_at) if end is not None]
    return (min(ends) - airing.began_at).total_seconds() / 60 if ends else None


def roots_seen_since(ground: Ground, airings: tuple[Session, ...]) -> bool:
    """True where a root check after the last of these airings (any, where there is none) showed roots."""
    since = airings[-1].began_at if airings else None
    return any(
        _shows_roots(record) for record in ground.of(Act.CHECK) if since is None or record.at > since
    )  # fmt: skip


def _shows_roots(record: Record) -> bool:
    entry = record.entry
    return entry.state in _ROOTS and (entry.state == "roots_out" or bool(entry.count) or bool(entry.share))


def _offers(
    ground: Ground, since: datetime, aired_at: datetime | None, airings: tuple[Session, ...], rung: Rung, *, first: bool
) -> Iterator[Due]:
    """Every hour at which the next session may be offered, soonest first, from the day on which it is due."""
    protocol = ground.protocol
    start = max(_start(ground, since), rung.not_before or date.min)
    for record in ground.refused("wean"):
        start = max(start, ground.day(record.at) + timedelta(days=protocol.days("wean_not_yet")))
    wilts = [record for record in ground.of(Act.WILT) if since <= record.at <= ground.now]
    if wilts:
        start = max(start, ground.day(wilts[-1].at) + timedelta(days=1))
    if airings:
        start = max(start, ground.day(airings[-1].began_at))
    silent_from = max(start, _last_word_on(ground)) + timedelta(days=protocol.days("wean_silent"))
    day = max(start, ground.today - timedelta(days=1))
    while True:
        hours = _hours(protocol, rung.minutes)
        for place, hour in enumerate(hours if day < silent_from else hours[:1]):
            slot = ground.wall(day, hour)
            if not _taken(ground, slot, aired_at, airings):
                yield _offer(ground, since, slot, place, rung, first=first)
        day += timedelta(days=1)


def _last_word_on(ground: Ground) -> date:
    """The day on which anybody last noted or answered anything of this tray."""
    return max((ground.day(record.at) for record in ground.records if record.at <= ground.now), default=date.min)


def _offer(ground: Ground, since: datetime, slot: datetime, place: int, rung: Rung, *, first: bool) -> Due:
    day = (ground.day(slot) - ground.day(since)).days
    back = slot + timedelta(minutes=rung.minutes)
    done = ground.naming(Entry(act=Act.AIR, duration=Length.of_minutes(rung.minutes)))
    facts = {
        "minutes": rung.minutes,
        "back_by": back.astimezone(ground.zone).strftime("%H:%M"),
        "day": day,
        "first": first,
        "done": rung.done,
        "after_wilt": rung.after_wilt,
    }
    return ground.due("wean", slot, step=day * 10 + place, facts=facts, done_means=done)


def _hours(protocol: Protocol, minutes: int) -> list[time]:
    """The hours of the day at which a session of this length can be offered."""
    if minutes >= protocol.minutes("wean_long"):
        return [protocol.hour("wean_long_hour")]
    latest = protocol.hour("wean_latest_end")
    fitting = [hour for hour in protocol.hours("wean_hours") if _minute(hour) + minutes <= _minute(latest)]
    return fitting or [protocol.hours("wean_hours")[0]]


def _minute(hour: time) -> int:
    return hour.hour * 60 + hour.minute


def _taken(ground: Ground, slot: datetime, aired_at: datetime | None, airings: tuple[Session, ...]) -> bool:
    """True where a session was begun for this hour or a later one, or where the cover is off at it."""
    early = timedelta(minutes=ground.protocol.minutes("wean_early"))
    if any(slot <= airing.began_at + early or (airing.ended_at or airing.began_at) > slot for airing in airings):
        return True
    return aired_at is not None and aired_at <= slot and ground.day(aired_at) == ground.day(slot)
