"""Counts told after their states, and no comma between: `lot 14 rooted 31 dead 4`, `tray 4 5 left rest dead`.

Rules
1. Where the first state of a statement has no count before it, each has the count after it, and a comma goes before
   the next state.
2. What is told of "the rest", or of "all" after a state with its count, is of others, and a comma goes before it.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from core.notes.words.numbers import SHARES
from core.notes.words.pieces import SUBJECTS, Piece
from core.notes.words.said import comma_before, statements
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord

_REST: Final = frozenset({"rest", "the rest", "others", "the others"})
_BETWEEN: Final = frozenset({":", "=", "-"})
_COUNTS: Final = frozenset({"number", "fraction"})
_FEWEST: Final = 2
_DONE_TO_ALL: Final = frozenset({"pot", "sell", "give", "plant_out", "move"})


@looks_for("=counts", beside=("!lose", "!wilt"))
def part_states_first(pieces: list[Piece]) -> None:
    """Puts a comma before the second and each later state that its count follows, in place."""
    _drop_marks(pieces)
    for start, end in reversed(list(statements(pieces))):
        places = _states_first(pieces, start, end)
        for place in reversed(places[1:]):
            first = pieces[place].first
            pieces.insert(place, Piece("break", ",", first, first, ","))


@looks_for(*_REST, beside=("!check", "!lose"))
def part_rest_of_them(pieces: list[Piece]) -> None:
    """`5 left | rest dead`, `dead 5 | rest green`: what became of the others, after a count, in place."""
    for at in range(len(pieces) - 2, 0, -1):
        counted = any(piece.kind in _COUNTS for piece in pieces[max(0, at - 2) : at])
        if pieces[at].low in _REST and counted and _state(pieces[at + 1]) is not None:
            pieces.insert(at, comma_before(pieces[at]))


@looks_for("@all", "@fraction", "=fraction", beside=tuple(f"!{act}" for act in sorted(_DONE_TO_ALL)))
def part_all_of_them(pieces: list[Piece]) -> None:
    """`31 rooted | all potted`, `20 rooted | half potted`: what was done to all or a part, after a counted state, in
    place.
    """
    for at in range(len(pieces) - 2, 1, -1):
        count, state, every, deed = pieces[at - 2 : at + 2]
        word = deed.roles.get("act")
        done = word is not None and word.act in _DONE_TO_ALL and word.form == "done"
        counted = count.kind in _COUNTS or "all" in count.roles
        if _tells_of_part(every) and done and counted and _state(state) is not None:
            pieces.insert(at, comma_before(every))


def _tells_of_part(piece: Piece) -> bool:
    """`all`, `half`, `1/2`."""
    shared = piece.kind == "fraction" and tuple(piece.value[:2]) in SHARES
    return shared or "all" in piece.roles or "fraction" in piece.roles


@looks_for("=counts", beside=("!check", "!lose"))
def part_counts_last(pieces: list[Piece]) -> None:
    """`lot 9 rooted 20/30 dead 2/30`, `rooted 20 potted 18 left 10`: each with the count after it, in place."""
    for start, end in reversed(list(statements(pieces))):
        if sum([piece.kind in _COUNTS for piece in pieces[start:end]]) < _FEWEST:
            continue
        places = [at for at in range(start, end - 1) if _counts_after(pieces[at])]
        apart = all(after == before + _FEWEST for before, after in pairwise(places))
        counted = all(pieces[at + 1].kind in _COUNTS for at in places)
        if len(places) < _FEWEST or not apart or not counted or _counted(pieces, places[0]):
            continue
        if pieces[places[0]].low == "left" or places[-1] + _FEWEST < end:
            continue
        for place in reversed(places[1:]):
            pieces.insert(place, comma_before(pieces[place]))


def _counts_after(piece: Piece) -> bool:
    """Whether a word tells what became of so many: a state, a loss, `potted`, `sold`, `left`."""
    word = piece.roles.get("act")
    done = word is not None and word.form == "done" and word.act in _DONE_TO_ALL
    return _state(piece) is not None or done or piece.low == "left"


def _drop_marks(pieces: list[Piece]) -> None:
    """`rooted:31 dead:4` as `rooted 31 dead 4`, in place."""
    marked = [
        at
        for at in range(1, len(pieces) - 1)
        if pieces[at].low in _BETWEEN and _state(pieces[at - 1]) is not None and pieces[at + 1].kind in _COUNTS
    ]
    if len(marked) >= _FEWEST and not _counted(pieces, marked[0] - 1):
        for at in reversed(marked):
            del pieces[at]


def _states_first(pieces: list[Piece], start: int, end: int) -> list[int]:
    """The places of the states of a statement, where a count follows each of them at once and none stands before."""
    if sum([piece.kind in _COUNTS for piece in pieces[start:end]]) < _FEWEST:
        return []
    places = [at for at in range(start, end - 1) if _state(pieces[at]) is not None]
    followed = all(pieces[at + 1].kind in _COUNTS for at in places)
    if len(places) < _FEWEST or not followed or _counted(pieces, places[0]):
        return []
    apart = pairwise(places)
    return places if all(after == before + _FEWEST for before, after in apart) else []


def _counted(pieces: list[Piece], at: int) -> bool:
    """Whether a count stands before a state (`31 rooted`)."""
    before = pieces[at - 1] if at else None
    counting = ("all", "none", "vague", "fraction", "negation")
    return before is not None and (before.kind in _COUNTS or not before.roles.keys().isdisjoint(counting))


def _state(piece: Piece) -> ActWord | None:
    """The word of a state, a loss or a wilting."""
    word: ActWord | None = piece.roles.get("act") or piece.roles.get("noun")
    if word is None or word.act not in ("check", "lose", "wilt") or piece.kind in SUBJECTS:
        return None
    return word if word.act != "check" or "state" in word.says else None


PART_STATES_FIRST: Final = (part_states_first, part_rest_of_them, part_all_of_them)
"""Put a comma where counts follow their states, in place."""
