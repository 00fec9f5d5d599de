"""What does a count say about a lot: a total as of now, a change, or only a look at some of it?

Rules
1. A count is the total as of then; `more` adds to the one before; a share is a count of the living, and is about.
   That so much is alive agrees with the books where it is that share of all there ever were.
2. A sample, said so or out of far fewer than the books hold, is kept beside the books and never taken for the lot.
3. `of` that is neither what was started nor what is left (nor what is left unpotted) is a recount: the difference
   stands on its own line as unexplained. So does a count of `alive` that the books cannot explain.
4. A rooted count includes the potted ones, unless it can only be true of those not yet potted.
5. A count said of some of a lot's trays counts for those; together they make the lot's.
"""

from __future__ import annotations

from typing import Final

from core.entries import Entry
from core.lots.standing import Standing
from core.lots.state import Counted
from core.lots.tally import LOSS_ORDER, Pool
from core.lots.trays import tray_name
from core.records import Record

WHOLE_FROM: Final = 0.75
"""A count out of fewer than this share of what the books hold is a look at some of the lot (common practice)."""
ABOUT: Final = 0.1
"""An approximate count within this share of the books agrees with them (common practice)."""


def is_part_look(entry: Entry, living: int | None, unpotted: int) -> bool:
    """True where the count is of a sample: said so, or out of far fewer than are living (in the tray, once some are
    potted)."""
    if entry.sample:
        return True
    whole = living if living is None or not unpotted else min(living, unpotted)
    return entry.of is not None and whole is not None and entry.of < WHOLE_FROM * whole


def take_count(standing: Standing, record: Record) -> None:
    """Writes a `check` on the sheet."""
    entry = record.entry
    state = entry.state
    if state is None:
        return
    books = _books_for(standing, state)
    trays = _part_of(standing, entry)
    sample = is_part_look(entry, books, standing.tally.unpotted) and not trays
    counted = Counted(
        state=state, count=entry.count, of=entry.of, share=entry.share, at=record.at, by=record.by,
        approx=entry.approx or entry.count_max is not None, sample=sample, books=books, trays=trays,
    )  # fmt: skip
    if not trays and not entry.more and entry.count is not None and state == _looked_for(standing):
        standing.looks.append(counted)
    if sample:
        standing.sample = counted
        return
    standing.counts.pop(state, None)
    standing.counts[state] = counted
    if counted.count is not None or counted.share is not None:
        standing.last_count_at = record.at
    if not trays and entry.of is not None and state != "germinated":
        _agree_on_living(standing, entry.of, about=counted.approx)
    _write_state(standing, state, entry, trays)


def _looked_for(standing: Standing) -> str:
    """The state whose course is kept: how fast seed comes up, how fast cuttings root."""
    return "germinated" if standing.is_seed else "rooted"


def _books_for(standing: Standing, state: str) -> int | None:
    if state == "germinated" and standing.is_seed:
        return standing.started
    return standing.living()


def _part_of(standing: Standing, entry: Entry) -> tuple[str, ...]:
    """The trays that were counted, where the lot stands in others too; else none."""
    named = tuple(sorted({tray_name(tray) for tray in entry.trays} & set(standing.trays)))
    return named if named and set(named) < set(standing.trays) else ()


def _agree_on_living(standing: Standing, found: int, *, about: bool) -> None:
    tally, living = standing.tally, standing.living()
    started = {tally.base, tally.base + tally.merged_in} if not tally.open_ended else set()
    if living is not None and found in {living, tally.unpotted, *started}:
        return
    if living is not None and about and abs(found - living) <= ABOUT * living:
        return
    _recount_to(standing, found)


def _recount_to(standing: Standing, found: int) -> None:
    """The living are `found`: seedlings may have come up unseen, else the books cannot explain the difference."""
    tally = standing.tally
    change = found - tally.living
    if standing.is_seed:
        if change > 0:
            unseen = change if tally.open_ended else min(change, tally.pools[Pool.UNSPROUTED])
            tally.advance(unseen, Pool.UNROOTED, (Pool.UNSPROUTED,))
            change -= unseen
        standing.sprouts_known = True
        tally.recount(change)
        return
    tally.recount(change)
    tally.open_ended = False


def _write_state(standing: Standing, state: str, entry: Entry, trays: tuple[str, ...]) -> None:
    match state:
        case "roots_out":
            standing.roots_out = entry.count != 0 and entry.share != 0
        case "rooted":
            _write_rooted(standing, entry, trays)
        case "germinated":
            _write_germinated(standing, entry, trays)
        case "alive":
            _write_alive(standing, entry, trays)
        case "callused":
            standing.callused = _total(standing, state, entry, trays, standing.callused or 0)
        case "ready":
            standing.ready = _total(standing, state, entry, trays, standing.ready or 0)
        case _:
            pass


def _total(standing: Standing, state: str, entry: Entry, trays: tuple[str, ...], before: int) -> int | None:
    """What the count comes to for the whole lot, or None where that cannot be known."""
    said = entry.count
    if said is None and entry.share is not None:
        living = standing.living()
        of = standing.started if state == "germinated" and standing.is_seed and not trays else living
        said = None if of is None else round(entry.share * of)
    if said is None:
        return None
    if not trays:
        standing.parts.pop(state, None)
        return before + said if entry.more else said
    return _sum_of_parts(standing, state, entry, trays, said, before)


def _sum_of_parts(
    standing: Standing, state: str, entry: Entry, trays: tuple[str, ...], said: int, before: int
) -> int | None:
    if entry.share is not None and entry.count is None:
        return None
    parts = standing.parts.setdefault(state, {})
    if entry.more:
        parts[trays] = parts.get(trays, 0) + said
        return before + said
    for earlier in [key for key in parts if set(key) & set(trays)]:
        del parts[earlier]
    parts[trays] = said
    counted = {tray for key in parts for tray in key}
    return sum(parts.values()) if counted >= set(standing.trays) else max(before, sum(parts.values()))


def _write_rooted(standing: Standing, entry: Entry, trays: tuple[str, ...]) -> None:
    tally = standing.tally
    potted = tally.pools[Pool.POTTED]
    before = tally.pools[Pool.ROOTED] + (0 if trays else potted)
    total = _total(standing, "rooted", entry, trays, before)
    if total is None:
        return
    standing.rooted_known = True
    standing.sprouts_known = True
    in_tray = total if trays or is_of_unpotted(entry, total, before, potted, tally.unpotted) else total - potted
    tally.stand_at(Pool.ROOTED, max(in_tray, 0), (Pool.UNROOTED, Pool.UNSPROUTED))


def is_of_unpotted(entry: Entry, total: int, rooted: int, potted: int, unpotted: int) -> bool:
    """True where a rooted count can only be of the plants not yet potted (rule 4). `rooted` includes the potted
    ones."""
    if not potted or entry.more:
        return False
    if total < potted or (entry.of == unpotted and entry.of != unpotted + potted):
        return True
    return rooted - potted <= total < rooted


def _write_germinated(standing: Standing, entry: Entry, trays: tuple[str, ...]) -> None:
    tally = standing.tally
    if not standing.is_seed:
        return
    potted = tally.pools[Pool.POTTED]
    before = tally.unpotted if trays else tally.living
    total = _total(standing, "germinated", entry, trays, before)
    if total is None:
        return
    standing.germinated = (standing.germinated or 0) + (entry.count or 0) if entry.more else total
    standing.sprouts_known = True
    in_cells = total if trays or is_of_unpotted(entry, total, before, potted, tally.unpotted) else total - potted
    change = max(in_cells, 0) - tally.unpotted
    if change > 0:
        tally.advance(change, Pool.UNROOTED, (Pool.UNSPROUTED,))
    else:
        tally.take(-change, LOSS_ORDER[:2])
        tally.unexplained += change


def _write_alive(standing: Standing, entry: Entry, trays: tuple[str, ...]) -> None:
    tally, living = standing.tally, standing.living()
    if entry.count is None and (entry.share in (None, 1) or living is None):
        return
    total = _total(standing, "alive", entry, trays, tally.living)
    covered = {tray for key in standing.parts.get("alive", {}) for tray in key}
    if total is None or (trays and not covered >= set(standing.trays)):
        return
    about = entry.approx or entry.count_max is not None or entry.count is None
    if living is not None and (total == living or (total == tally.unpotted and tally.pools[Pool.POTTED])):
        return
    if living is not None and about and (_agrees(entry, total, living) or _agrees_of_all(standing, entry, living)):
        return
    _recount_to(standing, total)


def _agrees(entry: Entry, total: int, living: int) -> bool:
    if entry.count_max is not None:
        return total <= living <= entry.count_max
    return abs(total - living) <= ABOUT * living


def _agrees_of_all(standing: Standing, entry: Entry, living: int) -> bool:
    """Whether the living are about this share of all there ever were ("75% alive" of 80, where 20 were lost)."""
    tally = standing.tally
    if entry.share is None or entry.count is not None or tally.open_ended:
        return False
    return abs(entry.share * (tally.base + tally.merged_in) - living) <= ABOUT * living
