"""Who is called as a plant is, and says something: `bay said tray 4 is dry`."""

from __future__ import annotations

from itertools import pairwise

from core.notes.words.pieces import NO_ROLES, Piece
from core.notes.words.steps import looks_for


@looks_for("said", "says", beside=("@plant",))
def name_speakers(pieces: list[Piece]) -> None:
    """Makes a plant's name that begins a statement, right before `said`, a word that may be somebody's, in place."""
    for at, (who, verb) in enumerate(pairwise(pieces)):
        opens = at == 0 or pieces[at - 1].kind in ("break", "moment") or pieces[at - 1].low == "and"
        if opens and verb.low in ("said", "says") and "plant" in who.roles and who.low.isalpha():
            who.kind, who.value, who.roles = "word", None, NO_ROLES
