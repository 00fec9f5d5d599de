"""Which deed of the note just told was another: "not misted, bottom watered", "rotted not rooted".

Rules
1. What was wrong must be a deed of the note, and only one; what is right takes its place, with its count and its lot.
2. Where what is right is no deed ("not dead, only dormant"), what was wrong is taken back and the words are kept.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from core.answers import Answer, Noted
from core.conversation.correcting import amend_record
from core.conversation.correction_words import bare, said, without_ends
from core.conversation.left_out import latest_note, says_same_deed
from core.conversation.other_deed import as_deed
from core.conversation.recording import Outcome, record
from core.conversation.scene import Scene
from core.conversation.taking_back import take_back_some
from core.entries import Act, Entry
from core.errors import BadEntry
from core.notes import read
from core.records import Record
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
        for meant_one in meant.values() if deed is not None else ():
            after = _in_place(meant_one.entry, deed) if deed is not None else None
            if after is not None:
                return (amend_record(books, scene, meant_one.number, after),)
    return _taken_back(books, scene, told) if told else ()


def _taken_back(books: Books, scene: Scene, told: Sequence[Record]) -> tuple[Answer, ...]:
    """ "Not dead, only dormant": the deed is taken back, and what is said in its place is kept as a note."""
    wrong, mark, right = scene.message.text.partition(",")
    words = without_ends(bare(wrong), "left_out")
    named = _deed(scene, words.removeprefix("not ")) if mark and words.startswith("not ") else None
    lost = [one for one in told if named is not None and says_same_deed(one.entry, named)]
    rest = read(right, scene.local_now, scene.names).entries if lost else ()
    kept = rest[0] if len(rest) == 1 else None
    if kept is None or kept.act is not Act.NOTE or kept.lots or kept.trays or kept.plant:
        return ()
    if any(letter.isdigit() for letter in right):
        return ()
    undone, outcome = take_back_some(books, scene, lost), Outcome()
    for number in dict.fromkeys(one.lot for one in lost):
        lots = (number,) if number is not None else ()
        record(books, scene, Entry(act=Act.NOTE, lots=lots, text=scene.message.text), outcome)
    return (undone, Noted(acts=tuple(outcome.acts)))


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
    """The deed that some words name and say nothing else of ("just wilted")."""
    mere = next((one for one in said("left_out", "mere") if words.startswith(f"{one} ")), "")
    words = words.removeprefix(mere).strip()
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
