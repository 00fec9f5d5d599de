"""Which steps of reading a sentence needs: each step names what it looks for, and is left out where none of it stands.

What a sentence holds is told by marks: its words and phrases as they are, `=number` for a kind of piece, `@plant` for a
meaning, `!lose` and `!rooted` for a deed and a state, `~took` for the rule of a word that several acts share; `=counts`
for several counts, `=several` for lots or trays named together, `=subjects` for several of them apart, `=names` for
several lots, trays or plants.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from functools import cache, reduce
from operator import or_
from typing import Final, Generic, ParamSpec, TypeVar

from core.notes.words.pieces import COUNTS, SUBJECTS, Piece
from core.vocabulary import ActWord, Leaf, words

P = ParamSpec("P")
R = TypeVar("R")


class Step(Generic[P, R]):
    """A look at the pieces of a sentence, or a change of them in place, and the marks of which it must hold one for
    that to find anything; with `beside`, it must hold one of those too.
    """

    __slots__ = ("_change", "beside", "wants")

    def __init__(self, change: Callable[P, R], wants: frozenset[str], beside: frozenset[str]) -> None:
        self._change: Final = change
        self.wants: Final = wants
        self.beside: Final = beside

    def __call__(self, *said: P.args, **named: P.kwargs) -> R:
        return self._change(*said, **named)

    def needed_by(self, marks: set[str]) -> bool:
        """Whether a sentence with these marks may hold what the step looks for."""
        return not marks.isdisjoint(self.wants) and not (self.beside and marks.isdisjoint(self.beside))


def looks_for(
    *marks: str, any_of: Iterable[str] = (), beside: Iterable[str] = ()
) -> Callable[[Callable[P, R]], Step[P, R]]:
    """Makes a function of pieces a step that is left out where the sentence has none of some marks (and, where others
    must stand beside them, none of those).
    """
    wants = frozenset((*marks, *_telling(any_of)))
    others = frozenset(_telling(beside))
    return lambda change: Step(change, wants, others)


def _telling(phrases: Iterable[str]) -> Iterator[str]:
    """The word of each phrase that stands in fewest others: its longest."""
    for phrase in phrases:
        yield sorted(phrase.split(" "), key=len)[-1]


def marks_of(pieces: list[Piece]) -> set[str]:
    """The marks of a sentence."""
    marks = {piece.low for piece in pieces}
    for low in [low for low in marks if " " in low]:
        marks.update(low.split(" "))
    marks.update([f"={kind}" for kind in {piece.kind for piece in pieces}])
    known = _marks_of_vocabulary()
    counts = subjects = plants = 0
    for piece in pieces:
        kind = piece.kind
        if len(piece.low) == 1 and kind in ("word", "phrase"):
            marks.add("=letter")
        counts += kind in COUNTS
        if kind == "number" and piece.value.dashed:
            marks.add("=dashed")
        if kind in SUBJECTS:
            subjects += 1
            if len(piece.value) > 1:
                marks.add("=several")
        roles = piece.roles
        if roles:
            plants += "plant" in roles
            marks |= known.get(id(roles)) or _marks_of_meanings(roles)
    if counts > 1:
        marks.add("=counts")
    if subjects > 1:
        marks.add("=subjects")
    if subjects + plants > 1:
        marks.add("=names")
    return marks


@cache
def _marks_of_vocabulary() -> dict[int, frozenset[str]]:
    """The marks of each of the vocabulary's meanings, by its identity: the vocabulary is never let go."""
    return {id(meanings): _marks_of_meanings(meanings) for meanings in words().phrases.values()}


def _marks_of_meanings(meanings: Leaf) -> frozenset[str]:
    deeds = (mark for meaning in meanings.values() if isinstance(meaning, ActWord) for mark in _marks_of_deed(meaning))
    return frozenset((*(f"@{role}" for role in meanings), *deeds))


def _marks_of_deed(word: ActWord) -> Iterator[str]:
    """The act of a deed, its rule, and the state that it tells."""
    yield f"!{word.act}"
    if word.rule is not None:
        yield f"~{word.rule}"
    state = word.says.get("state")
    if state is not None:
        yield f"!{state}"


PieceStep = Step[[list[Piece]], None]


class Steps:
    """Steps in their order; a sentence takes those that it needs, which one look at its marks tells."""

    __slots__ = ("_by_mark", "_steps", "_unasked")

    def __init__(self, *steps: PieceStep | InEach) -> None:
        # For each mark a bit for every step that wants it, and above those a bit for every step that wants it beside.
        self._steps: Final = steps
        self._unasked = 0
        self._by_mark: Final[dict[str, int]] = {}
        for place, step in enumerate(steps):
            wanted, beside = 1 << place, 1 << (place + len(steps))
            if isinstance(step, InEach):
                self._unasked |= wanted | beside
                continue
            self._unasked |= 0 if step.beside else beside
            for marks, bit in ((step.wants, wanted), (step.beside, beside)):
                for mark in marks:
                    self._by_mark[mark] = self._by_mark.get(mark, 0) | bit

    def needed_by(self, marks: set[str]) -> list[PieceStep | InEach]:
        """The steps that a sentence with these marks needs, in their order."""
        found = reduce(or_, filter(None, map(self._by_mark.get, marks)), self._unasked)
        found &= found >> len(self._steps)
        needed = []
        while found:
            lowest = found & -found
            needed.append(self._steps[lowest.bit_length() - 1])
            found ^= lowest
        return needed

    def take(self, pieces: list[Piece], marks: set[str]) -> None:
        """Takes the steps that a sentence with these marks needs, in place."""
        for step in self.needed_by(marks):
            if isinstance(step, InEach):
                step.take(pieces, marks)
            else:
                step(pieces)


class InEach:
    """Steps that are taken in each part of a sentence; a step may change its pieces but not their number."""

    __slots__ = ("_spans", "_steps")

    def __init__(self, spans: Callable[[list[Piece]], list[tuple[int, int]]], *steps: PieceStep) -> None:
        self._spans: Final = spans
        self._steps: Final = Steps(*steps)

    def take(self, pieces: list[Piece], marks: set[str]) -> None:
        """Takes the steps that a sentence with these marks needs, in place."""
        wanted = [step for step in self._steps.needed_by(marks) if isinstance(step, Step)]
        for start, end in self._spans(pieces) if wanted else ():
            said = pieces[start:end]
            for step in wanted:
                step(said)
