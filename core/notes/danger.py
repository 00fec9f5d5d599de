"""Whether a message is an emergency or a mixture that must never be made: known before anything else is read of it.

Rules
1. The words stand in the page of cautions (`core/treatments/cautions.toml`), which a grower can correct.
2. A word counts where it stands whole; some count only beside another ("bleach" beside "vinegar").
"""

from __future__ import annotations

import re
from functools import cache

from core.treatments.cautions import Emergency, caution_page


def danger(note: str) -> str | None:
    """The kind of emergency that a message tells or asks of, or None."""
    words = " ".join(re.findall(r"[\w']+", note.lower().replace("’", "'")))
    for emergency in caution_page().emergencies:
        alarming, beside = _patterns(emergency)
        if alarming.search(words) and (beside is None or beside.search(words)):
            return emergency.name
    return None


@cache
def _patterns(emergency: Emergency) -> tuple[re.Pattern[str], re.Pattern[str] | None]:
    return _any_of(emergency.words), _any_of(emergency.beside) if emergency.beside else None


def _any_of(words: tuple[str, ...]) -> re.Pattern[str]:
    return re.compile(r"\b(?:" + "|".join(re.escape(word) for word in words) + r")\b")
