"""Which loss it takes back that some are alive: "oh wait 2 of them are alive", after "lost 3".

Rules
1. It means the latest deed of the talk with a lot, and only where that is a loss of so many; the loss is corrected once
   the crew says yes to it. Nothing is changed unasked.
2. Words that name a lot, a tray or a plant are a count of their own.
"""

from __future__ import annotations

import re
from dataclasses import replace

from core.answers import Answer
from core.conversation.correcting import ask_before_changing
from core.conversation.correction_words import bare
from core.conversation.heard import either
from core.conversation.scene import TALK_LASTS, Scene
from core.conversation.taking_back import MARKS
from core.entries import Act, Entry
from core.notes import Reading
from core.records import Record
from core.storage import Books


def hear_alive_after_all(books: Books, scene: Scene, reading: Reading) -> tuple[Answer, ...]:
    """The question whether a loss is to be corrected by those of it that live; none for other words."""
    one = reading.entries[0] if len(reading.entries) == 1 else None
    if one is None or one.state != "alive" or not one.count or one.lots or one.trays or one.plant or one.more:
        return ()
    if "?" in scene.message.text or not (one.act is Act.AMEND or (one.act is Act.CHECK and _of_those(scene))):
        return ()
    loss = _loss(books, scene)
    if loss is None or (loss.entry.count or 0) < one.count:
        return ()
    after = replace(loss.entry, count=(loss.entry.count or 0) - one.count)
    return (ask_before_changing(books, scene, Entry(act=Act.AMEND), loss, after),)


def _of_those(scene: Scene) -> bool:
    """ "2 of them are alive": the number is of those just told of."""
    of_those = either("corrections", "alive_after_all", "of_those")
    return re.search(rf"\d (?:{of_those})\b", bare(scene.message.text)) is not None


def _loss(books: Books, scene: Scene) -> Record | None:
    """The loss that was told last, or that is replied to; None where another deed was told last."""
    said_at = scene.message.said_at
    told = scene.replied_records or books.told_in(scene.chat, since=said_at - TALK_LASTS, until=said_at)
    deeds = [one for one in told if one.holds() and one.entry.act not in (*MARKS, Act.NOTE)]
    last = [one for one in deeds if one.message == deeds[-1].message] if deeds else []
    return last[0] if len(last) == 1 and last[0].entry.act is Act.LOSE and last[0].lot is not None else None
