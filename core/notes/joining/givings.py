"""Who else got or gets some, told in a clause without a deed: `and bao 7`, `10 for finn`, `kit 4`."""

from __future__ import annotations

from typing import Any, Final

from core.notes.names.people import may_be_name
from core.notes.parting.clauses import Clause
from core.notes.parting.receivers import counts_alone
from core.notes.words.pieces import Piece
from core.vocabulary.everyday import is_given_name
from core.vocabulary.loading import small_words

_GIVING: Final = frozenset({"give", "sell", "reserve"})
_EACH: Final = small_words("sources", "each")


def gives_another(act: str, held: dict[str, Any], clause: Clause) -> bool:
    """`gave ana 5 & bao 7`, `reserved 15 for the school, 10 for finn`: another who got or gets some."""
    if act not in _GIVING or held.get("count") is None or held.get("to") is None:
        return False
    told = [piece for piece in clause.pieces if piece.kind != "mark"]
    if act == "reserve" and len(told) > 2 and counts_alone(told[0]) and told[1].low == "for":
        return told[2].kind in ("word", "phrase")
    return named_first(clause) is not None


def named_first(clause: Clause) -> tuple[Piece, Piece] | None:
    """The first name and the count after it that open a clause (`bao 7`)."""
    told = [piece for piece in clause.pieces if piece.kind != "mark"]
    if len(told) < 2 or not counts_alone(told[1]):
        return None
    who = told[0]
    if "plant" in who.roles and len(told) == 2:
        # `sold: sage 12, mint 9`: a plant, where it may be one.
        return None
    named = may_be_name(who) and (is_given_name(who.low) or len(told) == 2 or told[2].low in ("from", "of"))
    return (who, told[1]) if named or who.kind == "person" else None


def gives_first(act: str, held: dict[str, Any], clause: Clause) -> bool:
    """`reserved: kit 4`: who gets how many, after a deed that named nobody."""
    each = any(piece.low in _EACH for piece in clause.pieces)
    known = held.get("count") is not None or held.get("to") is not None
    return act in _GIVING and not known and not each and named_first(clause) is not None
