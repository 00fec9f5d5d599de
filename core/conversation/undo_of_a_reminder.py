"""Which reminder of one's own is not wanted any more, or at another time: "cancel that reminder", "stop reminding me to
bring pots", "move the pots reminder to 10".

Rules
1. Only reminders that somebody asked for by name are taken back or moved so; those of the plan are skipped or answered.
   The speaker's own come first; one that another asked for in this chat goes too, where its words name it.
2. A reminder is named by words of its text, or by its day. The only one that is meant goes at once; of several it is
   asked which.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta
from functools import cache

from core.answers import Answer, Refused, Undone
from core.conversation.correcting import amend_record
from core.conversation.correction_words import bare, said
from core.conversation.heard import either
from core.conversation.scene import Scene
from core.conversation.taking_back import MARKS, take_back_some
from core.conversation.undo_by_name import ask_which
from core.entries import Act
from core.notes import read
from core.records import Record
from core.storage import Books

_REACH = timedelta(days=400)
_TABLE = "undo_of_a_reminder"


@cache
def _patterns() -> tuple[re.Pattern[str], ...]:
    """What takes one back by the reminder, by its name, or by what it asks for; what moves one."""
    opens, called, about, stops, moves, lead, calls_off = (
        either("corrections", _TABLE, key)
        for key in ("opens", "called", "about", "stops", "moves", "lead", "calls_off")
    )
    return (
        re.compile(rf"(?:{opens}) (?:{called})(?: (?:{about}) (?P<text>.+))?"),
        re.compile(rf"(?:{opens}) (?:(?:{lead}) )?(?P<text>.+?) (?:reminder|reminders|alarm)"),
        re.compile(rf"(?:{calls_off}) (?:(?:{lead}) )?(?P<text>.+?) one"),
        re.compile(rf"(?:{stops})(?: (?:{about}))? (?P<text>.+)"),
        re.compile(rf"(?:{moves}) (?:{called}) (?:to|till|until) (?P<when>.+)"),
        re.compile(rf"(?:{moves}) (?:(?:{lead}) )?(?P<text>.+?) (?:reminder|alarm) (?:to|till|until) (?P<when>.+)"),
    )


def hear_reminder_undone(books: Books, scene: Scene) -> Answer | None:
    """The taking back, or the moving, of a reminder that the speaker had asked for; None for other words."""
    words = bare(scene.message.text)
    told = next((found for one in _patterns() if (found := one.fullmatch(words)) is not None), None)
    if told is None or scene.replied_records or scene.replied_reminders or "?" in scene.message.text:
        return None
    text = told.groupdict().get("text")
    told_here = books.told_in(scene.chat, since=scene.message.said_at - _REACH)
    asked_for = [one for one in told_here if one.entry.act is Act.REMIND and one.holds() and _is_about(one, text)]
    own = [one for one in asked_for if one.told_by == scene.speaker] or (asked_for if text is not None else [])
    to_come = [one for one in own if _is_to_come(one, scene)] or own
    if not to_come:
        return Refused(why="nothing_to_undo") if told.re is _patterns()[0] else None
    if "when" in told.re.groupindex:
        return _moved(books, scene, to_come, told["when"])
    if len(to_come) == 1:
        return _taken_back(books, scene, to_come[0])
    return ask_which(books, scene, [[one] for one in to_come])


def _taken_back(books: Books, scene: Scene, record: Record) -> Answer:
    """The reminder taken back, with all that it was before it was moved: nothing of it is to come."""
    before = _corrected_by(books, [record])
    undone = take_back_some(books, scene, [record])
    while before:
        take_back_some(books, scene, before)
        before = _corrected_by(books, before)
    return replace(undone, back_to=()) if isinstance(undone, Undone) else undone


def _corrected_by(books: Books, records: Sequence[Record]) -> list[Record]:
    earlier = (one for record in records for one in books.superseded_by(record.number))
    return [one for one in earlier if one.entry.act not in MARKS]


def _moved(books: Books, scene: Scene, meant: list[Record], when: str) -> Answer | None:
    """The one reminder that is meant, at its new time; its own day or hour where only the other is told."""
    at = meant[0].entry.at
    if len(meant) != 1 or at is None:
        return None
    day = at.date() if isinstance(at, datetime) else at
    ways = (f"{day.day} {day:%b} {day.year} at {when}", when) if when[:1].isdigit() else (when,)
    for one in ways:
        told = read(f"remind me {one} to look", scene.local_now).entries
        new = told[0].at if len(told) == 1 and told[0].act is Act.REMIND and told[0].text == "look" else None
        if new is not None and not isinstance(new, datetime) and isinstance(at, datetime):
            new = datetime.combine(new, at.time())
        if new is not None:
            return amend_record(books, scene, meant[0].number, replace(meant[0].entry, at=new))
    return None


def _is_about(record: Record, words: str | None) -> bool:
    """Whether a reminder's text, or its day, holds all the words by which it is called."""
    if words is None:
        return True
    entry = record.entry
    day = f"{entry.at:%A %a}".lower().split() if isinstance(entry.at, date) else []
    known = {_stem(word) for word in (*bare(entry.text or "").split(), *day, *entry.every)}
    return {_stem(word) for word in words.split() if word not in said(_TABLE, "small")} <= known


def _stem(word: str) -> str:
    """What `mist`, `mists` and `misting`, `close` and `closing` share."""
    return word.removesuffix("s").removesuffix("ing").removesuffix("e")


def _is_to_come(record: Record, scene: Scene) -> bool:
    at = record.entry.at
    return at is None or at.isoformat()[:10] >= scene.local_now.date().isoformat()
