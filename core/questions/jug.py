"""What does the bleach jug's label say: told in a note at any time, and the latest note that holds counts.

Rules
1. The strength is percent sodium hypochlorite, as printed on the jug. It stands in the crew's notes, so that it is
   corrected, undone and exported like anything else that was said.
2. A number of the jug has a percent sign behind it, or ends what is told of it: "label for lot 1", "bottle 3 in tray 4"
   and "label says 2 tbsp per gal" tell none.
3. A label is of what is named last before it, or right behind its number: that of another thing tells nothing of bleach.
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
WEAKEST_UNNAMED = 3.0
"""A weaker label that names neither jug nor bleach is rather that of another thing (common practice)."""
_ALIKE = 0.05
"""A percentage that is off by less from the share of the parts is that share, roughly said."""
_TELLING = ("note", "rule", "mix", "sanitize")


def strength_told(text: str, said: str = "") -> float | None:
    """The percentage that words give for the jug ("jug is 8.25%", "the bottle says 7.5"), or None.

    `said` is the whole note of which the text is a part.
    """
    found = _told().search(text)
    if found is None or _is_of_another(text, found, said):
        return None
    percent = float(found["said"] or found["marked"])
    of_bleach = "jug" in found[0].lower() or any(one.lastgroup == "bleach" for one in _named().finditer(text))
    return percent if (WEAKEST if of_bleach else WEAKEST_UNNAMED) <= percent <= STRONGEST else None


def _is_of_another(text: str, found: re.Match[str], said: str) -> bool:
    """Whether the label found is that of another thing than bleach."""
    behind = re.split(r"[.,;!?()\n]\s|\band\b", text[found.end() :], maxsplit=1)[0]
    named = _named().search(behind)
    if named is not None:
        return named.lastgroup == "other"
    whole, part = said.lower(), text.lower()
    before = whole.partition(part)[0] if part in whole else f"{whole} "
    last = list(_named().finditer(before + text[: found.end()]))
    return bool(last) and last[-1].lastgroup == "other"


@cache
def _named() -> re.Pattern[str]:
    return re.compile(rf"\b(?:(?P<bleach>{_either('bleach')})|(?P<other>{_either('others')}))\b", re.IGNORECASE)


@cache
def _told() -> re.Pattern[str]:
    names, says, beside, marks, follows = (_either(one) for one in ("names", "says", "beside", "marks", "follows"))
    number = r"\d{1,2}(?:\.\d{1,2})?"
    ends = rf"(?=\s*(?:$|(?:{marks})|[;!?)]|[.,](?!\d)|\b(?:{follows})\b))"
    gap = rf"(?:[\s:=,'’]|\b(?:{beside})\b)*"
    said = rf"(?:\b(?:{says})\b|[:=]){gap}(?P<said>{number}){ends}"
    return re.compile(rf"\b(?:{names})\b{gap}(?:{said}|(?P<marked>{number})\s*(?:{marks}))", re.IGNORECASE)


def _either(name: str) -> str:
    return "|".join(map(re.escape, sorted(small_words("jug", name), key=len, reverse=True)))


def strength_in(entry: Entry, said: str = "") -> float | None:
    """The percentage that an act tells of the jug: in its words, or as what it was mixed from ("6% bleach 1:9"); `said` is
    its whole note.
    """
    if entry.act in (Act.MIX, Act.SANITIZE) and entry.solution != "bleach":
        return None
    mixed_from = _mixed_from(entry) if entry.act is Act.MIX else 0.0
    return mixed_from or strength_told(entry.text or entry.what or entry.rest or "", said)


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
        percent = strength_in(record.entry, record.said)
        if percent is not None:
            return SodiumHypochlorite(percent=percent)
    return None
