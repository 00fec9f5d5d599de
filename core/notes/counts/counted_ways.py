"""Which numbers tell how a deed was done, or to how many lots, and count no plants.

Rules
1. `moved lot 9 in 3 loads`, `sold lot 9 in bundles of 5`, `divided lot 9 in two`: in how many parts.
2. `potted two lots 14 & 15`, `3 lots potted`: so many lots.
3. `trimmed 2 in off lot 9`: how much was cut off.
"""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import SUBJECTS, Piece, is_act
from core.notes.words.said import begin_of_statement, deed_of, end_of_sentence, is_count, keep_words, pass_over
from core.notes.words.steps import looks_at_each
from core.vocabulary.loading import small_words

_LOTS: Final = small_words("counted_ways", "lots")
_WAYS: Final = small_words("counted_ways", "ways")
_HALVES: Final = small_words("counted_ways", "halves")
_JOINTS: Final = frozenset({",", "and", "&", "+"})
_IN: Final = frozenset({"in", "into"})
_PARTING: Final = frozenset({"divide", "split"})


@looks_at_each("=several", *_LOTS, beside=("=number",))
def _keep_number_of_lots(pieces: list[Piece], at: int) -> None:
    """`potted two lots 14 & 15`, `sold 2 lots of yarrow`, `3 lots potted`: no count of plants, in place."""
    number = pieces[at - 1] if at else None
    if number is None or not is_count(number):
        return
    if pieces[at].kind in SUBJECTS:
        if len(pieces[at].value) > 1 and len(pieces[at].value) == number.value.whole:
            pass_over(number)
    elif pieces[at].low in _LOTS and not _goes_on(pieces, at + 1):
        keep_words(number, pieces[at])
        after = pieces[at + 1 : at + 4]
        if [one.low for one in after[2:]] in (["each"], ["ea"], ["apiece"]) and is_count(after[1]):
            keep_words(*after[1:])
        _name_lots_listed(pieces, at + 1, number.value.whole)


def _goes_on(pieces: list[Piece], at: int) -> bool:
    """The `seeding` of `4 lots seeding`: what they do, and nothing that was done to them."""
    return at < len(pieces) and is_act(pieces[at]) and pieces[at].low.endswith("ing")


def _name_lots_listed(pieces: list[Piece], at: int, many: int) -> None:
    """`potted 3 lots this morning: | 14, 15, 16`: as many numbers as there were lots are those, in place."""
    colon = next((place for place in range(at, min(at + 3, len(pieces))) if pieces[place].low == ":"), None)
    if colon is None:
        return
    end = end_of_sentence(pieces, colon)
    listed = [piece for piece in pieces[colon + 1 : end] if piece.low not in _JOINTS]
    if len(listed) == many and all(map(is_count, listed)):
        names = tuple(piece.low for piece in listed)
        low = " ".join(piece.low for piece in pieces[colon + 1 : end])
        pieces[colon + 1 : end] = [Piece("lots", names, listed[0].first, listed[-1].last, f"lots {low}")]


@looks_at_each(any_of=_WAYS, beside=_IN)
def _keep_ways(pieces: list[Piece], at: int) -> None:
    """`in 3 loads`, `in 20 holes`, `in bundles of 5`, in place."""
    if pieces[at].low not in _IN or at + 2 >= len(pieces) or not _deed_before(pieces, at):
        return
    number, way = pieces[at + 1 : at + 3]
    if is_count(number) and way.low in _WAYS:
        keep_words(*pieces[at : at + 3])
    elif number.low in _WAYS and way.low == "of" and at + 3 < len(pieces) and is_count(pieces[at + 3]):
        keep_words(*pieces[at : at + 4])


def _deed_before(pieces: list[Piece], at: int) -> bool:
    """Whether a deed stands before a place that counts what it was done to after it (not `12 rooted in 3 rows`)."""
    words = [word for piece in pieces[begin_of_statement(pieces, at) : at] if (word := deed_of(piece)) is not None]
    return bool(words) and not words[-1].counts_before


@looks_at_each(any_of=_HALVES, beside=("!divide", "!split"))
def _keep_halves(pieces: list[Piece], at: int) -> None:
    """`divided lot 9 in two: 24 to bench a, 30 to bench b`: no lot and no count, in place."""
    if not at or pieces[at].low not in _HALVES or pieces[at - 1].low not in _IN:
        return
    words = [word for piece in pieces[begin_of_statement(pieces, at) : at] if (word := deed_of(piece)) is not None]
    closes = at + 1 == len(pieces) or pieces[at + 1].kind == "break"
    if closes and words and words[-1].act in _PARTING and pieces[at - 2].kind in SUBJECTS:
        keep_words(*pieces[at - 1 : at + 1])


@looks_at_each("off", beside=("!tend",))
def _keep_cut_off(pieces: list[Piece], at: int) -> None:
    """`trimmed 2 in off lot 9`: a length, in place."""
    inches = at > 1 and pieces[at - 1].low in ("in", "inch", "inches")
    if pieces[at].low == "off" and inches and is_count(pieces[at - 2]):
        keep_words(*pieces[at - 2 : at])


KEEP_WAYS: Final = (_keep_number_of_lots, _keep_ways, _keep_halves, _keep_cut_off)
"""Keep numbers that count no plants out of what is counted, in place."""
