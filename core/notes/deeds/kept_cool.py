"""What only stands cool, with no chill of seed: cuttings that wait in the fridge to be stuck.

Rules
1. Cuttings that were just taken or stuck, or are named by their form, wait there; so do bags told of in passing.
2. Plants that were counted and stand there for a day wait there too; a length of time or seed is a chill.
3. The bag or jar of seed that was just gathered is kept there.
4. So many of a lot that were moved into the cold, or all of it for some days, are plants; a chill of seed takes weeks.
"""

from __future__ import annotations

from typing import Final

from core.notes.parting.clauses import Clause
from core.notes.words.pieces import Piece, is_act
from core.vocabulary.loading import read_toml, small_words

_OWN: Final = frozenset({"number", "lots", "trays", "quote", "duration"})
_LEADS: Final = frozenset({"in", "into", "to", "put"})
_SHORTEST_CHILL_DAYS: Final[int] = read_toml("small_words.toml")["strat"]["shortest_chill_days"]
_SEEDS: Final = small_words("names", "seeds")
_VESSELS: Final = small_words("strat", "vessels")
_BEFORE_VESSELS: Final = frozenset({"the", "a", "my", "our", "put", "in", "paper", "plastic", "seed"})
_BAGS: Final = _VESSELS | {"bundle", "bundles"}
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


def stores_vessel(before: Clause, clause: Clause) -> bool:
    """`collected toyon seed 40 g, bag is in the fridge`: where the bag is kept, and no chill that has begun."""
    if before.act != "collect" or not chills(clause) or clause.kinds() & _OWN or clause.has("plant", "medium"):
        return False
    first = next((piece.low for piece in clause.pieces if piece.low not in _BEFORE_VESSELS), "")
    return first.removesuffix("'s").split(" ")[-1] in _VESSELS


def stores_those_told(before: list[Clause], clause: Clause) -> bool:
    """`kit dropped off 20 ceanothus cuttings, in the fridge`, `sage tips, wrapped wet, in fridge`: where those wait
    that were told of without a deed.
    """
    if not chills(clause) or clause.kinds() & _OWN or clause.has("plant", "cover_noun", "what"):
        return False
    for told in reversed(before):
        if told.act is not None or told.kinds() & {"lots", "trays"}:
            return False
        if _tells_wood(told):
            return True
    return False


def chills(clause: Clause) -> bool:
    """Whether a clause says that a chill begins."""
    cold = clause.act == "treat" and clause.says.get("treatment") == "cold_stratify"
    return cold and not clause.says.get("ends")


def only_stored(clause: Clause, *, opens: bool) -> bool:
    """`sage cuttings in the cooler`, `40 sage in cooler for tomorrow`: where cuttings wait, and no word of a chill."""
    if clause.act != "treat" or clause.says != {"treatment": "cold_stratify"} or "duration" in clause.kinds():
        return False
    deeds = [piece for piece in clause.pieces if is_act(piece) and piece.low != "put"]
    if len(deeds) != 1 or deeds[0].low.split(" ")[0] not in _LEADS:
        return False
    return _tells_wood(clause) or _waits(clause) or ((opens or clause.has("plant")) and _is_bag_seen(clause))


def _tells_wood(clause: Clause) -> bool:
    """Whether a clause names cuttings, or the wood that they are of."""
    named = clause.has("cutting", "wood") or any(piece.low in ("cuttings", "cutting") for piece in clause.pieces)
    return named or any(piece.roles.get("what") == "cuttings" for piece in clause.pieces)


def _is_bag_seen(clause: Clause) -> bool:
    """`3 bags of toyon in the cooler`: bags that nobody says to have been put there, and not that seed is in them."""
    bags = any(piece.low.split(" ")[-1] in _BAGS for piece in clause.pieces)
    put = any(piece.low == "put" for piece in clause.pieces)
    seed = clause.has("what", "medium") or any(piece.low in _SEEDS for piece in clause.pieces)
    return bags and not (put or seed or clause.kinds() & {"lots", "trays", "moment"})


def _waits(clause: Clause) -> bool:
    """`40 sage in cooler for tomorrow`: so many that are wanted on a day."""
    led = any(
        lead.low == "for" and (day.kind == "moment" or day.low in _LATER)
        for lead, day in zip(clause.pieces, clause.pieces[1:], strict=False)
    )
    counted = not clause.kinds().isdisjoint(("number", "amount"))
    return led and counted and clause.has("plant") and not clause.has("what")


def stands_cool(said: list[Piece], cold: int) -> bool:
    """`moved 10 of lot 9 to the cooler`, `moved lot 9 to the cooler for 2 days`: what was moved to a cold place for a
    while, and no chill of seed.
    """
    if any(piece.low in _SEEDS or "what" in piece.roles for piece in said):
        return False
    counted = any(
        (one.kind, of.low, lot.kind) == ("number", "of", "lots")
        for one, of, lot in zip(said[:cold], said[1:cold], said[2:cold], strict=False)
    )
    lasts = next((piece.value[0] for piece in said[cold:] if piece.kind == "duration"), None)
    if lasts is None:
        return counted
    return bool(lasts.day_count() < _SHORTEST_CHILL_DAYS)
