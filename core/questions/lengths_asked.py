"""How old, how long yet, in how many days: a length of time, which is never a number of plants.

Rules
1. What is to come is told from what is planned for the lots and trays asked of, else from the day that is named.
2. What is past is told from the day the lot began; of seed in the cold, by its days of cold.
3. Where neither is known nothing is guessed: another answer would be of something else.
"""

from __future__ import annotations

from datetime import date, datetime
from typing import Any, Final

from core.answers import Answer, DueTold, FiguresTold, OpenTold, Refused
from core.entries import Entry
from core.lots import Lot, open_states
from core.lots.phrases import says
from core.questions.asked_words import asked_words
from core.questions.chilled import how_much_chill
from core.questions.spans import days_meant
from core.questions.subjects import AskedOf, asked_lots
from core.records import local_day
from core.storage import Books

_ABOUT: Final = frozenset({"count", "history", "how", "plan", "due", "where", "list", "forecast"})
_BEGAN: Final = frozenset({None, "stick", "sow", "divide"})
_NO_STEP: Final = frozenset({"daily_look", "quiet_tray", "old_count", "cold_unseen"})
_MOST: Final = 4


def how_long_it_is(books: Books, entry: Entry, words: str, now: datetime) -> Answer | None:
    """The answer to a question for a length of time; None where the question asks for none, or for one that other
    answers tell (how old a solution is, when it was watered last).
    """
    lengths = asked_words()["lengths"]
    if entry.about not in _ABOUT or entry.solution or not says(words, lengths["asks"]):
        return None
    named = bool(entry.lots or entry.trays or entry.plant)
    units = says(words, [one for one in lengths["asks"] if one.startswith("how many")])
    to_come = says(words, lengths["to_come"])
    if not named:
        return _to_the_day(books, entry, now, to_come=to_come) if units else None
    asked = asked_lots(books, entry, now)
    if asked.unknown:
        return Refused(why="no_lot", facts={"unknown": asked.unknown})
    if to_come:
        return _to_come(books, asked, entry, words, now)
    lies_cold = any(cold.running for lot in asked.lots for cold in lot.colds)
    if says(words, lengths["cold"]) or (lies_cold and units and says(words, lengths["had"])):
        return how_much_chill(books, entry, words, now) if lies_cold else None
    if entry.did not in _BEGAN or not (units or entry.did or says(words, ("how old", "what age"))):
        return None
    return _ages(books, asked, now) if asked.lots else None


def _to_the_day(books: Books, entry: Entry, now: datetime, *, to_come: bool) -> Answer:
    """The days until a day that is named; without one nobody can tell what is asked."""
    today = local_day(now, books.crew.zone)
    day = entry.on.date() if isinstance(entry.on, datetime) else entry.on
    if day is None or (to_come and day < today):
        return Refused(why="unclear_question")
    return FiguresTold(kind="days_to", facts={"rows": [{"what": "", "day": day.isoformat(), "days": (day - today).days}]})


def _to_come(books: Books, asked: AskedOf, entry: Entry, words: str, now: datetime) -> Answer:
    """What is planned of the lots and trays asked of, each with its days from today; the step named, where one is."""
    zone = books.crew.zone
    today = local_day(now, zone)
    names = {lot.number for lot in asked.lots} | {tray for lot in asked.lots for tray in lot.trays} | set(entry.trays)
    dues = [row.due for row in books.open_reminders() if row.due.subject.name in names and row.due.kind not in _NO_STEP]
    wanted = {kind for kind, said in asked_words()["steps"].items() if says(words, said)}
    chosen = [due for due in dues if due.kind in wanted and not due.facts.get("ready")] or dues
    if not asked.lots and not entry.trays:
        return Refused(why="no_open_lots", facts={"plant": entry.plant, "trays": []})
    if not chosen:
        return DueTold(dues=(), about="subject", lots=asked.lots)
    days = [(due, due.due_at.astimezone(zone).date()) for due in sorted(chosen, key=lambda due: due.due_at)]
    facts = [{"due": due, "day": day.isoformat(), "days": (day - today).days} for due, day in days[:_MOST]]
    return FiguresTold(kind="days_to", facts={"rows": facts})


def _ages(books: Books, asked: AskedOf, now: datetime) -> Answer:
    zone = books.crew.zone
    rows = []
    for lot in asked.lots:
        began = local_day(_began_at(lot), zone)
        rows.append(
            {
                "number": lot.number,
                "plant": lot.plant,
                "how": _begun(lot),
                "day": began.isoformat(),
                "days": (local_day(now, zone) - began).days,
            }
        )
    return FiguresTold(kind="ages", facts={"rows": rows})


def _began_at(lot: Lot) -> datetime:
    return lot.sown_at or lot.opened_at


def _begun(lot: Lot) -> str:
    if lot.kind == "seed":
        return "sown" if lot.sown_at else "in the books"
    return "divided" if lot.kind == "divisions" else "stuck"


def out_of_cold(books: Books, entry: Entry, words: str, now: datetime) -> Answer | None:
    """What comes out of the cold in the days asked of, or what lies in it and until when; None for other questions."""
    rows = asked_words()
    if entry.about not in ("how", "list", "due", "open", "history", "plan") or entry.lots or entry.trays:
        return None
    heads = words.removeprefix("so ").startswith(tuple(rows["out_of_cold"]["heads"]))
    if heads and says(words, rows["out_of_cold"]["says"]):
        return _coming_out(books, entry, words, now)
    if says(words, rows["cold_until"]["says"]) and says(words, rows["cold_until"]["also"]) and entry.about == "list":
        opens = open_states(books.records(), books.lots(), books.crew.zone, now)
        return OpenTold(opens=tuple(one for one in opens if one[0] in ("cold", "warm")))
    return None


def _coming_out(books: Books, entry: Entry, words: str, now: datetime) -> Answer | None:
    zone = books.crew.zone
    today = local_day(now, zone)
    day = entry.on.date() if isinstance(entry.on, datetime) else entry.on
    span = (day, day) if day is not None else days_meant(words, today, ahead=True)
    if span is None and not says(words, asked_words()["lengths"]["cold"]):
        return None
    lots = {lot.number for lot in asked_lots(books, entry, now).lots} if entry.plant else None
    first, last = span or (date.min, date.max)
    coming = [
        (kind, facts)
        for kind, facts in open_states(books.records(), books.lots(), zone, now)
        if kind == "cold" and (lots is None or lots & set(facts["lots"])) and first <= _ends_on(facts) <= last
    ]
    if not coming and span is not None:
        return DueTold(dues=(), about="days", day=first, until=last)
    return OpenTold(opens=tuple(sorted(coming, key=lambda one: _ends_on(one[1]))))


def _ends_on(facts: dict[str, Any]) -> date:
    """The day on which the cold ends; the last there is where nobody said."""
    return date.fromisoformat(facts["ends"]) if facts.get("ends") else date.max
