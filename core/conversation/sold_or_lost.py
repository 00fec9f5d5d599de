"""Whether plants that are "gone" were sold or died, where the note does not say.

Rules
1. "All gone" may be a good sale as well as a bad week: what empties a lot is asked, never written off.
2. A count of plants that are gone is asked where some of the lot stand in pots, or have been sold or given: the young
   ones of other lots die.
3. A word that says how they went ("gone to mush", "12 gone, damping off", "dumped all 20") leaves no doubt.
"""

from __future__ import annotations

from typing import Any

from core.answers import Choice
from core.entries import Act, Entry
from core.lots import Lot
from core.lots.phrases import phrases, says

GONE = "gone"
"""The kind of question that asks whether plants were sold or lost."""


def may_be_sold(entry: Entry, words: str) -> bool:
    """Whether a loss is told in words that may tell of a sale as well."""
    told = entry.act is Act.LOSE and entry.cause is None
    return told and says(words, phrases().loss_gone) and not says(words, phrases().loss_how)


def is_doubtful(entry: Entry, lot: Lot, words: str) -> bool:
    """Whether it is asked if so many of this lot were sold or lost."""
    if not may_be_sold(entry, words) or entry.count == 0:
        return False
    whole = entry.all_of and entry.count is None
    return whole or bool(lot.potted or lot.sold or lot.given or lot.reserved)


def sold_or_lost(entry: Entry) -> tuple[Choice, ...]:
    """The buttons for both, each with the entry that it makes."""
    keys: dict[str, Any] = entry.as_keys()
    sold, lost = ({**keys, "act": act.value} for act in (Act.SELL, Act.LOSE))
    return (
        Choice(label="were_sold", action={"choose": sold, "force": GONE}),
        Choice(label="were_lost", action={"choose": lost, "force": GONE}),
    )
