"""Is it water that was given, or water that stands there: `tray 4 has 1 in water still`, `topped tray 4 up with water`.

Rules
1. Water that is still there, or is there, was not given now; nor is a tray that is out of water.
2. What was topped up with water was watered, and what was topped up without a word of it was not pruned.
"""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import SUBJECTS, Piece, is_act
from core.notes.words.said import deed_of, keep, statements
from core.notes.words.steps import InEach, looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_STANDS: Final = small_words("wet_already", "stands")
_TOPPED: Final = small_words("wet_already", "topped")
_HOLDERS: Final = small_words("wet_already", "holders")
_SOAKED: Final = frozenset({"soaking", "soaked", "drenched", "saturated", "flooded"})
_ARTICLES: Final = small_words("places", "articles")
_DEPTHS: Final = frozenset({"size", "depth"})
_DRY: Final = "out of water"


@looks_for("water", any_of=_STANDS, beside=("=size", "=depth"))
def _keep_standing_water(said: list[Piece]) -> None:
    """`tray 4 has 1 in water still`: how it stands, in place."""
    at = next((at for at, piece in enumerate(said) if piece.low.split(" ")[0] == "water"), None)
    if at is None or not any(piece.low in _STANDS for piece in said):
        return
    others = any(is_act(piece) for place, piece in enumerate(said) if place != at and piece.low != "left")
    if not others and any(piece.kind in _DEPTHS for piece in said):
        keep(*(piece for piece in said if piece.kind in _DEPTHS or piece.low == "left"), said[at])


@looks_for(_DRY)
def _keep_dry_trays(said: list[Piece]) -> None:
    """`tray 4 out of water`: it ran dry, and no soak ends, in place."""
    trays = any(piece.kind == "trays" for piece in said)
    for piece in said:
        if piece.low == _DRY and is_act(piece) and trays and not any("what" in one.roles for one in said):
            keep(piece)


@looks_for(any_of=_TOPPED)
def _top_up(said: list[Piece]) -> None:
    """`topped the water in tray 4 up to 1 in`, `topped tray 4 up`, `topped the reservoir under tray 6`, in place."""
    at = next((at for at, piece in enumerate(said) if piece.low in _TOPPED), None)
    if at is None:
        return
    up = next((piece for piece in said[at + 1 :] if piece.low in ("up", "off", "up to")), None)
    told = [piece for piece in said[at + 1 :] if piece.low not in _ARTICLES][:2]
    held = any(piece.low.split(" ")[-1] in _HOLDERS for piece in told)
    water = next((piece for piece in said[at + 1 :] if piece.low.split(" ")[0] == "water"), None)
    named = any(piece.kind in SUBJECTS for piece in said)
    deep = any(piece.kind in _DEPTHS for piece in said)
    if water is not None and named and not held and not any(map(is_act, said[:at])):
        said[at].kind, said[at].roles = "phrase", {"act": ActWord(act="water", says={"method": "tray"} if deep else {})}
        for piece in (water, up):
            if piece is not None:
                piece.roles, piece.used = {"filler": True}, True
    elif deed_of(said[at]) is not None and ((up is not None and not deep) or held):
        keep(said[at])


@looks_for(any_of=_SOAKED, beside=("too",))
def keep_too_wet(pieces: list[Piece]) -> None:
    """`tray 4 soaking, too much mist`: how it is, in place."""
    for piece, mark, after in zip(pieces, pieces[1:], pieces[2:], strict=False):
        if piece.low in _SOAKED and is_act(piece) and mark.kind == "break" and after.low.split(" ")[0] == "too":
            keep(piece)


tell_water: Final = InEach(statements, _keep_standing_water, _keep_dry_trays, _top_up)
"""Tells water that was given from water that stands there, in place."""
