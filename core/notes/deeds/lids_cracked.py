"""Where trays stand whose lids are cracked: `lids cracked on all the trays on the mat`."""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import SUBJECTS, Piece
from core.notes.words.said import begin_of_statement, deed_of, keep_words
from core.notes.words.steps import looks_for

_LIDS: Final = frozenset({"lid", "lids", "dome", "domes", "cover", "covers", "the lids", "the domes", "the lid"})


@looks_for("cracked", beside=("!treat",))
def keep_mats_below(pieces: list[Piece]) -> None:
    """Keeps the mat that they stand on: nothing was heated then, in place."""
    for at in range(2, len(pieces)):
        word = deed_of(pieces[at])
        heats = word is not None and word.says.get("treatment") == "heat" and pieces[at].low.startswith("on ")
        if not heats or pieces[at - 1].kind not in (*SUBJECTS, "phrase"):
            continue
        said = [piece.low for piece in pieces[begin_of_statement(pieces, at) : at]]
        if "cracked" in said and not _LIDS.isdisjoint(said):
            keep_words(pieces[at])
