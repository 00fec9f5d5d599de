"""What does the bleach jug's label say: told in a note at any time, and the latest note that holds counts.

Rules
1. The strength is percent sodium hypochlorite, as printed on the jug. It stands in the crew's notes, so that it is
   corrected, undone and exported like anything else that was said.
2. A number of the jug follows words that say no more, or a percent sign stands behind it: "label for lot 1" and
   "bottle 3 in tray 4" tell none.
"""

from __future__ import annotations

import re
from functools import cache

from core.entries import Act, Entry
from core.figures.strengths import SodiumHypochlorite
from core.records import in_order
from core.storage import Books
from core.vocabulary.loading import small_words

WEAKEST, STRONGEST = 1.0, 15.0
"""Household and pool bleach lie between these, in percent (common practice)."""
_ALIKE = 0.05
"""A percentage that is off by less from the share of the parts is that share, roughly said."""
_TELLING = ("note", "rule", "mix", "sanitize")


def strength_told(text: str) -> float | None:
    """The percentage that words give for the jug ("jug is 8.25%", "the bottle says 7.5"), or None."""
    found = _told().search(text)
    percent = float(found["said"] or found["marked"]) if found else 0.0
    return percent if WEAKEST <= percent <= STRONGEST else None


@cache
def _told() -> re.Pattern[str]:
    names, says, beside, marks, others = (_either(one) for one in ("names", "says", "beside", "marks", "others"))
    number, whole = r"\d{1,2}(?:\.\d{1,2})?", rf"(?![\d:/-]|\.\d|\s*(?:{others})\b)"
    gap = rf"(?:[\s:=,'’]|\b(?:{beside})\b)*"
    said = rf"(?:\b(?:{says})\b|[:=]){gap}(?P<said>{number}){whole}"
    return re.compile(rf"\b(?:{names})\b{gap}(?:{said}|(?P<marked>{number})\s*(?:{marks}))", re.IGNORECASE)


def _either(name: str) -> str:
    return "|".join(map(re.escape, sorted(small_words("jug", name), key=len, reverse=True)))


def strength_in(entry: Entry) -> float | None:
    """The percentage that an act tells of the jug: in its words, or as what it was mixed from ("6% bleach 1:9")."""
    if entry.act in (Act.MIX, Act.SANITIZE) and entry.solution != "bleach":
        return None
    mixed_from = _mixed_from(entry) if entry.act is Act.MIX else 0.0
    return mixed_from or strength_told(entry.text or entry.what or entry.rest or "")


def _mixed_from(entry: Entry) -> float:
    """The percentage beside the parts of a mix; 0 where it only says the parts again ("10% bleach, 1:9")."""
    if len(entry.parts) != 2 or entry.share is None:
        return 0.0
    bleach, water = entry.parts
    again = any(abs(entry.share / share - 1) < _ALIKE for share in (bleach / water, bleach / (bleach + water)))
    percent = round(100 * entry.share, 2)
    return percent if WEAKEST <= percent <= STRONGEST and not again else 0.0


def jug_of(books: Books) -> SodiumHypochlorite | None:
    """The strength on the crew's jug, as they told it last, or None."""
    for record in reversed(in_order(books.records(acts=_TELLING))):
        percent = strength_in(record.entry)
        if percent is not None:
            return SodiumHypochlorite(percent=percent)
    return None
