"""A question to a typed answer."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

from core.answers import Answer, Refused
from core.entries import Entry
from core.questions import mixing, past, present
from core.questions.asked_sums import sum_asked
from core.questions.forecasts import in_stock, when_can_it_move
from core.questions.how_to import how_is_it_done
from core.questions.listing import which_lots
from core.questions.shown import offer, show
from core.storage import Books

_BY_WORDS: dict[str, Callable[[Books, Entry, str, datetime], Answer]] = {
    "history": past.what_happened,
    "how": how_is_it_done,
    "list": which_lots,
    "where": present.where_is,
}
"""The look-ups that go by the question's own words too."""

_BY_KEYS: dict[str, Callable[[Books, Entry, datetime], Answer]] = {
    "count": present.how_many,
    "due": present.what_is_due,
    "who": past.who_did,
    "open": present.what_is_open,
    "mix": mixing.how_much,
    "plan": when_can_it_move,
    "stock": in_stock,
}


def answer_question(books: Books, entry: Entry, now: datetime, said: str = "") -> Answer:
    """The answer to an entry of act `ask`, from the books as they stand at `now`.

    `said` are the question's own words, which tell a sum apart from a look-up where the entry's keys do not.
    """
    words = " ".join((said or entry.rest or "").lower().replace("’", "'").split())
    reckon = sum_asked(entry, words)
    if reckon is not None:
        return offer(books, entry, reckon(books, entry, words, now), now)
    about = entry.about or ""
    if about in _BY_WORDS:
        return _BY_WORDS[about](books, entry, words, now)
    return _BY_KEYS[about](books, entry, now) if about in _BY_KEYS else Refused(why="unclear_question")


__all__ = ["answer_question", "show"]
