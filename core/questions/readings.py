"""What thermometers read: "what's the temp in the greenhouse", "how cold did it get last night".

Rules
1. The place, lot or tray that is named picks its readings; days that are named pick theirs, else it is the last two weeks.
2. A question of how things are gets the newest reading of each place, one of the coldest or the hottest that one alone.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime
from typing import Final

from core.answers import Answer, HistoryTold, Refused
from core.entries import Act, Entry
from core.lots.phrases import says
from core.lots.trays import tray_name
from core.questions.asked_words import asked_words
from core.questions.deeds import RECENT
from core.questions.spans import span_asked
from core.questions.subjects import asked_lots
from core.records import Record, in_order, local_day
from core.storage import Books
from core.vocabulary.place_words import places_of_a_nursery

_MOST_PLACES: Final = 5


def readings_asked(entry: Entry) -> bool:
    """Whether a question asks what a thermometer or hygrometer read."""
    return entry.about == "history" and entry.did == Act.TEMP.value and not entry.who


def what_was_read(books: Books, entry: Entry, words: str, now: datetime) -> Answer:
    """The readings asked for, the newest first; none where nobody noted one there and then."""
    zone, page = books.crew.zone, asked_words()["readings"]
    asked = asked_lots(books, entry, now, closed_too=True) if entry.lots else None
    if asked is not None and asked.unknown:
        return Refused(why="no_lot", facts={"unknown": asked.unknown})
    lots = {lot.number for lot in asked.lots} if asked is not None else set()
    trays = {tray_name(tray) for tray in entry.trays if tray != "all"}
    humid = says(words, page["humidity"])
    span = span_asked(entry.on, words, local_day(now, zone))
    read = [
        one
        for one in in_order(books.records(acts=(Act.TEMP.value,)))
        if one.holds()
        and (one.entry.humidity if humid else one.entry.temp_c) is not None
        and (span[0] <= local_day(one.at, zone) <= span[1] if span else one.at >= now - RECENT)
    ]
    place = None if lots or trays else _place_in(words, (one.entry.place for one in read))
    found = [one for one in read if _is_of(one, lots, trays) and (place is None or _stands(one.entry.place, place))]
    if found and says(words, page["lowest"]):
        found = [min(found, key=lambda one: _figure(one, humid=humid))]
    elif found and says(words, page["highest"]):
        found = [max(found, key=lambda one: _figure(one, humid=humid))]
    where = [*(f"lot {lot}" for lot in entry.lots), *(f"tray {tray}" for tray in sorted(trays)), *([place] if place else [])]
    what = "the humidity" if humid else "a temperature"
    return HistoryTold(records=_newest(found), asked=f"{what} for {', '.join(where)}" if where else what, span=span)


def _newest(found: Sequence[Record]) -> tuple[Record, ...]:
    """The newest reading of each place, lot and tray, the newest of all first."""
    newest = {(one.entry.place, one.lot, one.entry.trays): one for one in found}
    return tuple(sorted(newest.values(), key=Record.order, reverse=True)[:_MOST_PLACES])


def _figure(record: Record, *, humid: bool) -> float:
    return (record.entry.humidity if humid else record.entry.temp_c) or 0.0


def _is_of(record: Record, lots: set[str], trays: set[str]) -> bool:
    there = {tray_name(tray) for tray in (*record.trays, *record.entry.trays)}
    return not (lots or trays) or record.lot in lots or bool(there & trays)


def _stands(noted: str | None, place: str) -> bool:
    """Whether a noted place is the one that is named: "gh 2" where the "gh" is asked of, or the other way round."""
    return bool(noted) and (says(noted or "", (place,)) or says(place, (noted or "",)))


def _place_in(words: str, noted: Iterable[str | None]) -> str | None:
    """The longest place that a question names, of those that readings tell or that benches go by."""
    known = {*places_of_a_nursery(), *(place for place in noted if place)}
    return max((place for place in known if says(words, (place,))), key=len, default=None)
