"""The count that the bot invited: "31" or "none yet" after it said that there is no record.

Rules
1. A bare number replied to such a message is the count of its lot; of several lots it is asked which.
2. Without a reply it is so only right after one's own question that found no record, and only where the number is no
   open lot.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import timedelta
from functools import cache

from core.conversation.answer_words import core_of
from core.conversation.heard import either
from core.conversation.looks import LOOKS
from core.conversation.scene import Scene, words_before
from core.entries import Act, Entry
from core.lots import Lot
from core.notes import Ask, Reading, read, read_answer
from core.questions.subjects import asked_lots
from core.storage import Books

_WORDS = "answers_heard"
_SOON = timedelta(minutes=15)

Wanted = tuple[str, tuple[str, ...]]
"""The state that was asked for, and the lots."""


def invited_count(books: Books, scene: Scene, reading: Reading) -> Reading:
    """The count that the words give to what the bot had no record of, or the reading as it was."""
    one = reading.entries[0] if len(reading.entries) == 1 else None
    if one is None or one.act is not Act.NOTE or one.lots or one.trays or one.plant or scene.question is not None:
        return reading
    count = _count(scene)
    if count is None:
        return reading
    wanted = _asked_for(books, scene, replied=True)
    if wanted is None and scene.replied_reminders:
        return reading
    if wanted is None and scene.replied_answers is None and not scene.replied_records:
        open_lot = count.count and books.resolve(str(count.count), scene.year())
        wanted = None if open_lot else _asked_for(books, scene, replied=False)
    return _told(count, *wanted) if wanted is not None else reading


@cache
def _none() -> re.Pattern[str]:
    before, none, after = (either(_WORDS, "none_yet", key) for key in ("before", "says", "after"))
    return re.compile(rf"(?:(?:{before}) )?(?:{none}|0)(?: (?:{after}))?")


def _count(scene: Scene) -> Entry | None:
    """A look that found so many, where the words are a number or "none yet" and nothing more."""
    words = core_of(scene.message.text)
    if _none().fullmatch(words):
        return Entry(act=Act.CHECK, count=0)
    if re.fullmatch(r"(?:about |around |~)?\d{1,5}", words) is None:
        return None
    filled = read_answer("count", words, scene.local_now) or {}
    count = filled.get("count")
    return Entry(act=Act.CHECK, count=count, approx=bool(filled.get("approx"))) if count is not None else None


def _asked_for(books: Books, scene: Scene, *, replied: bool) -> Wanted | None:
    """What this person's question asked the count of: the one replied to, else that of a moment ago that found none."""
    if replied:
        words = books.words_of(scene.replied_answers) if scene.replied_answers is not None else None
    else:
        words = words_before(books, scene, scene.speaker, _SOON)
    told = read(words, scene.local_now, scene.names).entries if words else ()
    asked = told[0] if len(told) == 1 else None
    if asked is None or asked.act is not Act.ASK or asked.about != "count" or asked.state not in LOOKS.values():
        return None
    lots = asked_lots(books, asked, scene.now).lots if asked.lots or asked.trays or asked.plant else ()
    if not lots or (not replied and any(_known(lot, str(asked.state)) for lot in lots)):
        return None
    return str(asked.state), tuple(lot.number for lot in lots)


def _known(lot: Lot, state: str) -> bool:
    return (lot.rooted if state == "rooted" else lot.germinated) is not None


def _told(count: Entry, state: str, lots: Sequence[str]) -> Reading:
    ways = tuple(
        Entry(act=Act.CHECK, state=state, count=count.count, approx=count.approx, lots=(lot,)) for lot in lots
    )
    if len(ways) == 1:
        return Reading(entries=ways)
    entry = Entry(act=Act.CHECK, state=state, count=count.count, approx=count.approx)
    return Reading(entries=(entry,), asks=(Ask(kind="lot", entry=0, choices=ways),))
