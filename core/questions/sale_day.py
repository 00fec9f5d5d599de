"""When is the sale, and what is planned for it: from the targets that the crew told."""

from __future__ import annotations

from datetime import datetime

from core.answers import Answer, FiguresTold
from core.entries import Entry
from core.lots.phrases import says
from core.questions.asked_words import asked_words
from core.questions.sale_days import targets
from core.records import local_day
from core.storage import Books


def sale_asked(entry: Entry, words: str) -> bool:
    """Whether a question asks for the day of the sale, or what is planned for it."""
    sale = asked_words()["sale"]
    named = entry.lots or entry.trays or entry.plant
    return not named and says(words, (*sale["when"], *sale["planned"]))


def the_sale(books: Books, entry: Entry, words: str, now: datetime) -> Answer:
    """The days for which plants are wanted, the nearest first, each with what is wanted."""
    today = local_day(now, books.crew.zone)
    wanted = sorted(targets(books, now), key=lambda one: (one.due, one.plant))
    days = [
        {
            "day": due.isoformat(),
            "days": (due - today).days,
            "wanted": [[one.count, one.plant] for one in wanted if one.due == due],
        }
        for due in dict.fromkeys(one.due for one in wanted)
    ]
    return FiguresTold(kind="sale", facts={"days": days})
