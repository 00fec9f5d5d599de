"""Whether a message tells one half of a danger whose other half may stand in the talk just before: "added vinegar".

Rules
1. One of two things that must not meet counts where it was put into something, and no other thing than the bucket is
   named: "added vinegar to get the scale off", "theres vinegar in that bucket too"; "added vinegar to the salad" not.
2. Of what is used beside the other every day, and of bleach itself, which is often mixed, only "in that bucket" counts.
3. What is felt ("eyes stinging") counts only where something that stings is at hand.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from typing import Final

from core.treatments.cautions import Emergency, caution_page
from core.vocabulary.loading import small_words

_MIXED: Final = "mixed_chemicals"
_BREATHED: Final = "breathed"


@dataclass(frozen=True, slots=True, kw_only=True)
class HalfDanger:
    """The emergency that it would be, and the words of which one must have been said, or stand in the books.

    `felt`: told by what somebody feels, so that the other half must be quite near.
    """

    kind: str
    others: tuple[str, ...]
    felt: bool = False


def half_danger(note: str) -> HalfDanger | None:
    """The half of a danger that a message tells ("added vinegar to it"), or None."""
    text = note.lower().replace("’", "'")
    statements = [" ".join(re.findall(r"[\w']+", part)) for part in re.split(r"[.,;:!?()\n]+", text)]
    page = _mixed()
    if any(_puts_in(page.beside).search(one) and not _apart().search(one) for one in statements):
        return HalfDanger(kind=_MIXED, others=page.words)
    if any(_into_that(page.joined).search(one) for one in statements):
        return HalfDanger(kind=_MIXED, others=page.words)
    if any(_into_that(page.words).search(one) for one in statements):
        return HalfDanger(kind=_MIXED, others=(*page.beside, *page.joined))
    if any(_felt().search(one) for one in statements):
        return HalfDanger(kind=_BREATHED, others=(*page.words, *page.beside), felt=True)
    return None


def names_any(words: tuple[str, ...], text: str) -> bool:
    """Whether one of these words stands in a text: "bleach" in "pots soaking in bleach"."""
    return re.search(_any_of(words), " ".join(re.findall(r"[\w']+", text.lower()))) is not None


def _mixed() -> Emergency:
    return next(one for one in caution_page().emergencies if one.name == _MIXED)


@cache
def _puts_in(things: tuple[str, ...]) -> re.Pattern[str]:
    """Pattern for a thing that is put into something, or that stands in something."""
    verbs, amounts, vessels, away = (_any_of(small_words("half_danger", one)) for one in _PARTS)
    thing = _any_of(things)
    there = rf"(?:in|into|to|with) (?:(?:that|this|the|same|our|my) (?:\w+ )?{vessels}|(?:it|there|them|here)\b)"
    has = rf"{vessels} (?:has|had|have|got|with|smells of|smells like)"
    return re.compile(
        rf"{verbs} (?:{amounts} )*{thing}(?!(?: \w+)? {away})|{thing}(?: \w+)? {there}|{has} (?:{amounts} )*{thing}"
    )


@cache
def _into_that(things: tuple[str, ...]) -> re.Pattern[str]:
    """Pattern for a thing that goes into what was talked of."""
    vessels, thing = _any_of(small_words("half_danger", "vessels")), _any_of(things)
    there = rf"(?:that|this|the same|same) (?:\w+ )?{vessels}|there\b"
    return re.compile(rf"{thing}(?: \w+)? (?:in|into|to) (?:{there})")


_PARTS: Final = ("verbs", "amounts", "vessels", "away")


@cache
def _apart() -> re.Pattern[str]:
    return re.compile(_any_of(small_words("half_danger", "apart")))


@cache
def _felt() -> re.Pattern[str]:
    return re.compile(_any_of(small_words("half_danger", "felt")))


def _any_of(words: Iterable[str]) -> str:
    return r"\b(?:" + "|".join(re.escape(word) for word in sorted(words, key=len, reverse=True)) + r")\b"
