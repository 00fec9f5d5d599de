"""From when to when vents stood open, where no lot or tray is named: `vents 1/2 from 9 to 10 then shut`."""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import SUBJECTS, Piece
from core.notes.words.said import begin_of_statement, keep_words
from core.notes.words.steps import looks_for

_LAST_HOUR: Final = 12


@looks_for("@vent_noun", beside=("=number",))
def keep_hours_of_vents(pieces: list[Piece]) -> None:
    """Keeps the hours of `from 9 to 10`, in place."""
    for at in range(1, len(pieces)):
        end = _end_of_hours(pieces, at)
        if not end or pieces[at - 1].low != "from":
            continue
        said = pieces[begin_of_statement(pieces, at) : at]
        if any("vent_noun" in piece.roles for piece in said) and not any(piece.kind in SUBJECTS for piece in said[-2:]):
            keep_words(*pieces[at - 1 : end])


def _end_of_hours(pieces: list[Piece], at: int) -> int:
    """Where `9 to 10` ends, or `10 to 2`, which rises over noon; 0 for none."""
    number = pieces[at].value if pieces[at].kind == "number" else None
    if number is None or number.value > _LAST_HOUR:
        return 0
    if number.high is not None:
        return at + 1 if number.high <= _LAST_HOUR else 0
    over = pieces[at + 1 : at + 3]
    if len(over) < 2 or over[0].low not in ("to", "till", "til", "until") or over[1].kind != "number":
        return 0
    return at + 3 if over[1].value.high is None and over[1].value.value <= _LAST_HOUR else 0
