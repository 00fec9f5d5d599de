"""Which detail does a phrase fill by what it means: a medium, a hormone, a pot, a plant, all of it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Final

from core.notes.acts.slots import Slots, joined, use
from core.notes.counts.parts import of_a_part
from core.notes.details.things import container, thing
from core.notes.parting.vents import shuts_another
from core.notes.words.act_kinds import OPENING
from core.notes.words.pieces import SUBJECTS, Piece
from core.vocabulary.loading import small_words

_Take = Callable[[Slots, list[Piece], int, Piece], bool]
"""Takes a meaning of a phrase as a detail; whether the act has a place for it."""
_BRANDS: Final = small_words("hormones", "brands")
_WHOLLY: Final = small_words("covers", "wholly")
_OF_NO_LOT: Final = frozenset({"everything"})
_OF_SOME: Final = small_words("names", "of_some")
_CARE: Final = frozenset({"water", "tend", "cover", "air", "uncover"})
_TELLING: Final = frozenset({
    "act", "shared", "noun", "to_do", "plant", "medium", "container", "pot_size", "cutting", "wood", "filler", "what",
    "all", "vague", "none", "more", "hormone", "hormone_form", "hormone_name", "cause", "negation", "left", "both",
})  # fmt: skip
_TAKES_ALL: Final = frozenset({"lose", "pot", "split", "sell", "give", "plant_out", "move"})


def by_meaning(slots: Slots, pieces: list[Piece], place: int, piece: Piece) -> None:
    """Takes a phrase by the first of its meanings that the act has a place for."""
    roles = piece.roles
    if _TAKEN.isdisjoint(roles):
        return
    for role, take in _BY_MEANING:
        if role in roles and take(slots, pieces, place, piece):
            return


def hormone(slots: Slots, piece: Piece, **known: Any) -> None:
    """Takes what is known of a hormone; a second, different value is left over."""
    if not slots.takes("hormone"):
        return
    held: dict[str, Any] = slots.values.setdefault("hormone", {})
    for key, value in known.items():
        if held.setdefault(key, value) == value:
            use(piece)


def sized(slots: Slots, pieces: list[Piece], place: int, size: str) -> None:
    """`in rose pots`, `in 20 rose pots`: pots of a size that goes by a name, and how many."""
    held: dict[str, Any] = {"kind": "pot", "size": size}
    number = pieces[place - 1] if place > 1 and pieces[place - 2].low in ("in", "into") else None
    if number is None or number.kind != "number" or number.used or not number.value.whole:
        slots.put("container", held, pieces[place])
        return
    slots.put("container", {**held, "count": number.value.whole}, pieces[place], number)


def _for_good(slots: Slots, _: list[Piece], __: int, piece: Piece) -> bool:
    if slots.act not in ("air", "uncover", "cover"):
        return False
    if slots.act == "air":
        slots.act = "uncover"
    use(piece)
    return True


def _vent_open(slots: Slots, pieces: list[Piece], place: int, piece: Piece) -> bool:
    if not slots.takes("vent_open"):
        return False
    if not shuts_another(pieces, place):
        slots.put("vent_open", piece.roles["vent_open"], piece)
    if "apiece" in piece.roles:
        slots.values["apiece"] = piece.roles["apiece"]
    return True


def _hormone_form(slots: Slots, _: list[Piece], __: int, piece: Piece) -> bool:
    """`powder`, `liquid`; of a mixture `solution` alone says no more."""
    dipped = slots.takes("hormone") and slots.values.get("treatment") in (None, "hormone")
    mixed = slots.values.get("solution") == "hormone" and piece.low != "solution"
    if dipped and (slots.act != "mix" or mixed):
        hormone(slots, piece, form=piece.roles["hormone_form"])
        return True
    if slots.act == "mix" and piece.low == "solution":
        use(piece)
        return True
    return False


def _hormone_name(slots: Slots, _: list[Piece], __: int, piece: Piece) -> bool:
    if slots.takes("hormone"):
        hormone(slots, piece, name=piece.roles["hormone_name"])
        if slots.act == "mix":
            slots.values.setdefault("solution", "hormone")
        elif slots.act == "treat":
            slots.values.setdefault("treatment", "hormone")
        return True
    if slots.act == "pour_out":
        slots.put("solution", "hormone", piece)
    return slots.act == "pour_out"


def _hormone(slots: Slots, _: list[Piece], __: int, piece: Piece) -> bool:
    """`stuck 40 toyon w hormone`; a brand (`dip n grow 1:10`) is kept in words, for it tells the strength."""
    if slots.act in ("mix", "pour_out"):
        slots.put("solution", "hormone", piece)
    elif slots.takes("hormone"):
        if piece.low not in _BRANDS:
            use(piece)
    else:
        return False
    return True


def _vessel(slots: Slots, pieces: list[Piece], place: int, piece: Piece) -> bool:
    """Pots and other containers: a thing that was cleaned, or what plants went into."""
    if slots.takes("things"):
        thing(slots, pieces, place, piece)
    elif "pot_size" in piece.roles and slots.takes("container"):
        sized(slots, pieces, place, piece.roles["pot_size"])
    else:
        return False
    return True


def _thing(slots: Slots, pieces: list[Piece], place: int, piece: Piece) -> bool:
    if slots.takes("things"):
        thing(slots, pieces, place, piece)
    return slots.takes("things")


def _container(slots: Slots, pieces: list[Piece], place: int, piece: Piece) -> bool:
    if slots.takes("container"):
        container(slots, pieces, place, piece)
    return slots.takes("container")


def _what(slots: Slots, _: list[Piece], __: int, piece: Piece) -> bool:
    if slots.takes("what"):
        slots.put("what", piece.roles["what"], piece)
    elif piece.roles["what"] == "divisions" and slots.act == "divide":
        use(piece)
    else:
        return False
    return True


def _cutting(slots: Slots, _: list[Piece], __: int, piece: Piece) -> bool:
    if slots.act == "collect":
        slots.put("what", "cuttings", piece)
    elif slots.takes("cutting"):
        slots.put("cutting", piece.roles["cutting"], piece)
    else:
        return False
    return True


def _method(slots: Slots, _: list[Piece], __: int, piece: Piece) -> bool:
    method = piece.roles["method"]
    told = slots.act == "water" and slots.values.get("method", method) == method
    if told:
        slots.put("method", method, piece)
    return told


def _times(slots: Slots, _: list[Piece], __: int, piece: Piece) -> bool:
    told = slots.takes("times") and piece.low != "once"
    if told:
        slots.put("times", int(piece.roles["times"]), piece)
    return told


def _of_reading(slots: Slots, _: list[Piece], __: int, piece: Piece) -> bool:
    if slots.act == "temp":
        use(piece)
    return slots.act == "temp"


def _other_plant(slots: Slots, pieces: list[Piece], place: int, piece: Piece) -> bool:
    if slots.act in OPENING or "plant" in slots.values:
        return False
    _plant(slots, pieces, place, piece)
    return True


def _all_of_it(slots: Slots, pieces: list[Piece], place: int, piece: Piece) -> bool:
    if piece.low == "everything" and slots.act == "sanitize":
        slots.put("things", (piece.low,), piece)
    elif not of_a_part(pieces, place) and not (piece.low == "everything" and slots.act == "hold"):
        _all(slots, piece)
    return True


def _as(name: str) -> _Take:
    """Takes a meaning as the detail of its own name, where the act takes that."""

    def take(slots: Slots, _: list[Piece], __: int, piece: Piece) -> bool:
        if slots.takes(name):
            slots.put(name, piece.roles[name], piece)
        return slots.takes(name)

    return take


def _plant(slots: Slots, pieces: list[Piece], place: int, piece: Piece) -> None:
    named = any(slots.values.get(kind) for kind in ("lots", "trays"))
    if slots.values.get("care") == "weed" and named and not any(one.kind in SUBJECTS for one in pieces):
        # "weeded lot 44, mostly oxalis": what was pulled out.
        return
    used = [piece]
    start = place
    while start and place - start < 3 and _may_qualify(pieces[start - 1]):
        start -= 1
    if start and _counts(pieces[start - 1]):
        used = pieces[start : place + 1]
    name = joined(slots.tokens, used[0].first, piece.last)
    following = pieces[place + 1] if place + 1 < len(pieces) else None
    if following is not None and following.kind == "quote":
        name += f" '{following.value}'"
        used.append(following)
    slots.put("plant", name, *used)


def _may_qualify(piece: Piece) -> bool:
    """`hot rock penstemon`, `bog rosemary`: words that may be part of the name of the plant after them; not the first
    of `unsold toyon`.
    """
    known = piece.kind == "phrase" and _TELLING.isdisjoint(piece.roles)
    return not piece.used and piece.low not in _OF_SOME and (piece.kind == "word" or known)


def _counts(piece: Piece) -> bool:
    """Between a count and a known plant the words are part of the plant's name."""
    return piece.kind in ("number", "fraction") or "vague" in piece.roles or "all" in piece.roles


def _all(slots: Slots, piece: Piece) -> None:
    if slots.act in _TAKES_ALL:
        if not any(slots.values.get(name) is not None for name in ("count", "share")):
            slots.put("all_of", True, piece)
    elif slots.act == "check":
        if slots.values.get("state") and "count" not in slots.values:
            slots.put("share", 1.0, piece)
    elif slots.act == "vent":
        return
    elif slots.act not in _CARE or piece.low not in _OF_NO_LOT or slots.clause.kinds() & SUBJECTS:
        if slots.act == "air" and piece.low in _WHOLLY:
            slots.act = "uncover"
        use(piece)


_BY_MEANING: Final[tuple[tuple[str, _Take], ...]] = (
    ("for_good", _for_good),
    ("vent_open", _vent_open),
    ("medium", _as("medium")),
    ("solution", _as("solution")),
    ("hormone_form", _hormone_form),
    ("hormone_name", _hormone_name),
    ("hormone", _hormone),
    ("pot_size", _vessel),
    ("container", _vessel),
    ("thing", _thing),
    ("container", _container),
    ("wood", _as("wood")),
    ("what", _what),
    ("cutting", _cutting),
    ("method", _method),
    ("cause", _as("cause")),
    ("times", _times),
    ("humidity", _of_reading),
    ("temp_word", _of_reading),
    ("plant", _other_plant),
    ("all", _all_of_it),
)
"""Meanings in the order in which they are taken: what tells most surely goes first."""
_TAKEN: Final = frozenset(role for role, _ in _BY_MEANING)
