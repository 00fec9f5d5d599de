"""Thanks, praise and goodbyes that the crew says to each other: "thanks everyone great shift", "bye all see you sat".

Rules
1. Only where every word is one of these, or somebody's name: with any other word it is a note.
"""

from __future__ import annotations

from core.answers import Answer, Greeting
from core.conversation.correction_words import bare
from core.conversation.heard import heard
from core.conversation.scene import Scene
from core.entries import Act
from core.lots.phrases import says
from core.notes import Reading
from core.vocabulary.everyday import is_given_name

_PAGE = "thanks"


def hear_thanks(scene: Scene, reading: Reading) -> Answer | None:
    """The answer to a message that only thanks or praises the crew, or says goodbye; None for other words."""
    one = reading.entries[0] if len(reading.entries) == 1 else None
    if one is None or one.act is not Act.NOTE or one.lots or one.trays or one.plant or reading.asks:
        return None
    words = bare(scene.message.text.replace(",", " ").replace("!", " ").replace(".", " "))
    kind = next((table for table in ("thanks", "farewell") if says(words, heard(_PAGE, table))), None)
    if kind is None or "?" in scene.message.text:
        return None
    for table in ("thanks", "farewell"):
        for phrase in heard(_PAGE, table):
            words = f" {words} ".replace(f" {phrase} ", " ").strip()
    people = {name.lower() for name in scene.names.people}
    known = {*heard(_PAGE, "beside", "words"), *people}
    if all(word in known or is_given_name(word) for word in words.split()):
        return Greeting(want=kind if kind == "farewell" else "thanks_all")
    return None
