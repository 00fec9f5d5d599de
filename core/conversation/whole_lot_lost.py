"""Whether all of a lot is lost or sold, where a note says so of the lot itself ("lot 25 is toast", "sold out of sage").

Rules
1. It is asked with the number that the books have left, and its yes is all of them.
2. "Lot 25 is gone" may tell of a sale as well: both are offered. Of plants sold out, those for sale and all that are
   left are offered.
"""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Final

from core.answers import Choice
from core.conversation.correction_words import bare
from core.conversation.placing import Placed, place
from core.conversation.recording import Pending
from core.conversation.scene import Scene
from core.conversation.sold_or_lost import may_be_sold, sold_or_lost
from core.entries import Act
from core.lots import for_sale_of
from core.lots.phrases import phrases, says
from core.storage import Books

_OF_THE_LOT: Final = re.compile(
    r"(?:the )?(?:lot |#)?[\d-]+ (?:is|looks) (?:just |now |totally |completely |pretty much )?\w+(?: now)?"
)


def offer_whole(books: Books, scene: Scene, one: Pending) -> Pending:
    """The question how many were lost or sold, with all of the lot to be said yes to; as it was for other words."""
    if one.kind != "count":
        return one
    return _sold_out(books, scene, one) or _lost(books, scene, one) or one


def _lost(books: Books, scene: Scene, one: Pending) -> Pending | None:
    entry = one.entries[0]
    of_a_lot = entry.act is Act.LOSE and len(entry.lots) == 1 and not entry.trays
    number = books.resolve(entry.lots[0], scene.year()) if of_a_lot else None
    lot = books.lot(number) if number is not None else None
    if lot is None or not lot.left or _OF_THE_LOT.fullmatch(bare(scene.message.text)) is None:
        return None
    facts = {**one.facts, "whole": lot.number, "left": lot.left}
    # A yes to all of it needs no second one to its slang.
    forced = (*one.forced, "slang")
    whole = replace(entry, all_of=True)
    if may_be_sold(entry, scene.message.text):
        return replace(one, choices=sold_or_lost(whole), forced=forced, facts=facts)
    choice = Choice(label="yes", action={"choose": whole.as_keys()})
    return replace(one, choices=(choice,), forced=forced, facts=facts)


def _sold_out(books: Books, scene: Scene, one: Pending) -> Pending | None:
    entry = one.entries[0]
    if entry.act is not Act.SELL or not says(scene.message.text, phrases().sold_out):
        return None
    placed = place(books, entry, year=scene.year(), reuse=list(scene.reuse))
    lot = books.lot(placed.lots[0]) if isinstance(placed, Placed) and len(placed.lots) == 1 else None
    if lot is None or not lot.left:
        return None
    whole = replace(entry, all_of=True)
    for_sale = for_sale_of(lot, whole)
    everything = {"choose": whole.as_keys(), "force": "sold_out"}
    if for_sale is None:
        facts = {**one.facts, "whole": lot.number, "left": lot.left}
        return replace(one, choices=(Choice(label="yes", action=everything),), facts=facts)
    kind, count = for_sale
    fewer = Choice(label=f"The {count} {kind}", action={"choose": replace(entry, count=count).as_keys()})
    facts = {**one.facts, "sold_out": True, "lot": lot.number, "left": lot.left, "kind": kind, "count": count}
    return replace(one, choices=(fewer, Choice(label=f"All {lot.left}", action=everything)), facts=facts)
