"""How many there are: of lots, of what stands in a tray or a place, of what is in pots of a size.

Rules
1. Of a lot that stands in several places only what is there counts; what nobody counted apart is told as such.
2. Words that pick by nothing known are told back with the count: a number that ignores them would be a false answer.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta

from core.answers import Answer, CountTold, FiguresTold, GrewTold, HistoryTold, ListTold, Refused, ThereTold, WentTold
from core.entries import Act, Entry
from core.lots import Lot, there
from core.lots.phrases import phrases, says
from core.lots.pot_sizes import in_size, size_of
from core.lots.trays import tray_name
from core.notes import read
from core.questions.as_it_was import lots_on
from core.questions.asked_words import asked_words
from core.questions.lacking import lacking
from core.questions.listing import is_from, place_asked, place_named, source_named, unread_in
from core.questions.spans import span_asked
from core.questions.subjects import asked_lots
from core.records import local_day
from core.storage import Books

_GROWING = frozenset({"rooted", "callused", "germinated"})
_SINCE = ("since",)
_STILL_THERE = ("seedlings left", "seedlings are left", "left", "alive", "living", "still there", "still alive", "remain", "remaining", "survived")
_WHOLE = (None, "alive")
"""The states in which a part of a lot can be told apart: what is left, and no more than that."""


def how_many(books: Books, entry: Entry, words: str, now: datetime) -> Answer:
    """How many of the lots asked of are in the state asked about, or stand where the question says; of a day that is
    over, how many were."""
    if entry.state == "germinated" and says(words, _STILL_THERE):
        entry = replace(entry, state="alive")
        return _seedlings(how_many(books, entry, words, now))
    today = local_day(now, books.crew.zone)
    span = span_asked(entry.on, words, today)
    if span is not None and entry.state in _GROWING and span[1] == today and says(words, _SINCE):
        return _how_many_more(books, entry, now, span[0])
    then = span[1] if span is not None and span[1] < today else None
    asked = asked_lots(books, entry, now, then=lots_on(books, then) if then is not None else None)
    if asked.unknown:
        return Refused(why="no_lot", facts={"unknown": asked.unknown})
    if then is not None and not asked.lots:
        return HistoryTold(records=(), asked=_named(entry), span=(date.min, then))
    if not asked.lots:
        return Refused(why="no_open_lots", facts={"plant": entry.plant, "trays": list(entry.trays)})
    place = place_named(asked.lots, entry.rest or "")
    nowhere = None if place or asked.named else place_asked(books, asked.lots, words, entry.rest or "")
    if nowhere is not None:
        return ListTold(lots=(), asked=f"at {nowhere}")
    trays = [f"tray {tray_name(tray)}" for tray in entry.trays if tray != "all"]
    where = [place] if place is not None else trays if _stand_apart(asked.lots, trays) else []
    if where and entry.state in _WHOLE:
        spots = tuple((lot, spot, name) for name in where for lot in asked.lots if (spot := there(lot, name)) is not None)
        return ThereTold(spots=spots)
    if then is None and says(words, asked_words()["trays_in_use"]["says"]):
        return FiguresTold(kind="trays", facts={"trays": _trays_of(asked.lots)})
    if then is None and not entry.lots and entry.state in _WHOLE and says(entry.rest or "", asked_words()["held"]["says"]):
        held = tuple(lot for lot in asked.lots if lot.hold is not None)
        told = CountTold(state=entry.state or "left", lots=held, plant=entry.plant, now=now)
        return told if held else ListTold(lots=(), asked="on hold")
    lacks = lacking(entry, words)
    if lacks is not None:
        known = lacks == "unpotted" or any(lot.rooted is not None for lot in asked.lots)
        return CountTold(state=lacks if known else "rooted", lots=asked.lots, plant=entry.plant, now=now, on=then)
    told = CountTold(state=entry.state or "left", lots=asked.lots, plant=entry.plant, now=now, on=then)
    if place is not None:
        whole = {lot for lot in asked.lots if (spot := there(lot, place)) is not None and spot.whole}
        parts = tuple(lot for lot in asked.lots if lot not in whole and there(lot, place) is not None)
        return replace(told, lots=tuple(lot for lot in asked.lots if lot in whole), apart=parts)
    source = source_named(asked.lots, entry.rest or "") if not entry.lots else None
    if source is not None:
        return replace(told, lots=tuple(lot for lot in asked.lots if is_from(lot, source)))
    if not asked.named:
        told = replace(told, lots=tuple(lot for lot in told.lots if _may_be(lot, entry.state)) or told.lots)
    if _is_of_origin(entry.rest, words):
        return replace(told, unread=f"from {entry.rest}")
    if asked.named:
        return told
    return replace(told, unread=unread_in(books, words, entry.rest or ""))


def _may_be(lot: Lot, state: str | None) -> bool:
    """Whether a lot can be in a state: seed that is sown comes up, and all but seed roots."""
    if state == "germinated":
        return lot.kind == "seed" and lot.sown_at is not None
    return lot.kind != "seed" if state in ("rooted", "callused") else True


def _is_of_origin(rest: str | None, words: str) -> bool:
    """Whether the left-over words name where plants are from, which no lot of theirs is."""
    return bool(rest) and re.search(rf"\bfrom (?:the )?{re.escape((rest or '').lower())}\b", words) is not None


def _seedlings(told: Answer) -> Answer:
    """How many seedlings are still there, where how many came up would be told; cuttings are none."""
    if not isinstance(told, CountTold):
        return told
    return replace(told, state="seedlings", lots=tuple(lot for lot in told.lots if lot.kind == "seed") or told.lots)


def _trays_of(lots: Sequence[Lot]) -> list[str]:
    """The trays that these lots stand in, by their numbers."""
    trays = {tray for lot in lots for tray in lot.trays}
    return sorted(trays, key=lambda tray: (not tray.isdigit(), int(tray) if tray.isdigit() else 0, tray))


def _how_many_more(books: Books, entry: Entry, now: datetime, since: date) -> Answer:
    """How many more of the lots asked of are in the state asked about than were before a day."""
    asked = asked_lots(books, entry, now)
    if asked.unknown:
        return Refused(why="no_lot", facts={"unknown": asked.unknown})
    then = lots_on(books, since - timedelta(days=1))
    lots = tuple((lot, then.get(lot.number)) for lot in asked.lots)
    return GrewTold(state=entry.state or "left", lots=lots, since=since)


def _named(entry: Entry) -> str:
    return f"lot {', '.join(entry.lots)}" if entry.lots else entry.plant or ""


def _stand_apart(lots: Iterable[Lot], trays: Sequence[str]) -> bool:
    """Whether one of these lots stands in other trays or places too."""
    return any(not spot.whole for lot in lots for tray in trays if (spot := there(lot, tray)) is not None)


def pot_size_asked(entry: Entry, now: datetime) -> str | None:
    """The size of pot that the left-over words of a question name ("1 gal", "fours"), or None."""
    if not entry.rest or entry.state not in _WHOLE or not says(entry.rest, phrases().pot_sizes):
        return None
    told = read(f"potted 1 of lot 1 into {entry.rest}", now.replace(tzinfo=None)).entries
    container = told[0].container if len(told) == 1 and told[0].act is Act.POT else None
    return size_of(container) or None if container is not None and container.kind in ("pot", "band") else None


def in_pots_of(books: Books, entry: Entry, size: str, now: datetime) -> Answer:
    """How many stand in pots of a size, by lot; lots that stand in several sizes were not counted apart."""
    asked = asked_lots(books, entry, now)
    if asked.unknown:
        return Refused(why="no_lot", facts={"unknown": asked.unknown})
    potted = [(lot, in_size(lot.pots, size, lot.potted)) for lot in asked.lots if lot.potted]
    counts = tuple((lot, known) for lot, known in potted if known or (known == 0 and asked.named))
    apart = tuple(lot for lot, known in potted if known is None)
    return WentTold(way="pot", counts=counts, lots=asked.lots if asked.named else (), size=size, apart=apart)
