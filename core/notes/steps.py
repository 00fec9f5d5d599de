"""Which steps of reading a sentence needs: each step names what it looks for, and is left out where none of it stands.

What a sentence holds is told by marks: its words and phrases as they are, `=number` for a kind of piece, `@plant` for a
meaning, `!lose` for a deed.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Final

from core.notes.pieces import Piece
from core.vocabulary import ActWord


class Step:
    """A change of pieces in place, and the marks of which a sentence must hold one for the step to find anything."""

    __slots__ = ("_change", "wants")

    def __init__(self, change: Callable[[list[Piece]], None], wants: frozenset[str]) -> None:
        self._change: Final = change
        self.wants: Final = wants

    def __call__(self, pieces: list[Piece]) -> None:
        self._change(pieces)


def looks_for(*marks: str, any_of: Iterable[str] = ()) -> Callable[[Callable[[list[Piece]], None]], Step]:
    """Makes a change of pieces a step that is left out where the sentence has none of some marks."""
    wants = frozenset((*marks, *(word for phrase in any_of for word in (phrase, phrase.split(" ")[0]))))
    return lambda change: Step(change, wants)


def marks_of(pieces: list[Piece]) -> set[str]:
    """The marks of a sentence."""
    marks: set[str] = set()
    for piece in pieces:
        marks.add(piece.low)
        if " " in piece.low:
            marks.update(piece.low.split(" "))
        marks.add(f"={piece.kind}")
        if piece.kind in ("word", "phrase") and len(piece.low) == 1:
            marks.add("=letter")
        for role, meaning in piece.roles.items():
            marks.add(f"@{role}")
            if isinstance(meaning, ActWord):
                marks.add(f"!{meaning.act}")
    return marks


def take(pieces: list[Piece], steps: Iterable[Callable[[list[Piece]], None]]) -> None:
    """Takes the steps in their order, in place, without those that would find nothing."""
    marks = marks_of(pieces)
    for step in steps:
        if not isinstance(step, Step) or not marks.isdisjoint(step.wants):
            step(pieces)
