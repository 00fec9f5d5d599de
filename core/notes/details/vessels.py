"""Which pots, flats and lengths beside an act are not what plants went into.

Rules
1. What plants came out of (`from 4in to 1 gal`), what was divided (`3 pots into 14`) and how long cuttings were
   (`36 6" toyon`) is only kept.
2. A number of flats or packs is no number of plants; a number of plugs or bands that go into pots is one.
3. How many went into each of several (`2 flats, 50 each`) counts for all of them.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from core.notes.acts.slots import Slots, use
from core.notes.assembly.units import CELL_TRAYS
from core.notes.words.act_kinds import OPENING
from core.notes.words.pieces import COUNTS, Piece
from core.notes.words.said import keep_words
from core.notes.words.steps import Look
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_FILLED: Final = frozenset({"pot", "divide", "stick", "sow", "move"})
_NO_PLANTS: Final = frozenset(
    {"mix", "pour_out", "sanitize", "temp", "water", "vent", "cover", "air", "uncover", "note"}
)
_HOLDS_MANY: Final = frozenset({"flat", "tray", "six-pack", "four-pack"})
_HOLDS_ONE: Final = frozenset({"plug", "liner", "band", "tube", "pot", "cell", "cup"})
_OUT_OF: Final = small_words("vessels", "out_of")
_INTO: Final = small_words("vessels", "into")
_CLUMPS: Final = small_words("vessels", "clumps")
_MOTHERS: Final = small_words("sources", "mothers")
_EACH: Final = small_words("sources", "each")
_COLOURS: Final = small_words("names", "colours")
_PER: Final = small_words("vessels", "per")
_ONE: Final = frozenset({"a", "an", "each", "one"})
_ARTICLES: Final = small_words("places", "articles")
_NAMING: Final = frozenset({"container", "pot_size"})
_ONE_BY_ONE: Final = frozenset({"band", "tube", "liner", "pot", "cup", "cell", "six-pack", "four-pack"})
_VESSELS: Final = Look({"@container", "@pot_size", "=size", "=amount", "=cell_trays", *_CLUMPS})
"""Marks of a sentence that may name what plants stand in."""


def keep_vessels(slots: Slots, pieces: list[Piece]) -> None:
    """Marks the vessels and sizes of a clause that its act does not fill, in place, before its details are read."""
    if slots.act != "divide" and not _VESSELS.finds_in(slots.clause.marks):
        return
    if slots.act in _FILLED:
        _halves(pieces)
        if "per" not in slots.values and slots.act != "move":
            _so_many_gallons(pieces)
        _out_of_vessels(pieces)
        _out_of_the_first(pieces)
    if slots.act in ("stick", "collect"):
        _lengths(pieces)
    if slots.act == "split" and _divides(pieces):
        slots.act = "divide"
    parted = slots.act == "split" and any(into.low == "into" and _is_pot(vessel) for into, vessel in pairwise(pieces))
    if parted or (slots.act == "move" and goes_into_pots(slots.clause.word, pieces)):
        slots.act = "pot"
    if slots.act in OPENING | {"pot"}:
        _per_vessel(slots, pieces)
        _trays_of_cells(slots, pieces)
        _trays_by_cells(slots, pieces)
    if slots.act == "divide":
        _clumps(pieces)
    elif slots.act not in _FILLED | _NO_PLANTS or (slots.act == "pot" and slots.values.get("container")):
        _many(slots, pieces)


def is_vessel(piece: Piece) -> bool:
    """Whether a piece names what plants stand in: a container, or the size of a pot."""
    sized = piece.kind == "size" or (piece.kind == "amount" and piece.value[1] in ("gal", "qt", "pt"))
    return sized or not piece.roles.keys().isdisjoint(_NAMING)


def _led_by(pieces: list[Piece], place: int, leads: frozenset[str]) -> int | None:
    """The place of the word that leads to a vessel, over its article and its number."""
    at = place - 1
    at -= at > 0 and pieces[at].kind == "word" and pieces[at - 1].low in _ARTICLES
    while at > 0 and (pieces[at].kind == "number" or pieces[at].low in _ARTICLES or is_vessel(pieces[at])):
        at -= 1
    return at if at >= 0 and pieces[at].low in leads else None


def _out_of_vessels(pieces: list[Piece]) -> None:
    """`from 4in`, `out of 3 flats`: what plants came out of."""
    for place, piece in enumerate(pieces):
        if is_vessel(piece) and place and pieces[place - 1].kind == "number" and pieces[place - 1].value.of is not None:
            keep_words(piece)
            continue
        led = _led_by(pieces, place, _OUT_OF) if is_vessel(piece) else None
        if led is not None:
            keep_words(*pieces[led : place + 1])


def _so_many_gallons(pieces: list[Piece]) -> None:
    """`potted 12 gallons of lot 30`: so many pots of a gallon, and no pot of twelve."""
    for place, piece in enumerate(pieces):
        many = piece.kind == "amount" and piece.value[1] == "gal" and piece.value[0] > 1
        led = place > 0 and pieces[place - 1].low in _INTO
        potlike = place + 1 < len(pieces) and "container" in pieces[place + 1].roles
        if many and piece.low.endswith(("gallons", "gals")) and not led and not potlike:
            keep_words(piece)


def _halves(pieces: list[Piece]) -> None:
    """`half to 4in half to 1 gal`: some into these and some into those."""
    parts = [place for place, piece in enumerate(pieces[:-2]) if piece.low == "half" and pieces[place + 1].low in _INTO]
    parts = [place for place in parts if is_vessel(pieces[place + 2])]
    if len(parts) > 1:
        for place in parts:
            keep_words(*pieces[place : place + 3])


def _out_of_the_first(pieces: list[Piece]) -> None:
    """`36 plugs into 4 in`, `six packs to gallons`: of two vessels only the one after the little word was filled."""
    vessels = [place for place, piece in enumerate(pieces) if is_vessel(piece)]
    if len(vessels) < 2 or _led_by(pieces, vessels[-1], _INTO) is None:
        return
    last = _led_by(pieces, vessels[-1], _INTO)
    for place in vessels:
        if last is None or place > last or _led_by(pieces, place, _INTO) is not None:
            continue
        if place + 1 < len(pieces) and pieces[place + 1].kind == "kept":
            continue
        before = pieces[place - 1] if place else None
        if before is not None and before.kind == "number" and pieces[place].roles.get("container") in _HOLDS_MANY:
            keep_words(before)
        keep_words(pieces[place])


def _lengths(pieces: list[Piece]) -> None:
    """`36 6" toyon`, `5 inch sticks`: how long the cuttings were."""
    for place, piece in enumerate(pieces[:-1]):
        following = pieces[place + 1]
        led = place > 0 and pieces[place - 1].low in _INTO | {"in"}
        if piece.kind != "size" or led or is_vessel(following):
            continue
        told_of = following.roles.keys() & {"plant", "cutting", "wood", "noun", "to_do", "what"}
        if following.kind == "word" or told_of:
            keep_words(piece)


def _divides(pieces: list[Piece]) -> bool:
    """`split the iris clump into 9`: a clump parted, no lot."""
    clump = any(piece.low in _CLUMPS for piece in pieces)
    return clump and not any(piece.kind in ("lots", "trays") for piece in pieces)


def goes_into_pots(word: ActWord | None, pieces: list[Piece]) -> bool:
    """`shifted 12 into gallons`, `moved 12 to bands`, `put 14 in 4 inch`: what is moved into pots is potted."""
    for place, piece in enumerate(pieces[1:], 1):
        following = pieces[place + 1] if place + 1 < len(pieces) else None
        into = pieces[place - 1].low
        if following is not None and (following.kind == "word" or "place_word" in following.roles):
            continue
        if into in ("into", "to", "up to") and (_is_size(piece) or _is_pot(piece)):
            return True
        ends = not any(one.low in _INTO or "place_word" in one.roles for one in pieces[place + 1 :])
        if into == "in" and word is not None and word.rule == "put" and ends and _takes_one(piece):
            return True
    return False


def _is_size(piece: Piece) -> bool:
    measured = piece.kind == "amount" and piece.value[1] in ("gal", "qt", "pt")
    return piece.kind == "size" or measured or "pot_size" in piece.roles


def _takes_one(piece: Piece) -> bool:
    """`put 25 of lot 23 in liners`: vessels into which plants are potted one by one."""
    return _is_size(piece) or (piece.roles.get("container") in _ONE_BY_ONE and piece.low.endswith("s"))


def _is_pot(piece: Piece) -> bool:
    return piece.roles.get("container") not in (None, "bed", "bag", "tray", "flat")


def _clumps(pieces: list[Piece]) -> None:
    """`divided 4 iris clumps`, `3 pots of iris into 14`, `12 iris into 30`: what was divided is no count."""
    for place, piece in enumerate(pieces):
        mother_pot = piece.roles.get("container") in ("pot", "flat", "tray") and _is_of(pieces, place + 1)
        if piece.low not in _CLUMPS | _MOTHERS and not mother_pot:
            continue
        at = place - 1
        while at >= 0 and (pieces[at].kind == "word" or "plant" in pieces[at].roles or pieces[at].low in _COLOURS):
            at -= 1
        if at >= 0 and pieces[at].kind == "number" and not _led_by(pieces, at, _OUT_OF):
            keep_words(pieces[at], piece)
        elif piece.low in _CLUMPS and _led_by(pieces, place, _OUT_OF) is None and not _named(pieces, place):
            keep_words(piece)
    numbers = [place for place, piece in enumerate(pieces) if piece.kind == "number" and not piece.used]
    if len(numbers) == 2 and pieces[numbers[1] - 1].low == "into":
        after = pieces[numbers[1] + 1] if numbers[1] + 1 < len(pieces) else None
        first, second = (pieces[place].value.whole for place in numbers)
        if (after is None or after.roles.get("container") not in _HOLDS_MANY) and (first or 0) < (second or 0):
            keep_words(pieces[numbers[0]])


def _named(pieces: list[Piece], place: int) -> bool:
    """`from the gate clump`: a clump that is a source by its name."""
    return any(pieces[at].low in _OUT_OF for at in range(max(0, place - 4), place))


def _is_of(pieces: list[Piece], place: int) -> bool:
    return place < len(pieces) and pieces[place].low == "of"


def _many(slots: Slots, pieces: list[Piece]) -> None:
    """`lost 2 six packs`, `2 flats of 15`: flats and packs are no number of plants, unless each is told."""
    for place, piece in enumerate(pieces[1:], start=1):
        before = pieces[place - 1]
        part = pieces[place - 2] if place > 1 and before.low in ("a", "an", "the") else before
        if piece.roles.get("container") in _HOLDS_MANY and "fraction" in part.roles:
            keep_words(part, before, piece)
        if piece.roles.get("container") not in _HOLDS_MANY or before.kind != "number" or before.used:
            continue
        holds = pieces[place + 2] if _is_of(pieces, place + 1) and place + 2 < len(pieces) else None
        if holds is not None and holds.kind == "number" and holds.value.whole and before.value.whole:
            slots.values.setdefault("count", before.value.whole * holds.value.whole)
            keep_words(before, piece, pieces[place + 1], holds)
        else:
            keep_words(before, piece)


def _per_vessel(slots: Slots, pieces: list[Piece]) -> None:
    """`three to a gallon, 8 gallons`, `2 acorns per pot, 20 pots`: how many stand in each pot, and in how many."""
    for place, number in enumerate(pieces[:-2]):
        if number.kind != "number" or number.used or number.value.whole is None:
            continue
        if _per_pot(slots, pieces, place):
            continue
        at = place + 1 + (pieces[place + 1].low == "to" and pieces[place + 2].low in _ONE)
        vessel = pieces[at + 1] if at + 1 < len(pieces) else None
        told = at > place + 1 or pieces[at].low in _PER
        told = told or (pieces[at].low == "to" and vessel is not None and vessel.low.split(" ")[0] in _ONE)
        if told and vessel is not None and is_vessel(vessel) and "container" not in vessel.roles:
            slots.values["per"] = number.value.whole
            keep_words(*pieces[place : at + 2])


def _per_pot(slots: Slots, pieces: list[Piece], place: int) -> bool:
    """`2 acorns per pot`, `3 lupine to a cell`: how many stand in each, which is no count of all, in place."""
    at = place + 1
    while at < len(pieces) and not pieces[at].roles.keys().isdisjoint(("plant", "what", "cutting")):
        at += 1
    words = [piece.low for piece in pieces[at : at + 2]]
    vessel = at + 1 + (words == ["to", "a"])
    told = at > place + 1 and vessel < len(pieces) and (words[:1] == ["per"] or words == ["to", "a"])
    sized = at > place + 1 and len(words) > 1 and is_vessel(pieces[at + 1]) and "container" not in pieces[at + 1].roles
    sized = sized and (words[0] == "per" or (words[0] == "to" and words[1].split(" ")[0] in _ONE))
    if not sized and not (told and pieces[vessel].roles.get("container") in _HOLDS_ONE):
        return False
    slots.values["per"] = pieces[place].value.whole
    keep_words(pieces[place], *pieces[at : vessel + 1])
    return True


def _trays_of_cells(slots: Slots, pieces: list[Piece]) -> None:
    """`two 50 cell trays of toyon`, `two 50s`: so many trays of so many cells each, a cutting or seed in each cell."""
    for piece in pieces:
        if piece.kind == "cell_trays" and not any(one.kind == "size" for one in pieces):
            whole = piece.value[0] * piece.value[1]
            if not any(one.kind in COUNTS for one in pieces):
                slots.values.setdefault("count", whole)
            slots.put("container", {"kind": "cell", "count": whole}, piece)
    for several, cells, piece in zip(pieces, pieces[1:], pieces[2:], strict=False):
        told = piece.roles.get("container") in ("cell", "plug") and "tray" in piece.low
        numbered = piece.low == "trays" and cells.low in CELL_TRAYS and "container" in piece.roles
        if not (told or numbered) or any(one.kind != "number" or one.value.whole is None for one in (several, cells)):
            continue
        whole = several.value.whole * cells.value.whole
        if told and not any(one.kind == "number" and one not in (several, cells) for one in pieces):
            slots.values.setdefault("count", whole)
        kind = "cell" if numbered else piece.roles["container"]
        slots.put("container", {"kind": kind, "count": whole}, several, cells, piece)


def _trays_by_cells(slots: Slots, pieces: list[Piece]) -> None:
    """`a 72 tray of perlite`: a tray that goes by the number of its cells."""
    for number, piece in pairwise(pieces):
        told = piece.low == "tray" and number.kind == "number" and number.low in CELL_TRAYS and not number.used
        if told and "container" in piece.roles:
            slots.put("container", {"kind": "cell", "count": int(number.low)}, number, piece)


def count_each(slots: Slots, pieces: list[Piece]) -> None:
    """`2 trays toyon 36 each`, `40 toyon each in trays 3 and 4`: the count of each of several, made that of all."""
    count, held = slots.values.get("count"), slots.values.get("container")
    if slots.act == "divide" and count is None and (held or {}).get("kind") in _HOLDS_ONE and _clumped(pieces):
        slots.values["count"] = (held or {}).get("count")
    several = (held or {}).get("count") or len(slots.values.get("trays") or ())
    if slots.act not in OPENING | {"pot"} or count is None or several < 2 or slots.values.get("each"):
        return
    each = next((place for place in range(len(pieces)) if _says_each(pieces, place)), None)
    number = next((one for one in reversed(pieces[: each or 0]) if one.kind == "number" and one.used), None)
    if each is None or number is None or number.value.whole != count:
        return
    slots.values["count"], slots.values["each"] = count * several, True
    use(pieces[each])


def _clumped(pieces: list[Piece]) -> bool:
    """`6 clumps into 40 liners`: what was divided is told, so that each of the vessels holds one division."""
    return any(piece.kind == "kept" and piece.low in _CLUMPS for piece in pieces)


def _says_each(pieces: list[Piece], place: int) -> bool:
    """`36 each`, `50 per flat`, `50 to a flat`."""
    if pieces[place].low in _EACH:
        return True
    after = pieces[place + 1] if place + 1 < len(pieces) else None
    return pieces[place].low in _PER and after is not None and "container" in after.roles
