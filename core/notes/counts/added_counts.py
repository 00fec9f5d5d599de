"""Which counts of a state only add to the one before: `8 newly rooted`, `the other 8 rooted`, `8 rooted makes 20`.

A rise without a count (`germ up 10%`, `half again as many`) tells no whole: it is kept, and the count is asked.
"""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import COUNTS, SUBJECTS, Piece, is_act
from core.notes.words.runs import Runs
from core.notes.words.said import begin_of_sentence, is_end, keep_words, state_of
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_NEWLY: Final = small_words("added_counts", "newly")
_OTHER: Final = small_words("added_counts", "other")
_MAKING: Final = small_words("added_counts", "making")
_MAKES: Final = Runs(_MAKING)
_AGAIN: Final = small_words("added_counts", "again")
_AS_MANY: Final = Runs(_AGAIN)
_REACHING: Final = small_words("aims", "reaching")
_MORE: Final = {"more": True}


@looks_for(any_of=_NEWLY, beside=("!check",))
def _add_new(pieces: list[Piece]) -> None:
    """`8 newly rooted`."""
    for before, newly, state in zip(pieces, pieces[1:], pieces[2:], strict=False):
        if newly.low in _NEWLY and before.kind == "number" and _reached(state):
            newly.roles = _MORE


@looks_for(any_of=_OTHER, beside=("!check",))
def _add_others(pieces: list[Piece]) -> None:
    """`the other 8 rooted`, where nothing was counted and nothing done before."""
    for at in range(len(pieces) - 2):
        if pieces[at].low not in _OTHER or pieces[at + 1].kind != "number" or not _reached(pieces[at + 2]):
            continue
        start = begin_of_sentence(pieces, at)
        article = at > start and pieces[at - 1].low == "the"
        if article and not any(piece.kind in COUNTS or is_act(piece) for piece in pieces[start:at]):
            pieces[at].roles = _MORE


@looks_for("up", "down", beside=("by", "=percent"))
def _keep_rise(pieces: list[Piece]) -> None:
    """`lot 31 up by 5`, where nothing tells what rose; `germ up 10%`, `20 rooted, up 10%`."""
    for at in range(1, len(pieces) - 1):
        if pieces[at].low.endswith(" up") and pieces[at + 1].kind == "percent" and state_of(pieces[at]):
            keep_words(pieces[at + 1])
        if pieces[at].low not in ("up", "down"):
            continue
        number = pieces[at + 2] if at + 2 < len(pieces) and pieces[at + 1].low == "by" else None
        alone = pieces[at - 1].kind in SUBJECTS and is_end(pieces, at + 3)
        if number is not None and number.kind == "number" and alone:
            keep_words(*pieces[at : at + 3])
        elif pieces[at + 1].kind == "percent" and any(map(state_of, pieces[max(0, at - 2) : at])):
            keep_words(pieces[at], pieces[at + 1])


@looks_for(any_of=_AGAIN, beside=("!check",))
def _keep_half_again(pieces: list[Piece]) -> None:
    """`rooted half again as many`: so many more than nobody says."""
    found = _AS_MANY.first_from(pieces)
    if found is not None:
        keep_words(*pieces[found[0] : found[1]])


@looks_for(any_of=_MAKING, beside=("=counts",))
def _add_to_sum(pieces: list[Piece]) -> None:
    """`8 rooted today makes 20`: what it comes to, so that the first count was added."""
    found = _MAKES.first_from(pieces, 1)
    if found is None or found[1] == len(pieces) or pieces[found[1]].kind != "number":
        return
    at, end = found
    start = begin_of_sentence(pieces, at)
    counts = [place for place in range(start, at) if pieces[place].kind in COUNTS]
    acts = [piece for piece in pieces[start:at] if is_act(piece)]
    if len(counts) != 1 or len(acts) != 1 or not _reached(acts[0]):
        return
    number, whole = pieces[counts[0]], pieces[end]
    bare = number.kind == "number" and number.value.of is None and whole.value.of is None
    if bare and number.value.value < whole.value.value:
        keep_words(*pieces[at : end + 1])
        if not any("more" in piece.roles for piece in pieces[start:at]):
            pieces.insert(counts[0] + 1, Piece("phrase", None, number.last, number.last, "more", _MORE))


@looks_for("left", beside=_REACHING)
def _keep_left(pieces: list[Piece]) -> None:
    """`8 left to come up`: of those that are left is no deed."""
    for left, to, state in zip(pieces, pieces[1:], pieces[2:], strict=False):
        if (left.low, to.low) == ("left", "to") and state.low in _REACHING:
            left.roles = {"filler": True}


def _reached(piece: Piece) -> bool:
    """`rooted`, `germinated`: a state that more of them reach as time goes by."""
    word = piece.roles.get("act") or piece.roles.get("shared")
    return word is not None and ((word.act == "check" and "state" in word.says) or piece.low in ("up", "came up"))


ADD_COUNTS: Final = (_add_new, _add_others, _keep_rise, _keep_half_again, _add_to_sum, _keep_left)
"""The steps in their order."""
