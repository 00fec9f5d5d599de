"""What does a sale ask for, and by when: the countdown of a target."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from core.entries import Act
from core.reminders.ground import Ground
from core.reminders.values import Due
from core.vocabulary.plants import same_plant


def countdown(ground: Ground) -> tuple[Due, ...]:
    """Every step of the countdown that had not passed when the target was set; a new date dates all of them anew."""
    wanted = [
        record
        for record in ground.of(Act.TARGET)
        if record.entry.plant is not None and same_plant(record.entry.plant, ground.subject.name)
    ]
    if not wanted or wanted[-1].entry.due is None:
        return ()
    target = wanted[-1]
    sale_on = target.entry.due
    assert sale_on is not None
    said_on = ground.day(target.at)
    facts = {"sale_on": sale_on.isoformat(), "plants": [ground.subject.name], "count": target.entry.count}
    dues = [
        ground.due("countdown", ground.morning(day), step=before, facts=facts | {"before": before})
        for before in sorted(ground.protocol.day_steps("countdown_days"), reverse=True)
        if (day := sale_on - timedelta(days=before)) >= said_on
    ]
    following = [due.due_at for due in dues[1:]] + [ground.morning(sale_on)]
    kept = (
        replace(due, last_useful_at=min(due.last_useful_at or last, last))
        for due, last in zip(dues, following, strict=True)
    )
    return ground.all_open(kept)
