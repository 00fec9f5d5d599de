"""Which day belongs to which count, where one statement tells of several: `sold 3 sat 5 sun`, `mon misted tue fed`."""

from __future__ import annotations

from typing import Final

from core.notes.counts.days_in_row import states
from core.notes.days.moments import Moment
from core.notes.words.pieces import Piece, is_act
from core.notes.words.said import comma_before, end_of_statement, keep_words
from core.notes.words.steps import looks_for

_TWO: Final = 2
_FIRST_MARKS: Final = frozenset("0123456789~")


def counts_plants(piece: Piece) -> bool:
    """Whether a piece counts plants: a number of them, a part, all or none."""
    if piece.kind == "fraction":
        return True
    if piece.kind == "percent" or not piece.roles.keys().isdisjoint(("fraction", "all", "none")):
        return True
    return piece.kind == "number" and piece.value.whole is not None and piece.low[:1] in _FIRST_MARKS


@looks_for("=fraction", "=moment")
def part_second_day(pieces: list[Piece]) -> None:
    """`sold 3 sat 5 sun`, `dome off mon 20 min tue 40 min`: what was of another day, parted in place."""
    if sum(piece.kind == "moment" for piece in pieces) < _TWO:
        return
    _part_days_of_deeds(pieces)
    for at in range(len(pieces) - 3, -1, -1):
        first, second, third = pieces[at : at + 3]
        after = pieces[at + 3 : at + 4]
        place = 0
        if not _is_past_day(first):
            continue
        if second.kind == "number" and counts_plants(second) and _is_past_day(third):
            counted = any(one.kind == "number" and counts_plants(one) for one in pieces[max(0, at - 2) : at])
            place = at + 1 if counted and not any(map(states, after)) else 0
        elif second.kind == "number" and counts_plants(second) and not any(map(states, (third, *after))):
            counted = any(one.kind == "number" and counts_plants(one) for one in pieces[max(0, at - 2) : at])
            later = any(map(_is_past_day, pieces[at + 2 : end_of_statement(pieces, at)]))
            place = at + 1 if counted and later else 0
        elif [one.kind for one in (second, *after)] == ["duration", "duration"] and _is_past_day(third):
            place = at + 2
        if place:
            pieces.insert(place, Piece("break", "and", pieces[place].first, pieces[place].first, "and"))


def _part_days_of_deeds(pieces: list[Piece]) -> None:
    """`mon misted tue fed wed potted 12`: each day opens what was done on it, parted in place."""
    for at in range(len(pieces) - 2, 1, -1):
        if not _is_past_day(pieces[at]) or not is_act(pieces[at + 1]):
            continue
        day = next((place for place in range(at - 1, -1, -1) if _is_past_day(pieces[place])), at)
        told = pieces[day:at]
        if any(map(is_act, told)) and not any(piece.kind == "break" for piece in told):
            pieces.insert(at, comma_before(pieces[at]))


def _is_past_day(piece: Piece) -> bool:
    if piece.kind != "moment":
        return False
    moment: Moment = piece.value
    return moment.names_day and moment.hour is None and not moment.is_to_come


@looks_for("=moment", beside=("=break",))
def keep_coming(pieces: list[Piece]) -> None:
    """`aired tray 4 20 min, 30 tomorrow`: what is planned for a day to come is kept, in place."""
    for at, day in enumerate(pieces):
        if day.kind != "moment" or at < _TWO or pieces[at - 1].kind != "number" or pieces[at - 2].kind != "break":
            continue
        closes = at + 1 == len(pieces) or pieces[at + 1].kind == "break"
        if closes and day.value.is_to_come:
            keep_words(pieces[at - 1])
            keep_words(day)
