"""What a bare number is beside a deed that counts nothing: a lot, a count of some, or a measure without its unit."""

from __future__ import annotations

from typing import Final

from core.notes.acts.slots import Slots, use
from core.notes.details.bare_numbers import LEAST_STRENGTH, is_bare, stands_alone
from core.notes.details.details import RANKING
from core.notes.details.meanings import hormone
from core.notes.details.no_counts import is_no_count
from core.notes.details.place_names import list_start
from core.notes.words.numbers import Number
from core.notes.words.pieces import Piece

_LASTING: Final = frozenset({"soak", "smoke", "acid", "cold_stratify", "warm_stratify"})
_HEATED: Final = frozenset({"at", "@"})
_COLDEST_BATH: Final = 30
_HOTTEST_COUNT: Final = 100
_MOST_LOTS: Final = 60
_HOLDING: Final = frozenset({"container", "what", "thing", "place_word", "cover_noun"})
"""After a plant these are what is counted, and not the plants."""


def numbers_as_lots(slots: Slots, pieces: list[Piece], numbers: list[Piece]) -> None:
    """Bare numbers beside a deed that counts nothing: lots, where nothing else explains them."""
    named = any(slots.values.get(name) for name in ("lots", "trays", "plant"))
    if not named and len(numbers) > 1 and all(map(is_bare, numbers)):
        slots.asks.append("number")
    if not named and "number" in slots.asks:
        return
    for piece in numbers:
        place = pieces.index(piece)
        if _lacks_unit(slots, pieces, place):
            if slots.takes("duration") or slots.takes("temp_c"):
                slots.asks.append("unit")
        elif not _is_of_something_else(slots, pieces, place):
            _count_or_lot(slots, pieces, place)


def _lacks_unit(slots: Slots, pieces: list[Piece], place: int) -> bool:
    """`soaked for 20`, `at 90`: a length of time or a heat whose unit is not said."""
    number: Number = pieces[place].value
    before = pieces[place - 1].low if place else ""
    if before in ("for", "about") and slots.takes("duration"):
        return True
    if number.whole is None or number.of is not None or number.approx:
        return True
    if _led_by_word(pieces, place):
        return False
    if before in _HEATED and slots.takes("temp_c") and number.value > _COLDEST_BATH:
        return True
    after = pieces[place + 1] if place + 1 < len(pieces) else None
    seed = after is not None and not after.roles.keys().isdisjoint(("plant", "what", "source_name"))
    hot = slots.takes("temp_c") and slots.values.get("treatment") == "hot_water" and number.value >= _HOTTEST_COUNT
    return hot and not seed and not _is_ranked(slots, pieces, place)


def _led_by_word(pieces: list[Piece], place: int) -> bool:
    """A number, or the list that it stands in, after an unread word (`zorkia 4`)."""
    first = list_start(pieces, place)
    led = pieces[first - 1] if first else None
    return led is not None and led.kind == "word" and not led.used


def _is_ranked(slots: Slots, pieces: list[Piece], place: int) -> bool:
    """`x 3`, `since 4`, `only 5`, `4 like lot 9`: no lot and no measure."""
    before = pieces[place - 1].low if place else ""
    after = pieces[place + 1] if place + 1 < len(pieces) else None
    ranked = before in ("x", "since", "til", "till", "until") or before in RANKING
    return ranked or slots.act == "wilt" or (after is not None and after.kind == "compared")


def _is_of_something_else(slots: Slots, pieces: list[Piece], place: int) -> bool:
    """Whether a number counts or measures something that no lot is named by."""
    piece = pieces[place]
    if _led_by_word(pieces, place) or _is_ranked(slots, pieces, place):
        return True
    strong = slots.takes("hormone") and piece.value.value >= LEAST_STRENGTH
    if strong and (slots.values.get("hormone") or (_dips(slots) and _ends_there(pieces, place))):
        hormone(slots, piece, ppm=piece.value.value)
        return True
    return is_no_count(slots, pieces, piece)


def _dips(slots: Slots) -> bool:
    """`dipped lot 9 3000`, after which a large number is the strength."""
    return bool(slots.values.get("treatment") == "hormone")


def _ends_there(pieces: list[Piece], place: int) -> bool:
    """Whether a number counts no plant after it."""
    of_plants = any("plant" in piece.roles for piece in pieces[place + 1 : place + 2])
    return stands_alone(pieces, pieces[place]) and not of_plants


def _count_or_lot(slots: Slots, pieces: list[Piece], place: int) -> None:
    """`fed 12 of them`, `hardened 12 of lot 9` count; `misted 14` names a lot; beside one `soaked lot 9 20` lacks its
    unit.
    """
    piece = pieces[place]
    number: Number = piece.value
    after = pieces[place + 1] if place + 1 < len(pieces) else None
    some = slots.act in ("tend", "hold", "treat", "harden") and "count" not in slots.values
    of_them = after is not None and after.low in ("of", "of them", "of em", "of those", "of these")
    if some and (of_them or _counts_plant(pieces, place)):
        slots.put("count", number.whole, piece)
    elif any(name in slots.values for name in ("lots", "trays", "plant")):
        last = slots.act != "treat" or (after is None and slots.values.get("treatment") in _LASTING)
        if slots.takes("duration") and "duration" not in slots.values and last:
            slots.asks.append("unit")
        elif some and after is not None:
            slots.put("count", number.whole, piece)
    elif number.high is not None:
        low, high = int(number.value), int(number.high)
        if high - low < _MOST_LOTS:
            slots.values["lots"] = tuple(str(one) for one in range(low, high + 1))
            use(piece)
    elif piece.low.isdigit() and stands_alone(pieces, piece):
        slots.values["lots"] = (piece.low,)
        slots.values["loose"] = True
        use(piece)


def _counts_plant(pieces: list[Piece], place: int) -> bool:
    """`40 milkweed hardening off`, `fed 18 black sage`: plants by their number; not `fed 3 toyon trays`."""
    after = pieces[place + 1 : place + 3]
    if not after or "plant" not in after[0].roles or not pieces[place].low.isdigit():
        return False
    return len(after) < 2 or _HOLDING.isdisjoint(after[1].roles)
