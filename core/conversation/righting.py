"""What is right where somebody said only that something was wrong: the answer to "which lot is right?".

Rules
1. A bare number in reply to the receipt of a count corrects that.
2. A bare lot, tray, plant, number or name answers; a note with a deed of its own, or a question, is none.
"""

from __future__ import annotations

import re
from dataclasses import fields
from typing import Any

from core.conversation.answer_words import core_of
from core.conversation.recording import Pending
from core.conversation.scene import Scene
from core.entries import Act, Entry
from core.lots.by_plant import lots_of_plant
from core.notes import Reading, read, read_answer
from core.storage import Books

_OF_ITS_OWN = frozenset({Act.ASK, Act.HELLO, Act.UNDO, Act.AMEND, Act.NOTE, Act.REPLY})


def is_whole_note(reading: Reading) -> bool:
    """True for what stands on its own: a question, a greeting, an act that lacks nothing."""
    if any(entry.act in _OF_ITS_OWN - {Act.NOTE, Act.REPLY} for entry in reading.entries):
        return True
    return not reading.asks and any(entry.act not in _OF_ITS_OWN for entry in reading.entries)


def corrects_the_count(scene: Scene) -> bool:
    """Whether the words are a bare number, in reply to one deed of the speaker's own that has a count."""
    if re.fullmatch(r"\d{1,5}", core_of(scene.message.text)) is None:
        return False
    told = {one.entry for one in scene.replied_records if one.holds() and one.told_by == scene.speaker}
    return len(told) == 1 and all(one.count is not None and one.act is not Act.NOTE for one in told)


def what_is_right(books: Books, scene: Scene, first: Pending, reading: Reading) -> dict[str, Any] | None:
    """The field values that the words give to what was wrong, or None where they are no answer."""
    noun = str(first.facts.get("names", ""))
    if noun == "who":
        return _who_it_was(scene)
    if noun:
        return _right_place(books, scene, noun)
    told = reading.entries[0] if len(reading.entries) == 1 else None
    before = next((one.entry.act for one in scene.latest), None)
    if told is None or told.act not in (Act.NOTE, Act.AMEND, before):
        return None
    named = read_answer("lot", core_of(scene.message.text), scene.local_now) or {}
    if set(named) == {"plant"} and _only_lot_of(books, named["plant"]):
        return _only_lot_of(books, named["plant"])
    meant = read(f"make that {scene.message.text}", scene.local_now, scene.names).entries
    if len(meant) != 1 or meant[0].act is not Act.AMEND:
        return None
    return fields_of(meant[0]) or None


def _right_place(books: Books, scene: Scene, noun: str) -> dict[str, Any] | None:
    """ "16", "lot 16", "the sage": the lot or tray that is right."""
    words = core_of(scene.message.text).removeprefix("make that ")
    named = read_answer("lot", words, scene.local_now) or {}
    if words.removeprefix("#").isdecimal() and noun == "tray":
        named = {"trays": (words.removeprefix("#"),)}
    if named.get("plant"):
        named = _only_lot_of(books, named["plant"])
    return named or None


def _only_lot_of(books: Books, plant: str) -> dict[str, Any]:
    """The only open lot of a plant, or nothing where there is none or are several."""
    lots = lots_of_plant(plant, books.lots())
    return {"lots": (lots[0].number,)} if len(lots) == 1 else {}


def _who_it_was(scene: Scene) -> dict[str, Any] | None:
    """ "Dell", "dell did it": whose deed it was, one of the crew."""
    named = re.fullmatch(r"([\w-]+?)(?: did| did it)?", core_of(scene.message.text))
    by = next((name for name in scene.names.people if named is not None and name.lower() == named[1]), None)
    return {"by": by} if by is not None else None


def fields_of(amend: Entry) -> dict[str, Any]:
    """What a correction gives, by the names of an entry's fields."""
    values = {part.name: getattr(amend, part.name) for part in fields(Entry) if part.name not in ("act", "rest")}
    return {name: value for name, value in values.items() if value not in (None, (), False)}
