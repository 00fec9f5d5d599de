"""Which days stand in a row and are one piece: `misted tray 3 6/5 and 6/8`, `fed lot 9 mon wed and fri`."""

from __future__ import annotations

from typing import Final

from core.notes.days.moments import Moment
from core.notes.words.act_kinds import COUNTLESS
from core.notes.words.numbers import SHARES
from core.notes.words.pieces import Piece
from core.notes.words.said import statement_at
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

COUNTING: Final = frozenset({"check", "lose", "wilt"})
_NAMING_DAYS: Final = frozenset({"moment", "fraction"})
_JOINTS: Final = frozenset({"and", "&", ",", "+"})
_CAUSING: Final = small_words("acts", "causing")


@looks_for("=fraction", "=moment")
def join_days(pieces: list[Piece]) -> None:
    """`misted tray 3 6/5 and 6/8`, `fed lot 9 mon and wed`: several days as one piece, in place."""
    for at, piece in enumerate(pieces):
        if piece.kind not in _NAMING_DAYS:
            continue
        days, end = _days_in_row(pieces, at)
        if len(days) > 1 and (end >= len(pieces) or not states(pieces[end])):
            low = " ".join(piece.low for piece in pieces[at:end])
            pieces[at:end] = [Piece("hours", tuple(days), piece.first, pieces[end - 1].last, low)]


def _days_in_row(pieces: list[Piece], at: int) -> tuple[list[Moment], int]:
    first = _day_of(pieces, at)
    if first is None:
        return [], at
    days, end = [first], at + 1
    while end < len(pieces) and (_is_bare_weekday(pieces, end) or pieces[end].low in _JOINTS):
        step = end
        if not _is_bare_weekday(pieces, end):
            step += 1 + (end + 1 < len(pieces) and pieces[end + 1].low in ("and", "on", "again"))
        day = _day_of(pieces, step) if step < len(pieces) else None
        if day is None:
            break
        days.append(day)
        end = step + 1
    return days, end


def _is_bare_weekday(pieces: list[Piece], at: int) -> bool:
    """The `wed` of `misted tray 4 mon wed and fri`: a weekday right after another."""
    return all(map(is_weekday, pieces[at - 1 : at + 1]))


def _day_of(pieces: list[Piece], at: int) -> Moment | None:
    """The day that a piece names, or that a fraction does where its statement counts nothing."""
    piece = pieces[at]
    if piece.kind == "moment":
        moment: Moment = piece.value
        told = moment.day is not None or moment.weekday is not None or moment.days in (0, -1)
        return moment if told and moment.hour is None and not moment.which else None
    if not may_be_day(piece):
        return None
    start, end = statement_at(pieces, at)
    words = [one.roles["act"] for one in pieces[start:end] if "act" in one.roles]
    cares = bool(words) and all(word.act in COUNTLESS or (word.act == "check" and not word.says) for word in words)
    counts = any(one.kind == "number" for one in pieces[start:end])
    return Moment(month=piece.value[0], day=piece.value[1]) if cares and not counts else None


def may_be_day(piece: Piece) -> bool:
    if piece.kind != "fraction":
        return False
    month, day, approx = piece.value
    return not approx and 1 <= month <= 12 and 1 <= day <= 31 and (month, day) not in SHARES


def is_weekday(piece: Piece) -> bool:
    if piece.kind != "moment":
        return False
    moment: Moment = piece.value
    return moment.weekday is not None and moment.day is None and moment.hour is None


def states(piece: Piece, *, after: bool = False) -> bool:
    word = piece.roles.get("act") or piece.roles.get("noun")
    return word is not None and word.act in COUNTING and (after or word.counts_before)


def is_harmed(pieces: list[Piece], at: int) -> bool:
    """The 4 of `rot took 4`, `damping off got 4`: so many that a cause took."""
    return at > 1 and pieces[at - 1].low in _CAUSING and "cause" in pieces[at - 2].roles
