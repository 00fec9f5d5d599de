"""Deeds told by a bare verb with nobody before it, which were done: `sow 72 sage, watered in, domed`, `clear lot 17`.

Rules
1. A beginning with its count was done where only what was done to it then follows.
2. `clear lot 17` sets it free, as `release lot 17` does; a tray may be cleared out, so that it is one `from hold`.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from core.notes.words.act_kinds import OPENING
from core.notes.words.pieces import SUBJECTS, Piece
from core.notes.words.said import statements
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_CLEAR: Final = ActWord(act="clear")
_OUT: Final = frozenset({"from", "of", "off", "for"})
_HOLDS: Final = small_words("clipped", "holds")
_VERB_AND_LOT: Final = 2
_FROM_THE_HOLD: Final = 3
_BEGINNING: Final = OPENING | {"pot"}
_FOLLOWED: Final = small_words("clipped", "followed")


@looks_for("@to_do", beside=_FOLLOWED)
def _read_beginnings(pieces: list[Piece]) -> None:
    """`sow 72 sage in tray 18, watered in, domed`: a bare verb that was done, for so was what follows, in place."""
    verb = pieces[0].roles.get("to_do")
    if verb is None or verb.act not in _BEGINNING or not pieces[0].roles.keys().isdisjoint(("act", "shared")):
        return
    first, *others = (pieces[start:end] for start, end in statements(pieces) if end > start)
    counted = len(first) > 1 and first[1].kind == "number" and not any(map(_lies_ahead, first))
    if counted and others and all(map(_was_done_then, others)):
        pieces[0].roles = {"act": replace(verb, form="done")}


@looks_for("clear", beside=("=lots", "=trays"))
def _read_clear(pieces: list[Piece]) -> None:
    """`clear lot 17`, `clear tray 4 from quarantine`: set free again, in place."""
    for start, end in statements(pieces):
        if end - start < _VERB_AND_LOT or pieces[start].low != "clear" or pieces[start + 1].kind not in SUBJECTS:
            continue
        verb, named, *freed = pieces[start:end]
        held = 1 < len(freed) <= _FROM_THE_HOLD and freed[0].low in _OUT and freed[-1].low.split(" ")[-1] in _HOLDS
        if held or (not freed and named.kind == "lots"):
            verb.kind, verb.roles = "phrase", {"act": _CLEAR}
            for piece in freed:
                piece.kind, piece.roles, piece.used = "phrase", {"filler": True}, True


def _lies_ahead(piece: Piece) -> bool:
    """Whether a day is not surely over, or words tell of what is planned or waited for."""
    dated = piece.kind == "moment" and (piece.value.days is None or piece.value.days > 0)
    return dated or not piece.roles.keys().isdisjoint(("plan", "condition", "negation"))


def _was_done_then(said: list[Piece]) -> bool:
    """Whether a statement is a deed that was done, with no lot, plant or count of its own."""
    done = [piece for piece in said if piece.low in _FOLLOWED]
    return bool(done) and all(piece in done or "filler" in piece.roles for piece in said)


READ_CLIPPED: Final = (_read_beginnings, _read_clear)
"""Make such verbs deeds that were done, in place."""
