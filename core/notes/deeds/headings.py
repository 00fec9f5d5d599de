"""Lines under a heading that is no deed: what stands below `still to do`, `plan for fri` or `not fed` was not done."""

from __future__ import annotations

from core.notes.deeds.orders import heads_undone
from core.notes.parting.clauses import Clause
from core.notes.words.pieces import Piece, is_act

_SMALL = ("filler", "negation")
_NAMING = ("lots", "trays", "number", "fraction", "amount")


def heads_lines(clauses: list[Clause], place: int) -> bool:
    """Whether a clause is alone on a line, or before a colon, with lines below it, and names and counts nothing."""
    clause = clauses[place]
    if place + 1 >= len(clauses) or clause.after not in ("", "\n") or clause.kinds() & set(_NAMING):
        return False
    after = clauses[place + 1].after
    lines = any(one.after == "\n" for one in clauses[place + 1 :]) or clause.has("negation")
    return not clause.has("plant", "thing", "solution") and (after == "\n" or (after == ":" and lines))


def heads_sentence(clauses: list[Clause], place: int) -> bool:
    """`not done: lot 5 fed`, with no lines below it: a heading to the end of its sentence alone."""
    return not any(one.after == "\n" for one in clauses[place + 1 :])


def _is_small(piece: Piece) -> bool:
    return is_act(piece) or piece.kind == "moment" or not piece.roles.keys().isdisjoint(_SMALL)


def heading_cue(clauses: list[Clause], place: int) -> str | None:
    """What a heading makes of the lines below it: `negation` (`not done`), `plan` (`still to do`); None for `done`."""
    pieces = [piece for piece in clauses[place].pieces if piece.kind != "mark"]
    if any("negation" in piece.roles for piece in pieces):
        states = any("act" in piece.roles and "state" in piece.roles["act"].says for piece in pieces)
        return "negation" if all(map(_is_small, pieces)) and not states else None
    return "plan" if heads_undone(pieces) else None
