"""Which deed of the note just told was another: "not misted, bottom watered", "rotted not rooted".

Rules
1. What was wrong must be a deed of the note, and only one; what is right takes its place, with its count and its lot.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from core.answers import Answer
from core.conversation.correcting import amend_record
from core.conversation.correction_words import bare, said, without_ends
from core.conversation.left_out import latest_note, says_same_deed
from core.conversation.other_deed import as_deed
from core.conversation.scene import Scene
from core.entries import Act, Entry
from core.errors import BadEntry
from core.notes import read
from core.storage import Books

_LONGEST = 7
_KINDS = ("state", "method", "cause", "treatment", "care")


def hear_instead(books: Books, scene: Scene) -> tuple[Answer, ...]:
    """The answer to words that put one deed in place of another of the note just told; none for other words."""
    words = without_ends(bare(scene.message.text), "left_out").split()
    if not 2 < len(words) <= _LONGEST or "?" in scene.message.text or scene.replied_reminders:
        return ()
    told = latest_note(books, scene)
    for wrong, right in _pairs(words) if told else ():
        named = _deed(scene, wrong)
        meant = {one.entry: one for one in told if named is not None and says_same_deed(one.entry, named)}
        deed = _deed(scene, right) if len(meant) == 1 else None
        for record in meant.values() if deed is not None else ():
            after = _in_place(record.entry, deed) if deed is not None else None
            if after is not None:
                return (amend_record(books, scene, record.number, after),)
    return ()


def _pairs(words: list[str]) -> Iterator[tuple[str, str]]:
    """The ways to part the words into what was wrong and what is right."""
    if words[0] == "not":
        for at in range(2, len(words)):
            yield " ".join(words[1:at]), " ".join(words[at + (words[at] == "but") :])
        return
    for phrase in said("numbers", "instead_of"):
        right, found, wrong = " ".join(words).partition(f" {phrase} ")
        if found:
            yield wrong, right


def _deed(scene: Scene, words: str) -> Entry | None:
    """The deed that some words name and say nothing else of."""
    told = read(f"lot 1: {words}", scene.local_now, scene.names).entries
    one = replace(told[0], lots=()) if len(told) == 1 else None
    if one is None or one.act in (Act.NOTE, Act.ASK) or one.rest or one.count is not None or one.trays or one.plant:
        return None
    return one


def _in_place(entry: Entry, deed: Entry) -> Entry | None:
    if deed.act is not entry.act:
        return as_deed(entry, replace(deed, act=Act.AMEND, did=deed.act.value))
    given = {kind: value for kind in _KINDS if (value := getattr(deed, kind)) is not None}
    try:
        return replace(entry, **given) if given else None
    except BadEntry:
        return None
