"""What two people did of one deed, told after it: `potted lot 12, she did 20 and i did 15` are 35."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from core.notes.words.pieces import SENTENCE_ENDS, SUBJECTS, Piece
from core.notes.words.said import deed_of, keep_words
from core.notes.words.steps import looks_for

_COUNTED: Final = frozenset({"pot", "stick", "sow", "plant_out"})
_TWO: Final = 2


@looks_for("did", beside=tuple(f"!{act}" for act in sorted(_COUNTED)))
def add_what_each_did(pieces: list[Piece]) -> None:
    """Adds the counts, where one lot or tray and no other count is named, in place."""
    end = next((at for at, piece in enumerate(pieces) if piece.low in SENTENCE_ENDS), len(pieces))
    numbers = [at for at in range(end) if pieces[at].kind == "number"]
    named = [at for at in range(end) if pieces[at].kind in SUBJECTS]
    deeds = [at for at in range(end) if (word := deed_of(pieces[at])) is not None and word.act in _COUNTED]
    if len(numbers) != _TWO or len(named) != 1 or len(deeds) != 1 or not deeds[0] < numbers[0] > named[0]:
        return
    both = [pieces[at] for at in numbers]
    whole = all(number.value.whole is not None and not (number.value.high or number.value.of) for number in both)
    if not whole or any(pieces[at - 1].low != "did" for at in numbers):
        return
    both[0].value = replace(both[0].value, value=both[0].value.value + both[1].value.value)
    last = numbers[1] + 1
    last += last < end and "all" in pieces[last].roles
    keep_words(*pieces[numbers[0] + 1 : last])
