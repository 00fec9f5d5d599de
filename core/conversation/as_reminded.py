"""What a reminder asked for, told in a word or two: "tray 2 off", "both off", "2 and 3 half", "in", "lot 1 out".

Rules
1. The words mean an open reminder of that kind: of the message replied to, or of the trays and lots that they name;
   else of the message of this kind sent last, a short while ago.
2. Words that name none of several trays mean all of them where they say several or nothing of the kind; "the lid off"
   is asked.
3. What is told so is the deed itself, begun now, and is recorded as if it had been told in full.
4. A number at the end ("1 and 3 off 15") is how many minutes the covers are off.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import timedelta
from functools import cache
from typing import Final

from core.answers import Answer, Choice
from core.conversation.asking import put_question
from core.conversation.confirming import confirm
from core.conversation.correction_words import bare
from core.conversation.heard import either, heard, page
from core.conversation.looks import said_last
from core.conversation.recording import Pending
from core.conversation.scene import TALK_LASTS, Scene
from core.conversation.waiting import set_aside
from core.entries import Act, Entry
from core.lengths import Length
from core.notes import Reading, read, read_answer
from core.records import local_day
from core.reminders import Due
from core.storage import Books, StoredReminder

_WORDS: Final = "answers_heard"
_TABLE: Final = "as_reminded"
_SOON: Final = timedelta(minutes=15)
_OF_ACT: Final = {Act.AIR: "wean", Act.VENT: "vent", Act.UNCOVER: "cover_off"}
_MOST_BUTTONS: Final = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class _Told:
    """The kinds of reminder that the words may answer, the trays or lots they name, whether one is said, and the deed
    where a verb told it.
    """

    kinds: tuple[str, ...]
    where: Entry | None = None
    one: bool = False
    deed: Entry | None = None
    way: str = ""
    lasts: Length | None = None


def hear_as_reminded(books: Books, scene: Scene, reading: Reading) -> Reading | Answer:
    """The reading with the deed that a reminder asked for, or the question of which tray; else as it was."""
    told = _told(scene, reading)
    meant = _meant(books, scene, told) if told is not None else []
    if told is None or not meant:
        return reading
    if told.one and len(meant) > 1:
        return _which(books, scene, [_entry_of(scene, told, one.due) for one in meant])
    if any(one.due.done_means is None for one in meant):
        return confirm(books, scene, Entry(act=Act.REPLY, answer="done"), only=[one.number for one in meant])
    return Reading(entries=tuple(_entry_of(scene, told, one.due) for one in meant), repairs=reading.repairs)


def _told(scene: Scene, reading: Reading) -> _Told | None:
    one = reading.entries[0] if len(reading.entries) == 1 else None
    words, lasts = _without_minutes(bare(scene.message.text))
    if one is None or one.plant or "?" in scene.message.text or (one.count is not None and lasts is None):
        return None
    if one.act in _OF_ACT and not (one.lots or one.trays):
        words = bare(scene.message.text)
        if one.rest and one.rest not in heard(_WORDS, _TABLE, "several"):
            return None
        single = any(f" {phrase} " in f" {words} " for phrase in heard(_WORDS, _TABLE, "one"))
        return _Told(kinds=(_OF_ACT[one.act],), one=single, deed=replace(one, rest=None))
    if one.act not in (Act.NOTE, Act.ASK, Act.AMEND, Act.CHECK):
        return None
    found = _pattern().fullmatch(words)
    if found is None:
        return None
    place = found["first"] or found["last"]
    named = read_answer("lot", place if place[0].isalpha() else f"tray {place}", scene.local_now) if place else None
    where = Entry(act=Act.NOTE, lots=named.get("lots", ()), trays=named.get("trays", ())) if named else None
    if place and (where is None or not (where.lots or where.trays)):
        return None
    kinds = tuple(kind for kind, ways in page(_WORDS)[_TABLE]["ways"].items() if found["way"] in ways)
    kinds = kinds if lasts is None else tuple(kind for kind in kinds if kind == _OF_ACT[Act.AIR])
    return _Told(kinds=kinds, where=where, one=found["one"] is not None, way=found["way"], lasts=lasts)


def _without_minutes(words: str) -> tuple[str, Length | None]:
    """The words without the minutes at their end ("tray 3 off | 15 min"), and these."""
    fewest, most = page(_WORDS)["covers_meant"]["minutes_off"]
    minutes = either(_WORDS, _TABLE, "minutes")
    found = re.fullmatch(rf"(?P<told>.+ off)(?: for)? (?P<for>\d{{1,3}}) ?(?:{minutes})?", words)
    if found is None or not fewest <= int(found["for"]) <= most:
        return words, None
    return found["told"], Length.of_minutes(int(found["for"]))


@cache
def _pattern() -> re.Pattern[str]:
    """ "Got em in", "tray 2 off again", "2 and 3 half"."""
    who, verbs, one, several, ends = (
        either(_WORDS, _TABLE, key) for key in ("who", "verbs", "one", "several", "ends")
    )
    ways = {way for listed in page(_WORDS)[_TABLE]["ways"].values() for way in listed}
    way = "|".join(map(re.escape, sorted(ways, key=len, reverse=True)))
    number = r"\d[\w-]*"
    place = rf"(?P<{{}}>(?:(?:tray|lot)s? )?{number}(?: (?:and )?(?:(?:tray|lot)s? )?{number})*)"
    what = rf"(?:(?P<one>{one})|(?:{several})|{place.format('first')})"
    return re.compile(
        rf"(?:(?:{who}) )*(?:(?:{verbs}) )?(?:{what} )?(?P<way>{way})(?: (?:{ends}))*(?: {place.format('last')})?"
    )


def _meant(books: Books, scene: Scene, told: _Told) -> list[StoredReminder]:
    """The reminders that these words answer."""
    open_ones = [
        one
        for one in books.open_reminders(chat=scene.chat, sent=True, kinds=told.kinds)
        if one.sent_at is not None and (not scene.replied_reminders or one.number in scene.replied_reminders)
    ]
    if told.where is not None:
        today = local_day(scene.message.said_at, scene.zone)
        fresh = [one for one in open_ones if one.sent_at and local_day(one.sent_at, scene.zone) == today]
        return _named(books, scene, told.where, fresh)
    last = [one for one in open_ones if one.said_in == max(other.said_in or 0 for other in open_ones)]
    if scene.replied_reminders:
        return last
    if scene.message.replied_to is not None or not all(_within(scene, one, TALK_LASTS) for one in last):
        return []
    return last if all(_within(scene, one, _SOON) for one in last) or said_last(books, scene, last) else []


def _within(scene: Scene, one: StoredReminder, lasts: timedelta) -> bool:
    return one.sent_at is not None and scene.message.said_at - one.sent_at <= lasts


def _named(books: Books, scene: Scene, where: Entry, among: Sequence[StoredReminder]) -> list[StoredReminder]:
    """The reminders of the trays and lots named, where each of them has one alone; else none."""
    lots = {books.resolve(lot, scene.year()) for lot in where.lots}
    found: list[StoredReminder] = []
    for name, of in [(tray, "trays") for tray in where.trays] + [(lot, "lots") for lot in lots if lot]:
        fitting = [one for one in among if name in _names(one.due, of)]
        if len(fitting) != 1:
            return []
        found += fitting
    return found if None not in lots else []


def _names(due: Due, of: str) -> set[str]:
    named = {str(one) for one in due.facts.get(of, ())}
    return named | ({due.subject.name} if f"{due.subject.kind}s" == of else set())


def _entry_of(scene: Scene, told: _Told, due: Due) -> Entry:
    """The deed, of the subject of this reminder: begun now, so that no time is told of a cover that is off."""
    means = due.done_means or Entry(act=Act.NOTE, text=scene.message.text)
    deed = told.deed if told.deed is not None and told.deed.act is means.act else None
    if deed is None and means.act is Act.VENT:
        read_so = read(f"vents {told.way}", scene.local_now, scene.names).entries
        deed = next((one for one in read_so if one.act is Act.VENT and one.vent_open is not None), None)
    if deed is not None:
        return replace(deed, lots=means.lots, trays=means.trays, vent_open=deed.vent_open or means.vent_open)
    return replace(means, duration=told.lasts)


def _which(books: Books, scene: Scene, deeds: Sequence[Entry]) -> Answer:
    choices = tuple(
        Choice(
            label=f"tray {one.trays[0]}" if one.trays else f"lot {one.lots[0]}",
            action={"fill": {"trays": [*one.trays], "lots": [*one.lots]}},
        )
        for one in deeds[:_MOST_BUTTONS]
    )
    pending = Pending(kind="lot", entries=(replace(deeds[0], lots=(), trays=()),), choices=choices)
    return put_question(books, set_aside(books, scene), [pending])
