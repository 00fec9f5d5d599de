"""Who got plants: "who got lot 14", "who got them", "where did they go".

Rules
1. Of a lot or plant that is named all that left it are told, by who got them; else those of the latest note of such.
2. Plants whose receiver nobody noted are told as such.
"""

from __future__ import annotations

from collections import Counter
from datetime import datetime

from core.answers import Answer, FiguresTold, Refused
from core.entries import Entry
from core.lots.phrases import says
from core.questions.asked_words import page
from core.questions.kept import RECEIVED
from core.questions.subjects import asked_lots
from core.records import Record, in_order
from core.storage import Books


def who_got(books: Books, entry: Entry, words: str, now: datetime) -> Answer | None:
    """Who got the plants asked of; None for other questions."""
    table = page("kept")["who_got"]
    named = bool(entry.lots or entry.plant or entry.trays)
    if entry.about not in ("who", "history", "where") or entry.on is not None or entry.count is not None:
        return None
    if says(words, table["not"]) or not (says(words, table["says"]) or (named and says(words, table["of_named"]))):
        return None
    of_last = not named and says(words, table["them"])
    if not (named or of_last or says(words, table["all"])):
        return None
    asked = asked_lots(books, entry, now, closed_too=True)
    if asked.unknown:
        return Refused(why="no_lot", facts={"unknown": asked.unknown})
    lots = {lot.number: lot for lot in asked.lots}
    told = [one for one in in_order(books.records(acts=RECEIVED)) if one.lot in lots]
    if of_last:
        told = [one for one in told if one.message == told[-1].message]
    if not told and not named:
        return None
    rows = [
        {"lot": lot, "plant": lots[lot].plant, "act": act, "count": count, "who": who}
        for (lot, act, who), count in _counted(told).items()
    ]
    return FiguresTold(kind="got_by", facts={"rows": rows, "lots": [*lots], "plant": entry.plant})


def _counted(told: list[Record]) -> Counter[tuple[str, str, str | None]]:
    """How many of each lot went each way to each, in the order in which they were told of."""
    counts: Counter[tuple[str, str, str | None]] = Counter()
    for one in told:
        counts[one.lot or "", one.entry.act.value, one.entry.to] += one.entry.count or 0
    return counts
