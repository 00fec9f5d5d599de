"""Which steps of reading a sentence needs: each step names what it looks for, and is left out where none of it stands.

What a sentence holds is told by marks: its words and phrases as they are, `=number` for a kind of piece, `@plant` for a
meaning, `!lose` for a deed; `=counts` for several counts, `=several` for lots or trays named together.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Final

from core.notes.words.pieces import Piece
from core.vocabulary import ActWord

_COUNTS: Final = frozenset({"number", "fraction", "percent"})


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
    counts = 0
    for piece in pieces:
        marks.add(piece.low)
        if " " in piece.low:
            marks.update(piece.low.split(" "))
        marks.add(f"={piece.kind}")
        if piece.kind in ("word", "phrase") and len(piece.low) == 1:
            marks.add("=letter")
        counts += piece.kind in _COUNTS
        for role, meaning in piece.roles.items():
            marks.add(f"@{role}")
            if isinstance(meaning, ActWord):
                marks.add(f"!{meaning.act}")
        if piece.kind in ("lots", "trays") and len(piece.value) > 1:
            marks.add("=several")
    if counts > 1:
        marks.add("=counts")
    return marks


class InEach:
    """Steps that are taken in each part of a sentence; a step may change its pieces but not their number."""

    __slots__ = ("_spans", "_steps")

    def __init__(self, spans: Callable[[list[Piece]], list[tuple[int, int]]], *steps: Step) -> None:
        self._spans: Final = spans
        self._steps: Final = steps

    def __call__(self, pieces: list[Piece]) -> None:
        self.take(pieces, marks_of(pieces))

    def take(self, pieces: list[Piece], marks: set[str]) -> None:
        """Takes the steps that a sentence with these marks needs, in place."""
        wanted = [step for step in self._steps if not marks.isdisjoint(step.wants)]
        for start, end in self._spans(pieces) if wanted else ():
            said = pieces[start:end]
            for step in wanted:
                step(said)


def take(pieces: list[Piece], steps: Iterable[Callable[[list[Piece]], None]], marks: set[str]) -> None:
    """Takes the steps in their order, in place, without those that would find nothing by the marks of the sentence."""
    for step in steps:
        if isinstance(step, InEach):
            step.take(pieces, marks)
        elif not isinstance(step, Step) or not marks.isdisjoint(step.wants):
            step(pieces)
