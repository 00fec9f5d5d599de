"""How many of a lot have no roots, are not in pots, or have roots and are not in pots.

Rules
1. Unrooted are those that the last count of roots left over; where nobody counted roots, that is told.
2. "Not potted" is of all that are left; of "rooted but not potted" only of those with roots.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache

from core.entries import Entry
from core.questions.asked_words import page


def lacking(entry: Entry, words: str) -> str | None:
    """`unrooted`, `unpotted` or `to_pot` (rooted, not potted), as a question for a count asks; None for others."""
    if entry.trays or entry.state not in (None, "rooted", "alive"):
        return None
    if _pattern("unpotted").search(words):
        return "to_pot" if entry.state == "rooted" and not _pattern("unrooted").search(words) else "unpotted"
    return "unrooted" if _pattern("unrooted").search(words) else None


@cache
def _pattern(name: str) -> re.Pattern[str]:
    table = page("lacking")[name]
    of = rf"(?:{_any(table['before'])}) (?:(?:{_any(table['between'])}) )*(?:{_any(table['of'])})"
    return re.compile(rf"(?<!\w)(?:{_any(table['says'])}|{of})(?!\w)")


def _any(phrases: Iterable[str]) -> str:
    return "|".join(re.escape(phrase) for phrase in sorted(phrases, key=len, reverse=True))
