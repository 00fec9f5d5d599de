"""Is it a shift that somebody covered, took or split, and no plants.

`i covered 9-12 for hugo`, `hugo covered sat for me`, `split the shift with ines`.
"""

from __future__ import annotations

from typing import Final

from core.notes.names.people import may_be_name
from core.notes.words.pieces import Piece, is_act, names_plants
from core.notes.words.said import keep_words, statement_at
from core.notes.words.steps import looks_for
from core.vocabulary.everyday import is_given_name
from core.vocabulary.loading import small_words

_COVERED: Final = frozenset({"covered", "covering"})
_WHOSE: Final = small_words("idioms", "people")
_SHIFTS: Final = small_words("rosters", "shift") | {"shifts"}
_SMALL: Final = frozenset({"the", "a", "my", "his", "her", "our", "their", "todays", "today's", "sats", "morning"})
_LONGEST: Final = 3
_NEAR: Final = 2


@looks_for(any_of=_COVERED | _SHIFTS)
def keep_shifts(pieces: list[Piece]) -> None:
    """Keeps the statements of such shifts, in place."""
    for at, piece in enumerate(pieces):
        if not is_act(piece):
            continue
        start, end = statement_at(pieces, at)
        said = pieces[start:end]
        if any(names_plants(one) or "cover_noun" in one.roles for one in said):
            continue
        if (piece.low in _COVERED and _covers_a_shift(pieces, at, end)) or _takes_a_shift(pieces, at, end):
            # The day of a note that tells nothing else is the note's; `sat covered by ines` may be to come.
            whole = end - start == len(pieces) and not any(one.low == "by" for one in said)
            keep_words(*(one for one in said if not whole or one.kind != "moment"))


def _covers_a_shift(pieces: list[Piece], at: int, end: int) -> bool:
    """`covered 9-12 for hugo`, `covered sat for me`, `sat covered by ines`, `hugo covered 9-12 sat`."""
    timed = any(_is_day(one) for one in pieces[max(0, at - _NEAR) : end])
    for lead in range(at + 1, end - 1):
        if not _is_somebody(pieces[lead + 1]):
            continue
        if pieces[lead].low == "for" and (lead == at + 1 or lead + 2 == end):
            return True
        if pieces[lead].low == "by" and timed:
            return True
    hours = any(one.kind == "number" and one.value.high is not None for one in pieces[at:end])
    return timed and hours and at > 0 and _is_somebody(pieces[at - 1])


def _is_somebody(piece: Piece) -> bool:
    return piece.low in _WHOSE or piece.kind == "person" or (may_be_name(piece) and is_given_name(piece.low))


def _is_day(piece: Piece) -> bool:
    return "weekday" in piece.roles or (piece.kind == "moment" and piece.value.weekday is not None)


def _takes_a_shift(pieces: list[Piece], at: int, end: int) -> bool:
    """`split the shift`, `took hugos shift`: a deed right before a shift."""
    near = pieces[at + 1 : min(end, at + 1 + _LONGEST)]
    shift = next((step for step, one in enumerate(near) if one.low in _SHIFTS), None)
    return shift is not None and all(one.low in _SMALL or may_be_name(one) for one in near[:shift])
