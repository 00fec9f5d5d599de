"""In which words an airing is kept as over or as just begun, where its own words do not say which."""

from __future__ import annotations

from collections.abc import Sequence

from core.entries import Act, Entry
from core.lots import air_is_over
from core.records import Record

SAID = {True: "it is over", False: "just begun"}


def said_as_before(words: str, before: Sequence[Record], after: Entry) -> str:
    """The words of a record that goes on from an airing told before, so that it is over where that was."""
    over = after.act is Act.AIR and any(one.entry.act is Act.AIR and air_is_over(one) for one in before)
    return f"{words} ({SAID[True]})" if over else words
