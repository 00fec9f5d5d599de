"""That a tray looks well, said of the look that was due: "all fine", "looks good, no wilting".

Rules
1. As a reply it is a look at the trays of that message whose covers were to be looked under.
2. Without a reply it is so only where such a look stands open and nobody has said anything since it was asked for.
"""

from __future__ import annotations

import re
from functools import cache
from typing import Final

from core.conversation.correction_words import bare
from core.conversation.heard import either
from core.conversation.looks import replied_to, said_last
from core.conversation.scene import Scene
from core.entries import Act, Entry
from core.notes import Reading
from core.storage import Books

_WORDS: Final = "answers_heard"
_ASKED: Final = frozenset({"daily_look", "quiet_tray"})


def hear_looked_well(books: Books, scene: Scene, reading: Reading) -> Reading:
    """The look at the trays that the words tell of; the reading for other words."""
    one = reading.entries[0] if len(reading.entries) == 1 else None
    if one is None or one.act is not Act.NOTE or one.lots or one.trays or one.plant or scene.question is not None:
        return reading
    if "?" in scene.message.text or _pattern().fullmatch(bare(scene.message.text)) is None:
        return reading
    trays = _looked_at(books, scene)
    if not trays:
        return reading
    look = Entry(act=Act.CHECK, trays=trays, by=one.by, on=one.on, rest=scene.message.text)
    return Reading(entries=(look,), repairs=reading.repairs)


@cache
def _pattern() -> re.Pattern[str]:
    well, no_harm, before = (
        either(_WORDS, "looked_well"), either(_WORDS, "no_harm"), either(_WORDS, "looked_well", "before")
    )  # fmt: skip
    return re.compile(rf"(?:(?:{before}) )*(?:{well})(?: (?:and )?(?:{well}|{no_harm}))*(?: (?:today|so far|now))?")


def _looked_at(books: Books, scene: Scene) -> tuple[str, ...]:
    """The trays whose look was asked for by the message replied to, else by what was said last in this chat."""
    if scene.replied_reminders:
        asked = [one.due for one in replied_to(books, scene) if one.due.kind in _ASKED]
    elif scene.message.replied_to is not None:
        return ()
    else:
        looks = [one for one in books.open_reminders(chat=scene.chat, sent=True) if one.due.kind in _ASKED]
        asked = [one.due for one in looks] if said_last(books, scene, looks) else []
    return tuple(dict.fromkeys(due.subject.name for due in asked if due.subject.kind == "tray"))
