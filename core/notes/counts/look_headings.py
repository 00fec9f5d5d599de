"""What only says that plants were looked at, before what was found: `root check lot 3: 31 with roots, 8 rotten`."""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import COUNTS, SENTENCE_ENDS, SUBJECTS, Piece, is_act
from core.notes.words.said import deed_of, end_of_sentence, end_of_statement, keep_words
from core.notes.words.steps import looks_for

_FOUND: Final = frozenset({"check", "lose"})
_MOST_WORDS: Final = 5
"""`did a root check of lot 3` has so many pieces before its lot at most."""


@looks_for("check", "check on", "check of", beside=("!check", "!lose"))
def keep_look_headings(pieces: list[Piece]) -> None:
    """Keeps the words of such a heading, which asks for nothing once the plants were counted, in place."""
    for start in [0, *(at + 1 for at, piece in enumerate(pieces) if piece.low in SENTENCE_ENDS)]:
        end = end_of_statement(pieces, start)
        head = pieces[start:end]
        look = [piece for piece in head if (word := piece.roles.get("to_do")) is not None and word.act == "check"]
        subjects = [piece for piece in head if piece.kind in SUBJECTS]
        others = [piece for piece in head if piece not in subjects]
        said = [piece for piece in others if piece.kind != "moment"]
        if len(look) != 1 or len(subjects) > 1 or len(said) > _MOST_WORDS or not all(map(_may_head, others)):
            continue
        if _counted_after(pieces, end, named=bool(subjects)) or (not subjects and _heads_lines(pieces, end)):
            keep_words(*(piece for piece in said if piece in look or "filler" not in piece.roles))


def _may_head(piece: Piece) -> bool:
    """A day, or a word that is no deed done, no plan and no plant."""
    plain = piece.kind in ("word", "phrase") and not is_act(piece)
    return piece.kind == "moment" or (plain and piece.roles.keys() <= {"to_do", "noun", "filler", "inch"})


def _heads_lines(pieces: list[Piece], at: int) -> bool:
    """`morning check:` with lines below it."""
    return [piece.low for piece in pieces[at : at + 2]] == [":", "\n"] and at + 2 < len(pieces)


def _counted_after(pieces: list[Piece], at: int, *, named: bool) -> bool:
    """Whether a count with what was counted comes next, of the lot that was named, or of one that stands there."""
    end = end_of_sentence(pieces, at)
    for place in range(at + 1, end):
        if named and pieces[place].kind in SUBJECTS:
            return False
        word = deed_of(pieces[place])
        if word is not None:
            return word.act in _FOUND and word.counts_before and pieces[place - 1].kind in COUNTS
    return False
