"""What a bare number beside a treatment of seed is, where what was treated is named: a count or a length, no lot."""

from __future__ import annotations

from typing import Final

from core.notes.details.drafts import Draft
from core.notes.words.pieces import Piece

_LASTING: Final = frozenset({"soak", "smoke", "acid", "cold_stratify", "warm_stratify"})


def ask_how_long(draft: Draft) -> None:
    """`nicked lot 9 then soaked 24`: after a lot that was treated a bare number is how long, and no other lot."""
    slots = draft.slots
    if slots is None or not _is_loose(draft) or slots.values.get("treatment") not in _LASTING:
        return
    for piece in _take_back(draft):
        piece.used = False
    slots.asks.append("unit")


def count_of_headed(draft: Draft) -> None:
    """`lupine: nicked 50`, `lupine seed: 50 nicked`: so many seeds of the plant that heads the statement."""
    slots = draft.slots
    if slots is None or not _is_loose(draft):
        return
    if slots.values.get("treatment") in _LASTING and not slots.values.get("duration"):
        ask_how_long(draft)
        return
    for piece in _take_back(draft):
        slots.put("count", piece.value.whole, piece)


def _is_loose(draft: Draft) -> bool:
    """Whether a treatment has a lot that only a bare number named."""
    slots = draft.slots
    return slots is not None and draft.act == "treat" and bool(slots.values.get("loose"))


def _take_back(draft: Draft) -> list[Piece]:
    """The bare numbers that were taken for the lot, which it no longer is."""
    slots = draft.slots
    if slots is None:
        return []
    named = slots.values.pop("lots", ())
    slots.values.pop("loose")
    return [one for one in slots.clause.pieces if one.kind == "number" and one.low in named]
