"""A question to a typed answer."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime

from core.answers import Answer, Refused
from core.entries import Entry
from core.lots.phrases import says
from core.questions import mixing, past, present
from core.questions.asked_anew import asked_anew, lot_in_rest, with_numbers_named
from core.questions.asked_sums import sum_asked
from core.questions.asked_words import asked_words
from core.questions.counted import how_many, in_pots_of, pot_size_asked
from core.questions.covers_asked import covers_asked, how_covered
from core.questions.covers_off import how_long_off
from core.questions.covers_to_come import when_uncovered
from core.questions.forecasts import how_many_will_be, in_stock, when_can_it_move
from core.questions.held import held_asked, why_held
from core.questions.how_to import how_is_it_done
from core.questions.kept import kept_asked
from core.questions.lengths_asked import how_long_it_is, out_of_cold
from core.questions.listing import which_lots
from core.questions.persons import of_persons
from core.questions.ranked import rank_asked, which_is_first
from core.questions.readings import readings_asked, what_was_read
from core.questions.receivers import who_got
from core.questions.rota import shift_asked, when_is_on
from core.questions.sale_day import sale_asked, the_sale
from core.questions.shown import offer, show
from core.questions.undone import undone_asked, what_was_not_done
from core.questions.wanted import wanted_asked
from core.questions.went import asks_how_it_stands, how_many_went, way_asked
from core.records import local_day
from core.storage import Books

_OF_LOTS = frozenset({"history", "where", "due"})
_HOW = ("how",)

_BY_WORDS: dict[str, Callable[[Books, Entry, str, datetime], Answer]] = {
    "count": how_many,
    "history": past.what_happened,
    "how": how_is_it_done,
    "list": which_lots,
    "where": present.where_is,
    "due": present.what_is_due,
    "who": past.who_did,
}
"""The look-ups that go by the question's own words too."""

_BY_KEYS: dict[str, Callable[[Books, Entry, datetime], Answer]] = {
    "open": present.what_is_open,
    "mix": mixing.how_much,
    "plan": when_can_it_move,
    "stock": in_stock,
}


def answer_question(books: Books, entry: Entry, now: datetime, said: str = "", by: str = "") -> Answer:
    """The answer to an entry of act `ask`, from the books as they stand at `now`.

    `said` are the question's own words, which tell a sum apart from a look-up where the entry's keys do not; `by` is
    who asks.
    """
    words = " ".join((said or entry.rest or "").lower().replace("’", "'").split())
    whose = shift_asked(books, entry, words, by)
    if whose is not None:
        return when_is_on(books, whose, now)
    entry = of_persons(books, _of_feeding(entry, words), words, by)
    lot = lot_in_rest(books, entry, now) if entry.count is None and entry.about in _OF_LOTS else None
    named = replace(entry, lots=(lot,)) if lot is not None else with_numbers_named(books, entry, now)
    if isinstance(named, str):
        return Refused(why="no_lot", facts={"unknown": named, "nor_tray": True})
    found = _answer(books, named, words, now)
    if not isinstance(found, Refused) or found.why != "no_how_to" or entry.plant:
        return found
    anew = asked_anew(books, entry, now)
    if anew is not None:
        return _answer(books, anew, words, now)
    return found if says(words, _HOW) else Refused(why="unclear_question")


def _answer(books: Books, entry: Entry, words: str, now: datetime) -> Answer:
    kept = kept_asked(entry, words)
    told = kept(books, entry, words, now) if kept is not None else None
    if told is not None:
        return told
    if sale_asked(entry, words):
        return the_sale(books, entry, words, now)
    if readings_asked(entry):
        return what_was_read(books, entry, words, now)
    if held_asked(entry, words):
        return why_held(books, entry, now)
    left = how_long_off(books, entry, words, now) or who_got(books, entry, words, now)
    if left is not None:
        return left
    uncovered = when_uncovered(books, entry, words, now)
    if uncovered is not None:
        return uncovered
    if covers_asked(entry, words):
        return how_covered(books, entry, now)
    lies_cold = out_of_cold(books, entry, words, now)
    if lies_cold is not None:
        return lies_cold
    wanted = wanted_asked(entry, words)
    if wanted is not None:
        return wanted(books, entry, words, now)
    if present.needs_asked(entry, words):
        return present.what_needs_it(books, entry, words, now)
    if present.step_asked(entry, words):
        return present.what_is_due(books, entry, words, now)
    reckon = how_many_will_be if _of_a_day_to_come(books, entry, now) else sum_asked(entry, words)
    if reckon is not None:
        return offer(books, entry, reckon(books, entry, words, now), now)
    length = how_long_it_is(books, entry, words, now)
    if length is not None:
        return length
    if rank_asked(entry, words):
        return which_is_first(books, entry, words, now)
    undone = undone_asked(entry, words)
    if undone is not None:
        return what_was_not_done(books, entry, undone, words, now)
    size = pot_size_asked(entry, now) if entry.about in ("count", "history") else None
    if size is not None:
        return in_pots_of(books, entry, size, now)
    if way_asked(entry, words) is not None:
        return how_many_went(books, entry, words, now)
    if asks_how_it_stands(entry, words):
        return past.how_it_stands(books, entry, now)
    about = _other_about(entry, words) or entry.about or ""
    if about == "history" and about != entry.about:
        entry = replace(entry, did="check", rest=None)
    if about in _BY_WORDS:
        return _BY_WORDS[about](books, entry, words, now)
    return _BY_KEYS[about](books, entry, now) if about in _BY_KEYS else Refused(why="unclear_question")


def _of_feeding(entry: Entry, words: str) -> Entry:
    """ "When did we feed last" asks for no mixture."""
    page = asked_words()["feeding"]
    fed = entry.about == "mix" and entry.solution == "fertilizer" and says(words, page["says"])
    return replace(entry, about="history", did="tend", care="feed", solution=None) if fed and not says(words, page["not"]) else entry


def _of_a_day_to_come(books: Books, entry: Entry, now: datetime) -> bool:
    """Whether a count of a plant is asked for on a day that is still to come."""
    day = entry.on.date() if isinstance(entry.on, datetime) else entry.on
    counted = entry.about == "count" and entry.plant is not None and entry.state is None and entry.did is None
    return counted and day is not None and day > local_day(now, books.crew.zone)


def _other_about(entry: Entry, words: str) -> str | None:
    """What a question is about by its words, where the reader's key is a wider one: its counts, or the reminders."""
    if entry.about == "count" and (entry.lots or entry.plant) and says(words, asked_words()["first"]["counts"]):
        return "history"
    if entry.about in ("list", "how", "open") and says(words, asked_words()["planned"]["reminders"]):
        return "due"
    return None


__all__ = ["answer_question", "show"]
