"""What is done again by reference: "same as yesterday", "another 18 in with those", "same for 16" after somebody else.

Rules
1. What leans on notes that are not of this talk, or not of the speaker's own, is said back in full and asked first.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import timedelta
from functools import cache

from core.answers import Answer, Choice
from core.conversation.asking import put_question
from core.conversation.correcting import ask_before_changing
from core.conversation.correction_words import bare, said, without_day, without_ends
from core.conversation.heard import either
from core.conversation.placing import OPENING
from core.conversation.recording import Pending
from core.conversation.scene import TALK_LASTS, Scene
from core.entries import Act, Entry
from core.notes import Reading, needs_of, same_elsewhere, say_back
from core.records import Record, local_day
from core.storage import Books

_REACH = timedelta(days=8)
_CARE = frozenset({Act.WATER, Act.TEND, Act.VENT, Act.AIR, Act.COVER, Act.UNCOVER, Act.SANITIZE, Act.MIX, Act.POUR_OUT})
"""What may be done in the same way day after day; plants are never counted again by reference."""
_OPENS = OPENING | {Act.SOW}


def hear_same_again(books: Books, scene: Scene, reading: Reading) -> Answer | None:
    """The question whether the acts that some words refer to were done again, or None for other words."""
    note = reading.entries[0] if len(reading.entries) == 1 else None
    if note is None or note.act is not Act.NOTE or scene.replied_reminders or scene.replied_records:
        return None
    return _as_on_a_day(books, scene) or _more_with_those(books, scene) or _as_somebody_else(books, scene, reading)


def _as_on_a_day(books: Books, scene: Scene) -> Answer | None:
    words, day = without_day(without_ends(bare(scene.message.text), "same_as").split(), scene.local_now)
    if day is None or " ".join(words) not in said("same_as"):
        return None
    told = books.told_by(scene.speaker, scene.chat, since=scene.message.said_at - _REACH)
    deeds = [_named(one) for one in told if local_day(one.at, scene.zone) == day and one.entry.act in _CARE]
    again = tuple(dict.fromkeys(replace(one, on=None, by=None, rest=None) for one in deeds))
    return _ask(books, scene, again, None) if again else None


def _named(record: Record) -> Entry:
    """The deed with the lot in place of a plant."""
    entry = record.entry
    return replace(entry, lots=(record.lot,), plant=None) if entry.plant and record.lot and not entry.lots else entry


@cache
def _with_those() -> re.Pattern[str]:
    opens, where = (either("corrections", "with_those", key) for key in ("opens", "where"))
    more = r"(?:and )?another (?P<another>\d{1,4})(?: more)?|(?:and |plus )?(?P<more>\d{1,4}) more"
    return re.compile(rf"(?:(?:{opens}) )+(?P<count>\d{{1,4}})(?: more)? (?:{where})|{more}")


def _more_with_those(books: Books, scene: Scene) -> Answer | None:
    """ "Another 18 in with those", "and another 18": so many more in the lot just begun."""
    found = _with_those().fullmatch(bare(scene.message.text))
    latest = scene.latest[-1] if scene.latest else None
    if found is None or latest is None or latest.entry.act not in _OPENS or latest.entry.count is None:
        return None
    more = int(found["count"] or found["another"] or found["more"])
    after = replace(latest.entry, count=latest.entry.count + more)
    return ask_before_changing(books, scene, Entry(act=Act.AMEND), latest, after)


def _as_somebody_else(books: Books, scene: Scene, reading: Reading) -> Answer | None:
    """ "Same for 16", where only somebody else told something in this talk."""
    if scene.latest:
        return None
    told = books.told_in(scene.chat, since=scene.message.said_at - TALK_LASTS, until=scene.message.said_at)
    latest = [one for one in told if one.message == told[-1].message]
    again = same_elsewhere(reading, scene.message.text, [one.entry for one in latest])
    whole = tuple(replace(one, by=None) for one in again)
    return _ask(books, scene, whole, latest[-1]) if whole else None


def _ask(books: Books, scene: Scene, again: tuple[Entry, ...], before: Record | None) -> Answer:
    lacking = next((kind for one in again for kind in needs_of(one)), None)
    if lacking is not None and len(again) == 1:
        return put_question(books, scene, [Pending(kind=lacking, entries=again)])
    choices = (Choice(label="yes", action={"force": "same_again"}), Choice(label="no", action={"drop": True}))
    facts = {"by": before.told_by if before is not None else None, "again": [say_back(one) for one in again]}
    return put_question(books, scene, [Pending(kind="same_again", entries=again, choices=choices, facts=facts)])
