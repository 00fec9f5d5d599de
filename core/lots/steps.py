"""What does each act do to a lot? One short step for each act that changes it; an act without a step only dates it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import timedelta
from typing import Final
from zoneinfo import ZoneInfo

from core.entries import Act, Container, Entry
from core.lots.counting import take_count
from core.lots.numbers import full_number, names_lot, year_of
from core.lots.parts_moved import follow
from core.lots.phrases import MIXED, lost_of, parted_of, phrases, says
from core.lots.pot_sizes import is_smaller, may_go_on, potted_on, settle, size_of, sizes_named, taken
from core.lots.standing import Potting, Standing
from core.lots.state import Lot, Outing, Parted, Told
from core.lots.tally import GOING_ORDER, PARTING_ORDER, POTTING_ORDER, Pool, Tally, Way
from core.lots.trays import moves_part, tray_name, trays_after, trays_in_place
from core.records import Record

Kin = Mapping[str, Lot]
"""Lots that gave plants to this one, by full number, as folded from their own records."""

_GOING: Final = {Act.SELL: Way.SOLD, Act.GIVE: Way.GIVEN, Act.PLANT_OUT: Way.PLANTED_OUT}
_SAME_MOVE: Final = timedelta(minutes=10)


def take_step(standing: Standing, record: Record, zone: ZoneInfo, kin: Kin) -> None:
    """Writes one record on the sheet."""
    before, potted = standing.tally.living, standing.tally.pools[Pool.POTTED]
    _step(standing, record, zone, kin)
    follow(standing, record.entry, standing.tally.living - before)
    if record.entry.act is not Act.POT:
        taken(standing.pots, max(potted - standing.tally.pools[Pool.POTTED], 0), record.entry.rest)
    settle(standing.pots, standing.tally.pools[Pool.POTTED])


def _step(standing: Standing, record: Record, zone: ZoneInfo, kin: Kin) -> None:
    step = _STEPS.get(record.entry.act)
    if step is not None:
        step(standing, record)
    elif record.entry.act is Act.MERGE:
        _merge(standing, record, kin)
    elif record.entry.act in (Act.MOVE, Act.HARDEN):
        _move(standing, record, zone)


def _start_more(standing: Standing, record: Record) -> None:
    """A second sticking or sowing into the same lot; or the sowing of seed that a treatment opened."""
    entry, tally = record.entry, standing.tally
    standing.trays = trays_after(standing.trays, entry, record.trays)
    standing.medium = entry.medium or standing.medium
    standing.container = entry.container or standing.container
    standing.hormone = entry.hormone or standing.hormone
    if standing.is_seed and entry.act is Act.SOW and standing.sown_at is None:
        _sow_treated(standing, record)
        return
    if entry.count is not None:
        tally.begin(entry.count, Pool.UNSPROUTED if standing.is_seed else Pool.UNROOTED)
        standing.started = None if standing.started is None else standing.started + entry.count


def _sow_treated(standing: Standing, record: Record) -> None:
    tally, count = standing.tally, record.entry.count
    standing.sown_at = record.at
    if count is None:
        return
    if tally.open_ended:
        tally.open_ended = False
        tally.begin(count, Pool.UNSPROUTED)
    else:
        change = count - tally.pools[Pool.UNSPROUTED]
        tally.base += change
        tally.pools[Pool.UNSPROUTED] = count
    standing.started = count
    standing.approx = record.entry.approx


def _lose(standing: Standing, record: Record) -> None:
    entry, tally = record.entry, standing.tally
    of = lost_of(entry.rest)
    order = standing.loss_order(of)
    living = tally.living or tally.pools[Pool.UNSPROUTED]
    # "Half of the potted ones died" is of those alone.
    count = standing.share_of(entry, living if of is None or entry.left is not None else tally.pools[Pool(of)])
    if entry.all_of and entry.count is None and of is None:
        # "all dead" ends the lot; seeds that never came up go with it, but nobody saw them die, so they are not
        # counted lost.
        standing.given_up = True
    if not count:
        return
    tally.leave(count, Way.LOST, order)
    standing.losses[entry.cause or "unknown"] += count
    standing.last_loss = Told(count=count, at=record.at, by=record.by, told_by=record.told_by)


def _pot(standing: Standing, record: Record) -> None:
    entry, tally = record.entry, standing.tally
    last = standing.potting
    smallest = standing.smallest_pot or standing.container
    before = last.before if last is not None and last.message == record.message else smallest
    bump = _is_bump(standing, record, before)
    count = standing.share_of(entry, tally.unpotted or tally.living) or 0
    fresh = 0 if bump else count
    if not bump:
        if may_go_on(standing.pots, entry.container):
            # More than stand unpotted, but no more than are left: the rest went from small pots into these.
            fresh = min(count, max(_not_yet_potted(standing, entry), count - tally.pools[Pool.POTTED]))
        tally.advance(fresh, Pool.POTTED, POTTING_ORDER)
        if standing.is_seed and count:
            standing.sprouts_known = True
            standing.germinated = max(standing.germinated or 0, tally.living)
    standing.pots[size_of(entry.container)] += fresh
    potted_on(standing.pots, count - fresh, size_of(entry.container), entry.rest)
    alone = count >= tally.pools[Pool.POTTED]
    smaller = not bump and is_smaller(entry.container, smallest)
    standing.smallest_pot = entry.container if alone or smaller else smallest
    standing.container = entry.container or standing.container
    standing.medium = entry.medium or standing.medium
    standing.potted_at = record.at
    standing.potting = Potting(message=record.message, went_on=bump, before=before)


def _not_yet_potted(standing: Standing, entry: Entry) -> int:
    """How many may go into their first pots: seedlings that nobody counted too, or "5 more" that came up later."""
    tally = standing.tally
    late = says(entry.rest or "", phrases().loss_more)
    if not standing.is_seed or ("germinated" in standing.counts and not late):
        return tally.unpotted
    return tally.unpotted + (tally.pools[Pool.UNSPROUTED] if not tally.open_ended else entry.count or 0)


def _is_bump(standing: Standing, record: Record, before: Container | None) -> bool:
    """True where plants that stand in pots went into bigger ones: they are potted already.

    Two potted in one note are of one kind, new ones or ones potted on, unless the note has a word for potting on.
    """
    entry, said, words = record.entry, record.said.lower(), phrases()
    potted = standing.tally.pools[Pool.POTTED]
    sizes = [one for one in standing.pots if one != size_of(entry.container)]
    if sizes_named(entry.rest, sizes) and (entry.count or 0) <= potted:
        return True
    if says(entry.rest or "", words.loss_more):
        return False
    if not potted or (entry.count is not None and entry.count > potted):
        return False
    if not _not_yet_potted(standing, entry):
        return True
    if not says(said, words.potted_on):
        if standing.potting is not None and standing.potting.message == record.message:
            return standing.potting.went_on
        if said.split(" ", 1)[0] in words.pots_go_on:
            return False
    return is_smaller(before, entry.container)


def _go(standing: Standing, record: Record) -> None:
    entry, tally = record.entry, standing.tally
    count = standing.share_of(entry, tally.living)
    if entry.all_of and standing.living() is None:
        standing.given_up = True
    if not count:
        return
    tally.leave(count, _GOING[entry.act], GOING_ORDER)
    if standing.ready is not None:
        standing.ready = max(standing.ready - count, 0)
    name = _kept_for(standing, entry)
    if name is not None:
        standing.reserved[name] = max(standing.reserved[name] - count, 0)


def _split(standing: Standing, record: Record) -> None:
    entry, tally = record.entry, standing.tally
    count = standing.share_of(entry, tally.living or tally.pools[Pool.UNSPROUTED])
    if not count:
        return
    of = parted_of(entry.rest) or _kind_by_count(tally, count)
    order = sorted(PARTING_ORDER, key=lambda pool: pool.value != of)
    taken = tally.leave(count, Way.SPLIT_OFF, order)
    if of == MIXED:
        # How many of either have roots is not known until somebody counts them.
        tally.stand_at(Pool.ROOTED, 0, (Pool.UNROOTED,))
        taken |= {Pool.UNROOTED: taken[Pool.UNROOTED] + taken[Pool.ROOTED], Pool.ROOTED: 0}
        standing.rooted_known = False
        standing.roots_mixed_at = record.at
    standing.parted.append(replace(_parted(standing, record, count, taken), mixed=of == MIXED))


def _kind_by_count(tally: Tally, count: int) -> str | None:
    """What so many, and not all, must have been where nobody said it: the potted, if only they are as many; MIXED, if
    none are."""
    holds = {pool: tally.pools[pool] for pool in (Pool.UNROOTED, Pool.ROOTED, Pool.POTTED) if tally.pools[pool]}
    enough = [pool for pool, number in holds.items() if number >= count]
    if len(holds) < 2 or count >= tally.living:
        return None
    if not enough:
        return MIXED if Pool.ROOTED in holds and Pool.UNROOTED in holds else None
    return Pool.POTTED.value if enough == [Pool.POTTED] else None


def _parted(standing: Standing, record: Record, count: int, taken: dict[Pool, int]) -> Parted:
    to = record.entry.to
    return Parted(
        to=full_number(to, year_of(standing.number) or 0) if to else None,
        at=record.at,
        count=count,
        rooted=taken[Pool.ROOTED],
        potted=taken[Pool.POTTED],
        unsprouted=taken[Pool.UNSPROUTED],
        message=record.message,
    )


def _merge(standing: Standing, record: Record, kin: Kin) -> None:
    entry = record.entry
    if entry.to is None:
        return
    if names_lot(entry.to, standing.number):
        _take_in(standing, record, kin)
        return
    tally = standing.tally
    count = tally.living + tally.pools[Pool.UNSPROUTED]
    taken = tally.leave(count, Way.MERGED_OUT, PARTING_ORDER)
    standing.parted.append(_parted(standing, record, count, taken))
    standing.merged_into = full_number(entry.to, year_of(standing.number) or 0)


def _take_in(standing: Standing, record: Record, kin: Kin) -> None:
    """The plants of the other lots join this one: as many as they had, else as many as the note says."""
    others = [texted for texted in record.entry.lots if not names_lot(texted, standing.number)]
    came = [part for texted in others for part in _gave(texted, standing.number, record, kin)]
    tally = standing.tally
    if not came and record.entry.count is not None:
        tally.join(record.entry.count, Pool.UNROOTED)
    for part in came:
        tally.join(part.rooted, Pool.ROOTED)
        tally.join(part.potted, Pool.POTTED)
        tally.join(part.unsprouted, Pool.UNSPROUTED)
        tally.join(part.count - part.rooted - part.potted - part.unsprouted, Pool.UNROOTED)
        standing.rooted_known = standing.rooted_known or part.rooted > 0


def _gave(texted: str, to: str, record: Record, kin: Kin) -> list[Parted]:
    gave = [
        part
        for number, lot in kin.items()
        if names_lot(texted, number)
        for part in lot.parted
        if part.at == record.at and part.to is not None and names_lot(part.to, to)
    ]
    return [part for part in gave if part.message == record.message] or gave


def _move(standing: Standing, record: Record, zone: ZoneInfo) -> None:
    entry = record.entry
    standing.moved_at = record.at
    if entry.act is Act.HARDEN:
        standing.hardened_at = standing.hardened_at or record.at
    if entry.duration is not None or entry.act is Act.HARDEN:
        back_at = None
        if entry.duration is not None:
            local = record.at.astimezone(zone).replace(tzinfo=None)
            back_at = entry.duration.after(local).replace(tzinfo=zone).astimezone(record.at.tzinfo)
        hardening = entry.act is Act.HARDEN
        trays = _trays_out(standing, entry)
        standing.outing = Outing(began_at=record.at, to=entry.to, back_at=back_at, hardening=hardening, trays=trays)
        return
    was_out = standing.outing is not None
    standing.outing = _still_out(standing, entry)
    if entry.to in phrases().back_places:
        if not was_out:
            _bring_back(standing, record)
        return
    _change_place(standing, record)


def _trays_out(standing: Standing, entry: Entry) -> tuple[str, ...]:
    """The trays of a lot that are outside once these went out; none where it is the whole lot, or nobody can tell."""
    out = standing.outing
    if out is not None and not out.trays:
        return ()
    trays = {*(out.trays if out is not None else ()), *map(tray_name, entry.trays)} if entry.trays else set()
    return tuple(tray for tray in standing.trays if tray in trays) if trays < {*standing.trays} else ()


def _still_out(standing: Standing, entry: Entry) -> Outing | None:
    """What is outside still, once some of several trays were brought in."""
    out, gone = standing.outing, {*map(tray_name, entry.trays)}
    if out is None or not gone:
        return None
    left = tuple(tray for tray in out.trays or standing.trays if tray not in gone)
    return replace(out, trays=left) if left else None


def _bring_back(standing: Standing, record: Record) -> None:
    """What was moved out and came "back in": it stands in its tray again, and where that is nobody has said."""
    named = {tray_name(tray) for tray in record.entry.trays} & set(standing.trays)
    of_part = moves_part(record.entry) or (named and named < set(standing.trays))
    if of_part and len(standing.moved_partly) != 1:
        return
    out = {*standing.moved_partly}
    count = record.entry.count if moves_part(record.entry) else None
    if count is not None and any(one.to in out and (one.count or 0) > count for one in standing.parts_moved):
        standing.parts_moved = [
            replace(one, count=(one.count or 0) - count) if one.to in out else one for one in standing.parts_moved
        ]
        return
    standing.parts_moved = [one for one in standing.parts_moved if one.to not in out]
    standing.moved_partly = ()
    # A part that was out goes back to where the others stand.
    standing.place = standing.place if out else None


def _change_place(standing: Standing, record: Record) -> None:
    entry = record.entry
    if entry.to is None:
        return
    before = standing.trays
    standing.trays = trays_after(before, entry, record.trays)
    if trays_in_place(entry.to):
        # A tray stands somewhere, but these records do not say where, unless its place was told just before.
        told_at = standing.placed_at
        just_told = told_at is not None and record.at - told_at <= _SAME_MOVE
        changed = standing.trays != before and not moves_part(entry)
        standing.place = None if changed and not just_told else standing.place
        return
    named = {tray_name(tray) for tray in entry.trays} & set(before)
    if moves_part(entry) or (named and named < set(before)):
        potted = standing.tally.pools[Pool.POTTED]
        others = () if potted and entry.count == potted else standing.moved_partly
        standing.moved_partly = tuple(dict.fromkeys((*others, entry.to)))
        return
    standing.place, standing.placed_at = entry.to, record.at
    if (entry.rest or "").lower() not in phrases().moved_rest:
        standing.moved_partly = ()


def _treat(standing: Standing, record: Record) -> None:
    entry = record.entry
    if entry.treatment and not entry.ends and entry.treatment not in standing.treated:
        standing.treated = (*standing.treated, entry.treatment)
    if entry.hormone is not None:
        standing.hormone = entry.hormone


def _hold(standing: Standing, record: Record) -> None:
    standing.hold = record.entry.cause or "unknown"
    standing.held_at = standing.held_at or record.at


def _clear(standing: Standing, record: Record) -> None:
    del record
    standing.hold = None
    standing.held_at = None


def _kept_for(standing: Standing, entry: Entry) -> str | None:
    """For whom the plants were kept that went: for whoever got them; where nobody is named, and the note says that they
    were reserved, for the only one for whom any are. None where they were kept for nobody."""
    name = (entry.to or "").lower()
    if standing.reserved[name]:
        return name
    kept = [one for one, count in standing.reserved.items() if count]
    return kept[0] if not name and len(kept) == 1 and says(entry.rest or "", phrases().reserved) else None


def _reserve(standing: Standing, record: Record) -> None:
    entry = record.entry
    kept = sum(standing.reserved.values())
    if entry.ends:
        _free(standing, entry)
        return
    standing.reserved[(entry.to or "").lower()] += standing.share_of(entry, max(standing.tally.living - kept, 0)) or 0


def _free(standing: Standing, entry: Entry) -> None:
    """Ends what was reserved: for somebody, or for all where nobody is named; so many of it, where a count is told."""
    name = (entry.to or "").lower()
    over = [name] if name else [one for one, count in standing.reserved.items() if count]
    still = sum(standing.reserved[one] for one in over) if entry.count is None else entry.count
    for one in over:
        part = min(still, standing.reserved[one])
        standing.reserved[one] -= part
        still -= part


def _check(standing: Standing, record: Record) -> None:
    take_count(standing, record)
    found = record.entry.count or record.entry.share
    if found and standing.given_up and not record.entry.sample:
        standing.given_up = False


_STEPS: Final[dict[Act, Callable[[Standing, Record], None]]] = {
    Act.STICK: _start_more,
    Act.DIVIDE: _start_more,
    Act.SOW: _start_more,
    Act.CHECK: _check,
    Act.LOSE: _lose,
    Act.POT: _pot,
    Act.SELL: _go,
    Act.GIVE: _go,
    Act.PLANT_OUT: _go,
    Act.SPLIT: _split,
    Act.TREAT: _treat,
    Act.HOLD: _hold,
    Act.CLEAR: _clear,
    Act.RESERVE: _reserve,
}
