"""How many were stuck, sown, lost, potted, sold, given, planted out or reserved, or are gone: of a lot or in all, ever
or within some days.

Rules
1. Without a day it is what the lots themselves come to; within some days it is what the notes of those days tell.
2. No record is not none: where nothing was noted, that is said.
3. A loss that was told without its cause is of no cause asked for.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date, datetime

from core.answers import Answer, Refused, WentTold
from core.entries import Act, Entry
from core.lots import Lot
from core.lots.phrases import longest_in, says
from core.questions.asked_words import page
from core.questions.deeds import by_those
from core.questions.past import what_happened
from core.questions.spans import span_asked
from core.questions.subjects import asked_lots
from core.records import local_day
from core.storage import Books
from core.vocabulary.loading import read_toml

_COUNT_OF: dict[str, Callable[[Lot], int]] = {
    "lose": lambda lot: lot.lost,
    "pot": lambda lot: lot.potted,
    "sell": lambda lot: lot.sold,
    "give": lambda lot: lot.given,
    "plant_out": lambda lot: lot.planted_out,
    "reserve": lambda lot: lot.reserved,
    "gone": lambda lot: lot.lost + lot.sold + lot.given + lot.planted_out,
}
_TO_SOMEBODY = ("gone to", "gone into")
_GONE = (Act.LOSE, Act.SELL, Act.GIVE, Act.PLANT_OUT)

_BEGUN = frozenset({"stick", "sow"})
"""What a lot begins with, which only the notes tell."""


def way_asked(entry: Entry, words: str) -> str | None:
    """The act of which a question wants the number, or None where it asks for something else."""
    asks = page("went")["asks"]
    if entry.about not in ("count", "history") or entry.state is not None or not says(words, asks["how_many"]):
        return None
    if says(words, asks["but"]):
        return None
    found = {way: longest_in(words, said) for way, said in page("went")["went"].items()}
    best = max(found, key=lambda way: found[way])
    if best == "gone" and says(words, _TO_SOMEBODY):
        return None
    return best if found[best] else None


def asks_how_it_stands(entry: Entry, words: str) -> bool:
    """Whether "14 all gone?" asks what is left of one lot, and not for the notes of losses."""
    return entry.did == Act.LOSE.value and len(entry.lots) == 1 and says(words, page("went")["stands"]["says"])


def how_many_went(books: Books, entry: Entry, words: str, now: datetime) -> Answer:
    """How many of the lots asked of went the way that the question's words name."""
    way = way_asked(entry, words) or "lose"
    asked = asked_lots(books, entry, now, closed_too=True)
    if asked.unknown:
        return Refused(why="no_lot", facts={"unknown": asked.unknown})
    zone = books.crew.zone
    span = span_asked(entry.on, words, local_day(now, zone))
    cause = _cause_asked(words, entry.rest or "") if way == Act.LOSE else None
    counts = [(lot, _came_to(books, lot, way, span, cause, entry.who)) for lot in asked.lots]
    gone = tuple((lot, count) for lot, count in counts if count)
    if way in _BEGUN and not gone:
        # What was sown by weight, or before anybody counted, is told as it was noted.
        return what_happened(books, replace(entry, did=way, rest=None), words, now)
    named = asked.lots if asked.named else ()
    return WentTold(way=way, counts=gone, span=span, lots=named, cause=cause, by=entry.who)


def _cause_asked(words: str, rest: str) -> str | None:
    """What the plants died of by the question's words; a cause of the vocabulary must be among those left over."""
    causes = read_toml("values.toml")["cause"]
    found = {cause: longest_in(rest, causes[cause]) for cause in causes}
    for cause, said in page("went")["died_of"].items():
        found[cause] = max(found[cause], longest_in(words, said))
    best = max(found, key=lambda cause: found[cause])
    return best if found[best] else None


def _came_to(
    books: Books, lot: Lot, way: str, span: tuple[date, date] | None, cause: str | None, who: tuple[str, ...]
) -> int:
    if span is not None or who or way in _BEGUN:
        return _as_told(books, lot, way, span, cause, who)
    if cause is not None:
        return sum(loss.count for loss in lot.losses if loss.cause == cause)
    return _COUNT_OF[way](lot)


def _as_told(
    books: Books, lot: Lot, way: str, span: tuple[date, date] | None, cause: str | None, who: tuple[str, ...]
) -> int:
    """What the notes of some days, or of some people, tell of a lot; notes without a number count as none."""
    zone = books.crew.zone
    records = by_those(books.lot_records(lot.number), who)
    told = [one for one in records if one.holds() and one.entry.act in _acts(way) and not one.entry.ends]
    fits = [one for one in told if cause is None or one.entry.cause == cause]
    return sum(one.entry.count or 0 for one in fits if span is None or span[0] <= local_day(one.at, zone) <= span[1])


def _acts(way: str) -> tuple[Act, ...]:
    return _GONE if way == "gone" else (Act(way),)
