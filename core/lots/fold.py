"""What is this lot, by all that was ever noted of it?

Rules
1. A fold depends on the set of records alone, never on the order in which they came in: they are read by when the acts
   were done. What opens the lot is read first, also where something dated earlier was noted of it.
2. A lot is opened by the first stick, divide or split into it; else by the first sow, or treatment of seed that names
   its plant.
3. A split is one record of the parent and one of the new lot, with the same entry. The new lot's is the one whose
   number `to` names; where `to` is silent, the one whose number `lots` does not name; where both are, the first record
   of a lot that nothing else opens. What the entry does not say of the new lot (plant, wood, hormone …) is the
   parent's, looked up in `kin`. Of several splits at one time, its own is that of its note and count.
4. Plants that came from another lot, by split or merge, are what that lot's own fold says went (`Lot.parted`).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from zoneinfo import ZoneInfo

from core.entries import Act, Entry, SourceShare
from core.lots.cold import fold_colds
from core.lots.numbers import full_number, names_lot, year_of
from core.lots.standing import Standing
from core.lots.state import Loss, Lot, Parted
from core.lots.steps import Kin, take_step
from core.lots.tally import Pool, Tally, Way
from core.records import Record, in_order

SEED_TREATMENTS = frozenset(
    {"hot_water", "soak", "scarify", "acid", "smoke", "cold_stratify", "warm_stratify", "rinse", "heat"}
)
_KIND = {Act.STICK: "cuttings", Act.DIVIDE: "divisions", Act.SOW: "seed", Act.TREAT: "seed"}
_WHAT = {"seed": "seed", "cuttings": "cuttings", "divisions": "divisions"}


def fold(number: str, records: Iterable[Record], zone: ZoneInfo, *, kin: Kin | None = None) -> Lot | None:
    """The lot `number` (full) as its records tell it, in any order; None where none of those that hold opens it.

    `kin` are the folded lots that gave plants to it (`kin_of` names them); without them a split's new lot knows only
    what its entry says, and a merge brings only the count that the entry says.
    """
    ordered = in_order(records)
    opener = _opener(number, ordered)
    if opener is None:
        return None
    kin = kin or {}
    standing = _open(number, opener, kin)
    for record in ordered:
        if record is not opener:
            take_step(standing, record, zone, kin)
        _note_closing(standing, record)
    return _finish(standing, opener, ordered, zone, kin)


def fold_books(records: Iterable[Record], zone: ZoneInfo) -> dict[str, Lot]:
    """Every lot of a crew's records, by full number, with what went from one to the other.

    Lots may give to each other both ways (split off, later merged again): they are folded again until nothing changes.
    Every round settles at least one more split or merge in the order of time, so the rounds are no more than those.
    """
    by_lot: dict[str, list[Record]] = {}
    for record in records:
        if record.lot is not None:
            by_lot.setdefault(record.lot, []).append(record)
    folded = {number: fold(number, told, zone) for number, told in by_lot.items()}
    givers = {number: kin_of(number, told) for number, told in by_lot.items()}
    waiting = [number for number in sorted(by_lot) if givers[number]]
    for _ in range(sum(len(given) for given in givers.values()) + 1):
        changed = False
        for number in waiting:
            kin = {giver: lot for giver in givers[number] if (lot := folded.get(giver)) is not None}
            again = fold(number, by_lot[number], zone, kin=kin)
            changed = changed or again != folded[number]
            folded[number] = again
        if not changed:
            break
    return {number: lot for number, lot in sorted(folded.items()) if lot is not None}


def kin_of(number: str, records: Iterable[Record]) -> tuple[str, ...]:
    """The full numbers of the lots that gave plants to this one, as its records name them (this lot's year where
    silent)."""
    year = year_of(number) or 0
    named = [
        full_number(texted, year)
        for record in in_order(records)
        if opens_by_split(record.entry, number) or _takes_in(record.entry, number)
        for texted in record.entry.lots
        if not names_lot(texted, number)
    ]
    return tuple(dict.fromkeys(named))


def opens_by_split(entry: Entry, number: str) -> bool:
    """True where a split's record belongs to the new lot `number`, by what the entry says (rule 3)."""
    if entry.act is not Act.SPLIT:
        return False
    if entry.to is not None:
        return names_lot(entry.to, number)
    return bool(entry.lots) and not any(names_lot(texted, number) for texted in entry.lots)


def _takes_in(entry: Entry, number: str) -> bool:
    return entry.act is Act.MERGE and names_lot(entry.to, number)


def _opener(number: str, ordered: list[Record]) -> Record | None:
    seed: Record | None = None
    silent: Record | None = None
    for record in ordered:
        entry = record.entry
        if entry.act in (Act.STICK, Act.DIVIDE) or opens_by_split(entry, number):
            return record
        if entry.act is Act.SOW or (entry.act is Act.TREAT and entry.plant and entry.treatment in SEED_TREATMENTS):
            seed = seed or record
        if entry.act is Act.SPLIT and not entry.to and not entry.lots:
            silent = silent or record
    return seed or silent


def _open(number: str, opener: Record, kin: Kin) -> Standing:
    entry = opener.entry
    parent = _parent(number, opener, kin)
    kind = _KIND.get(entry.act) or _WHAT.get(entry.what or "") or (parent.kind if parent else "cuttings")
    pool = Pool.UNSPROUTED if kind == "seed" else Pool.UNROOTED
    tally = Tally()
    standing = Standing(
        number=number, kind=kind, tally=tally, approx=entry.approx or entry.count_max is not None,
        trays=tuple(dict.fromkeys(tray.lower() for tray in (opener.trays or entry.trays) if tray != "all")),
        hormone=entry.hormone or (parent.hormone if parent else None),
        medium=entry.medium or (parent.medium if parent else None),
        container=entry.container or (parent.container if parent else None),
        treated=(entry.treatment,) if entry.act is Act.TREAT and entry.treatment and not entry.ends else (),
        sown_at=opener.at if entry.act is Act.SOW else (parent.sown_at if parent else None),
    )  # fmt: skip
    part = _part_from(parent, number, opener)
    if part is None:
        standing.started = _count_of(entry)
        tally.begin(standing.started, pool)
    else:
        _begin_with(standing, part)
    if entry.act is Act.SPLIT and kind == "seed" and standing.sown_at is not None:
        standing.sprouts_known = part is not None and part.count > part.unsprouted
    if parent is not None:
        standing.treated = standing.treated or parent.treated
        standing.place = parent.place
    return standing


def _count_of(entry: Entry) -> int | None:
    counts = [share.count for share in entry.sources]
    if entry.count is None and counts and None not in counts:
        return sum(count for count in counts if count is not None)
    return entry.count


def _begin_with(standing: Standing, part: Parted) -> None:
    tally = standing.tally
    standing.started = part.count
    tally.begin(part.rooted, Pool.ROOTED)
    tally.begin(part.potted, Pool.POTTED)
    tally.begin(part.unsprouted, Pool.UNSPROUTED)
    tally.begin(part.count - part.rooted - part.potted - part.unsprouted, Pool.UNROOTED)
    standing.rooted_known = part.rooted > 0 and not part.mixed
    standing.roots_mixed_at = part.at if part.mixed else None


def _parent(number: str, opener: Record, kin: Kin) -> Lot | None:
    if opener.entry.act is not Act.SPLIT:
        return None
    named = [kin[key] for key in kin if any(names_lot(texted, key) for texted in opener.entry.lots) and key != number]
    return named[0] if named else None


def _part_from(parent: Lot | None, number: str, opener: Record) -> Parted | None:
    if parent is None:
        return None
    went = [part for part in parent.parted if part.at == opener.at and (part.to is None or names_lot(part.to, number))]
    told = [part for part in went if part.message == opener.message]
    return next((part for part in told if part.count == opener.entry.count), next(iter(told or went), None))


def _note_closing(standing: Standing, record: Record) -> None:
    if not standing.is_over():
        standing.closed_at = None
    elif standing.closed_at is None:
        standing.closed_at = record.at


def _finish(standing: Standing, opener: Record, ordered: list[Record], zone: ZoneInfo, kin: Mapping[str, Lot]) -> Lot:
    entry, tally = opener.entry, standing.tally
    parent = _parent(standing.number, opener, kin)
    living = 0 if standing.given_up and standing.living() is None else standing.living()
    rooted = tally.pools[Pool.ROOTED] + tally.pools[Pool.POTTED]
    kept_for = sorted((name, count) for name, count in standing.reserved.items() if name and count)
    known_rooted = standing.rooted_known or (tally.pools[Pool.POTTED] > 0 and standing.kind == "cuttings")
    return Lot(
        number=standing.number,
        kind=standing.kind,
        plant=entry.plant or _first_plant(ordered) or (parent.plant if parent else ""),
        opened_at=opener.at,
        opened_by=opener.by,
        opened_told_by=opener.told_by,
        started=standing.started,
        approx=standing.approx,
        amount=next((record.entry.amount for record in ordered if record.entry.amount is not None), None),
        parent=_parent_number(standing.number, opener, parent),
        merged_into=standing.merged_into,
        cutting=_form(entry) or (parent.cutting if parent else None),
        wood=entry.wood or (parent.wood if parent else None),
        hormone=standing.hormone,
        medium=standing.medium,
        container=standing.container,
        sources=_sources(entry) or (parent.sources if parent else ()),
        rooted=rooted if known_rooted else None,
        roots_mixed_at=None if standing.rooted_known else standing.roots_mixed_at,
        callused=standing.callused,
        germinated=standing.germinated,
        roots_out=standing.roots_out,
        ready=standing.ready if standing.ready is None or living is None else min(standing.ready, living),
        potted=tally.pools[Pool.POTTED],
        pots=tuple(sorted((size, count) for size, count in standing.pots.items() if count)),
        sold=tally.gone[Way.SOLD],
        given=tally.gone[Way.GIVEN],
        planted_out=tally.gone[Way.PLANTED_OUT],
        split_off=tally.gone[Way.SPLIT_OFF],
        merged_out=tally.gone[Way.MERGED_OUT],
        merged_in=tally.merged_in,
        reserved=min(sum(standing.reserved.values()), tally.living),
        reserved_for=tuple(name for name, _ in kept_for),
        reserved_each=tuple(count for _, count in kept_for),
        losses=tuple(Loss(cause=cause, count=count) for cause, count in sorted(standing.losses.items())),
        living=living,
        left=living,
        unrooted=None if living is None else tally.pools[Pool.UNROOTED],
        unsprouted=None if tally.open_ended or standing.kind != "seed" else tally.pools[Pool.UNSPROUTED],
        unexplained=tally.unexplained,
        counts=tuple(standing.counts.values()),
        latest_sample=standing.sample,
        looks=tuple(standing.looks),
        trays=standing.trays,
        place=standing.place,
        moved_at=standing.moved_at,
        moved_partly=standing.moved_partly,
        parts_moved=tuple(one for one in standing.parts_moved if one.to in _places_of(standing)),
        outing=standing.outing,
        hardened_at=standing.hardened_at,
        colds=fold_colds(ordered, zone),
        treated=standing.treated,
        hold=standing.hold,
        held_at=standing.held_at,
        sown_at=standing.sown_at,
        potted_at=standing.potted_at,
        closed=standing.closed_at is not None,
        closed_at=standing.closed_at,
        stage=_stage(standing, rooted if known_rooted else 0),
        last_entry_at=max(record.at for record in ordered),
        last_count_at=standing.last_count_at,
        last_loss=standing.last_loss,
        parted=tuple(standing.parted),
    )


def _places_of(standing: Standing) -> set[str]:
    return {*standing.moved_partly, *(f"tray {tray}" for tray in standing.trays)}


def _first_plant(ordered: list[Record]) -> str | None:
    return next((one.entry.plant for one in ordered if one.entry.plant and one.entry.act in (Act.SOW, Act.TREAT)), None)


def _parent_number(number: str, opener: Record, parent: Lot | None) -> str | None:
    if parent is not None:
        return parent.number
    if opener.entry.act is not Act.SPLIT:
        return None
    named = [full_number(texted, year_of(number) or 0) for texted in opener.entry.lots if not names_lot(texted, number)]
    return named[0] if named else None


def _form(entry: Entry) -> str | None:
    return entry.cutting if entry.cutting is None or isinstance(entry.cutting, str) else "+".join(entry.cutting)


def _sources(entry: Entry) -> tuple[SourceShare, ...]:
    return entry.sources or ((SourceShare(source=entry.source),) if entry.source else ())


def _stage(standing: Standing, rooted: int) -> str:
    if standing.closed_at is not None:
        return "closed"
    if standing.hardened_at is not None:
        return "hardening"
    if standing.tally.pools[Pool.POTTED]:
        return "potted"
    if standing.is_seed:
        if standing.sprouts_known and standing.tally.living:
            return "germinated"
        return "seed" if standing.sown_at is None else "sown"
    return "rooted" if rooted or standing.roots_out else "stuck"
