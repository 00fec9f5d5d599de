"""An answer with something behind it: "tray 4, and watered it", "2, and 3 dead in it", "yes they changed their mind".

Rules
1. The first words must answer the open question by themselves. A place that heads a note of its own ("tray 4: misted")
   answers nothing: what is told on begins with a word that joins it, or ends with one.
2. What is told on is read as a note of its own, of the lot that was named. Mere words are kept as a note of that lot;
   words that the note asked about has itself say nothing new.
3. "Yes" or "no" with words behind it answers what offers it, in the same talk, where the words tell no deed.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from core.answers import Choice
from core.conversation.answer_words import core_of
from core.conversation.answering import CORRECTS_WITHIN, answer_with_words, lots_offered, told_since
from core.conversation.asking import pending_of
from core.conversation.choosing import chosen_by_words
from core.conversation.correction_words import bare
from core.conversation.heard import either, heard
from core.conversation.lots_meant import lots_meant
from core.conversation.recording import Pending
from core.conversation.scene import Scene
from core.conversation.two_parts import TwoParts
from core.entries import Act, Entry
from core.lots.by_plant import lots_of_plant
from core.lots.trays import lots_in
from core.notes import Reading, read, read_answer
from core.storage import Books, OpenQuestion
from core.vocabulary.loading import small_words

_WORDS = "answers_heard"
_TABLE = "answer_and_more"
_MOST_WORDS = 6
_TALK = frozenset({Act.NOTE, Act.REPLY, Act.ASK, Act.HELLO, Act.UNDO, Act.AMEND})


def answer_and_more(books: Books, scene: Scene, reading: Reading) -> TwoParts | None:
    """The answer that the first words give to the open question, with what follows; None where they answer none."""
    question = scene.question
    if question is None or scene.replied_reminders or "?" in scene.message.text:
        return None
    first = pending_of(question)[0]
    for words, joined, rest in _parted(scene.message.text):
        told = _told_on(scene, question, reading, joined, rest)
        if told is None or not _answers(books, scene, first, words):
            continue
        part = replace(scene, message=replace(scene.message, text=words))
        answered = answer_with_words(books, part, question, read(words, scene.local_now, scene.names))
        if answered is not None:
            return TwoParts(answered=answered, words=words, rest=rest, told=told if told.entries else None)
    return _yes_or_no(books, scene, question, first, reading)


def _parted(text: str) -> Iterator[tuple[str, bool, str]]:
    """The ways to part a text into an answer and what follows, and whether a word joins them."""
    join = either(_WORDS, _TABLE, "joins")
    for found in re.finditer(rf"\s*[,;.\n(–-]*\s*\b(?:{join})\b\s+|\s*[,;.\n(]\s*|\s+[–-]\s+", text, re.IGNORECASE):
        words, rest = text[: found.start()].strip(), text[found.end() :].strip(" )")
        if words and rest and len(words.split()) <= _MOST_WORDS:
            yield words, any(letter.isalpha() for letter in found[0]), rest
    place = re.match(r"\s*((?:lot|tray)\s*\d[\w-]*|#?\d[\d-]*)\s+(.+)", text, re.IGNORECASE | re.DOTALL)
    if place is not None:
        yield place[1], False, place[2]


def _told_on(
    scene: Scene, question: OpenQuestion, reading: Reading, joined: bool, rest: str
) -> Reading | None:
    """What follows an answer, empty where it says nothing new; None where it makes the whole a note of its own."""
    known = {*bare(str(question.draft["said"])).split(), *heard(_WORDS, _TABLE, "fillers")}
    if {*bare(rest).split()} <= known:
        return Reading(entries=())
    told = read(rest, scene.local_now, scene.names)
    remark, entries = Reading(entries=(Entry(act=Act.NOTE, text=rest),)), told.entries
    if any(one.act not in _TALK for one in entries):
        closed = any(bare(rest).endswith(f" {one}") for one in heard(_WORDS, _TABLE, "closes"))
        return told if joined or closed else None
    begins = bare(rest).partition(" ")[0]
    if begins in small_words("beside", "said_of_one") and re.search(r"[,;.(–-]", scene.message.text) is None:
        # "16 looks bad" is a remark on lot 16.
        return None
    mere = all(one.act is Act.NOTE and not one.trays and not one.plant for one in entries)
    if not mere or any(one.act is not Act.NOTE for one in reading.entries) or any(one.isdigit() for one in rest):
        denied = any(bare(rest).startswith(f"{one} ") for one in heard(_WORDS, _TABLE, "denies"))
        return remark if denied and mere else None
    return remark


def _answers(books: Books, scene: Scene, first: Pending, words: str) -> bool:
    """Whether these words alone are an answer to what is asked first."""
    if first.kind == "lot":
        return _names_one(books, scene, first, words)
    if first.kind == "count":
        return bool(read_answer("count", words, scene.local_now)) and any(one.isdigit() for one in words)
    return bool(first.choices) and chosen_by_words(first.choices, words, None) is not None


def _names_one(books: Books, scene: Scene, first: Pending, words: str) -> bool:
    part = replace(scene, message=replace(scene.message, text=words))
    if first.choices and lots_meant(books, part, first) is not None:
        return True
    named = read_answer("lot", core_of(words), scene.local_now) or {}
    every = books.lots()
    lots = {number for one in named.get("lots", ()) if (number := books.resolve(one, scene.year())) is not None}
    lots |= {lot.number for tray in named.get("trays", ()) for lot in lots_in(tray, every)}
    lots |= {lot.number for lot in lots_of_plant(named["plant"], every)} if named.get("plant") else set()
    offered = set(lots_offered(first))
    return bool(lots) and (not offered or bool(lots & offered))


def _yes_or_no(
    books: Books, scene: Scene, question: OpenQuestion, first: Pending, reading: Reading
) -> TwoParts | None:
    """ "Yes the school changed its mind": the choice, with the words behind it to keep."""
    head, _, rest = scene.message.text.strip().replace(",", " ").partition(" ")
    said_yes, said_no = (bare(head) in heard(_WORDS, _TABLE, key) for key in ("yes", "no"))
    if not rest.strip() or not (said_yes or said_no) or scene.now - question.asked_at > CORRECTS_WITHIN:
        return None
    mere = all(one.act is Act.NOTE and not (one.lots or one.trays or one.plant) for one in reading.entries)
    if not mere or reading.asks or any(one.isdigit() for one in rest) or told_since(books, scene, question):
        return None
    chosen = chosen_by_words(first.choices, rest, None)
    words = rest if chosen is not None else head
    chosen = chosen or _plain(first.choices, "yes" if said_yes else "no")
    if chosen is None:
        return None
    part = replace(scene, message=replace(scene.message, text=words))
    answered = answer_with_words(books, part, question, read(words, scene.local_now, scene.names))
    if answered is None:
        return None
    said = scene.message.text
    remark = Reading(entries=(Entry(act=Act.NOTE, text=said),)) if words == head else None
    return TwoParts(answered=answered, words=words, rest=said, told=remark)


def _plain(choices: tuple[Choice, ...], label: str) -> Choice | None:
    return next((one for one in choices if one.label == label), None)
