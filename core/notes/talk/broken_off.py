"""A tray or lot that was begun and named anew before its number: `watered tray... i mean lot 54`."""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import SUBJECTS, Piece, is_act
from core.notes.words.runs import Runs
from core.notes.words.said import begin_of_statement, one_piece
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_NOUNS: Final = frozenset({"tray", "trays", "lot", "lots"})
_SLIPS: Final = small_words("corrections", "midway") | small_words("corrections", "midway_after_mark")
_CORRECTING: Final = Runs(_SLIPS | small_words("corrections", "wavering"))


@looks_for(any_of=_SLIPS, beside=_NOUNS)
def keep_broken_off(pieces: list[Piece]) -> None:
    """Keeps the word without its number and what corrects it, in place: nothing of before is put right."""
    for at in range(len(pieces) - 2, 0, -1):
        if pieces[at].low.split(" ")[-1] not in _NOUNS:
            continue
        after = at + 1
        while after < len(pieces) and pieces[after].kind == "break" and pieces[after].low in (".", ",", "-", "…"):
            after += 1
        end = _CORRECTING.end_at(pieces, after)
        told = any(map(is_act, pieces[begin_of_statement(pieces, at) : at])) or "noun" in pieces[at - 2].roles
        if end and end < len(pieces) and pieces[end].kind in SUBJECTS and told:
            pieces[at:end] = [one_piece(pieces[at:end])]
