"""What becomes of a count of those that are not: `14 rooted, 6 not rooted yet`, `6 rotted, 10 no roots yet`.

Rules
1. Right after a count of the same state it tells out of how many, as `14 rooted, 6 not` does.
2. Anywhere else after a deed or a subject it is one unread piece: no count of that state, and no lot; so are the others
   that are not, beside those counted (`12 have roots the rest no roots`).
3. `27 dead not rooted` tells what those 27 are not, and nothing of the others.
4. `lot 9 3 half dead` tells how those 3 are, and nothing of half of the lot.
5. `tray 2 rooted, 3 not, 4 half`: trays or plants, where nothing was counted before; nobody can tell, and it is kept.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from core.notes.words.act_kinds import COUNTLESS
from core.notes.words.pieces import COUNTS, SUBJECTS, Piece, is_act
from core.notes.words.said import begin_of_sentence, begin_of_statement, is_end, one_piece, state_of
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_LINKS: Final = small_words("denied", "links")
_HALF: Final = frozenset({"half", "halfway", "half way"})
_SHOWING: Final = small_words("denied", "showing")
_DENIED: Final = 5
_OTHERS: Final = small_words("wholes", "others")
_OUT_OF: Final = frozenset({"of", "out of"})
_BEFORE_WHOLES: Final = frozenset({"the", "those", "these"})
_YET: Final = small_words("denied", "yet")


@looks_for(any_of=_SHOWING, beside=("no",))
def keep_no_shows(pieces: list[Piece]) -> None:
    """`60 of 72 up 12 no show`: those that did not come up, in place."""
    for at in range(len(pieces) - 3, 0, -1):
        run = pieces[at : at + 3]
        shown = run[1].low == "no" and run[2].low in _SHOWING and is_end(pieces, at + 3)
        if shown and run[0].kind == "number" and _told_before(pieces, at):
            pieces[at : at + 3] = [one_piece(run, "compared")]


@looks_for("nothing", beside=("!check",))
def count_nothing(pieces: list[Piece]) -> None:
    """`14: 20/60 germ`, then `6: nothing`: none that are so, as told of the lot before, in place."""
    for at in range(2, len(pieces)):
        if pieces[at].low != "nothing" or not is_end(pieces, _past_yet(pieces, at + 1)):
            continue
        begin = begin_of_statement(pieces, at)
        named = at == begin + 1 and pieces[begin].kind in SUBJECTS
        before = pieces[begin_of_statement(pieces, begin - 1) if begin > 1 else 0 : begin]
        if named and any(map(state_of, pieces[:begin])) and not any(map(_is_other_deed, before)):
            pieces[at].low, pieces[at].roles = "none", {"none": True}


def _is_other_deed(piece: Piece) -> bool:
    return is_act(piece) and not state_of(piece)


@looks_for("@negation", "@none", "@fraction", beside=("=number",))
def join_denied(pieces: list[Piece]) -> None:
    """Puts each count of those that are not as it is meant, in place."""
    _join_counts_after(pieces)
    _keep_doubtful(pieces)
    _keep_not_so(pieces)
    _keep_half_so(pieces)
    for place in range(len(pieces) - 1, 0, -1):
        others = pieces[place].low in _OTHERS and _counted_in_statement(pieces, place)
        if not (others or pieces[place].kind == "number") or not _opens(pieces, place):
            continue
        denial, end = _denial(pieces, place)
        if not end:
            continue
        state = state_of(pieces[end - 1]) if end - 1 > denial else ""
        until = _past_yet(pieces, end)
        if "negation" in pieces[denial].roles and _counted_before(pieces, place, state):
            run = pieces[place + 1 : until]
            roles = {"negation": True}
            pieces[place + 1 : until] = [Piece("phrase", None, run[0].first, run[-1].last, "not", roles)]
        elif others or (state and _told_before(pieces, place)):
            run = pieces[place : _past_whole(pieces, until)]
            until = place + len(run)
            pieces[place:until] = [one_piece(run, "compared")]


def _join_counts_after(pieces: list[Piece]) -> None:
    """`rooted 18 not rooted 12` as `rooted 18 of 30`, in place."""
    for at in range(len(pieces) - _DENIED, -1, -1):
        if at + _DENIED > len(pieces):
            continue
        state, number, denied, again, others = pieces[at : at + _DENIED]
        alike = state_of(state) != "" and state_of(state) == state_of(again) and denied.low == "not"
        counted = (number.kind, others.kind) == ("number", "number")
        if alike and counted and not (at and pieces[at - 1].kind in COUNTS):
            number.value = replace(number.value, of=int(number.value.value + others.value.value))
            number.last = others.last
            del pieces[at + 2 : at + _DENIED]


def _keep_not_so(pieces: list[Piece]) -> None:
    """`44 potted not rooted`, `12 alive but not rooted`: another state that those counted are not in, in place."""
    for place in range(len(pieces) - 1, 1, -1):
        state = state_of(pieces[place])
        denial = place - 1
        if not state or pieces[denial].low != "not":
            continue
        start = denial - 1 if pieces[denial - 1].low == "but" else denial
        counted = start > 1 and pieces[start - 2].kind == "number" and is_act(pieces[start - 1])
        if counted and state_of(pieces[start - 1]) != state and _past_yet(pieces, place + 1) == place + 1:
            pieces[denial : place + 1] = [one_piece(pieces[denial : place + 1], "compared")]


def _keep_half_so(pieces: list[Piece]) -> None:
    """`lot 9 3 half dead`, `3 half rooted in lot 9`: so many plants, and half of none but each of them, in place."""
    for place in range(len(pieces) - 2, -1, -1):
        number, half, state = (*pieces[place : place + 3], None)[:3]
        if number is None or half is None or state is None or number.kind != "number" or half.low not in _HALF:
            continue
        counted = number.value.whole is not None and number.value.of is None
        word = state.roles.get("act")
        if counted and word is not None and word.counts_before and any(piece.kind in SUBJECTS for piece in pieces):
            pieces[place : place + 3] = [one_piece(pieces[place : place + 3], "compared")]


def _keep_doubtful(pieces: list[Piece]) -> None:
    place = 1
    while place < len(pieces):
        if pieces[place].kind == "number" and _doubtful(pieces, place):
            run = pieces[place : _past_yet(pieces, place + 2)]
            pieces[place : place + len(run)] = [one_piece(run, "compared")]
        place += 1


def _doubtful(pieces: list[Piece], place: int) -> bool:
    """`tray 2 rooted, 3 not`, `lot 9 potted, 5 half`: after something told of a lot or tray without a count."""
    if pieces[place - 1].kind != "break" or place + 1 >= len(pieces):
        return False
    start = begin_of_sentence(pieces, place)
    before = [piece for piece in pieces[start:place] if piece.kind != "compared"]
    named = any(piece.kind in ("lots", "trays") for piece in before)
    counted = any(piece.kind in COUNTS for piece in before)
    parts = not pieces[place + 1].roles.keys().isdisjoint(("negation", "fraction"))
    ends = is_end(pieces, _past_yet(pieces, place + 2))
    deeds = [piece.roles.get("act") for piece in before if is_act(piece)]
    cared = bool(deeds) and deeds[-1] is not None and deeds[-1].act in COUNTLESS
    return named and not counted and parts and ends and bool(deeds) and not cared


def _opens(pieces: list[Piece], place: int) -> bool:
    before = pieces[place - 1]
    return before.kind in ("break", "lots", "trays") or before.low in ("and", "&", "but", "the other") or is_act(before)


def _denial(pieces: list[Piece], place: int) -> tuple[int, int]:
    """Where the word for not stands after a number, and where the denial with its state ends; nought where none is."""
    at = place + 1
    while at < len(pieces) and pieces[at].low in _LINKS:
        at += 1
    if at >= len(pieces) or not pieces[at].roles.keys() & {"negation", "none"}:
        return 0, 0
    end = at + 1
    while end < len(pieces) and pieces[end].low in _LINKS:
        end += 1
    if end < len(pieces) and state_of(pieces[end]):
        return at, end + 1
    return (at, at + 1) if is_end(pieces, _past_yet(pieces, at + 1)) else (0, 0)


def _past_yet(pieces: list[Piece], at: int) -> int:
    while at < len(pieces) and pieces[at].low in _YET:
        at += 1
    return at


def _past_whole(pieces: list[Piece], at: int) -> int:
    """Where `of 40`, `out of the 40` after a denial ends; the place itself where it does not stand there."""
    number = at + 1
    while number < len(pieces) and pieces[number].low in _BEFORE_WHOLES:
        number += 1
    return number + 1 if number < len(pieces) and is_whole(pieces, number) else at


def is_whole(pieces: list[Piece], at: int) -> bool:
    """Whether a number tells out of how many (`12 not up of | 72`)."""
    lead = at - 1
    while lead > 0 and pieces[lead].low in _BEFORE_WHOLES:
        lead -= 1
    return pieces[at].kind == "number" and lead > 0 and pieces[lead].low in _OUT_OF


def _counted_before(pieces: list[Piece], place: int, state: str) -> bool:
    """Whether what stands right before is a bare count of the same state (`14 rooted`)."""
    at = place - 1
    while at > 0 and (pieces[at].kind == "break" or pieces[at].low in ("and", "&", "but")):
        at -= 1
    told = state_of(pieces[at])
    if not told or state not in ("", told):
        return False
    while at > 1 and pieces[at - 1].low in _LINKS:
        at -= 1
    number = pieces[at - 1] if at else None
    return number is not None and number.kind == "number" and number.value.of is None and number.value.high is None


def _counted_in_statement(pieces: list[Piece], place: int) -> bool:
    """`12 have roots | the rest no`: whether some were counted in a state before the others."""
    start = begin_of_sentence(pieces, place)
    told = pieces[start:place]
    return any(piece.kind in COUNTS for piece in told) and any(map(state_of, told))


def _told_before(pieces: list[Piece], place: int) -> bool:
    return any(piece.kind in ("lots", "trays") or is_act(piece) for piece in pieces[:place])
