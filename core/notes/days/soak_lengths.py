"""Is a length of time that of a soak, and no dip and no watering: for hours, for days, overnight?"""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import Piece
from core.vocabulary.loading import read_toml

_SHORTEST_SECONDS: Final[int] = 60 * read_toml("small_words.toml")["treated"]["shortest_soak_minutes"]


def lasts_as_soaks(piece: Piece) -> bool:
    """`24 h`, `two days`, `overnight`: too long for a dip, or for plants to stand in water to be watered."""
    if piece.kind != "duration":
        return False
    length = piece.value[0]
    return bool(length.months or length.days or length.seconds >= _SHORTEST_SECONDS)
