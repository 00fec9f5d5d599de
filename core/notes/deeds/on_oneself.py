"""What seed or cuttings did that cling to somebody: `got seeds in my hair` gathers nothing."""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import COUNTS, SUBJECTS, Piece
from core.notes.words.said import keep_words, statement_at
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_CLINGING: Final = small_words("home", "clinging_to")
_OWNERS: Final = small_words("home", "all_owners")
_GETTING: Final = frozenset({"got", "get", "getting", "gets"})


@looks_for(any_of=_CLINGING, beside=_GETTING)
def keep_on_oneself(pieces: list[Piece]) -> None:
    """`got seeds in my hair`, `getting toyon seed all over my socks`: what clings, in place."""
    for place, piece in enumerate(pieces):
        if piece.low not in _CLINGING or not place or pieces[place - 1].low not in _OWNERS:
            continue
        start, end = statement_at(pieces, place)
        said = pieces[start:end]
        got = next((at for at, one in enumerate(said) if one.low in _GETTING), None)
        if got is not None and not any(one.kind in SUBJECTS or one.kind in COUNTS for one in said):
            keep_words(*said[got:])
