"""Which of two states each count is of: `rooted 0/30 callus 12/30`, `lot 5 0/48 all callus`.

Rules
1. Where states stand before their counts, a comma goes before the second, and its fraction is no day.
2. What all lines of counts are of may stand below them: `lot 3: 20`, `lot 4: 12`, `all rooted counts`.
3. None and all are not of one state: a nought before `all callus` is of the state told before, else it is kept.
"""

from __future__ import annotations

from itertools import groupby
from typing import Final

from core.notes.counts.days_in_row import states
from core.notes.words.pieces import SENTENCE_ENDS, SUBJECTS, Piece
from core.notes.words.said import comma_before, keep_words
from core.notes.words.steps import looks_for

_COUNTS: Final = frozenset({"number", "fraction"})
_BETWEEN: Final = frozenset({",", "but", "and", "though", "yet"})
_ALL: Final = frozenset({"all", "all of them", "counts", "numbers", "are", "these"})
_FEWEST: Final = 3
_ON: Final = frozenset({"on", "in", "with"})


@looks_for("=counts", beside=("!callused", "!germinated"))
def part_second_state(pieces: list[Piece]) -> None:
    """`rooted 0/30 | callus 12/30`: each state with the count after it, parted in place."""
    for at in range(len(pieces) - 4, -1, -1):
        first, count, second, other = pieces[at : at + 4]
        opens = not at or pieces[at - 1].kind in ("break", "moment", *SUBJECTS)
        told = states(first) and states(second, after=True)
        if opens and told and count.kind in _COUNTS and other.kind in _COUNTS:
            pieces.insert(at + 2, comma_before(second))


@looks_for("\n", beside=("=counts",))
def head_with_state(pieces: list[Piece]) -> None:
    """Puts a state alone on the last line above lines of a lot or tray and its count, in place."""
    lines = [list(said) for mark, said in groupby(pieces, lambda piece: piece.low == "\n") if not mark]
    last = lines[-1]
    cut = next((place for place, piece in enumerate(last) if piece.low in SENTENCE_ENDS), len(last))
    state = next((piece for piece in last[:cut] if states(piece)), None)
    others = [piece for piece in last[:cut] if piece is not state]
    told = all(piece.low in _ALL or "filler" in piece.roles for piece in others)
    if state is None or not told or len(lines) < _FEWEST or not all(map(_only_counts, lines[:-1])):
        return
    first = pieces[0].first
    word = state.roles.get("act") or state.roles["noun"]
    head = Piece(state.kind, state.value, first, first, state.low, {"act": word})
    begin = len(pieces) - len(last)
    del pieces[begin - 1 : begin + cut]
    pieces[:0] = [head, Piece("break", "\n", first, first, "\n")]


def _only_counts(line: list[Piece]) -> bool:
    """`lot 3: 20`."""
    told = [piece for piece in line if piece.kind != "break"]
    return [piece.kind in SUBJECTS for piece in told] == [True, False] and told[1].kind in _COUNTS


@looks_for("=number", "=fraction", beside=("!callused", "!alive", "!rooted", "!germinated"))
def keep_noughts(pieces: list[Piece]) -> None:
    """`lot 5 0/48 all callus`, `0/30, callus on 12`: none of another state than the one told next, in place."""
    for at in range(len(pieces) - 2, 0, -1):
        if pieces[at - 1].kind not in SUBJECTS or not _is_nought(pieces[at]):
            continue
        start = at + 1
        while start < len(pieces) and pieces[start].low in _BETWEEN:
            start += 1
        if not _tells_of_more(pieces, start):
            continue
        if _told_before(pieces, at - 1):
            pieces[at + 1 : start] = [comma_before(pieces[start])]
        else:
            keep_words(pieces[at])


def _is_nought(piece: Piece) -> bool:
    if piece.kind == "fraction":
        return bool(piece.value[0] == 0)
    return piece.kind == "number" and bool(piece.value.value == 0)


def _tells_of_more(pieces: list[Piece], at: int) -> bool:
    """`all callus`, `callus on 12`: some have the state that is told at a place."""
    if at + 1 >= len(pieces):
        return False
    if "all" in pieces[at].roles:
        return states(pieces[at + 1], after=True)
    count = at + 1 + (pieces[at + 1].low in _ON)
    told = count < len(pieces) and pieces[count].kind in _COUNTS and not _is_nought(pieces[count])
    return told and states(pieces[at], after=True)


def _told_before(pieces: list[Piece], at: int) -> bool:
    """Whether a state is told before a place in its sentence."""
    for piece in reversed(pieces[:at]):
        if piece.low in SENTENCE_ENDS and piece.low != "\n":
            return False
        if states(piece, after=True):
            return True
    return False


TELL_STATES_APART: Final = (part_second_state, keep_noughts, head_with_state)
"""Give each count the state that it is of, in place."""
