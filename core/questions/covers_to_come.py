"""When a cover may come off: "when does the dome come off tray 1", "when do we start weaning", "is it ok to lift the lid".

Rules
1. What is planned for the covers asked of is told: the next weaning session, or the morning they come off for good.
2. Where nothing is planned for a tray or lot that is named, its cover is told as it stands.
"""

from __future__ import annotations

from datetime import datetime
from typing import Final

from core.answers import Answer, DueTold, Refused
from core.entries import Entry
from core.lots.phrases import says
from core.questions.asked_words import asked_words
from core.questions.covers_asked import how_covered
from core.questions.subjects import asked_lots
from core.reminders import Due, Subject
from core.storage import Books

_STEPS: Final = frozenset({"wean", "cover_off"})
_ABOUT: Final = frozenset({"plan", "due", "open", "count"})
_MOST_TOLD: Final = 4


def when_uncovered(books: Books, entry: Entry, words: str, now: datetime) -> Answer | None:
    """The next step at which covers come off; None for other questions, or where no cover is known of."""
    if entry.about not in _ABOUT or not _asks_when_off(words):
        return None
    asked = asked_lots(books, entry, now)
    if asked.unknown:
        return Refused(why="no_lot", facts={"unknown": asked.unknown})
    named = bool(entry.lots or entry.trays or entry.plant)
    names = {name for lot in asked.lots for name in (lot.number, *lot.trays)} | {*entry.trays}
    dues = [row.due for row in books.open_reminders() if row.due.kind in _STEPS and (not named or row.due.subject.name in names)]
    next_of: dict[Subject, Due] = {}
    for due in sorted(dues, key=lambda due: due.due_at):
        next_of.setdefault(due.subject, due)
    if next_of:
        return DueTold(dues=tuple(next_of.values())[:_MOST_TOLD], about="subject", lots=asked.lots if named else ())
    return how_covered(books, entry, now) if (entry.lots or entry.trays) and asked.lots else None


def _asks_when_off(words: str) -> bool:
    page = asked_words()["uncovering"]
    if not any(words.startswith(f"{one} ") for one in page["opens"]) or says(words, page["not"]):
        return False
    return says(words, page["weans"]) or (says(words, page["covers"]) and says(words, page["off"]))
