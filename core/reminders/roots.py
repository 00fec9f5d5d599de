"""What does a lot ask for from sticking to the sale bench: roots looked for, potting, shade, a count, a second look.

Rules
1. Roots are first looked for on the plant's first expected day, then a week after each look, until most have rooted or
   are lost, or roots show at the drainage holes; what was sold, given or planted out had rooted. A look that nobody
   took is offered again a week later.
2. Potting up follows what was seen, never a date: roots out, or enough of those alive rooted. Once all that are known
   to have rooted stand in pots, a count asks for no more of it.
3. A count is old four weeks after it was taken, and after a move or a split of the lot.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, timedelta
from typing import Any

from core.entries import Act, Entry
from core.lots import Lot
from core.records import Record
from core.reminders import clock
from core.reminders.ground import Ground
from core.reminders.values import Due
from core.treatments.protocols import OWN_RECORD

_ROOT_STATES = frozenset({"rooted", "callused", "roots_out"})
_COUNTED_STATES = frozenset({"rooted", "alive", "germinated", "callused", "ready"})


def root_check(ground: Ground) -> tuple[Due, ...]:
    """The next look for roots of a lot of cuttings."""
    lot = _lot(ground)
    if lot is None or lot.kind != "cuttings" or _rooted_enough(ground, lot) or lot.roots_out:
        return ()
    protocol = ground.protocol
    own = {"own_record": True} if protocol.numbers["first_root_check"].source.startswith(OWN_RECORD) else {}
    stuck_on = ground.day(lot.opened_at)
    every = timedelta(days=protocol.days("root_check_every"))
    first = stuck_on + (timedelta(days=protocol.days("first_root_check")) if lot.parent is None else every)
    looks = [record for record in ground.of(Act.CHECK) if record.entry.state in _ROOT_STATES]
    start = max(first, ground.day(looks[-1].at) + every) if looks else first

    def chain() -> Iterator[Due]:
        day = start
        while True:
            facts = {
                "day": (day - stuck_on).days,
                "first": not looks,
                "source": protocol.source("first_root_check"),
            } | own
            yield ground.due("root_check", ground.morning(day), step=(day - stuck_on).days, facts=facts)
            day += every

    return ground.first_open(chain())


def pot_up(ground: Ground) -> tuple[Due, ...]:
    """Potting up, said on the first and the fifth day after roots were seen."""
    lot = _lot(ground)
    if lot is None or lot.kind == "seed":
        return ()
    ready_at = _ready_at(ground, lot)
    if ready_at is None or any(record.at > ready_at for record in ground.of(Act.POT, Act.SPLIT)):
        return ()
    seen_on = ground.day(ready_at)
    days = ground.protocol.day_steps("pot_up_days")
    rooted = lot.counted("rooted")
    facts = {
        "roots_out": lot.roots_out,
        "rooted": rooted.count if rooted else None,
        "living": lot.living,
        "by": (seen_on + timedelta(days=7)).isoformat(),
    }
    dues = [ground.due("pot_up", ground.morning(seen_on + timedelta(days=day)), step=day, facts=facts) for day in days]
    return ground.first_open(dues[:1]) + ground.all_open(dues[1:])


def shade_out(ground: Ground) -> tuple[Due, ...]:
    """Out of the shade some days after potting; each day of wilting adds three. Where the pots were set down when they
    were potted is no way out of it.
    """
    lot = _lot(ground)
    pots = ground.of(Act.POT)
    if lot is None or not pots:
        return ()
    potted_at = pots[-1].at
    since = [one for one in ground.of(Act.MOVE, Act.HARDEN) if one.order() > pots[-1].order()]
    if any(one.message != pots[-1].message and _changes_place(one) for one in since):
        return ()
    wilted = {ground.day(record.at) for record in ground.of(Act.WILT) if record.at > potted_at}
    protocol = ground.protocol
    days = protocol.days("shade_days") + len(wilted) * protocol.days("shade_after_wilt")
    due_at = ground.wall(ground.day(potted_at) + timedelta(days=days), protocol.hour("shade_hour"))
    return ground.all_open([ground.due("shade_out", due_at, facts={"days": days, "wilted": len(wilted)})])


def old_count(ground: Ground) -> tuple[Due, ...]:
    """A count to be taken anew: four weeks after the last one, or the morning after a move or a split."""
    lot = _lot(ground)
    if lot is None or (lot.kind == "seed" and not lot.germinated):
        return ()
    counted_at = max(
        (record.at for record in ground.records if _counts(record)),
        default=max(lot.opened_at, lot.potted_at or lot.opened_at),
    )
    moved = [
        record.at
        for record in ground.of(Act.MOVE, Act.SPLIT)
        if record.at > counted_at and _changes_place(record) and not _brings_in(record)
    ]
    days = ground.protocol.days("old_count")
    old_on = ground.day(counted_at) + timedelta(days=days)
    if moved:
        old_on = min(old_on, ground.day(moved[0]) + timedelta(days=1))

    def chain() -> Iterator[Due]:
        day = old_on
        while True:
            facts = {"counted_on": ground.day(counted_at).isoformat(), "moved": bool(moved), "left": lot.left}
            yield ground.due("old_count", ground.morning(day), step=(day - ground.day(counted_at)).days, facts=facts)
            day += timedelta(days=days)

    return ground.first_open(chain())


def hold_review(ground: Ground) -> tuple[Due, ...]:
    """What is set apart is looked at again after a week, two and four."""
    lot = _lot(ground)
    if lot is None or lot.hold is None or lot.held_at is None:
        return ()
    held_on = ground.day(lot.held_at)
    days = ground.protocol.day_steps("hold_days")
    facts = {"cause": lot.hold, "held_on": held_on.isoformat()}
    return ground.all_open(
        ground.due("hold_review", ground.morning(held_on + timedelta(days=day)), step=day, facts=facts | {"day": day})
        for day in days
        if not any(record.at > lot.held_at and _after(ground, record, held_on, day) for record in ground.of(Act.LOSE))
    )


def bring_in(ground: Ground) -> tuple[Due, ...]:
    """Plants carried out for a while come in: at the time said, else at five."""
    lot = _lot(ground)
    if lot is None or lot.outing is None:
        return ()
    out = lot.outing
    due_at = out.back_at
    if due_at is None:
        hour = ground.protocol.hour("bring_in_hour")
        due_at = ground.wall(ground.day(out.began_at), hour)
        if due_at <= out.began_at:
            due_at = ground.wall(ground.day(out.began_at) + timedelta(days=1), hour)
    facts: dict[str, Any] = {"to": out.to, "hardening": out.hardening}
    facts |= {"out_at": clock.local_text(out.began_at, ground.zone)} | ({"trays": [*out.trays]} if out.trays else {})
    done = Entry(act=Act.MOVE, lots=(ground.subject.name,), to="inside")
    return ground.all_open([ground.due("bring_in", due_at, facts=facts, done_means=done)])


def _lot(ground: Ground) -> Lot | None:
    return ground.history.lot if ground.subject.kind == "lot" else None


def _rooted_enough(ground: Ground, lot: Lot) -> bool:
    if lot.left is not None and lot.potted and lot.left <= lot.potted:
        return True
    if lot.started:
        went = lot.sold + lot.given + lot.planted_out
        return (lot.rooted or 0) + went + lot.lost >= ground.protocol.share("roots_enough") * lot.started
    rooted = lot.counted("rooted")
    share = None if rooted is None else rooted.share
    return share is not None and share >= ground.protocol.share("roots_enough")


def _ready_at(ground: Ground, lot: Lot) -> datetime | None:
    """When it was last seen that the lot may be potted, or None where nothing seen says so."""
    seen = [record.at for record in ground.of(Act.CHECK) if record.entry.state == "roots_out"]
    wanted = ground.protocol.share("pot_up_share")
    rooted = lot.counted("rooted")
    enough = lot.rooted and lot.living and lot.rooted >= wanted * lot.living
    by_share = rooted is not None and rooted.count is None and (rooted.share or 0) >= wanted
    unpotted = lot.rooted is None or lot.rooted > lot.potted
    if rooted is not None and unpotted and (enough or by_share):
        seen.append(rooted.at)
    sample = lot.latest_sample
    if sample is not None and sample.state == "rooted" and _share(sample.count, sample.of, sample.share) >= wanted:
        seen.append(sample.at)
    return max(seen, default=None)


def _share(count: int | None, of: int | None, share: float | None) -> float:
    if share is not None:
        return share
    return count / of if count is not None and of else 0.0


def _counts(record: Record) -> bool:
    entry = record.entry
    opens = entry.act in (Act.STICK, Act.SOW, Act.DIVIDE) and entry.count is not None
    counted = entry.act is Act.CHECK and entry.state in _COUNTED_STATES and not entry.sample
    return opens or (counted and (entry.count is not None or entry.share is not None))


def _changes_place(record: Record) -> bool:
    return record.entry.act is not Act.MOVE or record.entry.duration is None


def _brings_in(record: Record) -> bool:
    """True where plants only came back in from where they stood for a while: no plant changed its tray."""
    return record.entry.to == "inside" or "|bring_in|" in (record.reminder or "")


def _after(ground: Ground, record: Record, held_on: date, day: int) -> bool:
    """True where plants were thrown out in the week before this look, which answers it."""
    lost_on = ground.day(record.at)
    return held_on + timedelta(days=day - 7) < lost_on <= held_on + timedelta(days=day)
