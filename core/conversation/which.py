"""Which of several open reminders is meant: told by its place in the list, by its name, or as all of them.

Rules
1. The question is a row of its own beside what else is open; a button, a number or a name answers it.
2. A name is words of the reminder itself: what it asks for, its tray, lot, plant or solution. A word that no reminder
   has makes it no answer. A name that fits several is asked again, among those alone.
3. "Skip 3, did 4" says of each what it is; what is said to be open stays so.
4. "Tray 3 done", "done with the bleach", "skip tray 3" name theirs without a question; "done with the sweeping" does so
   too where it was asked which to say later. "The rest" are those of the same message that no other words name.
5. A name that fits several means the one of the message just sent; a kind named without a number ("did the vents") all
   that this message asks for. "The others too" goes on with an answer just given.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import timedelta
from functools import cache
from typing import Final

from core.answers import Asked, Choice
from core.conversation.heard import either, heard, page
from core.conversation.scene import Scene
from core.entries import Act, Entry
from core.lengths import Length
from core.notes import Reading
from core.reminders import Due, kinds
from core.storage import Books, OpenQuestion, StoredReminder

WHICH: Final = "which_reminder"
MOST_BUTTONS: Final = 6
_LASTS: Final = timedelta(days=1)
_SOON: Final = timedelta(minutes=15)
_JUST_SENT: Final = timedelta(hours=1)
_WORD: Final = re.compile(r"[\w-]+")
_BETWEEN: Final = re.compile(r"\s*(?:,|;|&|\+|\band\b|\bplus\b)\s*")
_PARTS: Final = re.compile(r"\s*(?:,|;|&|\band\b|\bbut\b|\n)\s*(?:(?:and|but)\b\s*)?")
_OPEN: Final = "open"
_WORDS: Final = "answers_heard"
_OFFER: Final = "wean"

Named = tuple[tuple[StoredReminder, ...], ...]
"""What each part of an answer may name: one reminder where it is plain, several where it is not."""


@cache
def _place_names() -> dict[str, int]:
    return {word: place for place, words in enumerate(page(_WORDS)["places"]["says"]) for word in words.split()}


@cache
def _patterns() -> tuple[re.Pattern[str], re.Pattern[str]]:
    """ "Tray 3 done", "skip tray 3"; and "not yet" with why."""
    said = "|".join(sorted(page(_WORDS)["which"]["answers"], key=len, reverse=True))
    did = "|".join(sorted(_answers_before(), key=len, reverse=True))
    before = rf"(?P<before>{did})(?: with| for|:)? (?P<after_it>.+)"
    after = rf"(?P<before_it>.+?)(?: is| are|:)? (?P<after>{said})"
    not_yet = rf"(?:(?:{either(_WORDS, 'not_yet', 'before')}) )?(?:{either(_WORDS, 'not_yet')})"
    return re.compile(rf"(?:{before}|{after})"), re.compile(rf"{not_yet}(?P<stop>\s*[,.;:-])?.*\w")


@cache
def _answers_before() -> dict[str, str]:
    """The words before a name that answer of it, with the answer that each is."""
    answers: dict[str, str] = page(_WORDS)["which"]["answers"] | page(_WORDS)["which"]["answers_before"]
    return answers


@dataclass(frozen=True, slots=True, kw_only=True)
class Meant:
    """An answer and the reminders that it names; none where it says that none is meant."""

    entry: Entry
    named: Named = ()

    @property
    def reminders(self) -> tuple[StoredReminder, ...]:
        return tuple({one.number: one for part in self.named for one in part}.values())

    @property
    def is_plain(self) -> bool:
        return all(len(part) == 1 for part in self.named)


def ask_which(books: Books, scene: Scene, entry: Entry, open_ones: Sequence[StoredReminder]) -> Asked:
    """The question which of these reminders `entry` (done, skip, later …) answers."""
    length = {"length": entry.duration.iso()} if entry.duration is not None else {}
    answer = "done" if entry.answer in (None, "yes") else entry.answer
    draft = {
        "pending": [],
        "said": "",
        "said_at": scene.message.said_at.isoformat(),
        "message": scene.key,
        "answer": answer,
        "reminders": [one.number for one in open_ones],
    } | length
    books.ask(
        chat=scene.chat, speaker=scene.speaker, kind=WHICH, draft=draft, asked_at=scene.now,
        expires_at=scene.now + _LASTS, beside=True,
    )  # fmt: skip
    choices = tuple(
        Choice(label="due", action={answer: [one.number], "due": facts_of(one.due)} | length)
        for one in open_ones[:MOST_BUTTONS]
    )
    facts = {"answer": answer, "dues": [facts_of(one.due) for one in open_ones]}
    return Asked(kind=WHICH, choices=choices, facts=facts)


def hear_which(books: Books, scene: Scene, question: OpenQuestion, reading: Reading) -> Meant | None:
    """The answer that these words give to the question; None where they answer it not.

    The question ends in either case; its buttons stay good.
    """
    books.close_question(question.number)
    if _is_note_of_an_act(reading):
        return None
    own = hear_named(books, scene, reading)
    if own is not None and own.entry.answer != question.draft["answer"]:
        return own
    listed = [one for one in map(books.reminder, question.draft["reminders"]) if one is not None]
    length = Length.from_iso(question.draft["length"]) if "length" in question.draft else None
    entry = Entry(act=Act.REPLY, answer=question.draft["answer"], duration=length)
    words = " ".join(_WORD.findall(scene.message.text.lower()))
    if words in heard(_WORDS, "which", "none"):
        return Meant(entry=entry)
    if words in heard(_WORDS, "which", "all"):
        return Meant(entry=entry, named=tuple((one,) for one in listed))
    named = _placed(words, listed) or _named(scene.message.text.lower(), listed)
    return Meant(entry=entry, named=named) if named else None


@cache
def _said_of_each() -> tuple[re.Pattern[str], dict[str, str]]:
    answers = {words: answer for answer, listed in page(_WORDS)["which"]["each"].items() for words in listed}
    said = "|".join(map(re.escape, sorted(answers, key=len, reverse=True)))
    return re.compile(rf"(?:(?P<before>{said}) (?P<after_it>.+)|(?P<before_it>.+?) (?P<after>{said}))"), answers


def hear_each(books: Books, scene: Scene, reading: Reading) -> tuple[Meant, ...]:
    """The answers to reminders of which the words name several, each with its own ("lot 3 done, lot 4 not yet"); none
    where they say one thing, or other things.
    """
    if _is_note_of_an_act(reading):
        return ()
    among = _among(books, scene)
    pattern, answers = _said_of_each()
    named: dict[str, Named] = {}
    answer, noun, of_others = "", "", ""
    for part in _PARTS.split(" ".join(scene.message.text.lower().split()).strip(" .!")) if among else ():
        found = pattern.fullmatch(part)
        words = (found["after_it"] or found["before_it"]) if found is not None else part
        answer = answers[found["before"] or found["after"]] if found is not None else answer
        if words in heard(_WORDS, "which", "others") and not of_others:
            of_others = answer
            continue
        noun = next((word for word in words.split() if word in ("lot", "tray")), noun)
        of_part = _settled(scene, _named(words if noun in words else f"{noun} {words}", among), among)
        if not answer or not of_part or not all(len(one) == 1 for one in of_part):
            return ()
        named[answer] = named.get(answer, ()) + of_part
    if of_others:
        left = _left_of(named, among)
        if not left and of_others != "done":
            return ()
        named[of_others] = named.get(of_others, ()) + left
    if len(named) < 2:
        return ()
    closed = {one: of for one, of in named.items() if of and one != _OPEN}
    return tuple(Meant(entry=Entry(act=Act.REPLY, answer=one), named=of) for one, of in closed.items())


def _left_of(named: dict[str, Named], among: Sequence[StoredReminder]) -> Named:
    """Those of the messages of the named ones that nothing names."""
    told = [one for parts in named.values() for part in parts for one in part]
    messages, numbers = {one.said_in for one in told}, {one.number for one in told}
    return tuple((one,) for one in among if one.said_in in messages and one.number not in numbers)


def _settled(scene: Scene, named: Named, among: Sequence[StoredReminder]) -> Named:
    """The parts of an answer, each that fits several with the one of these that was just sent."""
    last = _just_sent(scene, among)
    sent = [tuple(one for one in part if one.said_in == last) for part in named]
    return tuple(of_last if len(of_last) == 1 else part for of_last, part in zip(sent, named, strict=True))


def _just_sent(scene: Scene, among: Sequence[StoredReminder]) -> int | None:
    """The message of the reminder that was sent last, where that was a short while ago."""
    last = max((one for one in among if one.sent_at is not None), key=lambda one: str(one.sent_at), default=None)
    fresh = last is not None and last.sent_at is not None and scene.now - last.sent_at <= _JUST_SENT
    return last.said_in if last is not None and fresh else None


def _among(books: Books, scene: Scene) -> list[StoredReminder]:
    """The open reminders of the message replied to, else of the chat."""
    return [
        one
        for one in books.open_reminders(chat=scene.chat, sent=True)
        if not scene.replied_reminders or one.number in scene.replied_reminders
    ]


def hear_named(books: Books, scene: Scene, reading: Reading) -> Meant | None:
    """The answer to reminders that the words name themselves ("tray 3 done"); None where these are other words."""
    words = " ".join(scene.message.text.lower().split()).strip(" .!")
    found = _patterns()[0].fullmatch(words)
    among = _among(books, scene)
    if not among or _is_note_of_an_act(reading):
        return None
    if found is None:
        return _goes_on(books, scene, words, among)
    told = re.sub(rf"(?: (?:{either(_WORDS, 'which', 'others_too')}))+", "", found["after_it"] or found["before_it"])
    named = _others(scene, told, among) or _all_of_kind(scene, told, _settled(scene, _named(told, among), among), among)
    answer = _answers_before()[found["before"] or found["after"]]
    return Meant(entry=Entry(act=Act.REPLY, answer=answer), named=named) if named else None


def _goes_on(books: Books, scene: Scene, words: str, among: Sequence[StoredReminder]) -> Meant | None:
    """The answer that "the others too" gives, right after this person answered some reminders so."""
    too = re.fullmatch(rf"(?:and )?(?P<told>.+?)(?: (?:{either(_WORDS, 'which', 'others_too')}))+", words)
    named = _others(scene, too["told"], among) if too is not None else ()
    message = scene.message
    since = message.said_at - _SOON
    lately = books.said_lately(scene.chat, scene.speaker, since=since, until=message.said_at, but=message.message_id)
    records = books.records_of_message(lately[0][0]) if named and lately else ()
    answers = {one.entry.answer or "done" for one in records if one.holds() and one.reminder is not None}
    return Meant(entry=Entry(act=Act.REPLY, answer=answers.pop()), named=named) if len(answers) == 1 else None


def _all_of_kind(scene: Scene, told: str, named: Named, among: Sequence[StoredReminder]) -> Named:
    """Each of them apart, where the words name no tray and no lot, but a job that one message asked for of several
    ("done the vents").
    """
    bare = not any(word.rstrip("s") in ("tray", "lot") or word[:1].isdigit() for word in _WORD.findall(told))
    if len(named) != 1 or not bare:
        return named
    part = tuple(one for one in named[0] if one.said_in == _just_sent(scene, among)) or named[0]
    alike = len({(one.due.kind, one.said_in) for one in part}) == 1 and part[0].due.kind != "as_asked"
    return tuple((one,) for one in part) if alike else named


def _others(scene: Scene, told: str, among: Sequence[StoredReminder]) -> Named:
    """All of these, where the words are "the others too"; which is asked where they stand in several messages and none
    was just sent.
    """
    one, all_of = (either(_WORDS, "which", key) for key in ("other_one", "others"))
    found = re.fullmatch(rf"(?:(?P<one>{one})|{all_of})", told)
    if found is None:
        return ()
    among = [one for one in among if one.said_in == _just_sent(scene, among)] or among
    plain = len(among) == 1 if found["one"] else len({reminder.said_in for reminder in among}) == 1
    return tuple((reminder,) for reminder in among) if plain else (tuple(among),)


def _is_note_of_an_act(reading: Reading) -> bool:
    """True for what goes into the books as it stands, whatever reminders it names."""
    return not reading.asks and any(one.act not in (Act.NOTE, Act.REPLY) for one in reading.entries)


def hear_not_yet(books: Books, scene: Scene, reading: Reading) -> Meant | None:
    """ "Not yet" and why ("not yet, tray 2 still soft"), said of sessions that were offered; None for other words."""
    found = _patterns()[1].match(" ".join(scene.message.text.lower().split()))
    trays = {tray for one in reading.entries for tray in one.trays}
    lots = {lot for one in reading.entries for lot in one.lots}
    if found is None or not (found["stop"] or trays or lots) or _is_note_of_an_act(reading):
        return None
    offered = tuple(
        one
        for one in books.open_reminders(chat=scene.chat, sent=True, kinds=[_OFFER])
        if (not trays or trays & _trays(one.due)) and (not lots or lots & _lots(one.due))
    )
    return Meant(entry=Entry(act=Act.REPLY, answer="no"), named=(offered,)) if offered else None


def facts_of(due: Due) -> dict[str, str]:
    """What a button or a line needs to name a reminder."""
    more = {name: str(due.facts[name]) for name in ("text", "ready") if due.facts.get(name)}
    return {"kind": due.kind, "subject_kind": due.subject.kind, "subject": due.subject.name} | more


def _placed(words: str, listed: Sequence[StoredReminder]) -> Named:
    """Those at the places that the words give, where they give nothing but places of the list."""
    told = [word for word in words.split() if word not in heard(_WORDS, "which", "fillers") and word != "and"]
    names = _place_names()
    places = [names[word] if word in names else int(word) - 1 if word.isdecimal() else -1 for word in told]
    if not all(0 <= place < len(listed) for place in places):
        return ()
    return tuple((listed[place],) for place in dict.fromkeys(places))


def _named(text: str, among: Sequence[StoredReminder]) -> Named:
    """The reminders that each part of the words may name; empty where a part names none."""
    parts: list[tuple[StoredReminder, ...]] = []
    noun: list[str] = []
    for part in _BETWEEN.split(text):
        words = [word for word in _WORD.findall(part) if word not in heard(_WORDS, "which", "fillers")]
        if words and all(word[:1].isdigit() for word in words):
            words = noun + words
        found = tuple(one for one in among if words and _has(one.due, words))
        if not found:
            return ()
        parts.append(found)
        noun = [word for word in words if word.rstrip("s") in ("tray", "lot")]
    return tuple(parts)


def _has(due: Due, words: Iterable[str]) -> bool:
    """True where every word is one of the reminder's, and a number stands for what it is said of: tray or lot."""
    wanted = [_stem(word) for word in words]
    if not {*wanted} <= _words_of(due):
        return False
    for noun, names in (("tray", _trays(due)), ("lot", _lots(due))):
        numbers = [word for word in wanted if word[:1].isdigit()]
        if noun in wanted and numbers and not {*numbers} <= names:
            return False
    return True


def _words_of(due: Due) -> set[str]:
    facts = due.facts
    told = f"{due.kind.replace('_', ' ')} {kinds()[due.kind].says} {facts.get('text', '')} {facts.get('solution', '')}"
    plants = " ".join(facts.get("plants", ()))
    found = {_stem(word) for word in _WORD.findall(f"{told} {plants} {due.subject.kind} {due.subject.name}".lower())}
    trays, lots = _trays(due), _lots(due)
    return found | trays | lots | ({"tray"} if trays else set()) | ({"lot"} if lots else set())


def _trays(due: Due) -> set[str]:
    return {str(tray).lower() for tray in _told(due, "trays")} | (
        {due.subject.name.lower()} if due.subject.kind == "tray" else set()
    )


def _lots(due: Due) -> set[str]:
    full = {*_told(due, "lots")} | ({due.subject.name} if due.subject.kind == "lot" else set())
    return full | {number.rpartition("-")[2].lstrip("0") for number in full}


def _told(due: Due, name: str) -> list[str]:
    return [str(one) for one in due.facts.get(name, ())]


def _stem(word: str) -> str:
    for ending in ("ing", "ed", "s"):
        if word.endswith(ending) and len(word) - len(ending) > 2:
            return word.removesuffix(ending)
    return word
