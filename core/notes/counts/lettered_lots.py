"""A lot that is named as a part of another by a letter: `split 12 off lot 14, call it 14b`."""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import Piece
from core.notes.words.said import begin_of_sentence, is_count, is_end, said_in
from core.notes.words.steps import looks_for

_WORDS: Final = frozenset({"a", "i", "w", "n", "c", "f", "t", "l", "x"})
_JOINTS: Final = frozenset({"and", "&", "+"})


@looks_for("=letter", beside=("=lots",))
def name_lettered_lots(pieces: list[Piece]) -> None:
    """Joins the number of a lot told before and the letter behind it to one lot, in place."""
    for at in range(len(pieces) - 2, 0, -1):
        number, letter = pieces[at : at + 2]
        named = is_count(number) and len(letter.low) == 1 and letter.low.isalpha()
        named = named and (letter.low not in _WORDS or is_end(pieces, at + 2) or pieces[at + 2].low in _JOINTS)
        before = pieces[begin_of_sentence(pieces, at) : at] if named else []
        if any(piece.kind == "lots" and number.low in piece.value for piece in before):
            name = f"{number.low}{letter.low}"
            pieces[at : at + 2] = [Piece("lots", (name,), number.first, letter.last, name)]
            joined = at + 2 < len(pieces) and pieces[at + 1].low in _JOINTS and pieces[at + 2].kind == "lots"
            if joined and pieces[at + 2].low.startswith(number.low):
                run = pieces[at : at + 3]
                names = (name, *run[2].value)
                pieces[at : at + 3] = [Piece("lots", names, run[0].first, run[2].last, said_in(run))]
