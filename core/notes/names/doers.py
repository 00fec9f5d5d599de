"""Who did it, told with `who`: `kit is who watered tray 3`, `the person who potted 20 of lot 9 was bao`.

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

_ASKING: Final = small_words("doers", "asking")
_KNOWING: Final = small_words("doers", "knowing")
_IS: Final = frozenset({"is", "was"})
_NO_DOING: Final = small_words("doers", "no_doing")
_SOMEBODY: Final = small_words("doers", "somebody")
_LEAST_TOLD: Final = 4
_NAME_AND_VERB: Final = 2


def is_somebody(piece: Piece) -> bool:
    """A name by which people are known: `odalys`, `june`."""
    return is_given_name(piece.low) and (may_be_who(piece) or piece.low in NAMELIKE)


@looks_for("who", beside=_SOMEBODY | _ASKING | _KNOWING | _IS)
def tell_of_who(pieces: list[Piece]) -> None:
    """`kit is who watered tray 3`, `the person who potted 20 of lot 9 was bao`: told of somebody, in place."""
    for at in range(len(pieces) - 2, 0, -1):
        if pieces[at].low != "who" or any(piece.low == "?" for piece in pieces[at:]):
            continue
        if _is_known_who(pieces, at):
            keep_words(*(piece for piece in pieces[at : end_of_statement(pieces, at)] if piece.kind not in SUBJECTS))
            return
        heads = at == _NAME_AND_VERB or (at > _NAME_AND_VERB and pieces[at - 3].kind in ("break", "moment"))
        is_who = heads and pieces[at - 1].low in _IS and is_somebody(pieces[at - 2])
        if is_who and pieces[at + 1].low not in _NO_DOING:
            del pieces[at - 1 : at + 1]
            return
        if _named_after(pieces, at):
            return


def _is_known_who(pieces: list[Piece], who: int) -> bool:
    """`ask kit | who watered tray 3`, `kit knows who …`: what somebody is asked or knows, and no deed told."""
    if who < _NAME_AND_VERB:
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
