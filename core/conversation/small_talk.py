"""What is said to a greeting, a picture without words, a bare number, or signs that are no words.

Rules
1. A bare lot or tray ("14", "tray 2") asks how it stands; nothing is recorded of it.
2. A command is its words: "/due" is "due", "/misted tray 2" is "misted tray 2".
"""

from __future__ import annotations

import re

from core.answers import Answer, Greeting, Refused
from core.conversation.asking_on import question_goes_on
from core.conversation.brought_in import brings_place_in
from core.conversation.closing import says_it_is_over
from core.conversation.correction_words import bare, said
from core.conversation.covers_back import puts_place_back
from core.conversation.leaning import joined_on
from core.conversation.scene import Scene
from core.conversation.taking_back import taken_back_lot
from core.conversation.thanking import hear_thanks
from core.entries import Act, Entry
from core.notes import Reading, goes_on, read_answer, same_elsewhere
from core.questions import answer_question
from core.storage import Books

_COMMANDS = {
    "start": "hello", "help": "help", "due": "what's due", "open": "what is open now", "lots": "list the lots",
}  # fmt: skip


def greet(entry: Entry) -> Answer:
    """The answer to a greeting, thanks, or a call for help."""
    return Greeting(want=entry.want or "hi")


def plain_words(text: str) -> str:
    """The words of a message, a command as plain words."""
    found = re.match(r"\s*/(\w+)\s*(.*)", text, re.DOTALL)
    if found is None:
        return text.strip()
    return _COMMANDS.get(found.group(1).lower(), f"{found.group(1).replace('_', ' ')} {found.group(2)}").strip()


def answer_small(books: Books, scene: Scene, reading: Reading) -> Answer | None:
    """The answer to what is no note: nothing, signs, an unknown command, a bare lot or tray; else None."""
    text = scene.message.text.strip()
    if not reading.entries:
        return Refused(why="empty")
    entry = reading.entries[0]
    if len(reading.entries) > 1 or entry.act is not Act.NOTE or scene.message.photo is not None:
        return None
    if not any(letter.isalnum() for letter in text):
        return Refused(why="no_words")
    if re.fullmatch(r"/\w+", text):
        return Refused(why="unknown_command", facts={"command": text[:40]})
    thanked = hear_thanks(scene, reading)
    if thanked is not None:
        return thanked
    if puts_place_back(text) or brings_place_in(text):
        return None
    if same_elsewhere(reading, text, [one.entry for one in scene.latest]) and _leans(books, scene, text):
        return None
    if says_it_is_over(text) or (scene.latest and joined_on(scene, reading)[1] != text):
        return None
    return question_goes_on(books, scene) or _how_it_stands(books, scene, text)


def _leans(books: Books, scene: Scene, text: str) -> bool:
    """Whether the words lean on the latest note: "and lot 16", "16 too" do so only right after it, not after a
    question."""
    if not goes_on(text) and not any(bare(text).endswith(f" {one}") for one in said("asks_on", "closes")):
        return True
    message = scene.message
    since = scene.latest[-1].said_at
    lately = books.said_lately(scene.chat, scene.speaker, since=since, until=message.said_at, but=message.message_id)
    return bool(lately) and lately[0][0] == scene.latest[-1].message


def _how_it_stands(books: Books, scene: Scene, text: str) -> Answer | None:
    named = read_answer("lot", text, scene.local_now)
    if named is None or "plant" in named or ("lots" in named and "trays" in named):
        return None
    if "trays" in named:
        return answer_question(books, Entry(act=Act.ASK, about="where", trays=tuple(named["trays"])), scene.now)
    lots = tuple(named["lots"])
    unknown = [one for one in lots if not books.resolve(one, scene.year(), closed_too=True)]
    if unknown:
        return next((gone for one in unknown if (gone := taken_back_lot(books, scene, one)) is not None), None)
    return answer_question(books, Entry(act=Act.ASK, about="history", lots=lots), scene.now)
