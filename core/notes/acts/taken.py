"""What do `took`, `got`, `pulled` and `brought in` mean: what was gathered, moved, given, lost or looked at."""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from core.notes.acts.beside import Decision, noun_of, words_of
from core.notes.parting.clauses import Clause
from core.vocabulary.loading import small_words

_PLACE_ENDS: Final = small_words("places", "ends")
_TENDING: Final = frozenset({"to", "for", "overnight"})
_THEIR: Final = small_words("people", "their")
_OF_SEED: Final = frozenset({"g", "kg", "oz", "lb", "bag", "handful", "packet", "cup", "pt", "qt", "tbsp", "tsp"})
_WITHIN: Final = small_words("acts", "within")


def took_root(clause: Clause) -> bool:
    """`28 of the 36 took in lot 31`, `30 of the 36 sages took`: cuttings that took have roots."""
    pieces = clause.pieces
    at = next(place for place, piece in enumerate(pieces) if piece.roles.get("shared") is clause.word)
    after = pieces[at + 1] if at + 1 < len(pieces) else None
    counted = at > 0 and (pieces[at - 1].kind in ("number", "fraction") or "all" in pieces[at - 1].roles)
    first = at - 2 if at > 1 and pieces[at - 1].kind in ("lots", "trays") and pieces[at - 2].low == "in" else at
    named = [piece for piece in pieces[:first] if not piece.roles.keys().isdisjoint(("plant", "what", "of_cuttings"))]
    if named and first > len(named) and named == pieces[first - len(named) : first]:
        whole = pieces[first - len(named) - 1]
        counted = whole.kind == "fraction" or (whole.kind == "number" and whole.value.of is not None)
    return counted and (after is None or after.kind in ("lots", "trays", "moment") or after.low in ("in", "so far"))


def took(clause: Clause, word: str) -> Decision:
    """The act of `took` and its like."""
    words = words_of(clause)
    if word == "took" and took_root(clause):
        return "check", {"state": "rooted"}
    if sum(piece.kind == "lots" for piece in clause.pieces) == 2 and words & {
        "make",
        "as",
        "new",
        "called",
        "start",
        "into",
    }:
        return "split", {}
    check = noun_of(clause, "check")
    if check is not None and check.says.get("sample"):
        return "check", {"sample": True}
    if clause.has("cover_noun") and "off" in words:
        return "air", {}
    treat = noun_of(clause, "treat")
    if word == "got" and treat is not None and (clause.kinds() & {"lots", "trays"} or clause.has("plant")):
        weather = any(piece.low in ("cold", "warm") for piece in clause.pieces) and "duration" not in clause.kinds()
        return (None, {}) if weather else ("treat", dict(treat.says))
    lost = any(piece.roles.get("act") and piece.roles["act"].act == "lose" for piece in clause.pieces)
    if lost:
        return "lose", {}
    if any((cut.low, off.low) == ("cut", "off") for cut, off in pairwise(clause.pieces)):
        return None, {}
    if "home" in words:
        return (None, {}) if _home_to_tend(clause) else ("give", {})
    if clause.has("of_cuttings") or _gets_cuttings(clause) or _takes_wood(clause):
        return "collect", {"what": "cuttings"}
    if (clause.has("what", "cutting") and word not in ("got", "pulled")) or clause.has("what"):
        return "collect", {}
    if word in ("took", "picked up") and _is_received(clause):
        return "give", {}
    if word == "picked up":
        return None, {}
    if word in ("took", "cut", "picked", "dug") and clause.has("plant") and (clause.kinds() & {"number", "amount"}):
        away = word == "took" and _taken_to_somebody(clause)
        moved = away and clause.has("place_word") and "to" in words
        return ("move" if moved else None if away else "collect"), {}
    if word in ("brought in", "took", "taken") and ("to" in words or "into" in words or "out" in words):
        return (None, {}) if _for_a_purpose(clause) else ("move", {})
    if words & {"inside", "outside", "indoors", "outdoors"} and word in ("took", "brought in", "taken"):
        return "move", {}
    if word == "brought in" and _from_outside(clause) and (clause.has("plant") or "number" in clause.kinds()):
        return None, {}
    if word == "brought in":
        weighed = clause.has("plant") and not clause.has("medium") and _is_weighed(clause)
        return ("collect", {}) if weighed or _from_outside(clause) else ("move", {"to": "inside"})
    if word == "pulled" and clause.has("cause"):
        return "lose", {}
    return None, {}


def _is_weighed(clause: Clause) -> bool:
    """`brought in 250 g of blue wild rye`, `a bag of buckeyes`: seed, for no plants of the bench are so told."""
    return any(piece.kind == "amount" and piece.value[1] in _OF_SEED for piece in clause.pieces)


def _from_outside(clause: Clause) -> bool:
    """`brought in from the canyon: 40 keckiella cuttings`: gathered there, where no place of the nursery is told."""
    pieces = clause.pieces
    at = next((place for place, piece in enumerate(pieces) if piece.low == "brought in"), len(pieces))
    named = pieces[at + 2 :] if [piece.low for piece in pieces[at + 1 : at + 2]] == ["from"] else []
    told = [piece for piece in named if "filler" not in piece.roles and piece.kind != "moment"]
    within = clause.has("place_word") or not words_of(clause).isdisjoint(_WITHIN)
    return bool(told) and told[0].kind == "word" and not within and not clause.kinds() & {"lots", "trays"}


def _home_to_tend(clause: Clause) -> bool:
    """`took 5 of lot 18 home`, `ana took 5 home to babysit`: moved or lent, and not surely given."""
    at = next(place for place, piece in enumerate(clause.pieces) if piece.roles.get("shared") is clause.word)
    somebody = (piece.kind in ("word", "person") or piece.low in _PLACE_ENDS for piece in clause.pieces[:at])
    told = pairwise(clause.pieces)
    return not any(somebody) or any(home.low == "home" and after.low in _TENDING for home, after in told)


def _is_received(clause: Clause) -> bool:
    """`finn picked up his 12 toyon`, `mei took 30 of her 32 sage`, `mill pond took 30 deergrass`: plants went to whom
    the words before name.
    """
    at = next((place for place, piece in enumerate(clause.pieces) if piece.roles.get("shared") is clause.word), 0)
    before = [piece for piece in clause.pieces[:at] if piece.kind != "moment" and "filler" not in piece.roles]
    if not before or not (clause.has("plant") or clause.kinds() & {"lots", "trays"}):
        return False
    some = [piece.low for piece in clause.pieces[at + 2 : at + 3]] == ["of"]
    their = any(piece.low in _THEIR for piece in clause.pieces[at + 1 + 2 * some : at + 2 + 2 * some])
    named = before[-1].low in _PLACE_ENDS or before[-1].kind == "person"
    picked = clause.pieces[at].low == "picked up"
    return all(piece.kind in ("word", "person") or piece.low in _PLACE_ENDS for piece in before) and (
        their or before[-1].low in _PLACE_ENDS or (picked and named)
    )


def _taken_to_somebody(clause: Clause) -> bool:
    """`took 20 sage to the school`, `took 6 toyon for the school`: given, or moved, and nothing gathered."""
    told = [piece for piece in clause.pieces if piece.low not in ("the", "a", "our", "my")]
    named = (after for lead, after in pairwise(told) if lead.low in ("to", "for"))
    return any(piece.kind == "word" or piece.low in _PLACE_ENDS or "place_word" in piece.roles for piece in named)


def _gets_cuttings(clause: Clause) -> bool:
    """`got 50 honeysuckle nodal cuttings from wendell's fence`."""
    named = any("cutting" in piece.roles and piece.low.endswith("cuttings") for piece in clause.pieces)
    return named and clause.has("plant") and "number" in clause.kinds() and bool(words_of(clause) & {"from", "off"})


def _takes_wood(clause: Clause) -> bool:
    """`took 40 hardwood off mother 6`: wood that was cut, told by its kind and where from."""
    told = clause.has("wood") and "number" in clause.kinds() and not clause.kinds() & {"lots", "trays"}
    return told and not words_of(clause).isdisjoint(("from", "off", "off of"))


def _for_a_purpose(clause: Clause) -> bool:
    """`took lot 52 out to sow`: what for, and not where to."""
    after = next((piece for lead, piece in pairwise(clause.pieces) if lead.low == "to"), None)
    return after is not None and "to_do" in after.roles and not clause.has("place_word")
