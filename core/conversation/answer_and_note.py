"""An answer to the bot's question, and what else was done, in one message: "lot 4, and lot 3 has 20 rooted".

Rules
1. The head answers the question that was just asked; the rest is a note of its own that lacks nothing and names where.
2. The rest may leave out the deed or the state asked about ("tray 14. and 2 coffeeberry", "9 and 5, and lot 2 none").
3. That it was counted, said where a count is asked about, is no look of its own.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from functools import cache

from core.conversation.adding_to import VERBS
from core.conversation.answering import answer_with_words
from core.conversation.asking import pending_of
from core.conversation.heard import either
from core.conversation.scene import Scene
from core.conversation.two_parts import TwoParts
from core.conversation.waiting import just_asked
from core.entries import Act, Entry
from core.notes import Reading, read
from core.storage import Books

_ANSWERED = frozenset({"lot", "count", "each_or_all", "shares", "state", "number", "change_or_total", "count_lower"})
_OF_A_COUNT = frozenset({"count_lower", "part_or_whole", "each_or_all", "change_or_total", "told_twice"})
_TALK = frozenset({Act.ASK, Act.HELLO, Act.REPLY, Act.UNDO, Act.AMEND, Act.NOTE})


def answer_and_note(books: Books, scene: Scene, reading: Reading) -> TwoParts | None:
    """The two parts of a message that answers the question just asked and tells more; None for other messages."""
    question = scene.question
    if question is None or question.kind not in _ANSWERED or scene.replied_reminders or scene.message.photo is not None:
        return None
    if just_asked(books, scene) is None or any(one.act in _TALK - {Act.NOTE} for one in reading.entries):
        return None
    asked = pending_of(question)[0].entries
    for head, rest in _parted(scene.message.text):
        more = _of_its_own(scene, rest, asked[0]) if asked else None
        if more is None:
            continue
        alone = replace(scene, message=replace(scene.message, text=head))
        answered = answer_with_words(books, alone, question, read(head, scene.local_now, scene.names))
        if answered is None or answered.waits:
            continue
        return TwoParts(answered=answered, words=head, rest=rest, told=more)
    return None


def without_bare_look(scene: Scene, reading: Reading) -> Reading:
    """The reading, with "I counted twice" as a note where a count is asked about."""
    one = reading.entries[0] if len(reading.entries) == 1 else None
    kind = scene.question.kind if scene.question is not None else ""
    if one is None or not (kind in _OF_A_COUNT or kind.startswith("above_")):
        return reading
    if one.act is not Act.CHECK or one.state or one.count is not None or one.lots or one.trays or one.plant:
        return reading
    return Reading(entries=(Entry(act=Act.NOTE, text=scene.message.text),), repairs=reading.repairs)


@cache
def _joints() -> re.Pattern[str]:
    joint = either("answers_heard", "answer_and_more", "joins")
    return re.compile(rf"(?:\s*(?:[,.;&]|\s(?:{joint}))\s+)(?:(?:{joint})\s+)*", re.IGNORECASE)


def _parted(text: str) -> Iterator[tuple[str, str]]:
    """The message as an answer and what follows it, at each place where it may be parted, the first first."""
    for found in _joints().finditer(text):
        head, rest = text[: found.start()].strip(), text[found.end() :].strip()
        if head and rest:
            yield head, rest


def _of_its_own(scene: Scene, rest: str, asked: Entry) -> Reading | None:
    """The words as a note that lacks nothing and names its lot, tray or plant, if need be with the deed asked about."""
    ways = [rest]
    if asked.act in VERBS:
        ways.append(f"{VERBS[asked.act]} {rest}")
    if asked.act is Act.CHECK and asked.state:
        ways.append(f"{rest} {asked.state}")
    for way in ways:
        told = read(way, scene.local_now, scene.names)
        named = all(one.act not in _TALK and (one.lots or one.trays or one.plant) for one in told.entries)
        left_over = any(re.search(r"\d", one.rest or "") for one in told.entries)
        if told.entries and named and not told.asks and not left_over:
            return told
    return None
