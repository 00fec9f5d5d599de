"""Lines under a heading that is no deed: what stands below `still to do`, `plan for fri` or `not fed` was not done."""

from __future__ import annotations

from core.notes.deeds.orders import heads_undone
from core.notes.parting.clauses import Clause
from core.notes.words.pieces import is_act

_NAMING = ("lots", "trays", "number", "fraction", "amount")


def heads_lines(clauses: list[Clause], place: int) -> bool:
    """Whether a clause is alone on a line, or before a colon, with lines below it, and names and counts nothing."""
    clause = clauses[place]
    if place + 1 >= len(clauses) or clause.after not in ("", "\n") or clause.kinds() & set(_NAMING):
        return False
    after = clauses[place + 1].after
    lines = any(one.after == "\n" for one in clauses[place + 1 :])
    return not clause.has("plant", "thing", "solution") and (after == "\n" or (after == ":" and lines))


def heading_cue(clauses: list[Clause], place: int) -> str | None:
    """What a heading makes of the lines below it: `negation` (`not done`), `plan` (`still to do`); None for `done`."""
    pieces = [piece for piece in clauses[place].pieces if piece.kind != "mark"]
    if pieces and "negation" in pieces[0].roles:
        small = all(is_act(piece) or "filler" in piece.roles or piece.kind == "moment" for piece in pieces[1:])
        return "negation" if small else None
    return "plan" if heads_undone(pieces) else None
