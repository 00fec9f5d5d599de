"""Plants that flag are wilting: `8 flagging in tray 2`; flags and flagging tape are set by hand."""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import COUNTS, SUBJECTS, Piece
from core.notes.words.said import is_end
from core.notes.words.steps import looks_for
from core.vocabulary import words
from core.vocabulary.loading import small_words

_BESIDE: Final = small_words("flagging", "beside")
_BEFORE: Final = frozenset({"plant", "all", "vague", "both"})


@looks_for("flagging", beside=("=lots", "=trays", "@plant"))
def tell_flagging(pieces: list[Piece]) -> None:
    """`flagging in tray 2, about 8 of them`, `tray 2 flagging`: wilting, in place; not `flagging tape on tray 3`."""
    for at, piece in enumerate(pieces):
        if piece.low != "flagging":
            continue
        before = pieces[at - 1] if at else None
        heads = before is None or before.kind in ("break", "moment")
        told = before is not None and (
            before.kind in COUNTS | SUBJECTS or before.low in _BESIDE or not before.roles.keys().isdisjoint(_BEFORE)
        )
        closes = is_end(pieces, at + 1) or pieces[at + 1].kind == "moment" or pieces[at + 1].low in _BESIDE
        if (heads or told) and closes:
            piece.kind, piece.roles = "phrase", words().phrases["wilting"]
