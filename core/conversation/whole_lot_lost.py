"""Whether all of a lot is lost, where a note says of the lot itself that it is dead ("lot 25 is toast")."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Final

from core.answers import Choice
from core.conversation.correction_words import bare
from core.conversation.recording import Pending
from core.conversation.scene import Scene
from core.entries import Act
from core.storage import Books

_OF_THE_LOT: Final = re.compile(
    r"(?:the )?(?:lot |#)?[\d-]+ (?:is|looks) (?:just |now |totally |completely |pretty much )?\w+(?: now)?"
)


def offer_whole(books: Books, scene: Scene, one: Pending) -> Pending:
    """The question how many were lost, with all of the lot to be said yes to; as it was for other words."""
    entry = one.entries[0]
    of_a_lot = one.kind == "count" and entry.act is Act.LOSE and len(entry.lots) == 1 and not entry.trays
    number = books.resolve(entry.lots[0], scene.year()) if of_a_lot else None
    lot = books.lot(number) if number is not None else None
    if lot is None or not lot.left or _OF_THE_LOT.fullmatch(bare(scene.message.text)) is None:
        return one
    choice = Choice(label="yes", action={"choose": replace(entry, all_of=True).as_keys()})
    # A yes to all of it needs no second one to its slang.
    facts = {**one.facts, "whole": lot.number, "left": lot.left}
    return replace(one, choices=(choice,), forced=(*one.forced, "slang"), facts=facts)
