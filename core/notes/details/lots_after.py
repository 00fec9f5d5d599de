"""Which bare number after `in`, `from` or `off` is a lot (`lost 4 in 14`, `lost some in 14`)."""

from __future__ import annotations

from typing import Final

from core.notes.acts.slots import Slots
from core.notes.details.meanings import hormone
from core.notes.details.vessels import is_vessel
from core.notes.words.pieces import Piece
from core.vocabulary.everyday import is_given_name
from core.vocabulary.loading import small_words

_SHORTEST: Final = 4
_LEAST_PPM: Final = 500
_SUFFERED: Final = frozenset({"lose", "wilt"})
_BEFORE_LOTS: Final = frozenset({"in", "from", "off", "out of", "for", "to"})
_OUT_OF: Final = frozenset({"from", "off", "out of"})
_OUT: Final = ["out", "of"]
_NAMING: Final = frozenset({"as", "into", "to"})
_PLANTS: Final = small_words("sources", "many_mothers") | {"plants"}


def lot_after_preposition(slots: Slots, pieces: list[Piece]) -> None:
    """Takes a bare number after a little word as the lot (`lost 4 in 15`)."""
    if "lots" in slots.values or "trays" in slots.values:
        return
    numbers = [piece for piece in pieces if piece.kind in ("number", "fraction") and not piece.used]
    if not numbers:
        return
    for place, piece in enumerate(pieces[:-1]):
        following = pieces[place + 1]
        bare = (
            following.kind == "number"
            and not following.used
            and following.value.whole is not None
            and following.value.high is None
            and not following.value.approx
            and not (place + 2 < len(pieces) and _is_counted(pieces[place + 2]))
        )
        if (
            bare
            and following.value.of is None
            and (_parts_from(slots, pieces, place) if slots.act in ("split", "merge") else piece.low in _BEFORE_LOTS)
        ):
            counted = len(numbers) > 1 or any("vague" in told.roles for told in pieces[:place])
            counted = counted or slots.act in _SUFFERED
            if piece.low in ("for", "to") or (not counted and piece.low == "in"):
                continue
            if place + 2 < len(pieces) and is_vessel(pieces[place + 2]):
                continue
            if slots.values.get("treatment") == "hormone" and following.value.value >= _LEAST_PPM:
                hormone(slots, following, ppm=following.value.value)
            elif slots.takes("hormone") and following.value.value >= _LEAST_PPM:
                return
            elif following.low.isdigit():
                slots.put("lots", (following.low,), following)
            return


def _parts_from(slots: Slots, pieces: list[Piece], place: int) -> bool:
    """`split 12 out of | 33 as lot 34`: what the new lot came from."""
    after = pieces[place + 2].low if place + 2 < len(pieces) else ""
    out_of = pieces[place].low in _OUT_OF or [piece.low for piece in pieces[max(0, place - 1) : place + 1]] == _OUT
    return slots.act == "split" and out_of and after in _NAMING


def _is_counted(piece: Piece) -> bool:
    """The azalea of `off 24 azalea cuttings`, the s of `in 72s`, the orders of `in 3 orders`: what a number counts, or
    what it names.
    """
    unread = piece.kind == "word" or "thing" in piece.roles
    if unread and piece.low.endswith("s") and len(piece.low) >= _SHORTEST and not is_given_name(piece.low):
        return True
    return piece.low == "s" or piece.low in _PLANTS or bool(piece.roles.keys() & {"plant", "what", "cutting"})
