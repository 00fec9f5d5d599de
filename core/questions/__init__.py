"""A question to a typed answer."""

from __future__ import annotations

from datetime import datetime

from core.answers import Answer, Refused
from core.entries import Entry
from core.questions import mixing, past, present, sums
from core.questions.how_to import how_is_it_done
from core.storage import Books

_ANSWER_OF = {
    "count": present.how_many,
    "due": present.what_is_due,
    "where": present.where_is,
    "history": past.what_happened,
    "who": past.who_did,
    "list": present.which_lots,
    "open": present.what_is_open,
    "mix": mixing.how_much,
    "how": how_is_it_done,
    "plan": sums.when_or_how_many,
    "compare": sums.which_is_better,
    "stock": sums.in_stock,
    "forecast": sums.how_many_will_there_be,
}


def answer_question(books: Books, entry: Entry, now: datetime) -> Answer:
    """The answer to an entry of act `ask`, from the books as they stand at `now`."""
    answer = _ANSWER_OF.get(entry.about or "")
    if answer is None:
        return Refused(why="unclear_question")
    return answer(books, entry, now)


__all__ = ["answer_question"]
