"""Somebody with a title is no plant, though the name is one's: `mrs alder dropped off 20 ceanothus cuttings`."""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from core.notes.words.pieces import NO_ROLES, Piece
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_TITLES: Final = small_words("titled", "titles")


@looks_for(any_of=_TITLES, beside=("@plant",))
def name_titled(pieces: list[Piece]) -> None:
    """Makes a plant's name after a title a word without a meaning, in place."""
    for title, who in pairwise(pieces):
        if title.low in _TITLES and "plant" in who.roles and who.first == title.last:
            who.kind, who.value, who.roles = "word", None, NO_ROLES
