"""Which details does each act take, and the details gathered for one entry.

Rules
1. A detail is taken only by an act that has it; what the act does not have stays unused, for the rest.
2. A detail is filled once; a second value for it is left over.
"""

from __future__ import annotations

from datetime import datetime
from typing import Any, Final

from core.notes.parting.clauses import Clause
from core.notes.words.pieces import Piece
from core.notes.words.tokens import Token

_TAKES: Final[dict[str, frozenset[str]]] = {
    "collect": frozenset({"what", "amount", "bagged", "source"}),
    "stick": frozenset({"cutting", "wood", "hormone", "medium", "container", "source"}),
    "divide": frozenset({"container", "source", "medium"}),
    "sow": frozenset({"amount", "medium", "container", "source"}),
    "treat": frozenset({"duration", "temp_c", "hormone", "ends"}),
    "air": frozenset({"duration", "times"}),
    "vent": frozenset({"vent_open"}),
    "water": frozenset({"method", "depth_in"}),
    "check": frozenset({"state", "of", "share", "sample"}),
    "lose": frozenset({"share", "cause", "left"}),
    "pot": frozenset({"container", "medium"}),
    "move": frozenset({"to", "duration"}),
    "harden": frozenset({"to", "duration"}),
    "split": frozenset({"to"}),
    "merge": frozenset({"to"}),
    "sell": frozenset({"to"}),
    "give": frozenset({"to"}),
    "plant_out": frozenset({"to"}),
    "reserve": frozenset({"to"}),
    "hold": frozenset({"cause"}),
    "clear": frozenset({"cause"}),
    "mix": frozenset({"solution", "parts", "share", "volume", "hormone"}),
    "pour_out": frozenset({"solution"}),
    "sanitize": frozenset({"things", "solution", "duration"}),
    "temp": frozenset({"temp_c", "humidity", "place"}),
}


class Slots:
    """The details gathered for one entry, and the tokens that it has used."""

    __slots__ = ("act", "asks", "clause", "doubtful", "now", "tokens", "values")

    def __init__(self, clause: Clause, tokens: list[Token], now: datetime) -> None:
        self.clause = clause
        self.act = clause.act or "note"
        self.tokens = tokens
        self.now = now
        self.values: dict[str, Any] = dict(clause.says)
        self.asks: list[str] = []
        self.doubtful: list[Piece] = []

    def takes(self, name: str) -> bool:
        return name in _TAKES.get(self.act, ())

    def put(self, name: str, value: Any, *pieces: Piece) -> bool:
        """Fills a detail once; False where it is filled already (the words then stay unused)."""
        if self.values.get(name) is not None:
            if self.values[name] == value:
                use(*pieces)
            return bool(self.values[name] == value)
        self.values[name] = value
        use(*pieces)
        return True


def use(*pieces: Piece) -> None:
    """Marks pieces as used by an entry."""
    for piece in pieces:
        piece.used = True


def joined(tokens: list[Token], first: int, last: int) -> str:
    """The words from one token to before another, in lower case, as one text."""
    parts = [tokens[first].low]
    for token in tokens[first + 1 : last]:
        parts.append(token.low if token.glued else f" {token.low}")
    return "".join(parts)
