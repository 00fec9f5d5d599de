"""Whether a message is an emergency or a mixture that must never be made: known before anything else is read of it.

Rules
1. The words stand in the page of cautions (`core/treatments/cautions.toml`), which a grower can correct.
2. A word counts where it stands whole; some count only beside another ("bleach" beside "vinegar").
3. Two things that must not meet are a danger in one statement, or where the note says that they met; a thing that is
   used beside the other every day counts only where "and", "with" or "in" joins the two.
"""

from __future__ import annotations

import re
from functools import cache
from typing import Final

from core.treatments.cautions import Emergency, caution_page

_STATEMENT: Final = re.compile(r"[.,;:!?()\n]+|\bthen\b|\band (?=\w+ed\b)|\bafter(?:wards?)?\b")
_MET: Final = re.compile(r"\b(?:together|same (?:bucket|tub|bottle|tank|sink|bin|water)|both in|still in|mixed in)\b")
_JOINS: Final = r"(?: (?!and |or |then |with )[\w']+){0,3} (?:and|with|w|in|into|to|plus|onto|on|n) (?:[\w']+ ){0,3}"


def danger(note: str) -> str | None:
    """The kind of emergency that a message tells or asks of, or None."""
    text = note.lower().replace("’", "'").replace("&", " and ").replace("+", " and ").replace("w/", " with ")
    statements = [_words(part) for part in _STATEMENT.split(text)]
    whole = _words(text)
    for emergency in caution_page().emergencies:
        alarming, beside, joined = _patterns(emergency)
        spans = statements if emergency.together and not _MET.search(whole) else [whole]
        if any(alarming.search(span) and (beside is None or beside.search(span)) for span in spans):
            return emergency.name
        if joined is not None and any(joined.search(span) for span in spans):
            return emergency.name
    return None


def _words(text: str) -> str:
    return " ".join(re.findall(r"[\w']+", text))


@cache
def _patterns(emergency: Emergency) -> tuple[re.Pattern[str], re.Pattern[str] | None, re.Pattern[str] | None]:
    alarming = _any_of(emergency.words)
    joined = None
    if emergency.joined:
        other = _any_of(emergency.joined)
        joined = re.compile(f"{alarming}{_JOINS}{other}|{other}{_JOINS}{alarming}")
    return (
        re.compile(alarming),
        re.compile(_any_of(emergency.beside)) if emergency.beside else None,
        joined,
    )


def _any_of(words: tuple[str, ...]) -> str:
    return r"\b(?:" + "|".join(re.escape(word) for word in words) + r")\b"
