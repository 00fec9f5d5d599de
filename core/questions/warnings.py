"""Is a lot failing: its last look and its losses against what its plant usually does by that day.

Rules
1. Red is said at once, at the check or the loss that shows it; amber only where it is asked for, since with many lots
   amber rings with nothing wrong.
2. Seed that nobody has sown yet is not late, however few of it sprout in the cold.
3. The lot itself is left out of what it is held against.
"""

from __future__ import annotations

from datetime import datetime
from typing import Any

from core.answers import Answer, FiguresTold, Refused
from core.entries import Entry
from core.figures.values import LotFigures
from core.figures.warning import Outlook, look_at
from core.lots import Lot
from core.questions.figured_lots import figured, figures_of, growing_on_of, know, of_plant
from core.questions.plans import last_day_to_stick
from core.questions.sale_days import target_of
from core.questions.subjects import asked_lots
from core.records import local_day
from core.storage import Books

Remark = tuple[str, dict[str, Any]]
_FEWEST_LOST, _LEAST_SHARE_LOST = 5, 0.1
"""Below these, losses are said in no alarm however early they come: a few cuttings always go at once (common practice)."""


def early_warning(books: Books, lot: Lot, now: datetime) -> list[Remark]:
    """What to say at once beside a check or a loss of this lot: red warnings only; empty where nothing is rare."""
    own = figures_of(lot, books.crew.zone)
    if own is None or lot.closed or lot.kind == "divisions" or lot.unsown:
        return []
    roots, losses = _looked(books, own, now)
    facts = _facts(books, lot, own, now)
    remarks: list[Remark] = []
    if roots is not None and roots.level == "red" and not lot.potted:
        remarks.append(("failing_roots", facts | outlook_facts(roots)))
    many = own.lost >= max(_FEWEST_LOST, own.started * _LEAST_SHARE_LOST)
    if losses.level == "red" and losses.day > 0 and many and lot.kind != "seed":
        remarks.append(("failing_losses", facts | outlook_facts(losses)))
    return remarks[:1]


def is_it_failing(books: Books, entry: Entry, words: str, now: datetime) -> Answer:
    """The outlook of the lots asked about, whatever its colour."""
    asked = asked_lots(books, entry, now)
    if asked.unknown:
        return Refused(why="no_lot", facts={"unknown": asked.unknown})
    rows = []
    for lot in asked.lots:
        own = figures_of(lot, books.crew.zone)
        if own is None or lot.unsown or (not entry.lots and not own.unrooted):
            continue
        roots, losses = _looked(books, own, now)
        row = _facts(books, lot, own, now)
        row |= {"roots": outlook_facts(roots) if roots else None, "losses": outlook_facts(losses)}
        rows.append(row)
    worst = {"red": 0, "amber": 1, "fine": 2, "no news": 3}
    rows.sort(key=lambda row: min(worst[one["level"]] for one in (row["roots"], row["losses"]) if one))
    return FiguresTold(kind="outlook", facts={"rows": rows, "asked": entry.plant or "", "named": asked.named})


def outlook_facts(seen: Outlook) -> dict[str, Any]:
    """What a sentence about an outlook needs."""
    return {
        "level": seen.level,
        "seen": seen.seen,
        "of": seen.of,
        "day": seen.day,
        "expected": seen.expected,
        "tail": seen.tail,
        "final": [seen.final.low, seen.final.high] if seen.final else None,
    }


def _looked(books: Books, own: LotFigures, now: datetime) -> tuple[Outlook | None, Outlook]:
    zone = books.crew.zone
    others = tuple(lot for lot in figured(books.lots(open_only=False), zone) if lot.number != own.number)
    known = know(own.plant, others, kind="seed" if own.kind == "seed" else "cuttings")
    return look_at(own, known.spread, known.time, on=local_day(now, zone))


def _facts(books: Books, lot: Lot, own: LotFigures, now: datetime) -> dict[str, Any]:
    zone = books.crew.zone
    facts: dict[str, Any] = {"number": lot.number, "plant": lot.plant, "kind": lot.kind, "restick_by": None}
    target = target_of(books, lot.plant, now)
    if target is not None:
        every = figured(books.lots(open_only=False), zone)
        ways = know(lot.plant, every, lots=of_plant(every, lot.plant)).ways(growing_on_of(every))
        last = last_day_to_stick(ways, target.due)
        facts |= {"restick_by": last.isoformat(), "late": last < local_day(now, zone), "due": target.due.isoformat()}
    return facts
