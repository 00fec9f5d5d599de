"""How many went into each row or cell: `stuck 11 sage per row, 6 rows`, `sowed 2 lupine a cell`, `72 cells @ 3`.

Rules
1. Where it is told into how many, so many went in all; else the count of each is only kept.
2. Of seed in cells it is only kept: how many cells were filled is told, not how many seeds.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from core.notes.counts.multiplied import before_plants
from core.notes.words.act_kinds import OPENING
from core.notes.words.numbers import Number
from core.notes.words.pieces import Piece, is_act
from core.notes.words.said import is_whole_number, keep_words
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_PER: Final = small_words("rates", "per")
_ROWS: Final = small_words("rates", "rows")
_SOWN: Final = OPENING | {"pot"}


@looks_for(any_of=_PER, beside=("=number",))
def count_per_row(pieces: list[Piece]) -> None:
    """`11 sage per row, 6 rows` as so many in all, and `2 lupine a cell` as its words, in place."""
    for at in range(len(pieces) - 1, 0, -1):
        if pieces[at - 1].low not in _PER or pieces[at].low not in _ROWS:
            continue
        place = before_plants(pieces, at - 2)
        if place < 0 or not is_whole_number(pieces[place]) or _deed_before(pieces, place) not in _SOWN:
            continue
        _count_all(pieces, place, at)


def _count_all(pieces: list[Piece], place: int, at: int) -> None:
    number, row = pieces[place], pieces[at].low
    several = [
        (many, rows)
        for many, rows in pairwise(pieces)
        if is_whole_number(many) and many is not number and rows.low in (f"{row}s", f"{row}es")
    ]
    keep_words(pieces[at - 1], pieces[at])
    if len(several) != 1 or (_deed_before(pieces, place) == "sow" and "container" in several[0][1].roles):
        keep_words(number)
        return
    many, rows = several[0]
    number.value = Number(number.value.whole * many.value.whole)
    if "container" not in rows.roles:
        keep_words(many, rows)


@looks_for("@", beside=("=counts",))
def count_at_each(pieces: list[Piece]) -> None:
    """`stuck 24 cells @ 3 sage`: so many in all, in place."""
    for at in range(2, len(pieces) - 1):
        many, cells, mark, number = pieces[at - 2 : at + 2]
        held = is_whole_number(many) and "container" in cells.roles and mark.low == "@" and is_whole_number(number)
        deed = _deed_before(pieces, at - 2)
        if held and deed == "sow":
            keep_words(mark, number)
        elif held and deed in _SOWN:
            number.value = Number(number.value.whole * many.value.whole)
            keep_words(mark)


def _deed_before(pieces: list[Piece], place: int) -> str:
    deed = next((piece for piece in reversed(pieces[:place]) if is_act(piece)), None)
    word = deed.roles.get("act") if deed is not None else None
    return word.act if word is not None else ""
