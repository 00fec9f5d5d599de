"""How warm a place got, told with a verb of its own or with when somebody saw it, and how it is read off."""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import Piece
from core.notes.words.said import end_of_statement, keep_words, said_in
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_GETTING: Final = small_words("temps", "getting")
_UP_TO: Final = small_words("temps", "up_to")
_ARRIVING: Final = small_words("temps", "arriving")
_DEGREES: Final = frozenset({"temp", "degrees"})
_WORDS_OF_ARRIVING: Final = 4


@looks_for(any_of=_GETTING, beside=("=temp", "=degrees"))
def _find_heat_reached(pieces: list[Piece]) -> None:
    """`cold frame got down to 29f`, `cooler says 4 c`: read there, and nothing gathered, lost or heard, in place."""
    for at in range(1, len(pieces) - 1):
        if pieces[at].low not in _GETTING or "place_word" not in pieces[at - 1].roles:
            continue
        end = at + 1
        while end < len(pieces) - 1 and pieces[end].low in _UP_TO:
            end += 1
        if pieces[end].kind in _DEGREES:
            for piece in pieces[at:end]:
                piece.kind, piece.roles, piece.used = "phrase", {"filler": True}, True


@looks_for("when", beside=("=temp", "=degrees"))
def _keep_when_seen(pieces: list[Piece]) -> None:
    """`fridge was 58f when i got here`: when it was read, in place."""
    for at in range(1, len(pieces)):
        if pieces[at].low != "when" or pieces[at - 1].kind not in _DEGREES:
            continue
        end = end_of_statement(pieces, at)
        if end - at <= _WORDS_OF_ARRIVING and said_in(pieces[at + 1 : end]) in _ARRIVING:
            keep_words(*pieces[at:end])


FIND_HEAT_TOLD: Final = (_find_heat_reached, _keep_when_seen)
"""The steps in their order."""
