"""From when to when was a cover off, or were the vents open: `tray 4: lid off 9, on 10`, `vents open at 10 close at 3`;
and from when to when was something done: `potted lot 9 from 9 to 10, 24 pots`.

Where the lot or the tray is named besides, the bare numbers after words of opening and shutting are hours.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from core.notes.days.moments import Moment
from core.notes.words.pieces import NO_ROLES, SENTENCE_ENDS, SUBJECTS, Piece, is_act
from core.notes.words.said import begin_of_statement, comma_before, end_of_statement, keep_words, one_piece
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_OPENING: Final = small_words("open_hours", "opening")
_SHUTTING: Final = small_words("open_hours", "shutting")
_PARTED: Final = frozenset({"close", "shut", "closed", "on", "back on"})
_CLOCKS: Final = frozenset({"moment", "colon"})
_LEADS: Final = frozenset({"at", "@", "around", "about", "by"})
_SIDES: Final = small_words("open_hours", "sides")
_LAST_HOUR: Final = 12
_NOON: Final = 6
_HOURS: Final = 24
_MINUTES: Final = 60
_COUNTED_DEEDS: Final = ("!pot", "!check", "!stick", "!sow", "!divide", "!collect", "~took")


@looks_for("@cover_noun", "@vent_noun", beside=("=number", "=moment", "=colon"))
def find_open_hours(pieces: list[Piece]) -> None:
    """Makes the hours of opening and shutting hours, and parts what is shut from what was opened, in place."""
    for start, end in _after_covers(pieces):
        opened = next((at for at in range(start, end) if pieces[at].low in _OPENING), start - 1)
        shut = next((at for at in range(opened + 1, end) if pieces[at].low in _SHUTTING), None)
        if shut is None or shut == start:
            continue
        first, last = _number_after(pieces, opened, shut), _number_after(pieces, shut, end)
        if first is not None and last is not None and _are_hours(pieces, first, last):
            _make_hour(pieces, first)
            _make_hour(pieces, last)
        timed = any(piece.kind in _CLOCKS for piece in pieces[shut + 1 : shut + 3])
        if timed and pieces[shut].low == "close":
            pieces[shut].roles = {"to_do": ActWord(act="vent", form="to_do")}
        both = timed and any(piece.kind in _CLOCKS for piece in pieces[opened + 1 : shut])
        for piece in pieces[opened + 1 : shut + 3] if both else ():
            _be_clock(piece)
        parted = pieces[shut].low in _PARTED and (both or pieces[shut].low not in ("on", "back on"))
        if timed and parted and pieces[shut - 1].kind != "break":
            _part(pieces, shut, end)
            return


def _part(pieces: list[Piece], shut: int, end: int) -> None:
    """`vents open at 10 | close at 3 trays 1-4`: two statements; trays at the end are those of both."""
    if pieces[end - 1].kind in SUBJECTS and not any(piece.kind in SUBJECTS for piece in pieces[:shut]):
        pieces.insert(shut, pieces.pop(end - 1))
        shut += 1
    pieces.insert(shut, comma_before(pieces[shut]))


def _after_covers(pieces: list[Piece]) -> list[tuple[int, int]]:
    """What stands after each cover and vent, up to the next of them or the end of the sentence."""
    nouns = [at for at, piece in enumerate(pieces) if _is_cover(piece)]
    spans = []
    for at, after in pairwise([*nouns, len(pieces)]):
        ends = (place for place in range(at, after) if pieces[place].low in SENTENCE_ENDS)
        spans.append((at + 1, next(ends, after)))
    return spans[::-1]


def _is_cover(piece: Piece) -> bool:
    return not piece.roles.keys().isdisjoint(("cover_noun", "vent_noun"))


def _number_after(pieces: list[Piece], at: int, end: int) -> int | None:
    """Where the bare number stands that follows a word of opening or shutting."""
    at += 1 + (at + 1 < end and pieces[at + 1].low in _LEADS)
    found = at < end and pieces[at].kind == "number" and pieces[at].low.isdigit()
    return at if found and 0 < int(pieces[at].low) <= _LAST_HOUR else None


def _are_hours(pieces: list[Piece], first: int, last: int) -> bool:
    """Whether two numbers can be hours one after the other, and neither need be a lot or a tray."""
    begun, over = int(pieces[first].low), int(pieces[last].low)
    after = pieces[last + 1] if last + 1 < len(pieces) else None
    ends = after is None or after.kind in ("break", *SUBJECTS)
    return ends and (begun < over or over < _NOON <= begun) and any(piece.kind in SUBJECTS for piece in pieces)


def _be_clock(piece: Piece) -> None:
    """Makes `9:15` a time of day, in place."""
    if piece.kind == "colon" and piece.value[0] < _HOURS and piece.value[1] < _MINUTES:
        piece.kind, piece.value = "moment", Moment(hour=piece.value[0], minute=piece.value[1])


def _make_hour(pieces: list[Piece], at: int) -> None:
    pieces[at].kind, pieces[at].value, pieces[at].roles = "moment", Moment(hour=int(pieces[at].low)), NO_ROLES


@looks_for("@vent_noun", beside=_SIDES)
def keep_sides_of_vents(pieces: list[Piece]) -> None:
    """`top vents open side vents shut tray 3`: vents that stand each in a way of their own; how far is asked, in
    place.
    """
    sides = [at for at in range(1, len(pieces)) if "vent_noun" in pieces[at].roles and pieces[at - 1].low in _SIDES]
    if len(sides) > 1 and not any(piece.kind in SUBJECTS for piece in pieces[sides[0] : sides[-1]]):
        end = next((at for at in range(sides[-1], len(pieces)) if pieces[at].kind in (*SUBJECTS, "break")), len(pieces))
        keep_words(*(piece for piece in pieces[sides[0] + 1 : end] if piece.kind != "break"))


@looks_for("=range", beside=_COUNTED_DEEDS)
def keep_hours_worked(pieces: list[Piece]) -> None:
    """`potted lot 9 from 9 to 10, 24 pots`, `potted lot 9 10-12, did 24`: from when to when, where the count is told
    after it, in place.
    """
    for at in range(len(pieces) - 2, 0, -1):
        if not _are_working_hours(pieces[at]) or pieces[at + 1].kind != "break":
            continue
        before = pieces[at - 1]
        led = before.low == "from" or (before.kind in SUBJECTS and pieces[at].value.dashed)
        said = pieces[begin_of_statement(pieces, at) : at]
        deeds = [piece.roles["act"].act for piece in said if "act" in piece.roles]
        after = pieces[at + 2 : end_of_statement(pieces, at + 2)]
        counts = [piece for piece in after if piece.kind == "number"]
        same = all("act" in piece.roles and piece.roles["act"].act in deeds for piece in after if is_act(piece))
        if led and deeds and same and len(counts) == 1 and counts[0].value.whole is not None:
            hours = pieces[at - (before.low == "from") : at + 1]
            kept = one_piece(hours)
            pieces[at + 1 - len(hours) : at + 1] = [kept]


def _are_working_hours(piece: Piece) -> bool:
    number = piece.value if piece.kind == "number" else None
    return number is not None and number.high is not None and 0 < number.value < number.high <= _LAST_HOUR
