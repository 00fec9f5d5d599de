"""What does a sale ask for, and by when: the countdown of a target, and a word when it can no longer be met.

Rules
1. A target is out of reach when, even at the plant's fastest, what stands does not make the count: cuttings stuck too
   late to root and grow on, and later all that is not in pots yet. Plants in pots always count.
2. That is said once, the day after the last day on which new cuttings would have been in time; where they still stood
   for enough, the day after the last day for potting up. A lot that nobody has counted keeps it silent: unknown is not
   zero.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta

from core.entries import Act
from core.lots import Lot
from core.records import Record
from core.reminders.ground import Ground
from core.reminders.values import Due
from core.treatments.plant_facts import fact_of
from core.vocabulary.plants import same_plant


def countdown(ground: Ground) -> tuple[Due, ...]:
    """Every step of the countdown that had not passed when the target was set; a new date dates all of them anew."""
    target = _target(ground)
    if target is None or target.entry.due is None or target.entry.count == 0:
        return ()
    sale_on = target.entry.due
    said_on = ground.day(target.at)
    facts = {"sale_on": sale_on.isoformat(), "plants": [ground.subject.name], "count": target.entry.count}
    dues = [
        ground.due("countdown", ground.morning(day), step=before, facts=facts | {"before": before, "to_go": before})
        for before in sorted(ground.protocol.day_steps("countdown_days"), reverse=True)
        if (day := sale_on - timedelta(days=before)) >= said_on
    ]
    following = [due.due_at for due in dues[1:]] + [ground.morning(sale_on)]
    kept = (
        replace(due, last_useful_at=min(due.last_useful_at or last, last))
        for due, last in zip(dues, following, strict=True)
    )
    return ground.all_open(kept)


def target_short(ground: Ground) -> tuple[Due, ...]:
    """One line when what stands can no longer reach the count by the day, even at the plant's fastest."""
    target = _target(ground)
    if target is None or target.entry.due is None or not target.entry.count:
        return ()
    sale_on, wanted = target.entry.due, target.entry.count
    last_pot_on = sale_on - timedelta(days=ground.protocol.days("growing_on"))
    last_stick_on = last_pot_on - _fastest(ground.subject.name, "cuttings")
    in_time: list[Lot] = []
    late: list[Lot] = []
    for lot in ground.history.lots:
        began_on = ground.day(lot.sown_at or lot.opened_at)
        (in_time if began_on + _fastest(lot.plant, lot.kind) <= last_pot_on else late).append(lot)
    potted = sum(map(_in_pots, in_time)) + sum(map(_in_pots, late))
    standing = _left(in_time)
    stages = (
        ("stick", last_stick_on, None if standing is None else standing + sum(map(_in_pots, late))),
        ("pot", last_pot_on, None if standing is None else potted),
    )
    for step, (why, last_on, able) in enumerate(stages):
        if able is None or able >= wanted:
            continue
        told_on = max(last_on, ground.day(target.at)) + timedelta(days=1)
        if told_on >= sale_on:
            continue
        facts = {
            "sale_on": sale_on.isoformat(), "plants": [ground.subject.name], "count": wanted, "able": able, "why": why,
        }  # fmt: skip
        until = ground.morning(sale_on)
        return ground.all_open(
            [ground.due("target_short", ground.morning(told_on), step=step, until=until, facts=facts)]
        )
    return ()


def _target(ground: Ground) -> Record | None:
    wanted = [
        record
        for record in ground.of(Act.TARGET)
        if record.entry.plant is not None and same_plant(record.entry.plant, ground.subject.name)
    ]
    return wanted[-1] if wanted else None


def _fastest(plant: str, kind: str) -> timedelta:
    """The shortest time that this plant needs to roots (seed: to seedlings)."""
    fact = fact_of(plant, "germination_days" if kind == "seed" else "weeks_to_root")
    low = 0.0 if fact is None or fact.low is None else fact.low
    return timedelta(days=low if kind == "seed" else 7 * low)


def _in_pots(lot: Lot) -> int:
    return max(lot.ready or 0, min(lot.potted, lot.left or 0))


def _left(lots: Sequence[Lot]) -> int | None:
    """How many plants are left in these lots, or None where one of them was never counted."""
    left = [lot.left for lot in lots]
    return None if None in left else sum(one for one in left if one is not None)
