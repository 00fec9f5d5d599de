"""What may not happen to a lot without a second yes?

Rules
1. An objection is a reason to ask, with its facts; it refuses nothing. Whoever says yes again is believed, and the fold
   shows the difference as unexplained.
2. One objection at a time, the gravest first: a closed lot, a lot on hold, a number that cannot be, a number that
   surprises.
3. "lost 5" is always 5 more. "5 dead" after "4 dead" may be all that are dead by now: that is asked. All that are dead
   are all that were ever lost, not those told of last.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import Any, Final

from core.entries import Act, Entry
from core.lots.counting import ABOUT, is_of_unpotted, is_part_look
from core.lots.phrases import lost_of, parted_of, phrases, says
from core.lots.pot_sizes import may_go_on, sizes_named
from core.lots.state import Lot, Told

SAME_LOSS_WITHIN: Final = timedelta(hours=36)
"""Two people who tell of a loss of the same size within this time may mean the same plants (common practice)."""
TOSSED_WITHIN: Final = timedelta(minutes=20)
"""How soon "tossed 5" after "5 dead" by the same person may be the same plants (common practice)."""
ROOTS_COUNTED_WITHIN: Final = timedelta(days=1)
"""How soon after roots were counted more dead than the unrooted give pause; later, rooted ones may have died (common
practice)."""
LOSS_TALK_LASTS: Final = timedelta(days=7)
"""How long "5 dead" may still include the dead that were told of before (common practice)."""

_LEAVING: Final = frozenset({Act.SPLIT, Act.SELL, Act.GIVE, Act.PLANT_OUT})
_OF_LEAVES: Final = frozenset({Act.COVER, Act.UNCOVER, Act.AIR, Act.VENT, Act.WILT})
_CHANGES_LOT: Final = frozenset(
    {
        Act.STICK, Act.SOW, Act.DIVIDE, Act.TREAT, Act.CHECK, Act.LOSE, Act.POT, Act.MERGE, Act.RESERVE, Act.HARDEN,
        Act.MOVE, *_LEAVING,
    }
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Objection:
    """Why an act on a lot is asked about: its kind, and the facts that the question needs (JSON values and instants).

    Kinds: `closed` `on_hold` `in_the_cold` `above_left` `above_potted` `above_unrooted` `split_of` `above_living`
    `above_sown` `part_or_whole` `count_lower` `above_free` `told_twice` `change_or_total` `germinated_cuttings`
    `share_of` `sold_out` `potted_again`.
    """

    kind: str
    facts: dict[str, Any] = field(default_factory=dict)


def may_not(
    lot: Lot, entry: Entry, *, at: datetime | None = None, by: str | None = None, said: str = ""
) -> Objection | None:
    """The gravest objection to recording `entry` of `lot` as it now is, or None.

    `at`, `by` and `said` are when the act was, who tells it and in which words; without `at` a loss is not held against
    earlier ones.
    """
    checks: tuple[Callable[[], Objection | None], ...] = (
        lambda: _on_closed(lot, entry),
        lambda: _on_hold(lot, entry),
        lambda: _in_the_cold(lot, entry),
        lambda: _above_left(lot, entry),
        lambda: _potted_again(lot, entry, said),
        lambda: _above_unrooted(lot, entry, at),
        lambda: _split_of(lot, entry),
        lambda: _count_impossible(lot, entry),
        lambda: _part_or_whole(lot, entry),
        lambda: _count_lower(lot, entry, at),
        lambda: _share_of(lot, entry),
        lambda: _reserved_for_others(lot, entry),
        lambda: _sold_unpotted(lot, entry),
        lambda: _sold_out(lot, entry),
        lambda: _loss_again(lot, entry, at, by, said),
    )
    return next((found for check in checks if (found := check()) is not None), None)


def _on_closed(lot: Lot, entry: Entry) -> Objection | None:
    if not lot.closed or entry.act not in _CHANGES_LOT or entry.ends:
        return None
    facts = {"act": entry.act.value, "closed_at": lot.closed_at, "merged_into": lot.merged_into, "left": lot.left}
    return Objection(kind="closed", facts=facts)


def _on_hold(lot: Lot, entry: Entry) -> Objection | None:
    if lot.hold is None or entry.act not in _LEAVING:
        return None
    return Objection(kind="on_hold", facts={"act": entry.act.value, "cause": lot.hold, "held_at": lot.held_at})


def _in_the_cold(lot: Lot, entry: Entry) -> Objection | None:
    """A cover, or wilting, of seed that lies in the cold: more likely something else was meant."""
    if entry.act not in _OF_LEAVES or lot.sown_at is not None or not any(cold.running for cold in lot.colds):
        return None
    return Objection(kind="in_the_cold", facts={"act": entry.act.value})


def _above_left(lot: Lot, entry: Entry) -> Objection | None:
    """More potted, lost, sold, split off than are left; seed not yet up may be lost or split too."""
    if entry.act not in _LEAVING | {Act.LOSE, Act.POT} or entry.count is None or entry.approx:
        return None
    there = _there_for(lot, entry.act)
    if there is None or entry.count <= there:
        return _above_potted(lot, entry)
    return Objection(kind="above_left", facts={"act": entry.act.value, "count": entry.count, "left": there})


def _above_potted(lot: Lot, entry: Entry) -> Objection | None:
    """More of the potted ones lost than the books have in pots."""
    if entry.act is not Act.LOSE or lost_of(entry.rest) != "potted":
        return None
    return _more_than_potted(lot, entry)


def _sold_unpotted(lot: Lot, entry: Entry) -> Objection | None:
    """More sold than stand in pots, of a lot of which some were potted."""
    return _more_than_potted(lot, entry) if entry.act is Act.SELL and lot.potted else None


def _sold_out(lot: Lot, entry: Entry) -> Objection | None:
    """ "Lot 14 sold out", where some left have no pots, or no roots: those that are for sale, or all of them?"""
    if entry.act is not Act.SELL or not entry.all_of:
        return None
    found = for_sale_of(lot, entry)
    return Objection(kind="sold_out", facts={"left": lot.left, "kind": found[0], "count": found[1]}) if found else None


def for_sale_of(lot: Lot, entry: Entry) -> tuple[str, int] | None:
    """Which plants of a lot are for sale and how many, where others are left that are not ("potted", 30); else None."""
    kind = "potted" if lot.potted else "rooted"
    for_sale = lot.potted or lot.rooted or 0
    if lot.kind == "seed" or not lot.left or not 0 < for_sale < lot.left or lost_of(entry.rest) is not None:
        return None
    return kind, for_sale


def _more_than_potted(lot: Lot, entry: Entry) -> Objection | None:
    if entry.count is None or entry.count <= lot.potted or entry.approx:
        return None
    return Objection(kind="above_potted", facts={"act": entry.act.value, "count": entry.count, "potted": lot.potted})


def _potted_again(lot: Lot, entry: Entry, said: str) -> Objection | None:
    """More potted than stand unpotted, into pots that none of the potted ones can have gone on to: told twice?"""
    if entry.act is not Act.POT or not entry.count or entry.approx or lot.kind == "seed" or not lot.potted:
        return None
    if lot.left is None or entry.count <= lot.left - lot.potted:
        return None
    pots = dict(lot.pots)
    if says(said, phrases().potted_on) or sizes_named(entry.rest, pots) or sum(pots.values()) != lot.potted:
        return None
    if entry.container is not None and may_go_on(pots, entry.container):
        return None
    facts = {"count": entry.count, "potted": lot.potted, "unpotted": lot.left - lot.potted}
    return Objection(kind="potted_again", facts=facts)


def _above_unrooted(lot: Lot, entry: Entry, at: datetime | None) -> Objection | None:
    """More dead than have no roots, so soon after roots were counted: one of the numbers may be wrong.

    Where all that are left have roots, the dead were among them.
    """
    counted, rooted = lot.counted("rooted"), lot.rooted
    if entry.act is not Act.LOSE or entry.count is None or entry.approx or lost_of(entry.rest) is not None:
        return None
    if rooted is None or counted is None or counted.approx or not lot.unrooted or lot.left is None:
        return None
    if rooted + entry.count <= lot.left:
        return None
    if at is not None and abs(at - counted.at) > ROOTS_COUNTED_WITHIN:
        return None
    facts = {"count": entry.count, "rooted": rooted, "left": lot.left, "among": rooted + entry.count - lot.left}
    return Objection(kind="above_unrooted", facts=facts)


def _split_of(lot: Lot, entry: Entry) -> Objection | None:
    """Some split off a lot of which only some have rooted, or stand in pots: which of them went is for the one who did
    it to say, where the number does not tell it."""
    if entry.act is not Act.SPLIT or not entry.count or entry.count == lot.left or parted_of(entry.rest) is not None:
        return None
    holds = {"rooted": (lot.rooted or 0) - lot.potted, "unrooted": lot.unrooted or 0, "potted": lot.potted}
    there = {kind: count for kind, count in holds.items() if count > 0}
    enough = [kind for kind, count in there.items() if entry.count <= count]
    if lot.kind == "seed" or len(there) < 2 or enough in ([], ["potted"]):
        return None
    return Objection(kind="split_of", facts={"count": entry.count, "there": there})


def _there_for(lot: Lot, act: Act) -> int | None:
    if lot.kind != "seed":
        return lot.left
    if lot.unsprouted is None:
        return None
    # Seedlings may have come up since the last look.
    return (lot.left or 0) + lot.unsprouted if act is not Act.SELL or lot.left is None else lot.left


def _count_impossible(lot: Lot, entry: Entry) -> Objection | None:
    count = _counted(lot, entry)
    if entry.act is not Act.CHECK or count is None or entry.sample:
        return None
    if entry.state == "germinated" and lot.kind == "cuttings" and count > 0:
        return Objection(kind="germinated_cuttings", facts={"count": count})
    if entry.state == "germinated":
        sown = lot.started
        if lot.kind == "seed" and sown is not None and count > sown and not (lot.approx or entry.approx):
            return Objection(kind="above_sown", facts={"count": count, "sown": sown, "state": entry.state})
        return None
    living = lot.left if lot.kind != "seed" or lot.unsprouted is None else (lot.left or 0) + lot.unsprouted
    if living is None or entry.approx or lot.approx or count <= living:
        return None
    facts = {"state": entry.state, "count": count, "left": living, "started": lot.started}
    return Objection(kind="above_living", facts=facts)


def _counted(lot: Lot, entry: Entry) -> int | None:
    if entry.count is None or not entry.more:
        return entry.count
    before = {"rooted": lot.rooted, "germinated": lot.germinated, "alive": lot.left}.get(entry.state or "")
    return entry.count + (before or 0)


def _part_or_whole(lot: Lot, entry: Entry) -> Objection | None:
    """`of` is neither what was started nor what is left: was only a part looked at, or are some missing?"""
    if entry.act is not Act.CHECK or entry.of is None or entry.sample or lot.left is None:
        return None
    if entry.state == "germinated":
        return None
    if entry.trays and set(entry.trays) < set(lot.trays):
        return None
    if entry.of in (lot.left, lot.left - lot.potted, lot.started, (lot.started or 0) + lot.merged_in):
        return None
    facts = {
        "state": entry.state, "count": entry.count, "of": entry.of, "left": lot.left, "started": lot.started,
        "likely_part": is_part_look(entry, lot.left, lot.left - lot.potted),
    }  # fmt: skip
    return Objection(kind="part_or_whole", facts=facts)


def _count_lower(lot: Lot, entry: Entry, at: datetime | None) -> Objection | None:
    """Fewer than were counted before: a recount, or lost since? A count of a day before that one leaves no doubt."""
    if entry.act is not Act.CHECK or entry.count is None or entry.more or entry.sample or entry.approx:
        return None
    if entry.trays and set(entry.trays) < set(lot.trays):
        return None
    if is_part_look(entry, lot.left, (lot.left or 0) - lot.potted):
        return None
    before = {"rooted": lot.rooted, "germinated": lot.left, "alive": lot.left}.get(entry.state or "")
    if before is None or entry.count >= before:
        return None
    unpotted = (lot.left or 0) - lot.potted
    if is_of_unpotted(entry, entry.count, before, lot.potted, unpotted):
        return None
    earlier = lot.counted(entry.state or "")
    if earlier is not None and at is not None and at < earlier.at:
        return None
    facts = {
        "state": entry.state, "count": entry.count, "before": before, "missing": before - entry.count,
        "before_at": earlier.at if earlier else None, "before_by": earlier.by if earlier else None,
    }  # fmt: skip
    return Objection(kind="count_lower", facts=facts)


def _share_of(lot: Lot, entry: Entry) -> Objection | None:
    """A share that, of those left, is below what the books have: it may be of those left, or of all there ever were."""
    whole = entry.share in (None, 0, 1) or entry.count is not None or entry.sample or entry.more
    if entry.act is not Act.CHECK or entry.share is None or whole or lot.left is None or lot.started is None:
        return None
    if entry.trays and set(entry.trays) < set(lot.trays):
        return None
    every = lot.started + lot.merged_in
    of_left, of_all = round(entry.share * lot.left), round(entry.share * every)
    before = {"rooted": lot.rooted, "alive": lot.left if every > lot.left else None}.get(entry.state or "")
    if before is None or of_left >= before - ABOUT * before or lot.kind == "seed":
        return None
    if entry.state == "alive" and abs(of_all - before) <= ABOUT * before:
        return None
    facts = {
        "state": entry.state, "share": entry.share, "before": before, "of_left": of_left, "of_all": of_all,
        "left": lot.left, "all": every,
    }  # fmt: skip
    return Objection(kind="share_of", facts=facts)


def _reserved_for_others(lot: Lot, entry: Entry) -> Objection | None:
    if entry.count is None or lot.left is None or (not lot.reserved and entry.act is not Act.RESERVE):
        return None
    free = lot.left - lot.reserved
    if entry.act not in (Act.RESERVE, Act.SELL, Act.GIVE) or entry.ends or entry.count <= free:
        return None
    own = dict(lot.kept_for).get((entry.to or "").lower(), 0)
    if entry.act is not Act.RESERVE and entry.count <= free + own:
        return None
    facts = {"act": entry.act.value, "count": entry.count, "free": free, "reserved": lot.reserved, "left": lot.left}
    return Objection(kind="above_free", facts=facts)


def _loss_again(lot: Lot, entry: Entry, at: datetime | None, by: str | None, said: str) -> Objection | None:
    last = lot.last_loss
    if entry.act is not Act.LOSE or entry.count is None or entry.more or last is None or at is None:
        return None
    apart = abs(at - last.at)
    facts = {
        "count": entry.count, "before": lot.lost, "at": last.at, "by": last.told_by,
        "more": max(entry.count - lot.lost, 0),
    }  # fmt: skip
    if _same_loss(entry, last, apart, by) and not says(said, phrases().loss_more):
        return Objection(kind="told_twice", facts=facts)
    # Fewer dead than were told of last cannot be all of them; equal or more can.
    in_all = apart <= LOSS_TALK_LASTS and entry.count >= last.count and _names_a_state(said)
    if in_all or tells_all_lost(said, entry.count):
        return Objection(kind="change_or_total", facts=facts)
    return None


def _same_loss(entry: Entry, last: Told, apart: timedelta, by: str | None) -> bool:
    """As many again, told by another person, or by the same one at once and without a cause ("tossed 5")."""
    if entry.count != last.count or by is None:
        return False
    return apart <= SAME_LOSS_WITHIN if by != last.told_by else apart <= TOSSED_WITHIN and entry.cause is None


def tells_all_lost(said: str, count: int) -> bool:
    """Whether these words give `count` as all that were ever lost ("7 dead in all", "total 7 dead")."""
    in_all = "|".join(re.escape(phrase) for phrase in phrases().loss_in_all)
    wanted = rf"\b(?:{in_all})\W+(?:\w+\W+)?{count}\b|\b{count}\W+(?:\w+\W+){{0,3}}(?:{in_all})\b"
    return re.search(wanted, said.lower()) is not None


def _names_a_state(said: str) -> bool:
    return says(said, phrases().loss_state) and not says(said, phrases().loss_change)
