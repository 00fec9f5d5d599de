"""Whether the cover of a tray is on, and which trays are under one.

Rules
1. The covers are told tray by tray: of a lot in two trays one may be off for good.
2. A tray whose cover nobody noted is told as such where it is named, and is not among the covered ones.
"""

from __future__ import annotations

from datetime import datetime

from core.answers import Answer, Refused, WhereTold
from core.entries import Entry
from core.lots.phrases import says
from core.lots.trays import lots_in
from core.questions.asked_words import asked_words
from core.questions.present import cover_of
from core.questions.subjects import asked_lots
from core.storage import Books


def covers_asked(entry: Entry, words: str) -> bool:
    """Whether a question asks if the cover of named trays is on, or which or how many trays are covered."""
    page = asked_words()["covers"]
    if not says(words, page["says"]) or says(words, page["not"]) or entry.on is not None:
        return False
    return says(words, page["one"]) if _named(entry) else says(words, page["all"])


def how_covered(books: Books, entry: Entry, now: datetime) -> Answer:
    """The cover of each tray that is named, or else each tray under a cover, off for a while or not."""
    asked = asked_lots(books, entry, now)
    if asked.unknown:
        return Refused(why="no_lot", facts={"unknown": asked.unknown})
    named = _named(entry)
    trays = named or tuple(sorted({tray for lot in asked.lots for tray in lot.trays}, key=_by_number))
    covers = [(tray, cover_of(books, tray, now)) for tray in trays]
    shown = tuple((tray, cover) for tray, cover in covers if named or cover.on)
    lots = tuple(dict.fromkeys(lot for tray, _ in shown for lot in lots_in(tray, asked.lots)))
    return WhereTold(
        lots=lots, trays=tuple(tray for tray, _ in shown), covers=shown, covered="these" if named else "which"
    )


def _by_number(tray: str) -> tuple[int, str]:
    return len(tray), tray


def _named(entry: Entry) -> tuple[str, ...]:
    return () if entry.trays == ("all",) else entry.trays
