"""Which word of a deed names a bench or a room by the work done there: `moved lot 12 to the weaning shelf`.

Rules
1. After a move and `to` it is part of the name of that place, and no deed of its own.
2. Plants that go to a place for sick ones are held too, where nothing else in the note holds any.
3. What goes `to quarantine`, with no bench or room, is held, and nothing more.
"""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import Piece, names_plants
from core.notes.words.said import begin_of_statement, comma_before, is_end, said_in
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_WORKS: Final = small_words("places", "named_by_work")
_HOLDS: Final = small_words("places", "for_the_sick")
_STRUCTURES: Final = small_words("places", "structures")
_TO: Final = frozenset({"to", "into", "onto", "over to", "in to", "on to"})
_MOVES: Final = frozenset({"took", "brought in", "taken"})


@looks_for(any_of=_WORKS | _HOLDS, beside=("to", "into", "onto"))
def name_work_benches(pieces: list[Piece]) -> None:
    """Makes one word of the name, and a hold of going among the sick, in place."""
    for at in range(len(pieces) - 1, 1, -1):
        said = pieces[at]
        lead = at - 1 - (pieces[at - 1].low == "the")
        if said.low not in _WORKS | _HOLDS or pieces[lead].low not in _TO:
            continue
        moved = next((one for one in pieces[begin_of_statement(pieces, lead) : lead] if _moves(one)), None)
        if moved is None:
            continue
        if at + 1 < len(pieces) and pieces[at + 1].low in _STRUCTURES:
            name = Piece("word", None, said.first, pieces[at + 1].last, said_in(pieces[at : at + 2]))
            held = _holds(said) and not any(one is not said and _holds(one) for one in pieces)
            pieces[at : at + 2] = [name]
            if held:
                _hold_after(pieces, at, said)
        elif _holds(said) and is_end(pieces, at + 1) and _named(pieces, lead):
            moved.roles, moved.used = {"filler": True}, True


def _hold_after(pieces: list[Piece], at: int, hold: Piece) -> None:
    """Puts a hold after the place and the day that the move was, with that day, in place."""
    end = at + 1
    while end < len(pieces) and pieces[end].kind == "moment":
        end += 1
    days = [day.copied() for day in pieces[at + 1 : end]]
    comma = comma_before(Piece("word", None, pieces[end - 1].last, pieces[end - 1].last))
    pieces[end:end] = [comma, hold, *days]


def _moves(piece: Piece) -> bool:
    word = piece.roles.get("act")
    return (word is not None and bool(word.act == "move")) or ("shared" in piece.roles and piece.low in _MOVES)


def _holds(piece: Piece) -> bool:
    word = piece.roles.get("act")
    return (word is not None and bool(word.act == "hold")) or ("shared" in piece.roles and piece.low in _HOLDS)


def _named(pieces: list[Piece], end: int) -> bool:
    return any(map(names_plants, pieces[begin_of_statement(pieces, end) : end]))
