"""Why a lot is on hold, since when, and who said so."""

from __future__ import annotations

from datetime import datetime

from core.answers import Answer, HistoryTold, Refused
from core.entries import Act, Entry
from core.lots.phrases import says
from core.questions.asked_words import asked_words
from core.questions.subjects import asked_lots
from core.records import Record, in_order
from core.storage import Books

_OF_HOLDS = (Act.HOLD, Act.CLEAR)


def held_asked(entry: Entry, words: str) -> bool:
    """Whether a question asks why, since when or by whom something is on hold."""
    page = asked_words()["held"]
    return bool(entry.lots or entry.trays or entry.plant) and says(words, page["says"]) and says(words, page["asks"])


def why_held(books: Books, entry: Entry, now: datetime) -> Answer:
    """The note that set each of these lots apart, and the one that set it free again, if any."""
    asked = asked_lots(books, entry, now, closed_too=True)
    if asked.unknown:
        return Refused(why="no_lot", facts={"unknown": asked.unknown})
    found = [one for lot in asked.lots for one in _latest(books, lot.number)]
    return HistoryTold(records=tuple(found), asked="hold" if not entry.lots else f"lot {', '.join(entry.lots)}", did="hold")


def _latest(books: Books, number: str) -> list[Record]:
    """What set a lot apart last, and what of it came after that; the newest first."""
    told = [one for one in in_order(books.lot_records(number)) if one.holds() and one.entry.act in _OF_HOLDS]
    holds = [at for at, one in enumerate(told) if one.entry.act is Act.HOLD]
    return told[holds[-1] :][::-1] if holds else []
