"""What only stands cool, with no chill of seed: cuttings that wait in the fridge to be stuck.

Rules
1. Cuttings that were just taken or stuck, or are named by their form, wait there.
2. Plants that were counted and stand there for a day wait there too; a length of time or seed is a chill.
"""

from __future__ import annotations

from typing import Final

from core.notes.parting.clauses import Clause
from core.notes.words.pieces import is_act
from core.vocabulary.loading import small_words

_OWN: Final = frozenset({"number", "lots", "trays", "quote", "duration"})
_LEADS: Final = frozenset({"in", "into", "to", "put"})
_LATER: Final = small_words("beside", "to_come")


def stores_wood(before: Clause, clause: Clause) -> bool:
    """`took 40 toyon tips, bagged and in fridge`, `stuck 66 sage 4 in fridge`: where cuttings are kept, and no chill of
    seed and no cover.
    """
    if before.act not in ("stick", "collect") or clause.kinds() & _OWN or clause.has("plant", "cover_noun", "what"):
        return False
    if before.act == "stick":
        return chills(clause)
    wood = before.says.get("what") == "cuttings" or before.has("cutting")
    counted = "number" in before.kinds() and not before.has("what") and chills(clause)
    bagged = clause.act == "cover" and clause.pieces[0].low == "bagged"
    return counted or (wood and "amount" not in clause.kinds() and (bagged or chills(clause)))


def stores_those_told(before: Clause, clause: Clause) -> bool:
    """`kit dropped off 20 ceanothus cuttings, in the fridge`: where those wait that were told of without a deed."""
    if before.act is not None or not chills(clause) or "number" not in before.kinds():
        return False
    cut = before.has("cutting") or any(piece.roles.get("what") == "cuttings" for piece in before.pieces)
    return cut and not clause.kinds() & _OWN and not clause.has("plant", "cover_noun", "what")


def chills(clause: Clause) -> bool:
    """Whether a clause says that a chill begins."""
    cold = clause.act == "treat" and clause.says.get("treatment") == "cold_stratify"
    return cold and not clause.says.get("ends")


def only_stored(clause: Clause) -> bool:
    """`sage cuttings in the cooler`, `40 sage in cooler for tomorrow`: where cuttings wait, and no word of a chill."""
    if clause.act != "treat" or clause.says != {"treatment": "cold_stratify"} or "duration" in clause.kinds():
        return False
    deeds = [piece for piece in clause.pieces if is_act(piece) and piece.low != "put"]
    if len(deeds) != 1 or deeds[0].low.split(" ")[0] not in _LEADS:
        return False
    wood = clause.has("cutting") or any(piece.low in ("cuttings", "cutting") for piece in clause.pieces)
    return wood or _waits(clause)


def _waits(clause: Clause) -> bool:
    """`40 sage in cooler for tomorrow`: so many that are wanted on a day."""
    led = any(
        lead.low == "for" and (day.kind == "moment" or day.low in _LATER)
        for lead, day in zip(clause.pieces, clause.pieces[1:], strict=False)
    )
    return led and "number" in clause.kinds() and clause.has("plant") and not clause.has("what")
