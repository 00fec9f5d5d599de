"""Water told by what it was given with: `went round lots 4-6 with the can`, `poured an inch of water in tray 9`.

Rules
1. Lots or trays that were gone over, done or seen to with a hose, a can or a mister were watered so.
2. What was poured, added or run into a tray, and is told by its depth, is what the depth says already.
3. Those that were caught wilting were wilting.
"""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import COUNTS, SUBJECTS, Piece
from core.notes.words.runs import Runs
from core.notes.words.said import deed_of, is_end, pass_over, statement_at
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_GOING: Final = small_words("gone_over", "going")
_WENT_OVER: Final = Runs(_GOING)
_POURING: Final = small_words("gone_over", "pouring")
_CATCHING: Final = small_words("gone_over", "catching")
_BETWEEN: Final = frozenset({"a", "about", "another", "up", "in"})


@looks_for("@method", beside=_GOING)
def water_with(pieces: list[Piece]) -> None:
    """`did lot 4 with the mister`, `tray 3 has been seen to with the hose`: watered, in place."""
    for at in range(len(pieces)):
        end = _WENT_OVER.end_at(pieces, at)
        if not end:
            continue
        start, stop = statement_at(pieces, at)
        led = end < stop and pieces[end].kind in SUBJECTS
        told = not led and any(one.kind in SUBJECTS for one in pieces[start:at])
        at_how = end + 1 if led else end
        how = pieces[at_how] if at_how < stop and (led or told) else None
        if how is not None and "method" in how.roles and (is_end(pieces, at_how + 1) or _is_when(pieces[at_how + 1])):
            pass_over(*pieces[at:end])
            pieces[at].roles = {"act": ActWord(act="water")}


def _is_when(piece: Piece) -> bool:
    return piece.kind in ("moment", "duration") or "filler" in piece.roles or piece.low in ("this", "today", "at")


@looks_for(any_of=_POURING, beside=("=depth", "=size"))
def pour_in(pieces: list[Piece]) -> None:
    """`poured an inch of water in tray 9`: the depth tells it, in place."""
    for at, piece in enumerate(pieces):
        depth = at + 1
        while depth < len(pieces) and pieces[depth].low in _BETWEEN:
            depth += 1
        deep = depth < len(pieces) and pieces[depth].kind in ("depth", "size")
        told = any(one.low in ("water", "of water") for one in pieces[depth + 1 : depth + 3])
        if piece.low in _POURING and deep and told:
            pass_over(piece)


@looks_for(any_of=_CATCHING, beside=("!wilt",))
def catch_wilting(pieces: list[Piece]) -> None:
    """`caught 6 of tray 11 wilting`: seen so, in place."""
    for at, piece in enumerate(pieces[:-1]):
        _, stop = statement_at(pieces, at)
        wilts = any((word := deed_of(one)) is not None and word.act == "wilt" for one in pieces[at + 1 : stop])
        named = pieces[at + 1].kind in COUNTS | SUBJECTS or "plant" in pieces[at + 1].roles
        if piece.low in _CATCHING and wilts and named:
            pass_over(piece)
