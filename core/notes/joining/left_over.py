"""Nothing that was typed is dropped: what came into no draft."""

from __future__ import annotations

from core.notes.details.drafts import Draft
from core.notes.parting.clauses import Clause
from core.notes.words.pieces import Piece


def keep_lost(drafts: list[Draft], pieces: list[Piece]) -> None:
    """Nothing that was typed is dropped: pieces that came into no draft go to the rest of the draft before them."""
    kept = {id(piece) for draft in drafts for clause in (*draft.heads, *draft.clauses) for piece in clause.pieces}
    lost = [piece for piece in pieces if id(piece) not in kept]
    told = [draft for draft in drafts if draft.act != "note"]
    for piece in lost:
        before = [draft for draft in told if draft.start <= piece.first]
        if before:
            before[-1].clauses.append(Clause("", [piece]))
        elif told:
            told[0].heads.insert(0, Clause("", [piece]))
