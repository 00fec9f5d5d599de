"""Who did it, told with `who`: `it was kit who stuck 44 penstemon`, `the person who potted 20 of lot 9 was bao`.

Rules
1. What is told so of somebody asks nothing.
2. Who did it is left open where somebody is only asked about it, or knows it.
"""

from __future__ import annotations

from typing import Final

from core.notes.days.who import may_be_who
from core.notes.names.people import NAMELIKE
from core.notes.words.pieces import SUBJECTS, Piece
from core.notes.words.said import end_of_statement, keep_words
from core.notes.words.steps import looks_for
from core.vocabulary.everyday import is_given_name
from core.vocabulary.loading import small_words

_POINTING: Final = small_words("doers", "pointing")
_WHO: Final = frozenset({"who", "that"})
_ONE: Final = small_words("doers", "the_one")
_ASKING: Final = small_words("doers", "asking")
_KNOWING: Final = small_words("doers", "knowing")
_NO_DOING: Final = small_words("doers", "no_doing")
_BEFORE: Final = frozenset({"oh", "so", "and", "but", "btw", "fyi", "actually", "also", "well", "yeah"})
_SOMEBODY: Final = small_words("doers", "somebody")
_LEAST_TOLD: Final = 4
_NAME_AND_VERB: Final = 2


def is_somebody(piece: Piece) -> bool:
    """A name by which people are known: `odalys`, `june`."""
    return (may_be_who(piece) and is_given_name(piece.low)) or (piece.low in NAMELIKE and is_given_name(piece.low))


@looks_for(any_of=_WHO, beside=("was", "it's", "its", "twas", "were", "is", "one", *_ASKING, *_KNOWING))
def tell_of_who(pieces: list[Piece]) -> None:
    """`it was dell who closed the vents`, `kit was the one who stuck 44`: told of somebody, in place."""
    for at in range(len(pieces) - 2, 0, -1):
        if pieces[at].low not in _WHO:
            continue
        verb = pieces[at + 1]
        if verb.low in _NO_DOING or verb.kind == "break" or any(p.low == "?" for p in pieces[at:]):
            continue
        if _is_known_who(pieces, at):
            keep_words(*(piece for piece in pieces[at : end_of_statement(pieces, at)] if piece.kind not in SUBJECTS))
            return
        named = _named_before(pieces, at)
        if named is None:
            if _named_after(pieces, at):
                return
            continue
        first, name = named
        pieces[first : at + 1] = [name]
        return


def _is_known_who(pieces: list[Piece], who: int) -> bool:
    """`ask kit | who watered tray 3`, `kit knows who …`: what somebody is asked or knows, and no deed told."""
    if who < _NAME_AND_VERB or pieces[who].low != "who":
        return False
    first, second = pieces[who - 2 : who]
    asked = first.low in _ASKING and is_somebody(second)
    return asked or (is_somebody(first) and second.low in _KNOWING)


def _named_after(pieces: list[Piece], who: int) -> bool:
    """`the person who potted 20 of lot 9 was bao`: bao is put before the deed, in place; whether so it is."""
    stop = end_of_statement(pieces, who)
    while pieces[stop - 1].kind == "mark" or pieces[stop - 1].roles.keys() & {"closes", "remarks"}:
        stop -= 1
    first = who - 1 - (who > 1 and pieces[who - 2].low in ("the", "our"))
    heads = pieces[who - 1].low in _SOMEBODY and (first == 0 or pieces[first - 1].kind in ("break", "moment"))
    name = pieces[stop - 1]
    if not heads or stop - who < _LEAST_TOLD or pieces[stop - 2].low not in ("was", "is") or not is_somebody(name):
        return False
    pieces[stop - 2 : stop] = []
    pieces[first : who + 1] = [name]
    return True


def _named_before(pieces: list[Piece], who: int) -> tuple[int, Piece] | None:
    """Where the words begin that point at somebody before `who`, and the name; None where none does."""
    name, first = pieces[who - 1], who - 1
    if name.low in _ONE:
        while first and (pieces[first].low in _ONE or pieces[first].low in ("the", "was", "is", "were")):
            first -= 1
        name = pieces[first]
    elif name.low in ("was", "is") and first:
        first -= 1
        name = pieces[first]
    else:
        lead = first
        while first and pieces[first - 1].low in _POINTING:
            first -= 1
        if first == lead:
            return None
    while first and pieces[first - 1].low in _BEFORE:
        first -= 1
    may_be = is_somebody(name) or may_be_who(name)
    heads = first == 0 or pieces[first - 1].kind in ("break", "moment")
    return (first, name) if may_be and heads else None
