"""How long a cover was off: "how long was it off", "how long has tray 2 been off".

Rules
1. Of a tray or lot that is named its latest airing is told; else the airings that the latest note of one began.
2. Where nobody noted that the cover went back on, nothing is told of how long it was off: that is not known.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from core.answers import Answer, FiguresTold
from core.entries import Act, Entry
from core.lots import open_states, sessions
from core.lots.cover import Session
from core.lots.phrases import says
from core.questions.asked_words import asked_words
from core.records import Record, in_order
from core.storage import Books


def how_long_off(books: Books, entry: Entry, words: str, now: datetime) -> Answer | None:
    """How long the covers asked of were off, or are by now; None for other questions, or where no airing is noted."""
    page = asked_words()["covers_off"]
    if entry.about not in ("history", "open", "count") or entry.did not in (None, Act.AIR.value) or entry.plant:
        return None
    if not says(words, page["how_long"]) or not says(words, page["off"]) or says(words, page["not"]):
        return None
    named = bool(entry.trays or entry.lots)
    if not (named or entry.did or says(words, page["it"])) or (entry.rest and not says(entry.rest, page["beside"])):
        return None
    places = _places_named(books, entry, now) if named else _places_of_last(books)
    opens = open_states(books.records(), books.lots(), books.crew.zone, now)
    off = {facts["where"] for kind, facts in opens if kind == "cover_off"}
    rows = [row for place in places if (row := _row(books, place, place.name in off, now)) is not None]
    return FiguresTold(kind="off_for", facts={"rows": rows}) if rows else None


@dataclass(frozen=True, slots=True)
class _Place:
    """A tray, or a lot that stands in none, with its records."""

    name: str
    records: tuple[Record, ...]


def _places_named(books: Books, entry: Entry, now: datetime) -> list[_Place]:
    year = now.astimezone(books.crew.zone).year % 100
    numbers = [number for one in entry.lots if (number := books.resolve(one, year)) is not None]
    lots = [lot for lot in map(books.lot, numbers) if lot is not None]
    trays = [*entry.trays, *(tray for lot in lots for tray in lot.trays)]
    return _places(books, trays, [lot.number for lot in lots if not lot.trays])


def _places_of_last(books: Books) -> list[_Place]:
    """The places of the note that told of an airing last."""
    told = in_order(books.records(acts=(Act.AIR.value,)))
    last = [one for one in told if one.message == told[-1].message] if told else []
    trays = [tray for one in last for tray in one.trays]
    return _places(books, trays, [one.lot for one in last if one.lot and not one.trays])


def _places(books: Books, trays: Iterable[str], lots: Sequence[str]) -> list[_Place]:
    found = [_Place(f"tray {tray}", books.tray_records(tray)) for tray in dict.fromkeys(trays)]
    return [*found, *(_Place(f"lot {lot}", books.lot_records(lot)) for lot in dict.fromkeys(lots))]


def _row(books: Books, place: _Place, off: bool, now: datetime) -> dict[str, Any] | None:
    done = sessions(place.records)
    if not done:
        return None
    last, zone = done[-1], books.crew.zone
    began = last.began_at.astimezone(zone)
    ended = (now if off else last.ended_at) if off or last.confirmed else None
    noted = any(one.entry.act is Act.COVER and one.at == last.ended_at for one in place.records)
    return {
        "where": place.name,
        "off": off,
        "began": began.replace(tzinfo=None).isoformat(),
        "ended": ended.astimezone(zone).replace(tzinfo=None).isoformat() if ended is not None else None,
        "minutes": _minutes(last, ended),
        "times": last.times,
        "as_told": not off and not noted,
    }


def _minutes(last: Session, ended: datetime | None) -> int | None:
    return None if ended is None else round((ended - last.began_at).total_seconds() / 60)
