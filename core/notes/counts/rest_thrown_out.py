"""The rest of a tray thrown out, beside how many came from it: `48 from tray 2, the rest of tray 2 tossed`."""

from __future__ import annotations

from core.notes.words.pieces import SENTENCE_ENDS, SUBJECTS, Piece
from core.notes.words.said import deed_of, end_of_statement, keep_words
from core.notes.words.steps import looks_for


@looks_for("rest", beside=("from", "of"))
def keep_those_got(pieces: list[Piece]) -> None:
    """Keeps how many came from it, where no deed is told of them: they were not lost, in place."""
    for at in range(len(pieces) - 4):
        number, lead, subject, comma = pieces[at : at + 4]
        heads = at == 0 or pieces[at - 1].low in SENTENCE_ENDS
        if not heads or number.kind != "number" or lead.low not in ("from", "of") or subject.kind not in SUBJECTS:
            continue
        said = pieces[at + 4 : end_of_statement(pieces, at + 4)]
        rest = any(piece.low.split(" ")[-1] == "rest" for piece in said)
        lost = any((word := deed_of(piece)) is not None and word.act == "lose" for piece in said)
        if comma.low == "," and rest and lost and not any(piece.kind == "number" for piece in said):
            keep_words(number)
