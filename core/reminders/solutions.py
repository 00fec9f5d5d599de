"""What do solutions ask for: things taken out of a soak, old bleach poured away, left-over hormone thrown out."""

from __future__ import annotations

from datetime import timedelta

from core.entries import Act, Entry
from core.records import Record
from core.reminders import clock
from core.reminders.ground import Ground
from core.reminders.seed import is_over
from core.reminders.values import Due

_HORMONE = "hormone"
_POURED_FORMS = frozenset({"powder", "liquid", "gel", None})


def things_soaked(ground: Ground) -> tuple[Due, ...]:
    """Things put into this solution for a time come out at its minute; any later use or mix of it answers."""
    ours = [record for record in ground.records if _solution(record) == ground.subject.name]
    soaks = [record for record in ours if record.entry.act is Act.SANITIZE and record.entry.duration is not None]
    if not soaks or is_over(soaks[-1]):
        return ()
    put_in = soaks[-1]
    assert put_in.entry.duration is not None
    if any(record.order() > put_in.order() and record.message != put_in.message for record in ours):
        return ()
    facts = {
        "in_at": clock.local_text(put_in.at, ground.zone),
        "length": put_in.entry.duration.iso(),
        "what": ", ".join(put_in.entry.things) or None,
        "solution": ground.subject.name,
    }
    done = Entry(act=Act.SANITIZE, solution=put_in.entry.solution, things=put_in.entry.things)
    over_at = ground.after(put_in.at, put_in.entry.duration)
    return ground.all_open([ground.due("soak_ended", over_at, facts=facts, done_means=done)])


def past_its_time(ground: Ground) -> tuple[Due, ...]:
    """A batch that is used only for so long after mixing, unless it was poured out or mixed anew."""
    name = f"{ground.subject.name}_lasts"
    if name not in ground.protocol.numbers:
        return ()
    batches = [record for record in ground.of(Act.MIX, Act.POUR_OUT) if _solution(record) == ground.subject.name]
    if not batches or batches[-1].entry.act is Act.POUR_OUT:
        return ()
    mixed = batches[-1]
    minutes = ground.protocol.minutes(name)
    facts = {
        "solution": ground.subject.name,
        "mixed_at": clock.local_text(mixed.at, ground.zone),
        "hours": minutes / 60,
        "parts": list(mixed.entry.parts),
        "source": ground.protocol.source(name),
    }
    done = Entry(act=Act.POUR_OUT, solution=ground.subject.name)
    old_at = mixed.at + timedelta(minutes=minutes)
    return ground.all_open([ground.due("bleach_old", old_at, facts=facts, done_means=done)])


def left_over(ground: Ground) -> tuple[Due, ...]:
    """Hormone poured out for sticking is thrown away at the end of that day, once for all lots of the day; what a note
    has thrown out since is gone.
    """
    hour = ground.protocol.hour("leftover_hour")
    days: dict[object, list[str]] = {}
    thrown_out = [record for record in ground.of(Act.POUR_OUT) if _solution(record) == _HORMONE]
    for record in ground.of(Act.STICK):
        if thrown_out and thrown_out[-1].order() > record.order():
            continue
        hormone = record.entry.hormone
        if hormone is None or hormone.form not in _POURED_FORMS or (hormone.form is None and hormone.ppm is None):
            continue
        day = ground.day(record.at)
        if ground.wall(day, hour) <= record.at:
            day += timedelta(days=1)
        if record.lot and record.lot not in days.setdefault(day, []):
            days[day].append(record.lot)
    dues = [
        ground.due("hormone_leftover", ground.wall(day, hour), facts={"lots": lots})  # type: ignore[arg-type]
        for day, lots in days.items()
    ]
    return ground.all_open(dues)


def _solution(record: Record) -> str | None:
    if record.entry.act is Act.SANITIZE:
        return record.entry.solution or "bleach"
    return record.entry.solution
