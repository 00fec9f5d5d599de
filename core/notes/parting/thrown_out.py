"""What was thrown out that was no plant: `tossed 6 weeds out of lot 9`, `threw out old perlite`, `tossed 6 old trays`.

Rules
1. Weeds that were thrown out were weeded.
2. A medium, empties, and containers that are old or broken hold no plants where none are named after "of".
"""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import Piece, is_act
from core.notes.words.said import deed_of, keep, statements
from core.notes.words.steps import InEach, looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_WEEDS: Final = small_words("thrown_out", "weeds")
_EMPTIES: Final = small_words("thrown_out", "empties")
_OLD: Final = small_words("thrown_out", "old")
_KEPT_VERBS: Final = small_words("thrown_out", "no_throwing")
_PULLED: Final = frozenset({"pulled", "picked", "dug"})
_BAGS: Final = small_words("thrown_out", "bags")
_BEFORE: Final = small_words("no_plants", "before_things")
_VESSELS: Final = ("container", "pot_size", "thing")


@looks_for(any_of=_WEEDS, beside=("!lose", "~dumped", *_PULLED))
def _throw_weeds(said: list[Piece]) -> None:
    """`tossed 6 weeds out of lot 9`: weeded, and the weeds are counted."""
    at = next((at for at, piece in enumerate(said) if _throws(piece) or piece.low in _PULLED), len(said))
    end = _object_of(said, at)
    if end is not None and said[end].low in _WEEDS:
        said[at].kind, said[at].roles = "phrase", {"act": ActWord(act="tend", says={"care": "weed"})}
        keep(*(piece for piece in said[at + 1 : end + 1] if "filler" not in piece.roles))


@looks_for("@medium", "=medium", any_of=_EMPTIES | _OLD, beside=("!lose", "~dumped"))
def _throw_things(said: list[Piece]) -> None:
    """`threw out old perlite`, `tossed 4 empties from lot 9`, `tossed 6 old trays`: no plants."""
    at = next((at for at, piece in enumerate(said) if _throws(piece)), len(said))
    end = _object_of(said, at)
    if end is None or (end + 2 < len(said) and said[end + 1].low == "of" and "filler" not in said[end + 2].roles):
        return
    old = any(piece.low.split(" ")[0] in _OLD for piece in said[at + 1 : end + 1])
    vessel = old and not said[end].roles.keys().isdisjoint(_VESSELS)
    medium = said[at].low != "dumped" and (said[end].kind == "medium" or "medium" in said[end].roles)
    if said[end].low in _EMPTIES or medium or vessel:
        keep(*(piece for piece in said[at : end + 1] if "filler" not in piece.roles))


def _throws(piece: Piece) -> bool:
    word = deed_of(piece)
    if word is None:
        return is_act(piece) and piece.roles["shared"].rule == "dumped"
    return word.act == "lose" and not word.counts_before and piece.low not in _KEPT_VERBS


def _object_of(said: list[Piece], at: int) -> int | None:
    """Where the thing stands that was thrown out: past its number and how it was; None where there is none."""
    at += 1
    while at < len(said) and (
        said[at].kind in ("number", "amount", "size")
        or said[at].low in _BEFORE | _OLD | _BAGS
        or _is_bad(said[at])
        or (at + 1 < len(said) and said[at + 1].low == "of" and "container" in said[at].roles)
    ):
        at += 1
    return at if at < len(said) else None


def _is_bad(piece: Piece) -> bool:
    """The `moldy` of `tossed the moldy perlite`."""
    word = deed_of(piece)
    return word is not None and word.act == "lose" and word.counts_before


keep_thrown_out: Final = InEach(statements, _throw_weeds, _throw_things)
"""Tells what was thrown out of plants lost, in place."""
