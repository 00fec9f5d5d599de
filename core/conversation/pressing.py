"""What a pressed button does: its action was kept with it when the message was sent."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from core.answers import Answer, Refused
from core.conversation.airing import retell
from core.conversation.answering import answer_with_words
from core.conversation.cautioning import caution_once
from core.conversation.completing import answer_with_action
from core.conversation.confirming import confirm
from core.conversation.noting import complete_note, take_note
from core.conversation.scene import Scene
from core.conversation.taking_back import redo, undo
from core.entries import Act, Entry
from core.lengths import Length
from core.notes import read
from core.questions import answer_question, show
from core.records import Record
from core.storage import Books

_REPLIES = ("done", "later", "skip", "no")


def press(books: Books, scene: Scene) -> tuple[tuple[Answer, ...], Sequence[Record]]:
    """The answer to a pressed button; one whose question is settled is said to be no longer good."""
    action = books.pressed(scene.message.pressed or "")
    if action is None:
        return (Refused(why="old_button"),), ()
    if "question" in action:
        return _answer_question(books, scene, action)
    if "undo" in action:
        return (undo(books, scene, action["undo"]),), ()
    if "redo" in action:
        return (redo(books, scene, action["redo"]),), ()
    if "air" in action:
        return (retell(books, scene, action["air"], over=bool(action["over"])),), ()
    answer = next((word for word in _REPLIES if word in action), None)
    if answer is not None:
        length = Length.from_iso(action["length"]) if "length" in action else None
        entry = Entry(act=Act.REPLY, answer=answer, duration=length)
        return (confirm(books, scene, entry, only=action[answer]),), ()
    if "ask" in action:
        return (caution_once(books, scene, answer_question(books, Entry.from_keys(action["ask"]), scene.now)),), ()
    if "show" in action:
        return (show(books, action, scene.now),), ()
    if "say" in action:
        return take_note(books, scene, read(str(action["say"]), scene.local_now, scene.names))
    return (Refused(why="old_button"),), ()


def _answer_question(books: Books, scene: Scene, action: dict[str, Any]) -> tuple[tuple[Answer, ...], Sequence[Record]]:
    question = books.question(action["question"])
    if question is None:
        return (Refused(why="old_button"),), ()
    if "say" not in action:
        return complete_note(books, scene, answer_with_action(books, question, action))
    worded = replace(scene, message=replace(scene.message, text=str(action["say"]), pressed=None))
    reading = read(worded.message.text, scene.local_now, scene.names)
    answered = answer_with_words(books, worded, question, reading)
    return complete_note(books, scene, answered) if answered else ((Refused(why="old_button"),), ())
