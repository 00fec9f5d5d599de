"""Who is called as a plant is, and says or shows something: `bay said tray 4 is dry`."""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from core.notes.words.pieces import NO_ROLES, Piece
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_SPEAKING: Final = small_words("speakers", "verbs")
_BEFORE: Final = small_words("speakers", "before")


@looks_for(any_of=_SPEAKING, beside=("@plant",))
def name_speakers(pieces: list[Piece]) -> None:
    """Makes a plant's name that begins a statement, right before `said` or `showed`, a word that may be somebody's, in
    place.
    """
    for at, (who, verb) in enumerate(pairwise(pieces)):
        opens = at == 0 or pieces[at - 1].kind in ("break", "moment") or pieces[at - 1].low in _BEFORE
        if opens and verb.low in _SPEAKING and "plant" in who.roles and who.low.isalpha():
            who.kind, who.value, who.roles = "word", None, NO_ROLES
