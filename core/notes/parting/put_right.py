"""Which plants came out of their tray and were put back at once, so that none were lost: `birds pulled 4, stuck them
back in`.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from core.notes.words.pieces import COUNTS, Piece, is_act
from core.notes.words.said import deed_of, keep, statements
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_PUTTING: Final = small_words("put_right", "putting")
_THEM: Final = small_words("put_right", "them")
_UPROOTING: Final = small_words("put_right", "uprooting")
_BACK: Final = frozenset({"back", "back in", "in again"})
_HARM: Final = ("animal", "pest")


@looks_for("back", beside=_UPROOTING)
def keep_put_right(pieces: list[Piece]) -> None:
    """Keeps the loss and what was stuck again, in place; what became of them is asked."""
    spans = [pieces[start:end] for start, end in statements(pieces)]
    for before, said in pairwise(spans):
        deed = next((at for at, piece in enumerate(before) if piece.low in _UPROOTING), None)
        if deed is None or not (_is_mishap(before[deed]) or any(one.roles.get("cause") in _HARM for one in before)):
            continue
        put = next((at for at, piece in enumerate(said) if piece.low in _PUTTING), None)
        if put is None or any(one.kind in COUNTS or "plant" in one.roles for one in said):
            continue
        told = said[put + 1 : put + 4]
        if any(one.low in _BACK for one in told) and all(one.low in _THEM or one.low in _BACK for one in told[:2]):
            keep(*(one for one in before if "cause" in one.roles), kind="word")
            keep(before[deed], said[put], kind="word")


def _is_mishap(piece: Piece) -> bool:
    """`knocked over`, `dropped`."""
    word = deed_of(piece)
    return is_act(piece) and word is not None and word.act == "lose" and word.says.get("cause") == "handling"
