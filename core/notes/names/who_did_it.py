"""Who did it, told at the end: `misted tray 2, lou did it`."""

from __future__ import annotations

from typing import Final

from core.notes.days.who import may_be_who
from core.notes.words.pieces import Piece
from core.notes.words.said import said_in
from core.notes.words.steps import looks_for
from core.vocabulary.everyday import is_given_name
from core.vocabulary.loading import small_words

_DID_IT: Final = small_words("answers", "somebody_did") - {"did", "done it"}
_BY: Final = {"filler": True}


@looks_for("did", "done", "finished", beside=("=word",))
def name_who_did_it(pieces: list[Piece]) -> None:
    """`misted tray 2, | lou did it` as `misted tray 2 by lou`, where nothing was lost and nobody else is named."""
    last = len(pieces)
    while last and pieces[last - 1].kind in ("break", "mark"):
        last -= 1
    at = next((at for at in range(last - 2, 0, -1) if pieces[at - 1].kind == "break"), 0)
    who = pieces[at]
    if not at or not may_be_who(who) or said_in(pieces[at + 1 : last]) not in _DID_IT:
        return
    told = [piece.roles.get("act") or piece.roles.get("shared") or piece.roles.get("noun") for piece in pieces[:at]]
    deeds = [word.act for word in told if word is not None]
    if not deeds or "lose" in deeds or any(is_given_name(piece.low) for piece in pieces[:at]):
        return
    by = Piece("phrase", None, who.first, who.first, "by", _BY)
    pieces[at - 1 : last] = [by, who]
