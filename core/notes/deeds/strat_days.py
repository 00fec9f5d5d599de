"""The days of a stratification with a letter for them, with more told after them: `cold strat 30 d milkweed`."""

from __future__ import annotations

from core.lengths import Length
from core.notes.words.pieces import COUNTS, Piece
from core.notes.words.steps import looks_for


@looks_for("d", beside=("=number",))
def join_days_of_strat(pieces: list[Piece]) -> None:
    """`lot 40 cold strat 90 d started mon`: makes a length of time of the number and the letter, in place."""
    for at in range(1, len(pieces) - 2):
        strat, number, letter, after = pieces[at - 1 - (at > 1 and pieces[at - 1].low == "for")], *pieces[at : at + 3]
        word = strat.roles.get("act") or strat.roles.get("noun")
        chilled = word is not None and str(word.says.get("treatment", "")).endswith("stratify")
        days = number.value.whole if number.kind == "number" and number.value.high is None else None
        if chilled and days and letter.low == "d" and after.kind not in COUNTS:
            low = f"{number.low} d"
            pieces[at : at + 2] = [Piece("duration", (Length(days=days), None), number.first, letter.last, low)]
            return
