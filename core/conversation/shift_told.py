"""Shifts told by one's part in them: "i have the bench today", "kit can't make it thursday", "dana takes kit's shift".

Rules
1. "I" is who speaks.
2. Somebody is off only where the roster has that person on the day; for others the words stay a note.
3. "Can't come tomorrow, someone cover?" asks the others, and the bot nothing.
4. Who takes a shift is there in its hours, and who had it is off.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date, datetime
from functools import cache
from typing import Final

from core.conversation.correction_words import bare
from core.conversation.heard import either
from core.conversation.scene import Scene, words_before
from core.entries import Act, Entry
from core.notes import Reading, read
from core.reminders.roster import Shift, shifts
from core.storage import Books

_PAGE: Final = "answers_heard"
_OWN: Final = frozenset({"i", "im", "ill", "ive", "me", "my"})


def hear_shift(books: Books, scene: Scene, reading: Reading) -> Reading:
    """The reading with the shift that the words tell of, or without one; as it was for other words."""
    note = reading.entries[0] if len(reading.entries) == 1 else None
    if note is not None and note.act is Act.ROSTER and note.rest:
        instead = _instead_of(books, scene, note)
        return Reading(entries=instead, repairs=reading.repairs) if instead else reading
    if note is not None and note.act is Act.ASK and _cannot_come().match(bare(scene.message.text)):
        kept = Entry(act=Act.NOTE, on=note.on, text=scene.message.text.strip())
        return Reading(entries=(kept,), repairs=reading.repairs)
    if note is None or note.act is not Act.NOTE or note.lots or note.trays or "?" in scene.message.text:
        return reading
    words = bare(scene.message.text)
    own = _own_shift(scene, words) or _own_answer(books, scene, words)
    told = (own,) if own is not None else _others(books, scene, note, words)
    return Reading(entries=told, repairs=reading.repairs) if told else reading


@cache
def _patterns() -> tuple[re.Pattern[str], re.Pattern[str], re.Pattern[str]]:
    """One's own shift; somebody off; somebody in the place of another."""
    mine, off, takes, of = (either(_PAGE, "shifts", key) for key in ("mine", "off", "takes", "of"))
    opens = either(_PAGE, "shifts", "opens")
    when = r"(?: (?:on )?\w+(?: \w+){0,2})?"
    return (
        re.compile(rf"(?:{mine}) (?P<when>.+)"),
        re.compile(rf"(?:(?:{opens}) )?(?:take (?P<taken>\w+) off|(?P<who>\w+) (?:{off})){when}"),
        re.compile(rf"(?P<new>\w+) (?:{takes}) (?P<old>\w+?)s? (?:{of}){when}"),
    )


@cache
def _cannot_come() -> re.Pattern[str]:
    who, cannot, come = (either(_PAGE, "shifts", key) for key in ("opens", "cannot", "come"))
    return re.compile(rf"(?:(?:{who}|i|sorry|hi|hey|all) )*(?:{cannot}) (?:{come})\b")


def _own_shift(scene: Scene, words: str) -> Entry | None:
    found = _patterns()[0].fullmatch(words)
    told = read(f"mei has the bench {found['when']}", scene.local_now).entries if found is not None else ()
    if len(told) != 1 or told[0].act is not Act.ROSTER or told[0].rest or told[0].who != ("mei",):
        return None
    return replace(told[0], who=(scene.speaker,))


def _own_answer(books: Books, scene: Scene, words: str) -> Entry | None:
    """ "Me, 9 to 1" right after "who has the bench tomorrow"."""
    found = re.fullmatch(rf"(?:{either(_PAGE, 'shifts', 'its_me')})(?P<hours> .+)?", words)
    before = words_before(books, scene) if found is not None else ""
    asked = read(before, scene.local_now, scene.names).entries if before else ()
    if found is None or len(asked) != 1 or asked[0].act is not Act.ASK or asked[0].about != "who" or asked[0].did:
        return None
    if asked[0].on is None or asked[0].lots or asked[0].trays or asked[0].plant:
        return None
    return _own_shift(scene, f"im on {asked[0].on:%d %b %Y}{found['hours'] or ''}")


def _others(books: Books, scene: Scene, note: Entry, words: str) -> tuple[Entry, ...]:
    off, takes = (one.fullmatch(words) for one in _patterns()[1:])
    if note.on is None or not (off or takes):
        return ()
    day = note.on.date() if isinstance(note.on, datetime) else note.on
    if off is not None:
        who = off["taken"] or off["who"]
        return tuple(_off(one.who, day) for one in _on(books, scene, who, day)[:1])
    if takes is None:
        return ()
    had = _on(books, scene, takes["old"], day)
    new = scene.speaker if takes["new"] in _OWN else takes["new"]
    there = (Entry(act=Act.ROSTER, who=(new,), on=day, from_time=one.from_time, until=one.until) for one in had)
    return (_off(had[0].who, day), *there) if had else ()


def _instead_of(books: Books, scene: Scene, told: Entry) -> tuple[Entry, ...]:
    """ "Ana instead of bram on friday": the hours of the one who is off, where none are told."""
    found = re.fullmatch(rf"(?:{either(_PAGE, 'shifts', 'instead')}) (?P<old>\w+)", bare(told.rest or ""))
    day = told.on.date() if isinstance(told.on, datetime) else told.on
    had = _on(books, scene, found["old"], day) if found is not None and day is not None else []
    if not had or day is None:
        return ()
    timed = told.from_time is not None or told.until is not None
    hours = [(told.from_time, told.until)] if timed else [(one.from_time, one.until) for one in had]
    there = (replace(told, rest=None, from_time=begins, until=ends) for begins, ends in hours)
    return (_off(had[0].who, day), *there)


def _off(who: str, day: date) -> Entry:
    return Entry(act=Act.ROSTER, who=(who,), on=day, ends=True)


def _on(books: Books, scene: Scene, name: str, day: date) -> list[Shift]:
    """The shifts of somebody on a day."""
    who = scene.speaker if name in _OWN else name
    return [one for one in shifts(books.records(acts=("roster",)), [day], scene.zone) if one.who.lower() == who.lower()]
