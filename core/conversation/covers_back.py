"""Which covers are back on, or are not after all: "i put it back", "all back on", "the other one", "no its still off".

Rules
1. The only cover that stands off is meant; of several, all where the words say several. Else it is asked which.
2. A cover told to be on that is not is taken back, so that it is asked for again: the trays named, else the only one.
3. Where the tray named was not just told of, its own cover is shown first; what was told of other trays stands.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from functools import cache

from core.answers import Answer, Choice, Undone
from core.conversation.asking import put_question
from core.conversation.correction_words import bare
from core.conversation.heard import either, heard, page
from core.conversation.looks import said_last
from core.conversation.recording import Outcome, Pending, record
from core.conversation.replanning import replan
from core.conversation.scene import TALK_LASTS, Scene
from core.conversation.taking_back import take_back_some
from core.conversation.waiting import set_aside
from core.entries import Act, Entry
from core.lots import open_states
from core.lots.phrases import says
from core.notes import Reading, read_answer
from core.records import Record
from core.storage import Books

_WORDS = "answers_heard"
_BACK = "cover_back"
_OFF = "still_off"
_OF_COVERS = frozenset({Act.COVER, Act.UNCOVER, Act.AIR})
_NUMBERS = {"both": 2, "the two": 2, "all three": 3, "all 3": 3, "all four": 4, "all 4": 4}


def hear_covers(books: Books, scene: Scene, reading: Reading) -> Reading | Answer:
    """The reading with the covers that are back on; or the question which; else as it was."""
    if len(reading.entries) != 1:
        return reading
    one = reading.entries[0]
    if one.act not in (Act.NOTE, Act.COVER) or one.plant or (one.act is Act.COVER and (one.lots or one.trays)):
        return reading
    words = without_hour(one, bare(scene.message.text))
    named = _named_back(scene, words)
    told = named is not None or _puts_back(one, words) or _and_the_others(scene, words)
    perhaps = not told and (one.act is Act.COVER or _on_pattern().fullmatch(words) is not None)
    off = covers_off(books, scene) if told or perhaps else []
    if not told and not (_was_talked_of(scene, off) or (off and _was_asked_for(books, scene))):
        return reading
    if named is not None:
        off = [where for where in off if set(where.lots) & set(named.lots) or set(where.trays) & set(named.trays)]
    meant = off if named is not None or _says_several(scene, words, len(off)) else off[:1] if len(off) == 1 else []
    if meant:
        return replace(reading, entries=tuple(replace(where, by=one.by, on=one.on) for where in meant), asks=())
    return _which(books, scene, off) if len(off) > 1 else reading


def covers_off(books: Books, scene: Scene) -> list[Entry]:
    """The covers that stand off, each as where a cover would go on; those of the message replied to alone, if any."""
    opens = open_states(books.records(), books.lots(), scene.zone, scene.now)
    found = [facts for kind, facts in opens if kind == "cover_off"]
    trays = {tray for one in scene.replied_records for tray in one.trays}
    trays |= {subject.name for subject in scene.reminded_of if subject.kind == "tray"}
    of_reply = [facts for facts in found if facts.get("tray") in trays]
    return [
        Entry(act=Act.COVER, trays=(str(facts["tray"]),))
        if facts.get("tray")
        else Entry(act=Act.COVER, lots=tuple(facts["lots"]))
        for facts in of_reply or found
    ]


def what_was_covered() -> str:
    """The words for covers and for what stands under them ("it", "the lids"), as choices of a pattern."""
    return f"{either(_WORDS, _BACK, 'several')}|{either(_WORDS, _BACK, 'one')}"


@cache
def _pattern() -> re.Pattern[str]:
    """ "I put it back on"; with a place in the middle, "put tray 2 back"."""
    who, verbs, ends, alone = (either(_WORDS, _BACK, key) for key in ("who", "verbs", "ends", "alone"))
    what = what_was_covered()
    told = rf"(?:(?:{verbs}) )?(?:{what}) (?:{ends})|{alone}"
    placed = rf"(?:(?:{verbs}) )(?P<where>(?:lot|tray|#)\s?[\w-]+) (?:{ends})"
    return re.compile(rf"(?:(?:{who}) )*(?:{placed}|{told})")


@cache
def _on_pattern() -> re.Pattern[str]:
    """ "Its on": a cover only where one is talked of."""
    who, verbs, ends = (either(_WORDS, _BACK, key) for key in ("who", "verbs", "ends_on"))
    what = what_was_covered()
    alone = either(_WORDS, _BACK, "alone_on")
    return re.compile(rf"(?:(?:{who}) )*(?:(?:(?:{verbs}) )?(?:{what}) (?:{ends})|(?:{alone}))")


def without_hour(one: Entry, words: str) -> str:
    """The words without the hour at their end ("put it back | at 9:15"), where the note gives one."""
    if not isinstance(one.on, datetime):
        return words
    return re.sub(r" (?:(?:at|since|around|about|by|@) )?\d{1,2}(?::\d\d)? ?(?:am|pm|a|p)?$", "", words)


def _was_asked_for(books: Books, scene: Scene) -> bool:
    """Whether the bot has just asked for a cover to go back, and nobody has said anything since."""
    return said_last(books, scene, books.open_reminders(chat=scene.chat, sent=True, kinds=["cover_back"]))


def _named_back(scene: Scene, words: str) -> Entry | None:
    found = _pattern().fullmatch(words)
    if found is None or not found["where"]:
        return None
    named = read_answer("lot", found["where"], scene.local_now) or {}
    return Entry(act=Act.COVER, lots=named.get("lots", ()), trays=named.get("trays", ()))


def _puts_back(one: Entry, words: str) -> bool:
    if one.act is Act.COVER:
        return says(words, heard(_WORDS, _BACK, "says_back"))
    return _pattern().fullmatch(words) is not None


def puts_place_back(text: str) -> bool:
    """Whether the words are "put tray 2 back": more than a tray named."""
    found = _pattern().fullmatch(bare(text))
    return found is not None and found["where"] is not None


def _was_talked_of(scene: Scene, off: Sequence[Entry]) -> bool:
    """Whether "lid on" or "its on" may be said of a cover that stands off: this person told of it last, or answers
    what was told or asked of it.
    """
    trays = {tray for one in (*scene.latest, *scene.replied_records) for tray in one.trays}
    trays |= {subject.name for subject in scene.reminded_of if subject.kind == "tray"}
    lots = {one.lot for one in (*scene.latest, *scene.replied_records)}
    lots |= {subject.name for subject in scene.reminded_of if subject.kind == "lot"}
    return any(set(where.trays) & trays or set(where.lots) & lots for where in off)


def _and_the_others(scene: Scene, words: str) -> bool:
    """ "And the other one", after a cover was told to be back on."""
    if not scene.latest or any(one.entry.act is not Act.COVER for one in scene.latest):
        return False
    phrase = next((one for one in heard(_WORDS, _BACK, "others") if f" {one} " in f" {words} "), None)
    if phrase is None:
        return False
    left = f" {words} ".replace(f" {phrase} ", " ").split()
    return all(word in heard(_WORDS, _BACK, "with_others") for word in left)


def _says_several(scene: Scene, words: str, standing: int) -> bool:
    """Whether the words mean all covers that stand off: they say several, and no other number."""
    number = next((many for phrase, many in _NUMBERS.items() if f" {phrase} " in f" {words} "), None)
    if number is not None:
        return standing <= number
    if _and_the_others(scene, words):
        return says(words, ["others", "rest", "other ones"])
    return says(words, heard(_WORDS, _BACK, "says_several"))


def _which(books: Books, scene: Scene, off: Sequence[Entry]) -> Answer:
    choices = tuple(
        Choice(label=_place(where), action={"fill": {"trays": [*where.trays], "lots": [*where.lots]}})
        for where in off[:6]
    )
    pending = Pending(
        kind="lot",
        entries=(Entry(act=Act.COVER),),
        choices=choices,
        facts={"covers_off": [_place(where) for where in off]},
    )
    return put_question(books, set_aside(books, scene), [pending])


def _place(where: Entry) -> str:
    return f"tray {where.trays[0]}" if where.trays else f"lot {where.lots[0]}"


def hear_not_on(books: Books, scene: Scene, reading: Reading) -> Answer | None:
    """Takes back that a cover is on, where these words say that it is not."""
    told = _covered_last(books, scene)
    if not told or len(reading.entries) != 1 or reading.entries[0].act not in (Act.NOTE, Act.AMEND):
        return None
    words = _without_opener(bare(scene.message.text))
    trays, lots = _named_off(books, scene, words)
    denied = says(words, heard(_WORDS, _OFF)) and len(words.split()) <= page(_WORDS)[_OFF]["most_words"]
    denied = denied or words in heard(_WORDS, _OFF, "alone")
    if not denied and not (trays or lots):
        return None
    if trays or lots:
        return _take_back_of(books, scene, told, trays, lots) or _ask_of_earlier(books, scene, trays, lots)
    if len({one.trays for one in told}) > 1 and not says(words, heard(_WORDS, _BACK, "says_several")):
        return _which_off(books, scene, told)
    return take_back_some(books, scene, told)


def _take_back_of(
    books: Books, scene: Scene, told: Sequence[Record], trays: Sequence[str], lots: Sequence[str]
) -> Answer | None:
    """Takes back the covers of these trays and lots alone: what a record says of other trays is told anew."""
    denied = [one for one in told if set(one.trays) & set(trays) or one.lot in lots]
    if not denied:
        return None
    undone = take_back_some(books, scene, denied)
    kept = dict.fromkeys(tray for one in denied for tray in one.trays if tray not in trays) if trays else {}
    if kept and isinstance(undone, Undone):
        first, outcome = denied[0], Outcome()
        record(
            books, scene, replace(first.entry, lots=(), trays=tuple(kept)), outcome,
            said=first.said, said_at=first.said_at, by=first.by,
        )  # fmt: skip
        replan(books, list(outcome.subjects), scene.now)
        still_on = {lot.number for act in outcome.acts for lot in act.lots}
        off = tuple(lot for lot in undone.lots if lot not in still_on)
        undone = replace(undone, entries=(replace(first.entry, lots=(), trays=tuple(trays)),), lots=off)
    return undone


def _ask_of_earlier(books: Books, scene: Scene, trays: Sequence[str], lots: Sequence[str]) -> Answer | None:
    """The question whether an earlier cover of these trays or lots is to be taken back; None where none stands on."""
    of_these = [one for tray in trays for one in books.tray_records(tray)]
    of_these += [one for lot in lots for one in books.lot_records(lot)]
    told = sorted((one for one in of_these if one.holds() and one.entry.act in _OF_COVERS), key=lambda one: one.order())
    if not told or told[-1].entry.act is not Act.COVER:
        return None
    cover = told[-1]
    day = cover.said_at.astimezone(scene.zone).date().isoformat()
    choices = (
        Choice(label="yes", action={"take_back_record": cover.number}),
        Choice(label="no", action={"drop": True}),
    )
    facts = {"by": cover.told_by, "day": day, "said": cover.said}
    pending = Pending(kind="denied", entries=(cover.entry,), choices=choices, facts=facts)
    return put_question(books, set_aside(books, scene), [pending])


def says_not_covered(text: str) -> bool:
    """Whether the words say of a place that it has no cover ("tray 2 has none")."""
    words = bare(text)
    return says(words, heard(_WORDS, _OFF)) and len(words.split()) <= page(_WORDS)[_OFF]["most_words"]


def _covered_last(books: Books, scene: Scene) -> list[Record]:
    """The records of covers of the latest note replied to, or told in this chat within the hour."""
    lately = books.told_in(scene.chat, since=scene.message.said_at - TALK_LASTS)
    told = [one for one in scene.replied_records or lately if one.holds() and one.entry.act is not Act.NOTE]
    own = [one for one in told if one.told_by == scene.speaker] or told
    last = [one for one in own if one.message == own[-1].message] if own else []
    return last if all(one.entry.act is Act.COVER for one in last) else []


def _without_opener(words: str) -> str:
    for opener in heard(_WORDS, _OFF, "opens"):
        if words.startswith(f"{opener} "):
            return _without_opener(words.removeprefix(opener).strip())
    return words


def _named_off(books: Books, scene: Scene, words: str) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The trays and lots (full numbers) that the words name as not covered: "not tray 3", "tray 3 is still off"."""
    phrase = next((one for one in heard(_WORDS, _OFF, "all_but") if words.startswith(f"{one} ")), None)
    if phrase is not None:
        place = words.removeprefix(phrase).strip()
    else:
        found = re.search(r"\b(?:tray|lot) [\w-]+", words)
        place = found[0] if found is not None and says(words, heard(_WORDS, _OFF)) else ""
    named = read_answer("lot", place, scene.local_now) or {}
    resolved = (books.resolve(lot, scene.year()) for lot in named.get("lots", ()))
    return tuple(named.get("trays", ())), tuple(lot for lot in resolved if lot is not None)


def _which_off(books: Books, scene: Scene, told: Sequence[Record]) -> Answer:
    choices = tuple(
        Choice(label=_place(replace(one.entry, trays=one.trays)), action={"take_back_record": one.number})
        for one in told[:6]
    )
    entry = Entry(act=Act.COVER)
    pending = Pending(kind="not_covered", entries=(entry,), choices=choices)
    return put_question(books, set_aside(books, scene), [pending])
