"""So many in each of several trays, and another number in one of them: `trays 1-5, 24 each except 5 has 18`."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from core.notes.counts.listed_counts import EACH
from core.notes.words.pieces import SUBJECTS, Piece
from core.notes.words.said import is_end
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_BEFORE: Final = small_words("each_but_one", "before")
_HAS: Final = small_words("each_but_one", "has")
_IN: Final = frozenset({"in", "for", "in the"})


@looks_for(any_of=EACH, beside=("=several",))
def deal_each_but_one(pieces: list[Piece]) -> None:
    """Makes one number of the counts of all, each with its own, in place."""
    for at in range(1, len(pieces) - 2):
        number, each = pieces[at - 1 : at + 1]
        several = next((one for one in reversed(pieces[:at]) if one.kind in SUBJECTS), None)
        if each.low not in EACH or not _is_bare(number) or several is None or len(several.value) < 2:
            continue
        others: dict[str, int] = {}
        end = at + 1
        while (found := _other(pieces, end, several)) is not None:
            name, count, end = found
            others[name] = count
        if others and is_end(pieces, end):
            counts = tuple({"count": others.get(name, number.value.whole)} for name in several.value)
            low = " ".join(piece.low for piece in pieces[at - 1 : end])
            value = replace(number.value, value=counts[0]["count"], each=counts)
            pieces[at - 1 : end] = [Piece("number", value, number.first, pieces[end - 1].last, low)]
            return


def _other(pieces: list[Piece], at: int, several: Piece) -> tuple[str, int, int] | None:
    """Which of several has another count, that count, and where `except 5 has 18`, `, only 18 in tray 5` ends."""
    step = at
    while step < len(pieces) and pieces[step].low in _BEFORE:
        step += 1
    if step == at or step >= len(pieces):
        return None
    name = _name(pieces[step], several)
    if name is not None:
        step += 1
        has = step
        while step < len(pieces) and pieces[step].low in _HAS:
            step += 1
        counted = step > has and step < len(pieces) and _is_bare(pieces[step])
        return (name, pieces[step].value.whole, step + 1) if counted else None
    if step + 2 < len(pieces) and _is_bare(pieces[step]) and pieces[step + 1].low in _IN:
        name = _name(pieces[step + 2], several)
        return (name, pieces[step].value.whole, step + 3) if name is not None else None
    return None


def _name(piece: Piece, several: Piece) -> str | None:
    """The one of several that a piece names."""
    named = piece.kind == several.kind and len(piece.value) == 1
    name = piece.value[0] if named else piece.low if _is_bare(piece) else None
    return name if name in several.value else None


def _is_bare(piece: Piece) -> bool:
    if piece.kind != "number":
        return False
    number = piece.value
    return number.whole is not None and not (number.high or number.of or number.approx or number.each)
