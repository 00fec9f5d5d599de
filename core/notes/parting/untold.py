"""Deeds that no verb says: `overhead on all trays at 7am`, `lot 50 now in lath`.

Rules
1. Overhead, alone with what it is on, waters that.
2. Where a lot or tray is now, it was moved to; not where only a part of it is.
"""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import SUBJECTS, Piece
from core.notes.words.said import said_in, statement_at
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord, words

_OVERHEAD: Final = frozenset({"overhead", "overhd", "ovrhd"})
_IN: Final = frozenset({"in", "on", "at", "under", "inside"})
_SMALL: Final = frozenset({"the", "our", "is", "are"})


@looks_for(any_of=_OVERHEAD)
def _water_overhead(pieces: list[Piece]) -> None:
    """`overhead on all trays at 7am`, `trays 4-6 overhead`: watered so, in place, where nothing more is said."""
    for at, piece in enumerate(pieces):
        if piece.low not in _OVERHEAD:
            continue
        start, end = statement_at(pieces, at)
        beside = [one for one in pieces[start:end] if one is not piece and one.low not in ("on", "the", "for", "today")]
        named = any(one.kind in SUBJECTS or "all" in one.roles or "plant" in one.roles for one in beside)
        if named and all(_may_be_watered(one) for one in beside) and at in (start, end - 1, end - 2):
            piece.roles = words().phrases["overhead watered"]
            for on in pieces[at + 1 : at + 2]:
                on.used = on.used or on.low == "on"


def _may_be_watered(piece: Piece) -> bool:
    """What is watered, who did it, or a time that does not lie ahead."""
    then = piece.kind == "moment" and not piece.value.is_to_come
    return piece.kind in ("person", *SUBJECTS) or then or "plant" in piece.roles or "all" in piece.roles


@looks_for("now", beside=("@place_word",))
def _move_there(pieces: list[Piece]) -> None:
    """`lot 50 now in lath`, `trays 3 and 4 are in the lath now`: moved there, in place."""
    for at, piece in enumerate(pieces):
        if piece.kind not in SUBJECTS or (at and pieces[at - 1].kind not in ("break", "moment")):
            continue
        told = [one for one in pieces[at + 1 : statement_at(pieces, at)[1]] if one.low not in _SMALL]
        now = next((step for step, one in enumerate(told) if one.low == "now"), len(told))
        there = [one for one in told[:now] + told[now + 1 :] if one.kind != "moment"]
        if now > 2 + (len(there) > 2) or len(there) < 2 or there[0].low not in _IN:
            continue
        bench = [one.kind == "number" or len(one.low) == 1 for one in there[2:]]
        if "place_word" in there[1].roles and len(bench) < 2 and all(bench):
            to = said_in(there[1:])
            there[0].roles = {"act": ActWord(act="move", says={"to": to})}
            for one in told:
                one.used = one.used or one.kind != "moment"


FIND_UNTOLD: Final = (_water_overhead, _move_there)
"""Find the deeds that no verb says, in place."""
