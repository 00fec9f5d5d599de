"""Which words of a list tell another giving, keeping or sale: `and 10 for finn`, `ana 5 & bao 7`, `4 toyon 2 sage`."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

from core.notes.people import may_be_name
from core.notes.pieces import Piece, is_act
from core.vocabulary import ActWord
from core.vocabulary.everyday import is_given_name
from core.vocabulary.loading import small_words

if TYPE_CHECKING:
    from core.notes.clauses import Clause

_GIVING: Final = frozenset({"give", "sell", "reserve"})
_EACH: Final = small_words("sources", "each")
_AND: Final = frozenset({"and", "&", "+", "then"})


def part_receivers(pieces: list[Piece]) -> None:
    """Parts the members of a list that have a number of their own, in place."""
    _part_run_on(pieces)
    for place, piece in enumerate(pieces[:-2]):
        if piece.low not in _AND or not _counts(pieces[place + 1]) or _deed_before(pieces, place) != "reserve":
            continue
        if pieces[place + 2].low == "for" and place + 3 < len(pieces) and not is_act(pieces[place + 3]):
            piece.kind, piece.low, piece.roles = "break", ",", {}


def _part_run_on(pieces: list[Piece]) -> None:
    """`sold 4 toyon 2 manzanita 1 ribes`: a count and a plant right after a count and a plant."""
    place = 1
    while place + 2 < len(pieces):
        plant, number, other = pieces[place : place + 3]
        listed = "plant" in plant.roles and _counts(number) and "plant" in other.roles
        counted = _counts(pieces[place - 1])
        if listed and _deed_before(pieces, place) is not None:
            # The count stands after its plant where no count stands before the first (`sold toyon 4 sage 6`).
            at = place + 1 if counted else place + 2
            pieces.insert(at, Piece("break", ",", pieces[at].first, pieces[at].first, ","))
            place = at
        place += 1


def _counts(piece: Piece) -> bool:
    return piece.kind == "number" and not piece.used and piece.value.whole is not None and piece.value.of is None


def _deed_before(pieces: list[Piece], place: int) -> str | None:
    """The act of the last deed before a place in its sentence."""
    for piece in reversed(pieces[:place]):
        word: ActWord | None = piece.roles.get("act") or piece.roles.get("shared")
        if word is not None:
            return word.act
        if piece.kind == "break" and piece.low in (".", "\n", ";"):
            return None
    return None


def gives_another(act: str, held: dict[str, Any], clause: Clause) -> bool:
    """`gave ana 5 & bao 7`, `reserved 15 for the school, 10 for finn`: another who got or gets some."""
    if act not in _GIVING or held.get("count") is None or held.get("to") is None:
        return False
    told = [piece for piece in clause.pieces if piece.kind != "mark"]
    if act == "reserve" and len(told) > 2 and _counts(told[0]) and told[1].low == "for":
        return told[2].kind in ("word", "phrase")
    return named_first(clause) is not None


def named_first(clause: Clause) -> tuple[Piece, Piece] | None:
    """The first name and the count after it that open a clause (`bao 7`)."""
    told = [piece for piece in clause.pieces if piece.kind != "mark"]
    if len(told) < 2 or not _counts(told[1]):
        return None
    who = told[0]
    named = may_be_name(who) and (is_given_name(who.low) or len(told) == 2 or told[2].low in ("from", "of"))
    return (who, told[1]) if named or who.kind == "person" else None


def gives_first(act: str, held: dict[str, Any], clause: Clause) -> bool:
    """`reserved: kit 4`: who gets how many, after a deed that named nobody."""
    each = any(piece.low in _EACH for piece in clause.pieces)
    known = held.get("count") is not None or held.get("to") is not None
    return act in _GIVING and not known and not each and named_first(clause) is not None
