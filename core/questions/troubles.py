"""Which records tell of a trouble that a question names: "any pests lately", "any aphids on the toyon", "any rot".

Rules
1. A record tells of it by its cause, by what was done against it, or by its own words.
2. The name of one pest is asked for by that name; "pests" by all of them.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

from core.entries import Entry
from core.lots.phrases import says
from core.questions.asked_words import asked_words
from core.records import Record
from core.vocabulary.loading import read_toml


def trouble_asked(entry: Entry) -> str | None:
    """The trouble that the words left over of a question name; None where they name none, or something else too."""
    rest = (entry.rest or "").lower()
    if entry.about != "history" or entry.did is not None or not rest:
        return None
    small = set(asked_words()["troubles"]["small"])
    left = " ".join(word for word in rest.split() if word not in small)
    return left if left and any(left in names for names in _causes().values()) else None


def of_trouble(found: Sequence[Record], trouble: str) -> list[Record]:
    """Those of some records that tell of a trouble."""
    cause = next(name for name, names in _causes().items() if trouble in names)
    every = trouble in asked_words()["troubles"]["every"]
    names = _causes()[cause] if every else (trouble, trouble.removesuffix("s"), f"{trouble}s")
    care = "pest_control" if every and cause == "pest" else None
    return [
        one
        for one in found
        if (every and one.entry.cause == cause) or (care and one.entry.care == care) or says(one.said.lower(), names)
    ]


@cache
def _causes() -> dict[str, tuple[str, ...]]:
    return {cause: tuple(names) for cause, names in read_toml("values.toml")["cause"].items()}
