"""How many in all, where so many are told of each of several: `3 bundles of 25`, `5 from each of 12`, `10 rows 5 each`.

Rules
1. After a deed that counts plants both numbers are told as their product, with the words kept; after one of care
   neither counts anything.
2. What mothers, lots, trays and pots say with "each" is read where those are.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import Final

from core.notes.words.act_kinds import COUNTLESS, OF_PLANTS
from core.notes.words.numbers import Number
from core.notes.words.pieces import SENTENCE_ENDS, Piece
from core.notes.words.said import keep_words
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_BUNDLES: Final = small_words("counted_things", "bundles")
_HOLDERS: Final = _BUNDLES | small_words("multiplied", "holders")
_PACKED: Final = frozenset({"bag", "packet", "handful"})
_LINES: Final = small_words("multiplied", "lines")
_EACH: Final = small_words("multiplied", "each")
_FROM_EACH: Final = small_words("multiplied", "from_each")
_TO_EACH: Final = small_words("multiplied", "to")
_COUNTING: Final = OF_PLANTS | {"lose", "move"}
_HANDING_OUT: Final = frozenset({"give", "reserve", "plant_out"})
_OF_PLANTS: Final = ("plant", "what", "cutting")


@looks_for("packs", "=amount", any_of=_HOLDERS, beside=("=number",))
def count_bundles(pieces: list[Piece]) -> None:
    """`stuck 3 bundles of 25 willow`, `got 3 bags of 20 tips`, `potted 2 packs of 6`: so many in all, in place."""
    for end in range(len(pieces) - 2, 0, -1):
        if pieces[end].low != "of" or not _is_bare(pieces[end + 1]):
            continue
        at = next((at for at in (end - 1, end - 2) if at >= 0 and _end_of_bundles(pieces, at) == end), None)
        if at is None:
            continue
        deed = _deed_before(pieces, at)
        if deed in COUNTLESS:
            keep_words(*pieces[at : end + 2])
        elif deed in _COUNTING:
            whole = _how_many(pieces[at]) * pieces[end + 1].value.whole
            keep_words(*pieces[at : end + 1])
            pieces[end + 1].value = Number(whole)


def _end_of_bundles(pieces: list[Piece], at: int) -> int:
    """Where `3 bundles`, `3 bags` end that begin at a place; nought where none do."""
    piece = pieces[at]
    if piece.kind == "amount" and piece.value[1] in _PACKED and _how_many(piece) > 1:
        return at + 1
    if "container" in piece.roles and piece.low.endswith("packs") and piece.low[:1].isdigit():
        # "4 packs of 6": packs that go by another number are no four-packs.
        return at + 1
    bundled = _is_bare(piece) and at + 1 < len(pieces) and pieces[at + 1].low in _HOLDERS
    return at + 2 if bundled else 0


def _how_many(piece: Piece) -> int:
    """The number of bundles, or of bags; nought where it is no whole one."""
    if piece.kind == "phrase":
        return int(piece.low.split(" ")[0].split("-")[0])
    value = piece.value[0] if piece.kind == "amount" else piece.value.value
    return int(value) if value == int(value) else 0


@looks_for(any_of=_FROM_EACH, beside=("=counts",))
def count_from_each(pieces: list[Piece]) -> None:
    """`stuck 5 from each of 12 sage plants`, `gave 4 to each of 3 schools`: so many in all, in place."""
    for at in range(1, len(pieces) - 2):
        of, several = pieces[at + 1 : at + 3]
        said = f"{pieces[at - 1].low} {pieces[at].low}"
        alone = pieces[at].low in _FROM_EACH
        if (not alone and said not in _FROM_EACH) or of.low != "of" or not _is_bare(several):
            continue
        place = before_plants(pieces, at - 1 - (not alone))
        if place < 0 or not _is_bare(pieces[place]) or _holds(pieces[at + 3 : at + 4]):
            continue
        if _deed_before(pieces, place) in OF_PLANTS:
            whole = pieces[place].value.whole * several.value.whole
            pieces[place].value = Number(whole)
            keep_words(*pieces[at - (not alone) : at + 3])


def before_plants(pieces: list[Piece], at: int) -> int:
    """The place before the plants, and what of them, that end at a place (`5 | toyon tips`)."""
    while at > 0 and not pieces[at].roles.keys().isdisjoint(_OF_PLANTS):
        at -= 1
    return at


def _holds(after: list[Piece]) -> bool:
    """`in each of 3 trays`, `from each of 5 mothers`: what is read elsewhere."""
    return any("container" in piece.roles or piece.low in _MOTHERS for piece in after)


_MOTHERS: Final = frozenset(f"{name}{ending}" for name in small_words("sources", "mothers") for ending in ("", "s"))


@looks_for(any_of=_EACH, beside=("=counts",))
def count_each_of_several(pieces: list[Piece]) -> None:
    """`sowed lupine 10 rows 5 each`, `5 each in 10 rows`, `gave 3 schools 4 each`: so many in all, in place."""
    for at in range(len(pieces) - 1):
        number, each = pieces[at : at + 2]
        if not _is_bare(number) or each.low not in _EACH:
            continue
        deed = _deed_before(pieces, at)
        several = _several_before(pieces, at, deed) or _several_after(pieces, at + 2, deed)
        if several:
            whole = number.value.whole * several[0].value.whole
            keep_words(*several, each)
            number.value = Number(whole)
            return


def _several_before(pieces: list[Piece], at: int, deed: str) -> list[Piece]:
    """The `10 rows` or `3 schools` that stand right before a count, or a comma before it."""
    end = at - (at > 0 and pieces[at - 1].low in (",", ":", "@"))
    return _several(pieces[max(0, end - 2) : end], deed)


def _several_after(pieces: list[Piece], at: int, deed: str) -> list[Piece]:
    """The `10 rows` of `5 each in 10 rows`, with the word that leads to them."""
    led = at + 2 < len(pieces) and pieces[at].low in _TO_EACH and pieces[at + 2].low in _LINES
    return _several(pieces[at + 1 : at + 3], deed) if led else []


def _several(said: list[Piece], deed: str) -> list[Piece]:
    """So many rows after a deed that counts plants, or so many who got some; nothing where neither stands there."""
    if len(said) < 2 or not _is_bare(said[0]) or said[0].value.whole < 2:
        return []
    word = said[1]
    if word.low in _LINES:
        # "Sold 3 bunches 5 each" may tell a price.
        return said if deed in OF_PLANTS and deed != "sell" else []
    many = word.kind == "word" and word.low.isalpha() and word.low.endswith("s")
    return said if many and deed in _HANDING_OUT else []


@looks_for("=amount", beside=("per", "each"))
def measure_in_each(pieces: list[Piece]) -> None:
    """`sowed 1/4 tsp yarrow per flat, 6 flats`, `2 g in each of 3 flats`: so much in all, in place."""
    for at, piece in enumerate(pieces):
        if piece.kind != "amount" or _deed_before(pieces, at) != "sow":
            continue
        step = at + 1
        while step < len(pieces) and not pieces[step].roles.keys().isdisjoint(_OF_PLANTS):
            step += 1
        many = _flats_of_each(pieces, step)
        if many > 1:
            value, unit, number = piece.value
            piece.value = (value * many, unit, number)
            return


def _flats_of_each(pieces: list[Piece], at: int) -> int:
    """In how many vessels, where `per flat` or `in each of 3 flats` stands at a place; its words are kept."""
    said = [piece.low for piece in pieces[at : at + 3]]
    if said[:1] == ["per"] and at + 1 < len(pieces) and "container" in pieces[at + 1].roles:
        counts = _counts_of(pieces[:at] + pieces[at + 2 :], pieces[at + 1].roles["container"])
        if len(counts) == 1:
            keep_words(*pieces[at : at + 2])
            return counts[0]
    elif said == ["in", "each", "of"] and at + 4 < len(pieces) and "container" in pieces[at + 4].roles:
        many = pieces[at + 3]
        keep_words(*pieces[at + 1 : at + 3])
        return int(many.value.whole) if _is_bare(many) else 0
    return 0


@looks_for("per", beside=("=size",))
def count_in_sized_pots(pieces: list[Piece]) -> None:
    """`stuck 3 sage per 4 in pot, 24 pots`: so many in all, in place."""
    for at in range(2, len(pieces) - 4):
        per, size, vessel = pieces[at : at + 3]
        place = before_plants(pieces, at - 1)
        if per.low != "per" or size.kind != "size" or "container" not in vessel.roles or not _is_bare(pieces[place]):
            continue
        counts = _counts_of(pieces[:place] + pieces[at + 3 :], vessel.roles["container"])
        if len(counts) == 1 and _deed_before(pieces, place) in OF_PLANTS:
            pieces[place].value = Number(pieces[place].value.whole * counts[0])
            pieces[at] = Piece("phrase", None, per.first, per.last, "in", {"filler": True})
            return


def _counts_of(pieces: list[Piece], kind: str) -> list[int]:
    """How many vessels of a kind are told of."""
    return [
        number.value.whole
        for number, vessel in pairwise(pieces)
        if _is_bare(number) and vessel.roles.get("container") == kind
    ]


def _is_bare(piece: Piece) -> bool:
    if piece.kind != "number":
        return False
    number: Number = piece.value
    return number.whole is not None and replace(number, approx=False) == Number(number.value)


def _deed_before(pieces: list[Piece], at: int) -> str:
    """The act of the last deed before a place in its sentence; of `took` that it collects."""
    for piece in reversed(pieces[:at]):
        if piece.low in SENTENCE_ENDS and piece.kind == "break":
            break
        word = piece.roles.get("act") or piece.roles.get("shared")
        if word is not None:
            return str(word.act or ("collect" if word.rule == "took" else ""))
    return ""


COUNT_IN_ALL: Final = (count_bundles, count_from_each, count_each_of_several, measure_in_each, count_in_sized_pots)
"""Make counts and amounts that are told of each of several those of all, in place."""
