"""Does `have` before a number tell how many there are: `have 12 toyon`, `have 3 trays to mist`; `have 14 been watered`
asks.
"""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import SUBJECTS, Piece, is_act
from core.notes.words.said import end_of_statement

_ASKED: Final = frozenset({"been", "ever", "gone", "got", "come", "gotten"})
"""After `have` and a number these ask whether it was done to that lot."""


def has_plants(pieces: list[Piece], at: int) -> bool:
    """Whether so many are told of; `have 20 rooted in tray 3` tells, `have 3 rooted` may ask of lot 3."""
    told = pieces[at + 2 : end_of_statement(pieces, at)]
    if pieces[at + 1].kind != "number" or any(piece.low.split(" ")[0] in _ASKED for piece in told):
        return False
    if not any(map(is_act, told)) or "plant" in told[0].roles or told[0].low == "left":
        return True
    named = any(piece.kind in SUBJECTS for piece in told[1:3])
    return named and (tells_state(told[0]) or _tells_loss(told[0]))


def tells_state(piece: Piece) -> bool:
    """The `germinate` of `did the lupine germinate`, which may have been mended to the form that tells."""
    word = piece.roles.get("act")
    return word is not None and "state" in word.says


def _tells_loss(piece: Piece) -> bool:
    word = piece.roles.get("act")
    return word is not None and word.act == "lose" and word.counts_before
