"""What stands beside a word that several acts share, and what is decided by it."""

from __future__ import annotations

from typing import Any

from core.notes.parting.clauses import Clause
from core.vocabulary import ActWord

Decision = tuple[str | None, dict[str, Any]]
"""The act that a shared word means, or None, and the details that it says."""


def noun_of(clause: Clause, act: str) -> ActWord | None:
    """The noun for an act in a clause (`boiling water`)."""
    for piece in clause.pieces:
        word = piece.roles.get("noun")
        if word is not None and word.act == act:
            return word  # type: ignore[no-any-return]
    return None


def words_of(clause: Clause) -> set[str]:
    """The words and phrases of a clause."""
    return {piece.low for piece in clause.pieces}
