"""What does seed ask for: soaks that end, weeks in the cold, seedlings to look for, bags on the heads.

Rules
1. Only days in the cold count; where nobody knows when it came out, the end is a range, said at its first day.
2. The medium is made ready a week before. Where nobody said how long, the plant's own number holds, and the reminder
   says whose it is.
3. Where nobody noted a look for three weeks, that is said once, in the place of that week's look.
4. Seedlings are looked for from the plant's first expected day, counted from sowing or the end of the cold, and not
   while the seed lies in the cold.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, datetime, timedelta

from core.entries import Act, Entry
from core.lengths import Length
from core.lots import Cold, Lot, cold_ends, fold_colds
from core.lots.phrases import longest_in, phrases, says
from core.records import Record
from core.reminders import clock
from core.reminders.ground import Ground
from core.reminders.values import Due

WARM = "warm_stratify"
COLD = "cold_stratify"


def soak_cooled(ground: Ground) -> tuple[Due, ...]:
    """Hot water poured over seed has cooled: drain it, go on with the cold."""
    waters = [record for record in ground.of(Act.TREAT) if record.entry.treatment == "hot_water"]
    if not waters or waters[-1].entry.ends:
        return ()
    poured = waters[-1]
    if any(_later(record, poured) and _ends_soak(record) for record in ground.of(Act.TREAT, Act.SOW)):
        return ()
    cooled_at = (
        ground.after(poured.at, poured.entry.duration)
        if poured.entry.duration is not None
        else poured.at + ground.protocol.length("soak_cooled")
    )
    return ground.all_open(
        [ground.due("soak_cooled", cooled_at, facts={"poured_at": clock.local_text(poured.at, ground.zone)})]
    )


def soak_ended(ground: Ground) -> tuple[Due, ...]:
    """A soak of seed or wood put in now is over at its minute; what was soaked before asks for nothing."""
    soaks = [record for record in ground.of(Act.TREAT) if record.entry.treatment == "soak"]
    if not soaks or soaks[-1].entry.duration is None or soaks[-1].entry.ends:
        return ()
    put_in = soaks[-1]
    if is_over(put_in) or any(_later(record, put_in) for record in ground.of(Act.TREAT, Act.SOW, Act.SANITIZE)):
        return ()
    assert put_in.entry.duration is not None
    over_at = ground.after(put_in.at, put_in.entry.duration)
    facts = {"in_at": clock.local_text(put_in.at, ground.zone), "length": put_in.entry.duration.iso(), "what": "seed"}
    done = Entry(act=Act.TREAT, lots=(ground.subject.name,), treatment="soak", ends=True)
    return ground.all_open([ground.due("soak_ended", over_at, facts=facts, done_means=done)])


def cold_look(ground: Ground) -> tuple[Due, ...]:
    """A weekly look at seed that lies in the cold or the warm."""
    cold = _running(ground)
    if cold is None or cold.running_since is None:
        return ()
    protocol = ground.protocol
    since = ground.day(cold.running_since)
    every = timedelta(days=protocol.days("cold_look_every"))
    seen_on = _last_look(ground, cold.running_since)
    unseen_on = seen_on + timedelta(days=protocol.days("cold_unseen_after"))
    start = seen_on + every
    last = _ends(ground, _planned(ground) or cold)

    def chain() -> Iterator[Due]:
        day = start
        while last is None or day < last[1]:
            in_for = (day - ground.day(cold.began_at)).days - cold.days_out
            facts = {"treatment": cold.treatment, "day": in_for}
            hour = protocol.hour("cold_look_hour")
            if day != unseen_on:
                yield ground.due("cold_look", ground.wall(day, hour), step=(day - since).days, facts=facts)
            day += every

    return ground.first_open(chain())


def cold_unseen(ground: Ground) -> tuple[Due, ...]:
    """A stratification of which nobody noted a look for three weeks, said once."""
    cold = _running(ground)
    if cold is None or cold.running_since is None:
        return ()
    protocol = ground.protocol
    seen_on = _last_look(ground, cold.running_since)
    unseen_on = seen_on + timedelta(days=protocol.days("cold_unseen_after"))
    last = _ends(ground, cold)
    if last is not None and unseen_on >= last[1]:
        return ()
    facts = {"treatment": cold.treatment, "since": seen_on.isoformat(), "days": (unseen_on - seen_on).days}
    due_at = ground.wall(unseen_on, protocol.hour("cold_look_hour"))
    return ground.all_open([ground.due("cold_unseen", due_at, facts=facts)])


def cold_end(ground: Ground) -> tuple[Due, ...]:
    """The end of the cold: a week before, and the day; also of one that is to follow the warm."""
    cold = _planned(ground) or _running(ground)
    if cold is None or cold.treatment != COLD:
        return ()
    ends = _ends(ground, cold)
    if ends is None:
        return ()
    first, last = ends
    before = ground.protocol.days("cold_ready_before")
    facts = {"first": first.isoformat(), "last": last.isoformat(), "days": _days_asked(ground, cold)}
    if cold.asked is None:
        facts["source"] = ground.protocol.source("cold_days")
    dues = []
    if first - timedelta(days=before) > ground.day(cold.began_at):
        ready_on = first - timedelta(days=before)
        until = ground.morning(first)
        dues.append(
            ground.due("cold_ends", ground.morning(ready_on), step=0, until=until, facts=facts | {"ready": True})
        )
    done = Entry(act=Act.TREAT, lots=(ground.subject.name,), treatment=COLD, ends=True)
    dues.append(ground.due("cold_ends", ground.morning(first), step=1, facts=facts | {"ready": False}, done_means=done))
    return ground.all_open(dues)


def warm_over(ground: Ground) -> tuple[Due, ...]:
    """The warm part is over: into the cold."""
    warm = _running(ground)
    if warm is None or warm.treatment != WARM:
        return ()
    ends = _ends(ground, warm)
    if ends is None:
        return ()
    facts = {"days": _days_asked(ground, warm), "first": ends[0].isoformat(), "last": ends[1].isoformat()}
    planned = _planned(ground) is not None
    done = Entry(act=Act.TREAT, lots=(ground.subject.name,), treatment=COLD) if planned else None
    return ground.all_open([ground.due("warm_over", ground.morning(ends[0]), facts=facts, done_means=done)])


def germination_check(ground: Ground) -> tuple[Due, ...]:
    """The next look for seedlings of a lot that is sown and not in the cold."""
    lot = ground.history.lot
    if lot is None or lot.kind != "seed" or lot.sown_at is None or _running(ground) is not None or lot.potted_at:
        return ()
    if _up_enough(ground, lot):
        return ()
    protocol = ground.protocol
    ended = [cold.ended_at for cold in _colds(ground) if cold.ended_at is not None]
    since = ground.day(max([lot.sown_at, *ended]))
    every = timedelta(days=protocol.days("germination_every"))
    first = since + timedelta(days=max(protocol.days("germination_days"), 1))
    looks = [record for record in ground.of(Act.CHECK) if record.entry.state in (None, "germinated", "alive")]
    looks = [record for record in looks if ground.day(record.at) >= since]
    start = max(first, ground.day(looks[-1].at) + every) if looks else first
    sown_on = ground.day(lot.sown_at)

    def chain() -> Iterator[Due]:
        day = start
        while True:
            facts = {"day": (day - sown_on).days, "up": lot.germinated, "source": protocol.source("germination_days")}
            yield ground.due("germination_check", ground.morning(day), step=(day - sown_on).days, facts=facts)
            day += every

    return ground.first_open(chain())


def bags_check(ground: Ground) -> tuple[Due, ...]:
    """A weekly look at each plant whose seed heads were bagged, until its seed is collected."""
    bagged: dict[tuple[str, str], Record] = {}
    for record in ground.of(Act.COLLECT):
        entry = record.entry
        place = (entry.plant or "", entry.source or "")
        if entry.bagged:
            bagged[place] = record
        else:
            for key in [key for key in bagged if key[0] == place[0] and (not place[1] or key[1] == place[1])]:
                del bagged[key]
    every = timedelta(days=ground.protocol.days("bags_every"))
    dues: list[Due] = []
    for (plant, source), record in sorted(bagged.items()):
        dues += ground.first_open(_bag_chain(ground, plant, source, record, every))
    return tuple(dues)


def is_over(record: Record) -> bool:
    """True where the words of a note say that a soak was over when it was told."""
    words = phrases()
    if record.entry.duration is not None and record.at < record.said_at:
        return False  # it has an hour of its own: begun then
    return longest_in(record.said, words.soak_over) > longest_in(record.said, words.soak_begun)


def _bag_chain(ground: Ground, plant: str, source: str, record: Record, every: timedelta) -> Iterator[Due]:
    bagged_on = ground.day(record.at)
    looks = [one for one in ground.of(Act.CHECK, Act.NOTE) if one.at > record.at and one.entry.plant == plant]
    day = (ground.day(looks[-1].at) if looks else bagged_on) + every
    facts = {"plants": [plant], "source": source or None, "bagged_on": bagged_on.isoformat()}
    while True:
        step = ground.numbered((day - bagged_on).days, plant, source)
        yield ground.due("bags_check", ground.morning(day), step=step, facts=facts)
        day += every


def _last_look(ground: Ground, since: datetime) -> date:
    """The day of the last look at seed that lies in a stratification since `since`, or the day on which it went in."""
    done = [
        record
        for key, answers in ground.answers.items()
        for record in answers
        if key.split("|")[1] == "cold_look" and record.entry.answer in ("done", "yes")
    ]
    told = [record for record in ground.of(Act.CHECK, Act.NOTE, Act.LOSE) if not _tells_no_look(record)]
    looks = [record.at for record in (*told, *done) if record.at > since]
    return ground.day(max(looks, default=since))


def _tells_no_look(record: Record) -> bool:
    """ "Need labels for lot 3", "didn't get to look at it": a note about the seed, of which nobody looked at it."""
    entry = record.entry
    return entry.act is Act.NOTE and says(f"{entry.text or ''} {entry.rest or ''}", phrases().not_looked)


def _colds(ground: Ground) -> tuple[Cold, ...]:
    return fold_colds(ground.records, ground.zone, ground.now)


def _running(ground: Ground) -> Cold | None:
    return next((cold for cold in reversed(_colds(ground)) if cold.running), None)


def _planned(ground: Ground) -> Cold | None:
    """The stratification that is to follow the one that runs."""
    return next((cold for cold in _colds(ground) if cold.planned), None)


def _ends(ground: Ground, cold: Cold) -> tuple[date, date] | None:
    """The first and last day on which it is enough; by the plant's own number where nobody said how long."""
    if cold.asked is not None:
        return cold_ends(cold, ground.zone)
    number = ground.protocol.numbers["warm_days" if cold.treatment == WARM else "cold_days"]
    low, high = round(float(number.values[0])), round(number.high or 0)  # type: ignore[arg-type]
    low = low or high
    if not low:
        return None
    asked_max = Length(days=high) if high > low else None
    return cold_ends(replace(cold, asked=Length(days=low), asked_max=asked_max), ground.zone)


def _days_asked(ground: Ground, cold: Cold) -> int | None:
    if cold.asked is not None:
        return cold.asked.day_count()
    ends = _ends(ground, cold)
    return None if ends is None else (ends[0] - ground.day(cold.began_at)).days - cold.days_out


def _ends_soak(record: Record) -> bool:
    return record.entry.act is Act.SOW or record.entry.treatment in (COLD, WARM, "soak", "rinse") or record.entry.ends


def _up_enough(ground: Ground, lot: Lot) -> bool:
    return bool(
        lot.started and lot.germinated and lot.germinated >= ground.protocol.share("germination_enough") * lot.started
    )


def _later(record: Record, than: Record) -> bool:
    return record.order() > than.order()
