"""Were all of them tried for roots, and are no sample, and which came out: `gave each a tug, 5 came right out`."""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import Piece, is_act
from core.notes.words.runs import Runs
from core.notes.words.said import is_count, keep_words, statement_at
from core.notes.words.steps import looks_for
from core.vocabulary import words
from core.vocabulary.loading import END, small_words

_EVERY: Final = small_words("parts", "every")
_LEADS: Final = small_words("parts", "leads_to_each")
_SOME: Final = small_words("parts", "after_every")
_GAVE: Final = small_words("parts", "gave")
_CAME_OUT: Final = small_words("parts", "came_out")
_OUT: Final = Runs(_CAME_OUT)
_COUNTED: Final = frozenset({"number", "fraction", "percent"})


@looks_for("!check", beside=("@all", *_EVERY))
def look_at_every(pieces: list[Piece]) -> None:
    """`tugged every one`, `gave each | a tug`: reads a look at all of them as one that is no sample, in place."""
    for place, piece in enumerate(pieces):
        word = piece.roles.get("act") or piece.roles.get("noun")
        if word is None or not word.says.get("sample"):
            continue
        start, end = statement_at(pieces, place)
        said = pieces[start:end]
        deeds = [one for one in said if one is not piece and is_act(one) and one.low not in _GAVE]
        every = next((at for at in range(start, end) if _is_every(pieces, at)), None)
        if every is None or deeds or any(one.kind in _COUNTED for one in said):
            continue
        piece.kind, piece.roles = "phrase", words().tree["checked"][END]
        for one in (*pieces[every : every + 1], *(one for one in said if one.low in _GAVE)):
            keep_words(one)


def _is_every(pieces: list[Piece], at: int) -> bool:
    """`each`, `every | one`, `all of them`; of the trays of `a few in each tray` not all plants were looked at."""
    lead = pieces[at - 1].low if at else ""
    if pieces[at].low == "every" and at + 1 < len(pieces) and not _is_one(pieces[at + 1]):
        return False
    return ("all" in pieces[at].roles or pieces[at].low in _EVERY) and lead not in _LEADS


def _is_one(piece: Piece) -> bool:
    """The cutting of `every cutting`; every other one and every fifth are some of them."""
    return piece.kind in ("word", "phrase") and piece.low not in _SOME


@looks_for(any_of=_CAME_OUT, beside=("!check",))
def keep_those_out(pieces: list[Piece]) -> None:
    """`tugged lot 8, | 5 slid right out | , 12 held`: how many had no hold is kept, and is no lot, in place."""
    for place, piece in enumerate(pieces):
        end = _OUT.end_at(pieces, place + 1) if is_count(piece) else 0
        if end and any(_tugs(one) for one in pieces[:place]):
            keep_words(*pieces[place:end])


def _tugs(piece: Piece) -> bool:
    """`tugged`, `a | tug`, and one that is no sample."""
    word = piece.roles.get("act") or piece.roles.get("noun")
    return word is not None and word.act == "check" and (bool(word.says.get("sample")) or not word.counts_before)

