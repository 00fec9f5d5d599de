"""What is wanted by when, what will be short of it, and how long it is until the sale.

Rules
1. A target tells what is wanted; what stands of the plant is told beside it, and what is reserved of that.
2. The sale is on the day of the targets; where they are for several days, each is told.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date, datetime

from core.answers import Answer, FiguresTold, Refused
from core.entries import Entry
from core.lots.by_plant import lots_of_plant
from core.lots.phrases import says
from core.questions.asked_words import page
from core.questions.forecasts import how_many_will_be
from core.questions.sale_days import Wanted, targets
from core.records import local_day
from core.storage import Books
from core.vocabulary.plants import same_plant

Asked = Callable[[Books, Entry, str, datetime], Answer]

_SURE = 0.9
"""A target is short where the chance of enough is less than this."""


def wanted_asked(entry: Entry, words: str) -> Asked | None:
    """Who answers a question about targets, or about the time until the sale; None where it asks for neither."""
    until, short, wanted = (page("wanted")[name] for name in ("until", "short", "targets"))
    if entry.lots or entry.trays:
        return None
    if says(words, until["asks"]) and says(words, until["sale"]) and not says(words, until["not"]) and not entry.plant:
        return _how_long_until
    ahead = page("wanted")["ahead"]
    if says(words, ahead["says"]) and not says(words, ahead["not"]):
        return _how_it_goes
    beside = says(words, short["beside"]) or entry.plant is not None
    if says(words, short["says"]) and beside and not says(words, short["not"]):
        return _what_is_short
    return _what_is_wanted if says(words, wanted["says"]) and not says(words, wanted["not"]) else None


def _what_is_wanted(books: Books, entry: Entry, words: str, now: datetime) -> Answer:
    known = targets(books, now)
    own = [one for one in known if entry.plant is None or same_plant(one.plant, entry.plant)]
    rows = [_row(books, one) for one in sorted(own, key=lambda one: one.due)]
    return FiguresTold(kind="targets", facts={"rows": rows, "asked": entry.plant})


def _row(books: Books, one: Wanted) -> dict[str, object]:
    lots = lots_of_plant(one.plant, books.lots())
    return {
        "plant": one.plant,
        "count": one.count,
        "due": one.due.isoformat(),
        "left": sum(lot.left or 0 for lot in lots),
        "unknown": [lot.number for lot in lots if lot.left is None],
        "potted": sum(min(lot.potted, lot.left or 0) for lot in lots),
        "reserved": sum(lot.reserved for lot in lots),
    }


def _what_is_short(books: Books, entry: Entry, words: str, now: datetime) -> Answer:
    """The targets that may not be met; of one plant, what there will be of it."""
    if entry.plant is not None:
        return how_many_will_be(books, replace(entry, count=None), words, now)
    told = how_many_will_be(books, entry, words, now)
    if not isinstance(told, FiguresTold):
        return told
    rows = [row for row in told.facts["rows"] if row.get("chance", 0.0) < _SURE]
    return replace(told, facts={**told.facts, "rows": rows})


def _how_it_goes(books: Books, entry: Entry, words: str, now: datetime) -> Answer:
    """What there will be against each target; of one plant, or where there is one target alone, in full."""
    known = targets(books, now)
    plant = entry.plant or (known[0].plant if len(known) == 1 else None)
    return how_many_will_be(books, replace(entry, plant=plant, count=None), words, now)


def _how_long_until(books: Books, entry: Entry, words: str, now: datetime) -> Answer:
    today = local_day(now, books.crew.zone)
    days: dict[date, list[str]] = {}
    for one in targets(books, now):
        days.setdefault(one.due, []).append(one.plant)
    if not days:
        return Refused(why="no_sale_day")
    return FiguresTold(kind="until", facts={"rows": [_until(day, days[day], today) for day in sorted(days)]})


def _until(day: date, plants: list[str], today: date) -> dict[str, object]:
    return {"day": day.isoformat(), "days": (day - today).days, "plants": plants}
