"""The hours of a list of times written without a colon: `9am lids off trays 1-4 | 930 lids on`."""

from __future__ import annotations

from typing import Final

from core.notes.days.moments import Moment
from core.notes.words.act_kinds import COUNTLESS
from core.notes.words.pieces import NO_ROLES, SUBJECTS, Piece
from core.notes.words.said import deed_of
from core.notes.words.steps import looks_for

_HOUR: Final = 100
_MINUTES: Final = 60
_STEP: Final = 5
_NOON: Final = 12
_DIGITS: Final = (3, 4)


@looks_for("=number", beside=("=moment",))
def find_hours_in_turn(pieces: list[Piece]) -> None:
    """Makes the number before a later deed its hour, in place, where an earlier statement begins with one."""
    heads = [at for at in range(len(pieces) - 1) if at == 0 or pieces[at - 1].kind == "break"]
    before: Moment | None = None
    for at in heads:
        if pieces[at].kind == "moment" and pieces[at].value.hour is not None:
            before = pieces[at].value
        elif before is not None and _may_be_hour(pieces[at]) and _is_done(pieces[at + 1]):
            hour, minute = divmod(int(pieces[at].low), _HOUR)
            later = before.half == "am" and (hour == _NOON or hour < (before.hour or 0))
            before = Moment(hour=hour, minute=minute, half="pm" if later else before.half)
            pieces[at].kind, pieces[at].value, pieces[at].roles = "moment", before, NO_ROLES


def _may_be_hour(piece: Piece) -> bool:
    """`930`, `1045`, but not `985` or `912`, which are counts."""
    if piece.kind != "number" or not piece.low.isdigit() or len(piece.low) not in _DIGITS:
        return False
    hour, minute = divmod(int(piece.low), _HOUR)
    return 0 < hour <= _NOON and minute < _MINUTES and minute % _STEP == 0


def _is_done(piece: Piece) -> bool:
    """What an hour stands before, and no count: a lid, vents, a tray, or a deed that counts no plants."""
    word = deed_of(piece)
    told = piece.kind in SUBJECTS or not piece.roles.keys().isdisjoint(("cover_noun", "vent_noun"))
    return told or (word is not None and word.act in COUNTLESS and not word.counts_before)
