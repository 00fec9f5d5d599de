"""How many of a lot stand in a tray or place that only a part of it was moved to.

Rules
1. A part is as many as were said to be moved there, changed by what was told of its tray alone since then.
2. What was told of the whole lot since then may be of either part: from then it is only known how many were moved.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from core.entries import Act, Entry
from core.lots.phrases import phrases, says
from core.lots.standing import Standing
from core.lots.state import Lot, PartMoved
from core.lots.trays import moves_part, tray_name, trays_in_place


@dataclass(frozen=True, slots=True, kw_only=True)
class There:
    """How many of a lot stand in one place: all of it (`whole`), `count` of it, or a part that nobody counted; `sure`
    where nothing since may have changed the count."""

    count: int | None
    whole: bool = False
    sure: bool = True


def there(lot: Lot, where: str) -> There | None:
    """How many of the lot stand in this tray ("tray 9") or place, or None where none does."""
    part = next((one for one in lot.parts_moved if one.to == where), None)
    if part is not None and part.count is not None:
        return There(count=part.count if lot.left is None else min(part.count, lot.left), sure=part.sure)
    if part is not None or where in lot.moved_partly:
        return There(count=None)
    tray = where.removeprefix("tray ") if where.startswith("tray ") else None
    parted = {one.to for one in lot.parts_moved}
    homes = [one for one in lot.trays if f"tray {one}" not in parted]
    if where != lot.place and tray not in homes:
        return None
    if tray is not None and len(homes) > 1:
        return There(count=None)
    if not lot.parts_moved and not lot.moved_partly:
        return There(count=lot.left, whole=True)
    rest = _rest(lot)
    return There(count=rest) if rest is not None else There(count=None)


def _rest(lot: Lot) -> int | None:
    """How many stand where the lot stood before any part was moved, or None where that cannot be known."""
    counts = [one.count for one in lot.parts_moved if one.count is not None and one.sure]
    uncounted = len(counts) < len(lot.parts_moved) or {*lot.moved_partly} - {one.to for one in lot.parts_moved}
    if lot.left is None or uncounted:
        return None
    return max(lot.left - sum(counts), 0)


def follow(standing: Standing, entry: Entry, change: int) -> None:
    """Keeps the parts moved up to date after an entry that changed the living of a lot by `change`."""
    if entry.act is Act.MOVE:
        _move(standing, entry)
        return
    if not change or not standing.parts_moved:
        return
    spots = [one.to for one in standing.parts_moved if entry.rest and says(entry.rest, [one.to])]
    if spots:
        _take_from(standing, spots, change)
        return
    named = {tray_name(tray) for tray in entry.trays} & set(standing.trays)
    if not named:
        standing.parts_moved = [replace(one, sure=False) for one in standing.parts_moved]
    for tray in named:
        standing.parts_moved = [
            _changed(one, change if len(named) == 1 else None) if one.to == f"tray {tray}" else one
            for one in standing.parts_moved
        ]


def _take_from(standing: Standing, spots: Sequence[str], change: int) -> None:
    """What is told of the part at one place ("10 died on bench c") is of that part; with none left it is gone."""
    known = change if len(spots) == 1 else None
    parts = [_changed(one, known) if one.to in spots else one for one in standing.parts_moved]
    gone = {one.to for one in parts if one.count == 0 and one.sure}
    standing.parts_moved = [one for one in parts if one.to not in gone]
    standing.moved_partly = tuple(place for place in standing.moved_partly if place not in gone)


def _changed(part: PartMoved, change: int | None) -> PartMoved:
    if change is None or part.count is None:
        return replace(part, sure=False)
    return replace(part, count=max(part.count + change, 0))


def _move(standing: Standing, entry: Entry) -> None:
    if entry.to is None or entry.duration is not None or entry.to in phrases().back_places:
        return
    goals = [f"tray {tray}" for tray in trays_in_place(entry.to)]
    gone = {f"tray {tray_name(tray)}" for tray in entry.trays}
    if not moves_part(entry):
        if (entry.rest or "").lower() not in phrases().moved_rest and not gone:
            # Trays go along to a place, with what stands in them.
            standing.parts_moved = [one for one in standing.parts_moved if one.to.startswith("tray ") and not goals]
        elif gone and goals:
            standing.parts_moved = [one for one in standing.parts_moved if one.to not in gone]
        return
    goals = goals or [entry.to]
    left = [_changed(one, -(entry.count or 0)) if one.to in gone else one for one in standing.parts_moved]
    before = {one.to: one.count or 0 for one in left}
    known = entry.count is not None and len(goals) == 1
    moved = [
        PartMoved(to=goal, count=before.get(goal, 0) + (entry.count or 0) if known else None, sure=known)
        for goal in goals
    ]
    standing.parts_moved = [one for one in left if one.to not in goals and one.count != 0] + moved
