"""A bare number that corrects how strong the hormone was: "and 8000", "no 8000", after cuttings stuck with 3000 ppm.

Rules
1. Only where the latest note told cuttings stuck with a strength, and the number is one that hormones have and far
   above the count of the cuttings.
"""

from __future__ import annotations

import re
from functools import cache

from core.conversation.correction_words import bare
from core.conversation.heard import either, page
from core.entries import Act, Entry, Hormone
from core.records import Record


def strength_told(one: Entry, text: str, latest: Record | None) -> Entry | None:
    """The correction of the strength that these words tell of the latest note; None for other words."""
    if one.act not in (Act.NOTE, Act.AMEND) or latest is None or latest.entry.act is not Act.STICK:
        return None
    before = latest.entry.hormone
    found = _pattern().fullmatch(bare(text.replace(",", "")))
    if found is None or before is None or before.ppm is None or latest.entry.count is None:
        return None
    words = page("answers_heard")["strength_told"]
    number = int(found["number"])
    usual = words["fewest"] <= number <= words["most"] and number % words["step"] == 0
    if not usual or number < words["times_the_count"] * latest.entry.count:
        return None
    return Entry(act=Act.AMEND, hormone=Hormone(ppm=float(number)))


@cache
def _pattern() -> re.Pattern[str]:
    return re.compile(rf"(?:(?:{either('answers_heard', 'strength_told', 'opens')}) )*(?P<number>\d{{3,5}})(?: ppm)?")
