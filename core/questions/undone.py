"""What was not done: the open lots and trays of which no such act is noted within the days asked of.

Rules
1. A lot in several trays was watered only where its trays were; what names the lot alone counts for all of them.
2. Seed that is not sown lies in a store or in the cold, and needs no daily care.
"""

from __future__ import annotations

from datetime import date, datetime

from core.answers import UndoneTold
from core.entries import Act, Entry
from core.lots import Lot
from core.lots.phrases import says
from core.lots.trays import tray_name
from core.notes import act_of_word
from core.questions.asked_words import page
from core.questions.spans import span_asked
from core.questions.subjects import asked_lots
from core.records import Record, local_day
from core.storage import Books

Spot = tuple[Lot, tuple[str, ...]]


def undone_asked(entry: Entry, words: str) -> Act | None:
    """The act of which a question asks where it was not done, or None where it asks for something else."""
    asks = page("undone")["asks"]
    if entry.about not in ("history", "list", "how") or entry.lots or entry.trays or not says(words, asks["not"]):
        return None
    if words.split()[0] in asks["heads"]:
        return None
    named = entry.did or next((act for act in map(act_of_word, words.split()) if act), None)
    return Act(named) if named and named in page("undone")["acts"]["daily"] else None


def what_was_not_done(books: Books, entry: Entry, act: Act, words: str, now: datetime) -> UndoneTold:
    """The open lots, or those of a plant, without a record of this act on the day or days asked of: today if on none."""
    today = local_day(now, books.crew.zone)
    first, last = span_asked(entry.on, words, today) or (today, today)
    span = (first, min(last, today))
    bench = [lot for lot in asked_lots(books, entry, now).lots if not (lot.kind == "seed" and lot.sown_at is None)]
    spots = [(lot, _left_out(books, lot, act, entry.method, span)) for lot in bench]
    missed = tuple((lot, trays) for lot, trays in spots if trays is not None)
    return UndoneTold(did=act.value, method=entry.method, spots=missed, span=span, asked_of=len(bench))


def _left_out(
    books: Books, lot: Lot, act: Act, method: str | None, span: tuple[date, date]
) -> tuple[str, ...] | None:
    """The trays of a lot where it was not done (none: it stands in no tray), or None where it was done everywhere."""
    zone = books.crew.zone

    def counts(one: Record) -> bool:
        fits = one.holds() and one.entry.act is act and one.entry.method in (method or one.entry.method, None)
        return fits and span[0] <= local_day(one.at, zone) <= span[1]

    done = [one for one in books.lot_records(lot.number) if counts(one)]
    if any(not one.trays for one in done):
        return None
    wet = {tray_name(tray) for one in done for tray in (one.entry.trays or one.trays)}
    wet |= {tray for tray in lot.trays if any(map(counts, books.tray_records(tray)))}
    left_out = tuple(tray for tray in lot.trays if tray not in wet)
    return left_out if left_out or not (done or lot.trays) else None
