"""Which numbers beside a deed are no count of it: they say how far, what is left, or what is still to be done."""

from __future__ import annotations

from typing import Final

from core.notes.acts.slots import Slots
from core.notes.words.act_kinds import COUNTLESS
from core.notes.words.pieces import Piece, is_act
from core.vocabulary.loading import small_words

_TO_COME: Final = small_words("beside", "to_come")
_BEFORE_ENDS: Final = small_words("dates", "until") | {"hit", "reached", "touched"}
"""After these comes how far it went, or when it ends (`moved lot 9 out til 3`)."""
_WAYS: Final = frozenset({"over", "up", "down", "left", "right", "across", "along", "further", "closer"})


def is_no_count(slots: Slots, pieces: list[Piece], piece: Piece) -> bool:
    """`3/cell`, `in two`, `two benches down`, `wilted when it hit 95`: numbers that say how, not how many."""
    place = pieces.index(piece)
    if place and pieces[place - 1].low in _BEFORE_ENDS:
        return True
    if place + 1 < len(pieces) and pieces[place + 1].low == "/":
        return True
    if slots.act == "move" and _says_how_far(pieces, place):
        return True
    if _counts_pests(slots, pieces, place):
        return True
    if slots.act == "tend" and place and pieces[place - 1].low in ("to", "down to"):
        # "thinned tray 6 to one each": what is left.
        return True
    if slots.act == "check" and _tells_in_what(pieces, place):
        return True
    if _comes_later(pieces, place):
        return True
    if slots.act in COUNTLESS | {"move"} and place and pieces[place - 1].low == "left":
        return True
    return slots.act == "split" and place > 0 and pieces[place - 1].low in ("in", "into") and piece.value.value <= 4


def _tells_in_what(pieces: list[Piece], place: int) -> bool:
    """`lot 9 rooted in 14`: days, or a tray; not the count of `30 in 20 rooted`."""
    led = place > 0 and pieces[place - 1].low.split(" ")[-1] == "in"
    return led and not any(map(is_act, pieces[place + 1 : place + 2]))


def _comes_later(pieces: list[Piece], place: int) -> bool:
    """`fed lots 20 and 21, 23 next week`, `potted lot 4, 6 tomorrow`: what is still to be done."""
    after = pieces[place + 1] if place == 0 and len(pieces) > 1 else None
    if after is None:
        return False
    coming = after.kind == "moment" and after.value.which in ("next", "coming")
    return coming or "loose_times" in after.roles or after.low in _TO_COME


def _counts_pests(slots: Slots, pieces: list[Piece], place: int) -> bool:
    """`picked 12 snails off lot 9`, `counted 12 aphids`: so many pests, no plants."""
    after = pieces[place + 1] if place + 1 < len(pieces) else None
    pests = after is not None and (after.roles.get("cause") in ("pest", "animal") or after.kind == "saying")
    return pests and slots.act in ("tend", "check")


def _says_how_far(pieces: list[Piece], place: int) -> bool:
    """`moved tray 10 one over`, `moved lot 9 two benches down`."""
    after = [piece.low for piece in pieces[place + 1 : place + 4]]
    way = next((at for at, low in enumerate(after[:2]) if low in _WAYS), None)
    led_on = way is not None and after[way + 1 : way + 2] in (["to"], ["into"], ["from"])
    named = any(piece.kind in ("lots", "trays") for piece in pieces[:place])
    return named and ((way is not None and not led_on) or (pieces[place].low.startswith("over ") and not after))
