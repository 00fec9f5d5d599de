"""Which steps of reading a sentence needs: each step names what it looks for, and is left out where none of it stands.

What a sentence holds is told by marks: its words and phrases as they are, `=number` for a kind of piece, `@plant` for a
meaning, `!lose` and `!rooted` for a deed and a state, `~took` for the rule of a word that several acts share, `?after`
for a deed that needs plants after it; `=doing` for a word that ends as `moving` does, `=range` and `=year` for numbers
like `9 to 10` and `2024`; `=counts` for several counts, `=deeds` for several deeds, `=several` for lots or trays named
together, `=subjects` for several of them apart, `=names` for several lots, trays or plants.

Every look has a bit of its own, and the marks of a sentence are kept as the bits of the looks that want one of them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from functools import cache, lru_cache, reduce, wraps
from operator import or_
from typing import Any, Final, Generic, NewType, ParamSpec, TypeVar

from core.notes.words.pieces import COUNTS, SUBJECTS, Piece
from core.vocabulary import ActWord, Leaf, words
from core.vocabulary.loading import read_toml

_RANKS: Final = {word: rank for rank, word in enumerate(read_toml("commonest_words.toml")["words"])}

_DIGITS_OF_YEAR: Final = 4

P = ParamSpec("P")
R = TypeVar("R")

Marks = NewType("Marks", int)
"""What a sentence holds: the bit of each look that wants one of its marks."""
ALL_MARKS: Final = Marks(-1)
"""The marks of a sentence that may hold anything."""


class _Looks:
    """The bits of all looks, by the marks that they want."""

    def __init__(self) -> None:
        self.of_mark: Final[dict[str, int]] = {}
        self.known = 0

    def add(self, *wants: Iterable[str]) -> int:
        """Gives the next bits to some looks, one each, in their order; returns the place of the first."""
        first = self.known
        for place, marks in enumerate(wants, first):
            for mark in marks:
                self.of_mark[mark] = self.of_mark.get(mark, 0) | 1 << place
        self.known += len(wants)
        for told in (_told_by_vocabulary, _bits_of_said, _bits_of_kind):
            told.cache_clear()
        return first


class Look:
    """Words and other marks of which a sentence must hold one."""

    __slots__ = ("_bit",)

    def __init__(self, marks: Iterable[str]) -> None:
        self._bit: Final = 1 << _LOOKS.add(marks)

    def finds_in(self, marks: Marks) -> bool:
        """Whether a sentence with these marks holds one of those looked for."""
        return marks & self._bit != 0


class Step(Generic[P, R]):
    """A look at the pieces of a sentence, or a change of them in place, and the marks of which it must hold one for
    that to find anything; with `beside`, it must hold one of those too.
    """

    __slots__ = ("_bits", "beside", "change", "wanted", "wants")

    def __init__(self, change: Callable[P, R], wants: frozenset[str], beside: frozenset[str]) -> None:
        self.change: Final = change
        self.wants: Final = wants
        self.beside: Final = beside
        first = _LOOKS.add(wants, beside)
        self.wanted: Final = 1 << first
        self._bits: Final = (0b11 if beside else 0b1) << first

    def __call__(self, *said: P.args, **named: P.kwargs) -> R:
        return self.change(*said, **named)

    def needed_by(self, marks: Marks) -> bool:
        """Whether a sentence with these marks may hold what the step looks for."""
        return marks & self._bits == self._bits


class AnyOf:
    """Several steps, of which one look tells whether any may find something."""

    __slots__ = ("_bits",)

    def __init__(self, *steps: Step[..., Any]) -> None:
        self._bits: Final = reduce(or_, (step.wanted for step in steps))

    def needed_by(self, marks: Marks) -> bool:
        """Whether a sentence with these marks may hold what one of the steps looks for."""
        return marks & self._bits != 0


def looks_for(
    *marks: str, any_of: Iterable[str] = (), beside: Iterable[str] = ()
) -> Callable[[Callable[P, R]], Step[P, R]]:
    """Makes a function of pieces a step that is left out where the sentence has none of some marks (and, where others
    must stand beside them, none of those).
    """
    wants = frozenset((*marks, *telling(any_of)))
    others = frozenset(telling(beside))
    return lambda change: Step(change, wants, others)


def looks_at_each(
    *marks: str, any_of: Iterable[str] = (), beside: Iterable[str] = ()
) -> Callable[[Callable[[list[Piece], int], None]], Step[[list[Piece]], None]]:
    """Makes a look at one place of a sentence a step that is taken at each of its places in turn, those too that it
    puts there itself; it is left out as `looks_for` tells.
    """

    def at_each(change: Callable[[list[Piece], int], None]) -> Step[[list[Piece]], None]:
        @wraps(change)
        def change_each(pieces: list[Piece]) -> None:
            for at, _ in enumerate(pieces):  # which goes through those put there meanwhile
                change(pieces, at)

        return looks_for(*marks, any_of=any_of, beside=beside)(change_each)

    return at_each


def telling(phrases: Iterable[str]) -> Iterator[str]:
    """The word of each phrase that stands in the fewest notes."""
    for phrase in phrases:
        yield max(phrase.split(" "), key=how_rare)


def how_rare(word: str) -> tuple[int, bool, int]:
    """The more, the fewer notes hold a word: the commonest are counted; of the others those of the bench are in more
    notes, and short ones.
    """
    return (_RANKS.get(word, len(_RANKS)), word not in words().phrases, len(word))


def marks_of(pieces: list[Piece]) -> Marks:
    """The marks of a sentence."""
    known = _told_by_vocabulary()
    bits = counts = subjects = plants = deeds = 0
    for piece in pieces:
        kind, roles = piece.kind, piece.roles
        bits |= _bits_of_said(piece.low, kind)
        if kind in COUNTS:
            counts += 1
            if kind == "number" and piece.value.dashed:
                bits |= _bits_of_kind("dashed")
        elif kind in SUBJECTS:
            subjects += 1
            if len(piece.value) > 1:
                bits |= _bits_of_kind("several")
        if roles:
            own, plant, deed = known.get(id(roles)) or _told_by(roles)
            bits |= own
            plants += plant
            deeds += deed
    if counts > 1:
        bits |= _bits_of_kind("counts")
    if deeds > 1:
        bits |= _bits_of_kind("deeds")
    if subjects > 1:
        bits |= _bits_of_kind("subjects")
    if subjects + plants > 1:
        bits |= _bits_of_kind("names")
    return Marks(bits)


def _bits_of(marks: Iterable[str]) -> int:
    return reduce(or_, filter(None, map(_LOOKS.of_mark.get, marks)), 0)


@lru_cache(maxsize=4096)
def _bits_of_said(low: str, kind: str) -> int:
    """The bits of a word or of a phrase and each of its words, of its kind, and of how it is written."""
    return _bits_of((f"={kind}", low, *(low.split(" ") if " " in low else ()), *_marks_of_form(low, kind)))


def _marks_of_form(low: str, kind: str) -> Iterator[str]:
    """A letter by itself, a word of what is being done (`moving on`), a number up to another (`9 to 10`), a year."""
    if kind in ("word", "phrase") and len(low) == 1:
        yield "=letter"
    if low.split(" ")[0].endswith("ing"):
        yield "=doing"
    if kind == "number" and ("-" in low or " " in low):
        yield "=range"
    if kind == "number" and len(low) == _DIGITS_OF_YEAR:
        yield "=year"


@lru_cache(maxsize=64)
def _bits_of_kind(kind: str) -> int:
    return _bits_of((f"={kind}",))


def _told_by(meanings: Leaf) -> tuple[int, bool, bool]:
    """The bits of a piece's meanings, and whether they name a plant or tell a deed."""
    return _bits_of(_marks_of_meanings(meanings)), "plant" in meanings, "act" in meanings or "shared" in meanings


@cache
def _told_by_vocabulary() -> dict[int, tuple[int, bool, bool]]:
    """What each of the vocabulary's meanings tells, by its identity: the vocabulary is never let go."""
    return {id(meanings): _told_by(meanings) for meanings in words().phrases.values()}


_LOOKS: Final = _Looks()


def _marks_of_meanings(meanings: Leaf) -> frozenset[str]:
    deeds = (mark for meaning in meanings.values() if isinstance(meaning, ActWord) for mark in _marks_of_deed(meaning))
    return frozenset((*(f"@{role}" for role in meanings), *deeds))


def _marks_of_deed(word: ActWord) -> Iterator[str]:
    """The act of a deed, its rule, the state that it tells, and where plants must be named for it."""
    yield f"!{word.act}"
    if word.needs is not None:
        yield f"?{word.needs}"
    if word.rule is not None:
        yield f"~{word.rule}"
    state = word.says.get("state")
    if state is not None:
        yield f"!{state}"


PieceStep = Step[[list[Piece]], None]


class Steps:
    """Steps in their order; a sentence takes those that it needs, which one look at its marks tells."""

    __slots__ = ("_all", "_first", "_steps", "_unasked")

    def __init__(self, *steps: PieceStep | InEach) -> None:
        # Side by side a bit for what each step wants, and then a bit for what each wants beside it.
        self._steps: Final = steps
        self._all: Final = (1 << len(steps)) - 1
        asked = [(step.wants, frozenset[str]() if isinstance(step, InEach) else step.beside) for step in steps]
        self._unasked = 0
        for place, (wants, beside) in enumerate(asked):
            self._unasked |= 0 if wants else 1 << place
            self._unasked |= 0 if beside else 1 << (place + len(steps))
        self._first: Final = _LOOKS.add(*(wants for wants, _ in asked), *(beside for _, beside in asked))

    def needed_by(self, marks: Marks) -> list[PieceStep | InEach]:
        """The steps that a sentence with these marks needs, in their order."""
        found = marks >> self._first | self._unasked
        found &= found >> len(self._steps) & self._all
        needed = []
        while found:
            lowest = found & -found
            needed.append(self._steps[lowest.bit_length() - 1])
            found ^= lowest
        return needed

    def take(self, pieces: list[Piece], marks: Marks) -> None:
        """Takes the steps that a sentence with these marks needs, in place."""
        for step in self.needed_by(marks):
            if isinstance(step, InEach):
                step.take(pieces, marks)
            else:
                step.change(pieces)


class InEach:
    """Steps that are taken in each part of a sentence; a step may change its pieces but not their number."""

    __slots__ = ("_spans", "_steps", "wants")

    def __init__(self, spans: Callable[[list[Piece]], list[tuple[int, int]]], *steps: PieceStep) -> None:
        self._spans: Final = spans
        each = [frozenset(step.wants) for step in steps]
        self.wants: Final = frozenset[str]().union(*each) if all(each) else frozenset[str]()
        """One of these is in every sentence that any of the steps is taken in; none where a step is always taken."""
        self._steps: Final = Steps(*steps)

    def take(self, pieces: list[Piece], marks: Marks) -> None:
        """Takes the steps that a sentence with these marks needs, in place."""
        wanted = [step for step in self._steps.needed_by(marks) if isinstance(step, Step)]
        for start, end in self._spans(pieces) if wanted else ():
            said = pieces[start:end]
            for step in wanted:
                step.change(said)
