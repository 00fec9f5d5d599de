"""By how many a count rose, and to how many: `+8 rooted`, `rooted up by 5`, `is up to 34 rooted`.

Rules
1. What was added is more, and not the count of all.
2. What it rose to is the count of all; `up to 20 rooted` that opens a note bounds a count that is not known.
3. By how many it fell counts nothing.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from core.notes.words.pieces import COUNTS, SENTENCE_ENDS, SUBJECTS, Piece, is_act, names_plants
from core.notes.words.runs import Runs
from core.notes.words.said import (
    begin_of_statement,
    deed_of,
    end_of_statement,
    is_end,
    is_whole_number,
    keep_words,
    state_of,
)
from core.notes.words.steps import looks_at_each, looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words, spelled_out


def _phrases(name: str) -> frozenset[str]:
    return frozenset(phrase for said in small_words("risen", name) for phrase in spelled_out(said))


_PLUS: Final = small_words("risen", "plus")
_ROSE_BY: Final = _phrases("rose_by")
_ROSE: Final = Runs(_ROSE_BY)
_FELL_BY: Final = _phrases("fell_by")
_FELL: Final = Runs(_FELL_BY)
_UP_TO: Final = _phrases("up_to")
_REACHED: Final = Runs(_UP_TO)
_NOW: Final = small_words("old_and_new", "now")
_IS: Final = frozenset({"is", "are", "now", "its", "it's"})
_OF_THEM: Final = small_words("risen", "of_them")
_ONES: Final = small_words("risen", "ones")
_MEASURES: Final = ("percent", "temp", "degrees")
_MEASURED: Final = ("=number", *(f"={kind}" for kind in _MEASURES))
_STATES: Final = ("!rooted", "!callused", "!germinated", "!alive", "!ready", "!flowering")


def _tells_loss(piece: Piece) -> bool:
    word = deed_of(piece)
    return word is not None and word.act == "lose"


def _more(first: int, last: int) -> Piece:
    return Piece("phrase", None, first, last, "another", {"more": True})


@looks_at_each(*_PLUS, beside=_STATES)
def _count_added(pieces: list[Piece], at: int) -> None:
    """`lot 20: +8 rooted`, `tray 9: germ +4`, `lot 20 plus 5 rooted`: so many more, in place; a sum is none."""
    if pieces[at].low not in _PLUS or at + 1 >= len(pieces) or not is_whole_number(pieces[at + 1]):
        return
    before, after = pieces[at - 1] if at else None, pieces[at + 2] if at + 2 < len(pieces) else None
    if after is not None and state_of(after):
        adds = _opens_count(pieces, at)
    else:
        told = before is not None and state_of(before) != ""
        adds = told and _only_names(pieces, at + 2) and not _counted(pieces, at)
    if adds:
        pieces[at] = _more(pieces[at].first, pieces[at].last)


def _opens_count(pieces: list[Piece], at: int) -> bool:
    """Whether a plus opens what is told, after the name of a lot or tray at most; not `potted lot 4 + 8 rooted`."""
    start = begin_of_statement(pieces, at)
    said = [piece for piece in pieces[start:at] if piece.kind != "moment" and "filler" not in piece.roles]
    own = all(map(names_plants, said))
    named = bool(said) and any(piece.kind in SUBJECTS for piece in pieces[at : end_of_statement(pieces, at + 1)])
    return own and not named and not _counted(pieces, at)


def _counted(pieces: list[Piece], at: int) -> bool:
    """Whether anything is counted before a place in its sentence."""
    for piece in reversed(pieces[:at]):
        if piece.kind == "break" and piece.low in SENTENCE_ENDS:
            return False
        if piece.kind in COUNTS:
            return True
    return False


def _only_names(pieces: list[Piece], at: int) -> bool:
    """Whether a statement ends at a place, or with the lot or tray that it names there."""
    at += at < len(pieces) and pieces[at].low in ("in", "on", "of", "for")
    at += at < len(pieces) and pieces[at].kind in SUBJECTS
    return is_end(pieces, at)


@looks_at_each(any_of=_ROSE_BY, beside=("=number",))
def _count_risen(pieces: list[Piece], at: int) -> None:
    """`lot 20 rooted went up by 8`, `lot 20 gained 8 rooted`: so many more; beside a count of all it is kept, and where
    nothing tells what rose, in place.
    """
    end = _ROSE.end_at(pieces, at)
    if not end or end >= len(pieces) or not is_whole_number(pieces[end]):
        return
    start, stop = begin_of_statement(pieces, at), end_of_statement(pieces, end)
    told = any(map(state_of, [*pieces[start:at], *pieces[end:stop]]))
    after_all = any(piece.kind in COUNTS for piece in pieces[start:at]) or (start == at and _counted(pieces, at))
    if told and not after_all:
        pieces[at:end] = [_more(pieces[at].first, pieces[end - 1].last)]
    elif after_all or any(map(is_act, pieces[at:end])):
        since = end + 1
        since += since < len(pieces) and pieces[since].low in ("from", "since")
        since += since < len(pieces) and pieces[since].kind == "moment"
        keep_words(*pieces[at:since])


@looks_at_each(any_of=_FELL_BY, beside=_STATES)
def _keep_fallen(pieces: list[Piece], at: int) -> None:
    """`rooted went down by 4`: no count, in place."""
    end = _FELL.end_at(pieces, at)
    if end and end < len(pieces) and is_whole_number(pieces[end]):
        keep_words(*pieces[at : end + 1])


@looks_at_each("up", beside=("=number",))
def _keep_rise(pieces: list[Piece], at: int) -> None:
    """`rooted is up 8 to 30`: by how many it rose is kept, and what it is now counts, in place."""
    number = pieces[at + 1] if at and at + 1 < len(pieces) else None
    if number is None or pieces[at].low not in ("up", "is up", "are up") or number.kind != "number":
        return
    high = number.value.high
    told = high is not None and high == int(high) and " to " in number.low and number.last - number.first == 3
    if told and not is_act(pieces[at - 1]) and "noun" not in pieces[at - 1].roles:
        return
    if told and state_of(pieces[at - 1]):
        new = Piece("number", replace(number.value, value=high, high=None), number.last - 1, number.last, f"{high:g}")
        rise = Piece("kept", None, pieces[at].first, number.first + 1, f"{pieces[at].low} {number.low.split(' ')[0]}")
        pieces[at : at + 2] = [rise, new]


@looks_at_each(any_of=_UP_TO, beside=_MEASURED)
def _settle_up_to(pieces: list[Piece], at: int) -> None:
    """`lot 8 is up to 34 rooted`: what it is now; `up to 20 rooted in lot 9`: a bound, in place."""
    end = _REACHED.end_at(pieces, at)
    if not end or end >= len(pieces) or not (is_whole_number(pieces[end]) or pieces[end].kind in _MEASURES):
        return
    stop = end_of_statement(pieces, end)
    named = at > 0 and pieces[at - 1].kind in SUBJECTS
    is_now = any(piece.low in _NOW for piece in pieces[end + 1 : stop])
    if is_now or not _IS.isdisjoint(pieces[at].low.split(" ")):
        pieces[at:end] = [Piece("phrase", None, pieces[at].first, pieces[end - 1].last, "at", {"filler": True})]
    elif end + 1 < len(pieces) and not named and (state_of(pieces[end + 1]) or _tells_loss(pieces[end + 1])):
        keep_words(*pieces[at : end + 1])


@looks_for("new", beside=_STATES)
def _count_new(pieces: list[Piece]) -> None:
    """`tray 9 4 new ones up`, `5 new rooted`: so many more, in place."""
    for at in range(1, len(pieces) - 1):
        state = at + 1 + (pieces[at + 1].low in _ONES)
        if pieces[at].low != "new" or not is_whole_number(pieces[at - 1]) or state >= len(pieces):
            continue
        told = state_of(pieces[state])
        if told == "germinated" or (told and is_act(pieces[state])):
            number = pieces[at - 1]
            number.last = pieces[state - 1].last
            pieces[at - 1 : state] = [_more(number.first, number.first), number]
            return


@looks_for("up", beside=("=number",))
def _tell_up(pieces: list[Piece]) -> None:
    """`clarkia up, about 60`, `tray 4 up! 60`, `lupine up 12, yarrow up 30`: how many came up, in place."""
    for at in range(1, len(pieces) - 1):
        named = names_plants(pieces[at - 1])
        if pieces[at].low != "up" or not named or not _heads(pieces, at - 1):
            continue
        apart = pieces[at + 1].low in SENTENCE_ENDS
        number = at + 1 + (apart or pieces[at + 1].low == ",")
        counted = number < len(pieces) and pieces[number].kind == "number"
        end = number + 1 + any(piece.low in _OF_THEM for piece in pieces[number + 1 : number + 2])
        if counted and (is_end(pieces, end) if apart else _only_names(pieces, end) or pieces[end].kind == "moment"):
            pieces[at].roles = {"act": ActWord(act="check", says={"state": "germinated"}, counts_before=True)}


def _heads(pieces: list[Piece], at: int) -> bool:
    """Whether a statement begins at a place, or before its article."""
    at -= at > 0 and pieces[at - 1].low == "the"
    return at == 0 or pieces[at - 1].kind in ("break", "moment")


@looks_for("first", beside=_STATES)
def _count_first(pieces: list[Piece]) -> None:
    """`first one up in lot 40`, `the first two rooted`: so many that are the first, in place."""
    for first, number, state in zip(pieces, pieces[1:], pieces[2:], strict=False):
        if first.low == "first" and number.kind == "number" and is_whole_number(number) and state_of(state):
            keep_words(first)


FIND_RISEN: Final = (
    _tell_up, _count_added, _count_risen, _keep_fallen, _keep_rise, _settle_up_to, _count_new, _count_first,
)  # fmt: skip
"""Tell what was added to a count from what it is now, in place."""
