"""Which deeds only tell what plants are meant: `lost all 5 that we potted`, `6 of the 20 we planted at the marsh`.

Such a deed is not told anew: its words are one unread piece.
"""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import Piece
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_WHO: Final = small_words("relative", "who")
_THAT: Final = small_words("relative", "that")


@looks_for(any_of=_WHO)
def join_relative(pieces: list[Piece]) -> None:
    """Makes each such deed with who did it one unread piece, in place."""
    for place in range(len(pieces) - 2, 0, -1):
        if place + 1 >= len(pieces):
            continue
        who, deed = pieces[place], pieces[place + 1]
        word = deed.roles.get("act") or deed.roles.get("shared")
        if who.low not in _WHO or word is None or word.form != "done" or word.act == "check":
            continue
        that = pieces[place - 1].low in _THAT
        if that or _counted_whole(pieces, place - 1):
            start, end = place - that, place + 2
            while end < len(pieces) and pieces[end].kind == "moment":
                end += 1
            run = pieces[start:end]
            low = " ".join(piece.low for piece in run)
            pieces[start:end] = [Piece("compared", None, run[0].first, run[-1].last, low)]


def _counted_whole(pieces: list[Piece], at: int) -> bool:
    """`6 of the 20`, `the 20`, `all 5`: a whole that was counted before."""
    number = pieces[at]
    if number.kind != "number":
        return False
    before = pieces[at - 1] if at else None
    return number.value.of is not None or (
        before is not None and ("all" in before.roles or before.low in ("the", "of the", "those", "all the"))
    )
