"""Which of the speaker's notes is to be taken back: "delete my last sale", "undo the last two".

Rules
1. A deed named is the speaker's latest note of that deed in this talk; an older one is shown and asked about first.
2. The last so many notes must all be of this talk; else nothing is taken back.
"""

from __future__ import annotations

import re
from functools import cache

from core.answers import Answer, Refused
from core.conversation.correction_words import bare, said, without_ends
from core.conversation.heard import either, page
from core.conversation.scene import TALK_LASTS, Scene
from core.conversation.taking_back import MARKS, take_back_records, undo
from core.notes import read_answer
from core.records import Record
from core.storage import Books

_TABLE = "undo_the_last"
_MOST = 9


def hear_undo_the_last(books: Books, scene: Scene) -> Answer | None:
    """What "delete my last sale", "undo the last two" take back; None for other words."""
    words = without_ends(bare(scene.message.text), _TABLE)
    if not any(words.startswith(f"{one} ") for one in said("undo_of_a_day", "openers")):
        return None
    found = _pattern().fullmatch(words)
    if found is None:
        return None
    if found["one"] is not None:
        return _take_back_last(books, scene, 1) or Refused(why="nothing_to_undo")
    if found["noun"] is not None:
        return undo(books, scene, named=page("corrections")[_TABLE]["nouns"][found["noun"]])
    if found["two"] is not None:
        return _take_back_last(books, scene, 2) or Refused(why="nothing_to_undo")
    many = (read_answer("count", found["many"], scene.local_now) or {}).get("count")
    return _take_back_last(books, scene, many) if many is not None and 1 < many <= _MOST else None


@cache
def _pattern() -> re.Pattern[str]:
    opens, last = either("corrections", "undo_of_a_day", "openers"), either("corrections", _TABLE, "last")
    nouns = "|".join(map(re.escape, sorted(page("corrections")[_TABLE]["nouns"], key=len, reverse=True)))
    notes = either("corrections", _TABLE, "notes")
    whose = r"(?:(?:my|the|those|these|our|that|this) )*"
    many = rf"{whose}(?:{last}) (?:(?P<noun>{nouns})|(?P<many>\d|[a-z]+)(?: (?:{notes}))?)"
    one, two = (either("corrections", _TABLE, key) for key in ("one", "two"))
    return re.compile(rf"(?:{opens}) (?:(?P<one>{one})|(?P<two>{two})|{many})")


def _take_back_last(books: Books, scene: Scene, many: int) -> Answer | None:
    told = books.told_by(scene.speaker, scene.chat, since=scene.message.said_at - TALK_LASTS)
    notes: dict[str, list[Record]] = {}
    for one in told:
        if one.entry.act not in MARKS:
            notes.setdefault(one.message, []).append(one)
    if len(notes) < many:
        return None
    last = list(notes)[-many:]
    undone = take_back_records(books, scene, [one for message in last for one in notes[message]])
    for message in last[1:]:
        books.reopen_reminders_of(message, scene.now)
    return undone
