"""What does the bleach jug's label say: told in a note at any time, and the latest note that holds counts.

Rules
1. The strength is percent sodium hypochlorite, as printed on the jug. It stands in the crew's notes, so that it is
   corrected, undone and exported like anything else that was said.
"""

from __future__ import annotations

import re

from core.figures.strengths import SodiumHypochlorite
from core.records import in_order
from core.storage import Books

_TOLD = re.compile(
    r"\b(?:jug|bottle|label)\b[^\d\n]{0,30}(\d{1,2}(?:\.\d{1,2})?)(?![\d:./-]|\s*(?:gal|l|qt|oz|ml)\b)",
    re.IGNORECASE,
)
WEAKEST, STRONGEST = 1.0, 15.0
"""Household and pool bleach lie between these, in percent (common practice)."""


def strength_told(text: str) -> float | None:
    """The percentage that words give for the jug ("jug is 8.25%", "the bottle says 7.5"), or None."""
    found = _TOLD.search(text)
    percent = float(found.group(1)) if found else 0.0
    return percent if WEAKEST <= percent <= STRONGEST else None


def jug_of(books: Books) -> SodiumHypochlorite | None:
    """The strength on the crew's jug, as they told it last, or None."""
    for record in reversed(in_order(books.records(acts=("note", "rule")))):
        percent = strength_told(record.entry.text or record.entry.what or "")
        if percent is not None:
            return SodiumHypochlorite(percent=percent)
    return None
