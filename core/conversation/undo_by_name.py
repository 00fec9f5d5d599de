"""Which note is to be taken back, where the words name it: "undo the lot 1 one", "take back the count", "undo the 22".

Rules
1. The speaker's own notes of the talk come first: the only one that the words may mean is taken back at once, where
   they may mean several it is asked which. An older one, and the beginning of a lot, is shown before it goes.
2. Of a note that told several deeds only those go that the words name.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta

from core.answers import Answer, Choice, Refused
from core.conversation.asking import put_question
from core.conversation.claims import Claim, named_in
from core.conversation.correction_words import bare, said, without_day
from core.conversation.heard import either
from core.conversation.placing import OPENING
from core.conversation.recording import Pending
from core.conversation.restated import is_meant
from core.conversation.scene import TALK_LASTS, Scene
from core.conversation.taking_back import take_back_records, take_back_some
from core.conversation.told_before import notes_told
from core.entries import Act
from core.notes import Reading, say_back
from core.records import Record, local_day
from core.storage import Books

_REACH = timedelta(days=8)
_MOST = 5
_BEGINS = OPENING | {Act.SOW}


def hear_undo_by_name(books: Books, scene: Scene, reading: Reading) -> Answer | None:
    """What words that name the note to be taken back come to; None for other words."""
    named = _named(scene)
    if named is None or scene.replied_records or scene.replied_reminders or "?" in scene.message.text:
        return None
    own = books.told_by(scene.speaker, scene.chat, since=scene.message.said_at - _REACH)
    fresh = [one for one in own if scene.message.said_at - one.said_at <= TALK_LASTS]
    claim, of_a_count = _claim(scene, named)
    if claim is None or not _says_which(scene, reading, claim, named, of_a_count):
        return None
    for records in (fresh, own):
        notes = notes_told(books, records)
        every = [(note, _those_meant(books, scene, claim, note, of_a_count)) for note in notes]
        # A lot's own beginning is meant only where nothing else told of it is.
        found = [(note, some) for note, some in every if some and some[0].entry.act not in _BEGINS]
        found = found or [(note, some) for note, some in every if some]
        if not found:
            continue
        begins = any(some[0].entry.act in _BEGINS for _, some in found)
        if len(found) == 1 and records is fresh and not begins:
            note, some = found[0]
            take_back = take_back_records if len(some) == len(note) else take_back_some
            return take_back(books, scene, some)
        return ask_which(books, scene, [some for _, some in found])
    told = claim.kind is not None and any(one.act is claim.kind.act for one in reading.entries)
    return Refused(why="nothing_to_undo") if told or _always(scene) else None


def _always(scene: Scene) -> bool:
    return any(bare(scene.message.text).startswith(f"{one} ") for one in said("undo_named", "always"))


def _named(scene: Scene) -> str | None:
    """What follows the words for taking back, or None where the note does not begin with them."""
    openers, after = (either("corrections", "undo_named", key) for key in ("openers", "after"))
    found = re.fullmatch(rf"(?:{openers}) (?P<named>.+?)(?: (?:{after}))*", bare(scene.message.text))
    takes = bare(scene.message.text).startswith("take ") and not bare(scene.message.text).startswith("take back ")
    if found is None or (takes and " back" not in bare(scene.message.text)):
        return None
    return found["named"]


def _says_which(scene: Scene, reading: Reading, claim: Claim, named: str, of_a_count: bool) -> bool:
    """Whether the words name one note, and are not read as an undo of the latest deed of a kind ("undo the rot")."""
    if claim.names_little():
        return (of_a_count or claim.kind is not None) and all(one.act is not Act.UNDO for one in reading.entries)
    if claim == Claim(who=claim.who):
        return False
    called = of_a_count or claim.kind is not None or bool(set(named.split()) & set(said("undo_named", "called")))
    return called or _always(scene)


def _claim(scene: Scene, named: str) -> tuple[Claim | None, bool]:
    """What the words say of the note that is meant, and whether they call it a count."""
    words, day = without_day(named.split(), scene.local_now)
    counts = said("undo_named", "counts")
    claim = named_in(scene, [word for word in words if word not in counts], Claim(day=day))
    return claim, any(word in counts for word in words)


def _those_meant(
    books: Books, scene: Scene, claim: Claim, note: Sequence[Record], of_a_count: bool
) -> list[Record]:
    counted = [one for one in note if not of_a_count or one.entry.act is Act.CHECK]
    return [one for one in counted if is_meant(books, scene, claim, one)]


def ask_which(books: Books, scene: Scene, found: Sequence[Sequence[Record]]) -> Answer:
    """The question which note is meant, each with its button; of one alone whether it is meant."""
    last = found[-1][-1]
    facts = {
        "day": local_day(last.said_at, scene.zone).isoformat(),
        "said": _told(found[-1]),
        "of_that_day": len(found),
    }
    action = [_taking_back(some) for some in found[-_MOST:]]
    choices = [Choice(label="yes", action=action[-1])]
    if len(found) > 1:
        choices = [Choice(label=_told(some), action=one) for some, one in zip(found[-_MOST:], action, strict=True)]
    choices.append(Choice(label="no", action={"drop": True}))
    pending = Pending(kind="undo_of_a_day", entries=(last.entry,), choices=tuple(choices), facts=facts)
    return put_question(books, scene, [pending])


def _taking_back(some: Sequence[Record]) -> dict[str, object]:
    alone = len(some) == 1
    return {"take_back_record": some[0].number} if alone else {"take_back": some[0].message}


def _told(records: Sequence[Record]) -> str:
    """What some records of a note say, in one line."""
    return "; ".join(dict.fromkeys(say_back(replace(one.entry, rest=None)) for one in records))
