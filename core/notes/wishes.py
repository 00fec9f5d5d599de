"""Is it a wish of its own kind: a reminder, a target, a rule, or who is at the bench when.

`remind me friday to order perlite`, `need 75 snowberry by nov 1`, `weaning starts day 12 for salvia`,
`odile is on sat 9-12`.
"""

from __future__ import annotations

from datetime import datetime
from typing import Final

from core.notes.drafts import Draft
from core.notes.pieces import Piece
from core.notes.reminders import reminder, reminder_words
from core.notes.rosters import roster
from core.notes.targets import target_at, targets
from core.notes.tokens import Token

_WANT_FILLERS: Final = frozenset(
    {
        "we",
        "i",
        "our",
        "the",
        "is",
        "for",
        "a",
        "to",
        "have",
        "of",
        "us",
        "they",
        "school",
        "total",
        "at least",
        "will",
        "still",
        "going",
        "lets",
        "let's",
        "get",
        "make",
        "grow",
        "gonna",
    }
)


def begins_wish(pieces: list[Piece], place: int) -> bool:
    """Whether a reminder or a target begins at a piece (the first after a mark)."""
    if reminder_words(pieces, place):
        return True
    return target_at(pieces, place) is not None and _opens_sentence(pieces, place)


def _opens_sentence(pieces: list[Piece], place: int) -> bool:
    return place == 0 or pieces[place - 1].low in (".", "\n", ";", "!")


def find_wishes(text: str, tokens: list[Token], pieces: list[Piece], now: datetime) -> list[Draft] | None:
    """The drafts of a sentence that is a reminder, target, rule or roster; None where it is something else."""
    solid = [piece for piece in pieces if piece.kind != "break"]
    if not solid:
        return None
    first = pieces.index(solid[0])
    words = reminder_words(pieces, first)
    if words:
        return [reminder(text, tokens, pieces[first:], words, now)]
    at = target_at(pieces, first)
    if at is not None:
        found = targets(text, tokens, pieces[first:], at - first, now)
        if found is not None:
            return found
    from core.notes.rules import rule_of

    ruled = rule_of(text, tokens, pieces)
    if ruled is not None:
        return [ruled]
    return roster(text, tokens, pieces, now)
