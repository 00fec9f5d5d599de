"""Which lots and plants are only named beside those that are told of: `like lot 10 did`, `next to lot 10`, `3 ok`.

Their words are one unread piece, no subject and no count; a move may take it as its place.
"""

from __future__ import annotations

from typing import Final

from core.notes.pieces import NO_ROLES, Piece, is_act
from core.vocabulary.loading import small_words

_LEADING: Final = small_words("compared", "leading")
_BESIDE: Final = small_words("compared", "beside")
_TRAILING: Final = small_words("compared", "trailing")
OTHERS: Final = small_words("compared", "others")
_LEFT: Final = small_words("compared", "left_alone")
_LONGEST: Final = 4
_SMALL: Final = frozenset({"the", "of", "in", "on", "from", "what", "to", "did", "is"})


def join_compared(pieces: list[Piece]) -> None:
    """Makes each comparison with a lot or tray of a telling one unread piece, in place."""
    if not any(is_act(piece) or "noun" in piece.roles for piece in pieces):
        return
    place = 0
    while place < len(pieces):
        end = _compared_until(pieces, place) or _others_until(pieces, place)
        if end:
            run = pieces[place:end]
            low = _said(run)
            roles = {"standing": True} if _lead_until(pieces, place, _BESIDE) else NO_ROLES
            pieces[place:end] = [Piece("compared", None, run[0].first, run[-1].last, low, roles)]
        place += 1


def _compared_until(pieces: list[Piece], place: int) -> int:
    """Where the comparison that begins at a piece ends; 0 where none begins."""
    lead = _lead_until(pieces, place, _LEADING | _BESIDE)
    if not lead:
        return 0
    at = lead
    while at < len(pieces) and pieces[at].low in _SMALL:
        at += 1
    if at >= len(pieces) or pieces[at].kind not in ("lots", "trays"):
        return 0
    at += 1
    while at < len(pieces) and pieces[at].low in _TRAILING:
        at += 1
    counted = at < len(pieces) and pieces[at].kind in ("number", "fraction", "percent")
    return 0 if counted else at


def _lead_until(pieces: list[Piece], place: int, leads: frozenset[str]) -> int:
    """Where the words that lead to the lot compared end (`better than`, `next to`, `like`); 0 where none begin."""
    for size in (3, 2, 1):
        run = pieces[place : place + size]
        if len(run) == size and _said(run) in leads:
            return place + size
    return 0


def _others_until(pieces: list[Piece], place: int) -> int:
    """Where `21 fine`, `12 to go` or `left 22 where it was` ends: what the deed left alone; 0 where none begins."""
    number = place + (pieces[place].low == "left")
    if number >= len(pieces) or pieces[number].kind != "number":
        return 0
    leads = _LEFT if number > place else OTHERS
    for size in range(_LONGEST, 0, -1):
        end = number + 1 + size
        if _said(pieces[number + 1 : end]) in leads and len(pieces) >= end and _ends(pieces, end):
            return end if number > place or _opens(pieces, place) else 0
    return 0


def _opens(pieces: list[Piece], place: int) -> bool:
    """Whether a number begins a statement: not `potted 12 good`, where it is of the deed."""
    before = pieces[place - 1] if place else None
    if before is None or before.kind in ("break", "lots", "trays") or before.low in ("and", "&", "but"):
        return True
    roles = before.roles
    word = roles.get("act") or roles.get("noun")
    counted = place > 1 and pieces[place - 2].kind == "number"
    return word is not None and (word.counts_before or word.form == "noun") and counted


def _ends(pieces: list[Piece], at: int) -> bool:
    return at >= len(pieces) or pieces[at].kind == "break" or pieces[at].low in ("and", "&", "but", "so")


def _said(run: list[Piece]) -> str:
    return " ".join(piece.low for piece in run)
