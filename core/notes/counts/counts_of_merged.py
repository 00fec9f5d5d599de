"""Which numbers beside a merging count the plants of its lots: `combined lot 9 (22) and lot 10 (18) into lot 9`.

Rules
1. A number in brackets after a lot, `the 8 left in lot 9`, `the 8 from 9`, `30 now`, and a sum after the named lots
   count plants: they are kept.
2. `38 rooted in lots 14 and 15 combined` counts those of both, and merges none.
"""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import SUBJECTS, Piece, is_act
from core.notes.words.said import begin_of_sentence, end_of_sentence, is_end, keep, keep_words, one_piece
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_TOGETHER: Final = small_words("counts_of_merged", "together")
_IN: Final = small_words("counts_of_merged", "out_of")
_REMAINING: Final = small_words("counts_of_merged", "remaining")
_AFTER: Final = small_words("counts_of_merged", "after")
_THOSE: Final = frozenset({"the", "all", "those"})
_SUMS: Final = frozenset({"+", "&", "and"})


@looks_for("!merge", beside=("=number",))
def keep_counts_of_merged(pieces: list[Piece]) -> None:
    """Keeps the counts beside each merging, in place."""
    for place in range(len(pieces) - 1, -1, -1):
        if place >= len(pieces) or not _merges(pieces[place]):
            continue
        if pieces[place].low in _TOGETHER and is_end(pieces, place + 1) and _counted_before(pieces, place):
            keep(pieces[place])
            continue
        start = begin_of_sentence(pieces, place)
        end = end_of_sentence(pieces, place)
        for at in range(end - 1, start - 1, -1):
            if at < len(pieces) and pieces[at].kind == "number":
                _keep_count(pieces, at, place)


def _keep_count(pieces: list[Piece], at: int, merging: int) -> None:
    """Keeps the number at a place with its words, where it counts plants."""
    before, after = (pieces[at - 1] if at else None), (pieces[at + 1] if at + 1 < len(pieces) else None)
    bracketed = before is not None and after is not None and (before.low, after.low) == ("(", ")")
    if bracketed and at > 1 and pieces[at - 2].kind in SUBJECTS:
        _join(pieces, at - 1, at + 2)
        return
    step = at + 1 + (after is not None and after.low in _REMAINING)
    named = pieces[step + 1] if step + 1 < len(pieces) and pieces[step].low in _IN else None
    led = (before is not None and before.low in _THOSE) or step > at + 1
    if named is not None and named.kind == "number":
        named.kind, named.value = "lots", (named.low,)
        led = True
    if led and named is not None and named.kind in SUBJECTS:
        _join(pieces, at, step)
        return
    lots = sum(len(piece.value) for piece in pieces[:at] if piece.kind in SUBJECTS)
    if after is not None and after.low in _AFTER and lots:
        keep_words(pieces[at])
    elif lots > 1 and at > merging and before is not None and before.low in _SUMS and at > 1:
        first = pieces[at - 2]
        if first.kind == "number" and at > 2 and pieces[at - 3].low in (",", "-", "=", ":"):
            _join(pieces, at - 2, at + 1)


def _merges(piece: Piece) -> bool:
    word = piece.roles.get("act")
    return word is not None and word.act == "merge"


def _counted_before(pieces: list[Piece], place: int) -> bool:
    """`38 rooted in lots 14 and 15 | combined`, `combined` after a count and its state."""
    start = begin_of_sentence(pieces, place)
    return any(
        pieces[at].kind == "number" and is_act(pieces[at + 1]) and not _merges(pieces[at + 1])
        for at in range(start, place - 1)
    )


def _join(pieces: list[Piece], start: int, end: int) -> None:
    run = pieces[start:end]
    made = one_piece(run)
    keep_words(made)
    pieces[start:end] = [made]
