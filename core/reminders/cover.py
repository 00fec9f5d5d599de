"""What does the cover of a tray ask for: a daily look, vents, mist once it is off for good, a word when nobody notes.

Rules
1. A cover's state belongs to the tray, or to the lot where no tray is known. Its day count begins with the cover.
2. A vent is answered by one at least as far. Wilting takes the vents one step back, and the next step waits three days;
   those after it keep their distance.
3. Each vent step stands until the next one falls due.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, datetime, timedelta

from core.entries import Act, Entry
from core.reminders.ground import Ground
from core.reminders.values import Due

NEARLY = 0.01
_SEEN = (Act.CHECK, Act.LOSE, Act.WATER, Act.WILT)


def daily_look(ground: Ground) -> tuple[Due, ...]:
    """One look a day under a cover, from the day after it went on; any word on how the tray is answers that day's."""
    cover = ground.cover
    if not cover.on or cover.since is None:
        return ()
    began = ground.day(cover.since)
    seen = {ground.day(record.at) for record in ground.of(*_SEEN)}

    def looks() -> Iterator[Due]:
        for day in (ground.today, ground.today + timedelta(days=1)):
            if day > began and day not in seen:
                number = (day - began).days
                yield ground.due("daily_look", ground.morning(day), step=number, facts={"day": number})
        later = max(ground.today + timedelta(days=2), began + timedelta(days=1))
        yield ground.due("daily_look", ground.morning(later), step=(later - began).days)

    return ground.first_open(looks())


def vent(ground: Ground) -> tuple[Due, ...]:
    """The vent steps still to come, each until the next one falls due."""
    cover = ground.cover
    if not cover.on or cover.since is None:
        return ()
    days, openings = ground.protocol.day_steps("vent_days"), ground.protocol.share_steps("vent_openings")
    steps = list(zip(days, openings, strict=False))
    began = ground.day(cover.since)
    reached, not_before = _vents_so_far(ground, cover.since, openings)
    dues: list[Due] = []
    for number, (day, opening) in enumerate(steps[reached + 1 :], start=reached + 1):
        due_on = began + timedelta(days=day)
        if not_before is not None:
            due_on = max(due_on, not_before + timedelta(days=day - steps[reached + 1][0]))
        done = ground.naming(Entry(act=Act.VENT, vent_open=opening))
        facts = {"open": opening, "day": (due_on - began).days}
        hour = ground.protocol.hour("vent_hour")
        dues.append(ground.due("vent", ground.wall(due_on, hour), step=number, facts=facts, done_means=done))
    chained = [
        replace(due, last_useful_at=follower.due_at) if follower is not None else due
        for due, follower in zip(dues, [*dues[1:], None], strict=False)
    ]
    return ground.all_open(chained)


def vents_back_to(ground: Ground) -> float | None:
    """How far the vents stay open after wilting, a step less than they are; None where they are no further open."""
    cover = ground.cover
    if not cover.on or cover.since is None:
        return None
    openings = ground.protocol.share_steps("vent_openings")
    reached, _ = _vents_so_far(ground, cover.since, openings)
    opening = openings[reached] if reached >= 0 else 0.0
    return opening if opening < cover.vent_open - NEARLY else None


def mist(ground: Ground) -> tuple[Due, ...]:
    """Misting once a day after the cover came off for good; a watering answers that day's."""
    cover = ground.cover
    if cover.on or cover.off_for_good_at is None:
        return ()
    hour = ground.protocol.hour("mist_hour")
    first = ground.day(cover.off_for_good_at)
    if ground.wall(first, hour) <= cover.off_for_good_at:
        first += timedelta(days=1)
    watered = {ground.day(record.at) for record in ground.of(Act.WATER) if record.at >= cover.off_for_good_at}
    done = ground.naming(Entry(act=Act.WATER, method="mist"))
    total = ground.protocol.days("mist_days")
    return ground.all_open(
        ground.due(
            "mist", ground.wall(day, hour), step=number, facts={"day": number, "of": total}, done_means=done
        )
        for number in range(1, total + 1)
        if (day := first + timedelta(days=number - 1)) not in watered
    )  # fmt: skip


def quiet_tray(ground: Ground) -> tuple[Due, ...]:
    """A covered tray of which nobody noted anything for four days is asked after on the fifth; a note written now of
    days ago is a word too."""
    cover = ground.cover
    if not cover.on or not ground.records:
        return ()
    words = [at for record in ground.records for at in (record.at, record.said_at)]
    last = max((at for at in words if at <= ground.now), default=ground.now)
    silent_on = ground.day(last) + timedelta(days=ground.protocol.days("quiet_tray"))
    facts = {"since": ground.day(last).isoformat(), "days": ground.protocol.days("quiet_tray") - 1}
    due = ground.due("quiet_tray", ground.wall(silent_on, ground.protocol.hour("quiet_hour")), facts=facts)
    return ground.all_open([due])


def _vents_so_far(ground: Ground, since: datetime, openings: tuple[float, ...]) -> tuple[int, date | None]:
    reached = -1
    not_before: date | None = None
    for record in ground.of(Act.VENT, Act.WILT):
        if not since <= record.at <= ground.now:
            continue
        if record.entry.act is Act.WILT:
            reached = max(-1, reached - 1)
            not_before = ground.day(record.at) + timedelta(days=ground.protocol.days("vent_after_wilt"))
            continue
        opened = record.entry.vent_open or 0.0
        passed = max((place for place, opening in enumerate(openings) if opening <= opened + NEARLY), default=-1)
        if passed > reached:
            reached, not_before = passed, None
    return reached, not_before
