"""What ticks and crosses tell on a list: `tray 3 misted ✓ tray 4 ✗`, `tray 3 misted y, tray 4 misted n`."""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import Piece, is_act
from core.notes.words.said import begin_of_statement, comma_before, is_end
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_DONE: Final = small_words("tick_marks", "done")
_NOT_DONE: Final = small_words("tick_marks", "not_done")
_NO: Final = small_words("tick_marks", "no")


@looks_for(any_of=_DONE | _NOT_DONE | _NO)
def read_ticks(pieces: list[Piece]) -> None:
    """Makes a cross behind what it marks "not done", and parts what stands behind a tick or a cross, in place."""
    at = 1
    while at < len(pieces):
        piece, before = pieces[at], pieces[at - 1]
        crossed = piece.low in _NOT_DONE or (piece.low in _NO and is_act(before) and is_end(pieces, at + 1))
        # "tossed lot 9 ❌": the cross only paints the loss.
        crossed = crossed and not any(map(_loses, pieces[begin_of_statement(pieces, at) : at]))
        ticked = piece.low in _DONE and piece.kind == "mark"
        if before.kind != "break" and (crossed or ticked):
            if crossed:
                pieces[at] = Piece("phrase", None, piece.first, piece.last, "not done", {"negation": True})
            if not is_end(pieces, at + 1):
                pieces.insert(at + 1, comma_before(pieces[at + 1]))
        at += 1


def _loses(piece: Piece) -> bool:
    word = piece.roles.get("act")
    return word is not None and word.act == "lose"
