"""In what parts a solution is, by the volumes that were poured together: `1/2 cup bleach in 1 gal of water` is 1:32.

Rules
1. Only of what is a liquid as it comes: of what may be a powder, or goes by its label, a rate is kept as words.
2. What a little was put "in" is the volume of the mix, and counts as all water. What was "made up to" a volume is a
   part of it. Where the volumes were only poured together, or so much goes to each gallon, no volume is told.
3. Where no water is named, the second volume is the water if it is several times the first.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from core.figures.measures import ML_PER, to_ml
from core.notes.words.numbers import Number
from core.notes.words.pieces import SENTENCE_ENDS, Piece
from core.notes.words.said import keep_words, sentence_at
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_POURED: Final = small_words("volumes", "poured")
_TO_WATER: Final = small_words("volumes", "to_water")
_BESIDE_WATER: Final = small_words("volumes", "beside_water")
_MADE_UP_TO: Final = small_words("volumes", "made_up_to")
_OF_EACH: Final = small_words("volumes", "of_each")
_WATERS: Final = small_words("volumes", "waters")
_FRESH: Final = small_words("volumes", "how_it_is")
_HOLDS: Final = frozenset({"in", "into"})
_DOSED: Final = frozenset({"in", "into", "to", "with"})
_EACH: Final = frozenset({"per", "each", "every"})
_WEIGHTS: Final = frozenset({"g", "kg", "lb", "mg"})
_SUMS: Final = frozenset({"+", "and", "&", "plus"})
_RATIOS: Final = frozenset({"colon", "percent", "parts"})
_LEAST_WATER: Final = 3
"""So many times the first volume the second is where it is the water though nobody says so."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Side:
    """One volume of two: its pieces' end, how much, and the piece that says of what."""

    end: int
    ml: float
    units: frozenset[str]
    value: float
    what: Piece | None = None
    each: bool = False

    @property
    def is_water(self) -> bool:
        return self.what is not None and self.what.low in _WATERS


@looks_for("=amount", beside=("@solution",))
def join_poured(pieces: list[Piece]) -> None:
    """Makes two volumes of a liquid and its water one piece of kind `parts`, in place."""
    at = 0
    while at < len(pieces):
        if pieces[at].kind == "amount":
            _join(pieces, at)
        at += 1


def _join(pieces: list[Piece], at: int) -> None:
    first = _side(pieces, at)
    if first is None or _tells_ratio(pieces, at) or (at and pieces[at - 1].low in _SUMS):
        return
    joint, start = _joint(pieces, first.end)
    other = _side(pieces, start, each=joint not in _MADE_UP_TO) if joint else None
    if other is None or not _are_liquid_and_water(joint, first, other):
        return
    liquid, water = (other, first) if first.is_water else (first, other)
    named = liquid.what or _nearest_solution(pieces, at, other.end)
    if named is None or named.roles.get("solution") not in _POURED:
        return
    parts = _parts(liquid, water, joint)
    if parts is None:
        return
    made = [Piece("parts", parts, pieces[at].first, pieces[other.end - 1].last, "parts")]
    if (joint in _HOLDS or joint in _MADE_UP_TO) and _is_the_volume(pieces, at, first, other):
        held = pieces[start]
        made.append(Piece("amount", held.value, held.first, held.last, held.low))
    mixed = any("act" in piece.roles for piece in pieces[:at])
    kept = [piece for piece in pieces[at : other.end] if piece is named or ("act" in piece.roles and not mixed)]
    pieces[at : other.end] = [*made, *kept]


def _side(pieces: list[Piece], at: int, *, each: bool = False) -> _Side | None:
    """`1/2 cup of bleach`, `1/3 cup + 1 tbsp`, `gallon of water`: the volume at a place; with `each`, one of a unit."""
    of_each = each and at < len(pieces) and pieces[at].low in _OF_EACH
    at += of_each
    if at >= len(pieces):
        return None
    ml, units, end, value = 0.0, set(), at, 0.0
    if each and pieces[at].kind != "amount" and pieces[at].roles.get("amount") in ML_PER:
        of_each, value = True, 1.0
        ml, units, end = to_ml(1, pieces[at].roles["amount"]), {pieces[at].roles["amount"]}, at + 1
    while end < len(pieces) and pieces[end].kind == "amount" and not (of_each and units):
        value, unit, number = pieces[end].value
        if (unit != "oz" and unit not in ML_PER) or (number is not None and not _is_plain(number)):
            return None
        ml += to_ml(value, unit)
        units.add(unit)
        end += 1
        more = pieces[end : end + 2]
        if len(more) < 2 or more[0].low not in _SUMS or more[1].kind != "amount":
            break
        end += 1
    if not units or ml <= 0:
        return None
    last = end
    while last < len(pieces) and pieces[last].low in _FRESH:
        last += 1
    if last < len(pieces) and ("solution" in pieces[last].roles or pieces[last].low in _WATERS):
        return _Side(end=last + 1, ml=ml, units=frozenset(units), value=value, what=pieces[last], each=of_each)
    # "Half a cup of it in a gallon": what it is was named before.
    end = last if pieces[last - 1].low == "it" else end
    return _Side(end=end, ml=ml, units=frozenset(units), value=value, each=of_each)


def _is_plain(number: Number) -> bool:
    return number.high is None and number.of is None


def _joint(pieces: list[Piece], at: int) -> tuple[str, int]:
    """The word that joins two volumes, and where the second begins; none where nothing joins them."""
    for end in range(min(len(pieces), at + 3), at, -1):
        words = " ".join(piece.low for piece in pieces[at:end])
        if words in _MADE_UP_TO or words in _TO_WATER or words in _BESIDE_WATER:
            return words, end
    return "", at


def _are_liquid_and_water(joint: str, first: _Side, other: _Side) -> bool:
    """Whether one of two volumes is water, as it says or as its size tells, and the other what was put in it."""
    if first.is_water:
        return other.what is not None and not other.is_water and joint not in _MADE_UP_TO
    if joint in _BESIDE_WATER:
        return first.what is not None and other.is_water
    if other.what is not None:
        return other.is_water
    return other.each or other.ml >= _LEAST_WATER * first.ml


def _parts(liquid: _Side, water: _Side, joint: str) -> tuple[float, ...] | None:
    """The parts of two volumes: as they were told where their units are one; else one to so many."""
    ml = water.ml - (liquid.ml if joint in _MADE_UP_TO else 0)
    if ml <= 0:
        return None
    if liquid.units == water.units and len(water.units) == 1 and joint not in _MADE_UP_TO:
        return (_whole(liquid.value), _whole(water.value))
    ratio = ml / liquid.ml
    return (1, _whole(_rounded(ratio))) if ratio >= 1 else (_whole(_rounded(1 / ratio)), 1)


def _rounded(ratio: float) -> float:
    return round(ratio, 1) if ratio < 100 else round(ratio)


def _whole(part: float) -> float:
    return int(part) if part == int(part) else part


def _is_the_volume(pieces: list[Piece], at: int, first: _Side, other: _Side) -> bool:
    """Whether the second volume is how much was mixed: no other is told, and it is no rate."""
    if other.each or first.units == other.units:
        return False
    return not any(piece.kind == "amount" for piece in [*pieces[:at], *pieces[other.end :]])


def _tells_ratio(pieces: list[Piece], at: int) -> bool:
    """Whether the sentence says the parts or the share itself."""
    start, end = sentence_at(pieces, at)
    return any(piece.kind in _RATIOS for piece in pieces[start:end])


def _nearest_solution(pieces: list[Piece], at: int, end: int) -> Piece | None:
    """The solution named last before a place, in the same sentence; else the first after it."""
    for piece in reversed(pieces[:at]):
        if piece.low in SENTENCE_ENDS:
            break
        if "solution" in piece.roles:
            return piece
    return next((piece for piece in pieces[end:] if "solution" in piece.roles), None)


@looks_for("=amount", beside=("@solution", "@hormone", "@hormone_name", "!mix"))
def keep_doses(pieces: list[Piece]) -> None:
    """`mixed fert 1 tbsp to 1 gal`, `mixed 3g iba in 1 l`: what went into a volume is not the volume, in place."""
    for at, piece in enumerate(pieces):
        if piece.kind != "amount":
            continue
        end = at + 1
        while end < len(pieces) and (pieces[end].low == "of" or _is_of_solution(pieces[end])):
            end += 1
        joined = end + 1 < len(pieces) and pieces[end].low in _DOSED and pieces[end + 1].kind == "amount"
        if joined and not _is_of_vessel(pieces, end + 2) and _is_little(piece, pieces[end + 1]):
            keep_words(piece)
        elif end < len(pieces) and _is_rate(pieces, at, end):
            keep_words(piece, *pieces[end : end + 1 + (pieces[end].low in _EACH)])


def _is_rate(pieces: list[Piece], at: int, end: int) -> bool:
    """`1 tsp iba per cup`, `1 tbsp a gallon`: so much to each of a unit, and no volume."""
    after = pieces[end + 1] if end + 1 < len(pieces) else None
    if pieces[end].low in _EACH:
        return after is not None and (after.kind == "amount" or "amount" in after.roles)
    return end == at + 1 and pieces[end].kind == "amount" and pieces[end].low.startswith("a ")


def _is_of_solution(piece: Piece) -> bool:
    return not piece.roles.keys().isdisjoint(("solution", "hormone", "hormone_name"))


def _is_of_vessel(pieces: list[Piece], at: int) -> bool:
    """`1 cup in a 1 qt | jar`: how much a vessel holds."""
    after = pieces[at] if at < len(pieces) else None
    return after is not None and (after.kind == "word" or not after.roles.keys().isdisjoint(("container", "thing")))


def _is_little(dose: Piece, held: Piece) -> bool:
    """Whether one amount is by far less than the volume that another is, or a weight."""
    (much, unit, _), (volume, whole, _) = dose.value, held.value
    if whole not in ML_PER:
        return False
    return unit in _WEIGHTS or (unit in ML_PER and to_ml(volume, whole) >= _LEAST_WATER * to_ml(much, unit))


__all__ = ["join_poured", "keep_doses"]
