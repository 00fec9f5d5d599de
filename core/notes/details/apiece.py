"""Counts that are told of each of several lots or trays: one entry for each (`lots 5 and 6 lost 3 and 4`)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from typing import Any, Final

from core.entries import Container
from core.notes.acts.slots import Slots
from core.notes.counts.listed_counts import EACH
from core.notes.words.pieces import Piece

_VESSELS: Final = frozenset({"tray", "flat"})
_TRAY: Final = Container(kind="tray")
COUNTS: Final = ("count", "of", "approx", "count_max", "share", "all_of", "vent_open", "amount")
_MEASURES: Final = frozenset({"duration", "amount", "size", "percent", "ppm", "temp", "times"})


def says_each(slots: Slots, pieces: list[Piece]) -> None:
    """Keeps that the count, or the amount, is told of each lot or tray (`5 rotted each`, `1/2 tsp in each`)."""
    if slots.values.get("apiece"):
        return
    if slots.values.get("count") is None:
        _amount_in_each(slots, pieces)
        return
    for place, piece in enumerate(pieces):
        if (piece.low not in EACH and piece.low != "per") or _is_of_price(pieces, place):
            continue
        per = piece.low == "per" and any(one.low in _VESSELS for one in pieces[place + 1 : place + 2])
        measured = place > 0 and (pieces[place - 1].kind in _MEASURES or (place > 1 and pieces[place - 2].low == "$"))
        if (piece.low not in EACH and not per) or measured:
            continue
        number = pieces[place - 1] if place and not per else None
        several = max(len(slots.values.get("lots", ())), len(slots.values.get("trays", ())))
        if number is not None and number.kind == "number" and not number.used:
            # "72 in trays 2 and 3, 36 each": the whole, and what each holds of it.
            if number.value.whole is None or number.value.whole * several != slots.values["count"]:
                continue
            slots.values["count"], number.used = number.value.whole, True
        slots.values["apiece"] = ({key: slots.values[key] for key in COUNTS if slots.values.get(key) is not None},)
        piece.used = True


def _is_of_price(pieces: list[Piece], place: int) -> bool:
    """The "each" of `at 12 each`, where that is kept as a price."""
    before = pieces[max(0, place - 2) : place]
    return len(before) > 1 and pieces[place].kind == before[0].kind == "kept" and before[0].low in ("at", "@", "for")


def _amount_in_each(slots: Slots, pieces: list[Piece]) -> None:
    """`sowed poppy in trays 3 and 4, 1/2 tsp each`: so much in each tray."""
    amount = slots.values.get("amount")
    for before, each in pairwise(pieces):
        if amount is not None and before.kind == "amount" and before.used and each.low in EACH:
            slots.values["apiece"] = ({"amount": amount},)
            each.used = True


def told_of(values: dict[str, Any]) -> str | None:
    """Which of an entry's lists, its lots or its trays, counts for each are told of; None where they fit none."""
    counts = values["apiece"]
    lists = [kind for kind in ("lots", "trays") if len(values.get(kind, ())) > 1 and values[kind] != ("all",)]
    if len(counts) > 1:
        return next((kind for kind in lists if len(values[kind]) == len(counts)), None)
    return lists[0] if len(lists) == 1 else None


def apart(values: dict[str, Any]) -> Sequence[dict[str, Any]]:
    """The values of one entry for each lot or tray, where counts are told of each; else the values alone."""
    hours = values.pop("hours", None)
    if hours:
        return [one for hour in hours for one in apart({**values, "on": hour})]
    each = values.pop("apiece", None)
    kind = told_of({**values, "apiece": each}) if each else None
    if not each or kind is None:
        return [values]
    named = values[kind]
    if kind == "trays" and values.get("container") == _TRAY:
        # "10 toyon per tray, trays 4-7": the trays that are named.
        values = {key: value for key, value in values.items() if key != "container"}
    counts = each if len(each) > 1 else each * len(named)
    vessel = values.get("container")
    if vessel is not None and vessel.count == len(named):
        # "3 trays of toyon, trays 4-6, 48 a tray": each of them is one of the three.
        values = {**values, "container": replace(vessel, count=None)}
    found: list[dict[str, Any]] = []
    for name, told in zip(named, counts, strict=True):
        one = {key: value for key, value in values.items() if key not in COUNTS}
        if found:
            one.pop("rest", None)
        found.append({**one, kind: (name,), **told})
    return found
