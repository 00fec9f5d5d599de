"""Which numbers make up another: `22+8 rooted`, `15, 4 = 19`, `total 48 rooted 20`, `lost 12 so 60`.

Rules
1. Numbers that are added count together; where the sum is written it counts, and they are kept.
2. A total before a count is out of how many; one before the counts of several lots or plants is kept.
3. `potted 18, 6 in gallons rest in 4 in`: the rest are twelve.
4. `3x20 rooted` may be three of twenty, or twenty seen thrice: it is kept.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from core.notes.words.numbers import Number
from core.notes.words.pieces import SENTENCE_ENDS, SUBJECTS, Piece
from core.notes.words.said import (
    begin_of_sentence,
    begin_of_statement,
    comma_before,
    end_of_sentence,
    is_count,
    is_end,
    keep_words,
    pass_over,
    sentence_at,
)
from core.notes.words.steps import looks_at_each, looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_TOTAL: Final = small_words("sums", "total")
_JOINTS: Final = frozenset({",", "+", "and", "&"})
_COUNTING: Final = frozenset({"check", "lose", "pot", "sell", "give", "plant_out", "stick", "sow"})
_REST: Final = small_words("sums", "rest")
_INTO: Final = frozenset({"in", "into", "to"})
_WITH_PARTS: Final = 3
"""A total and two of its parts at least."""
_BRACKETS: Final = {"[": "]", "(": ")"}


def _deed(piece: Piece) -> ActWord | None:
    word: ActWord | None = piece.roles.get("act") or piece.roles.get("shared") or piece.roles.get("noun")
    return word


def _sentence(pieces: list[Piece], at: int) -> list[Piece]:
    """The pieces of the sentence that a place is in."""
    start, end = sentence_at(pieces, at)
    return pieces[start:end]


@looks_for("=", beside=("=counts",))
def _keep_summands(pieces: list[Piece]) -> None:
    """`counted lot 20: 15, 15, 15, 4 = 49`: the sum counts, in place."""
    for at in range(len(pieces) - 2, 2, -1):
        if pieces[at].low != "=" or not (is_count(pieces[at - 1]) and is_count(pieces[at + 1])):
            continue
        start = at - 1
        while start > 1 and pieces[start - 1].low in _JOINTS and is_count(pieces[start - 2]):
            start -= 2
        summands = [piece.value.whole for piece in pieces[start:at] if piece.kind == "number"]
        if len(summands) > 1:
            keep_words(*pieces[start : at + 1])
            if sum(summands) != pieces[at + 1].value.whole:
                keep_words(pieces[at + 1])


@looks_for("+", beside=("=counts",))
def _add_up(pieces: list[Piece]) -> None:
    """`lot 20 22+8 rooted`, `counted lot 20: 15+15+4`, `3 x 15 + 4`: one count, in place; not `lots 4+5 12+8`."""
    for at in range(len(pieces) - 1, 0, -1):
        if not _adds(pieces, at):
            continue
        start = at
        while start > 1 and _adds(pieces, start - 2):
            start -= 2
        first = start - 1
        first -= first > 0 and pieces[first - 1].kind == "times"
        if not _counts_one(_sentence(pieces, at)):
            return
        run = pieces[first : at + 2]
        whole = sum(piece.value.whole for piece in run if piece.kind == "number")
        if run[0].kind == "times":
            whole += run[1].value.whole * (int(run[0].value) - 1)
        low = " ".join(piece.low for piece in run)
        pieces[first : at + 2] = [Piece("number", Number(whole), run[0].first, run[-1].last, low)]
        return


def _adds(pieces: list[Piece], at: int) -> bool:
    """Whether a plus stands between two numbers at a place."""
    plus = 0 < at < len(pieces) - 1 and pieces[at].low == "+"
    return plus and is_count(pieces[at - 1]) and is_count(pieces[at + 1])


def _counts_one(said: list[Piece]) -> bool:
    """Whether a sentence counts plants of one lot, tray or plant."""
    acts = {word.act for piece in said if (word := _deed(piece)) is not None}
    named = [piece for piece in said if piece.kind in SUBJECTS]
    plants = sum("plant" in piece.roles for piece in said)
    one = len(named) == 1 and len(named[0].value) == 1 and plants < 2
    return bool(acts) and acts <= _COUNTING and (one or (not named and plants == 1))


@looks_at_each("=times", beside=("!check", "!lose"))
def _keep_times(pieces: list[Piece], at: int) -> None:
    """`lot 9 3x20 rooted`: no count, in place."""
    if pieces[at].kind != "times" or at + 2 >= len(pieces) or not is_count(pieces[at + 1]):
        return
    word = _deed(pieces[at + 2])
    if word is not None and word.counts_before:
        keep_words(*pieces[at : at + 2])


@looks_at_each(*_TOTAL, *_BRACKETS, beside=("=counts",))
def count_out_of(pieces: list[Piece], at: int) -> None:
    """`lot 3 total 48 rooted 20`, `lot 9 [40] rooted 20`: out of how many, in place."""
    if at + 3 >= len(pieces) or not is_count(pieces[at + 1]):
        return
    closing = _BRACKETS.get(pieces[at].low)
    if closing is None and pieces[at].low not in _TOTAL:
        return
    if closing is not None and pieces[at + 2].low != closing:
        return
    end = at + 2 + (closing is not None)
    end += end < len(pieces) and pieces[end].low == ","
    for state, number in ((end, end + 1), (end + 1, end)):
        if max(state, number) >= len(pieces) or not is_count(pieces[number]):
            continue
        word = _deed(pieces[state])
        closes = number < state or number + 1 == len(pieces) or pieces[number + 1].kind == "break"
        whole = pieces[at + 1].value.whole
        if closes and word is not None and word.act == "check" and "state" in word.says:
            if pieces[number].value.whole <= whole:
                pieces[number].value = replace(pieces[number].value, of=whole)
                pass_over(*pieces[at:end])
            return


@looks_for("seeds", "seed", beside=("=counts",))
def _count_out_of_seeds(pieces: list[Piece]) -> None:
    """`germ test 50 seeds 38 up lupine`: so many of those seeds, in place; not `sowed 50 seeds 38 up`."""
    for at in range(1, len(pieces) - 2):
        if pieces[at].low not in ("seeds", "seed") or not is_count(pieces[at - 1]):
            continue
        number = at + 1 + (pieces[at + 1].low == ",")
        if number + 1 >= len(pieces) or not is_count(pieces[number]):
            continue
        word = _deed(pieces[number + 1])
        acts = {one.act for piece in _sentence(pieces, at) if (one := _deed(piece)) is not None}
        whole = pieces[at - 1].value.whole
        if word is not None and word.says.get("state") == "germinated" and acts == {"check"}:
            if pieces[number].value.whole <= whole:
                pieces[number].value = replace(pieces[number].value, of=whole)
                pass_over(*pieces[at - 1 : number])
            return


@looks_for("@plant", beside=("=counts",))
def _keep_total_of_plants(pieces: list[Piece]) -> None:
    """`60 potted today: 24 sage 36 toyon`: what the plants listed come to, in place."""
    counts = [at for at, piece in enumerate(pieces) if piece.kind == "number" and is_count(piece)]
    if len(counts) < _WITH_PARTS:
        return
    of_plants = [at + 1 < len(pieces) and "plant" in pieces[at + 1].roles for at in counts]
    acts = {word.act for piece in pieces if (word := _deed(piece)) is not None}
    after = next((piece for piece in pieces[counts[0] + 1 :] if _deed(piece) is None), None)
    alone = after is not None and after.kind in ("break", "moment")
    alone = alone and not any("plant" in piece.roles for piece in pieces[: counts[0]])
    if len(acts) == 1 and acts <= _COUNTING and alone and all(of_plants[1:]):
        keep_words(pieces[counts[0]])


@looks_for(":", beside=("=subjects",))
def _keep_head_total(pieces: list[Piece]) -> None:
    """`62 rooted total: lot 3 20, lot 4 12, lot 5 30`: what they come to, in place."""
    for at in range(2, len(pieces) - 3):
        head = at - 1 - (pieces[at - 1].low in _TOTAL)
        if pieces[at].low != ":" or head < 1 or not is_count(pieces[head - 1]):
            continue
        word = _deed(pieces[head])
        opens = head == 1 or pieces[head - 2].low in SENTENCE_ENDS or pieces[head - 2].kind == "moment"
        if word is None or not word.counts_before or not opens:
            continue
        end = end_of_sentence(pieces, at)
        told = pieces[at + 1 : end]
        parts = [piece.value.whole for piece in told if is_count(piece)]
        if len(parts) > 1 and len(parts) == sum(piece.kind in SUBJECTS for piece in told):
            if sum(parts) == pieces[head - 1].value.whole:
                keep_words(pieces[head - 1], *pieces[head + 1 : at])
            return


@looks_for(any_of=_REST, beside=("!pot",))
def _count_the_rest(pieces: list[Piece]) -> None:
    """`potted 18, 6 in gallons rest in 4 in`: how many the rest are, in place."""
    for at in range(2, len(pieces) - 2):
        if pieces[at].low not in _REST or pieces[at + 1].low not in _INTO or not _holds(pieces, at + 2):
            continue
        start = begin_of_sentence(pieces, at)
        deed = next((place for place in range(start, at) if _pots(pieces[place])), None)
        told = pieces[at if deed is None else deed : at]
        counts = [piece.value.whole for piece in told if is_count(piece)]
        if len(counts) > 1 and (left := counts[0] - sum(counts[1:])) > 0 and not any(map(_pots, told[1:])):
            first = pieces[at].first
            rest = Piece("number", Number(left), first, pieces[at].last, str(left))
            parts = pieces[at - 1].kind == "break"
            pieces[at : at + 1] = [rest] if parts else [comma_before(pieces[at]), rest]
            return


def _pots(piece: Piece) -> bool:
    word = piece.roles.get("act")
    return word is not None and word.act == "pot"


def _holds(pieces: list[Piece], at: int) -> bool:
    """Whether a pot or its size stands at a place."""
    sized = not pieces[at].roles.keys().isdisjoint(("pot_size", "container")) or pieces[at].kind == "size"
    return sized or (is_count(pieces[at]) and [one.low for one in pieces[at + 1 : at + 2]] == ["in"])


@looks_at_each("so", beside=("=counts",))
def _keep_what_is_left(pieces: list[Piece], at: int) -> None:
    """`started with 72, lost 12 so 60`: what it comes to, in place."""
    if pieces[at].low != "so" or at < 2 or at + 1 >= len(pieces) or not is_count(pieces[at + 1]):
        return
    closes = is_end(pieces, at + 2) or pieces[at + 2].low == "now"
    counted = any(map(is_count, pieces[begin_of_statement(pieces, at) : at]))
    if closes and counted and any(_deed(piece) is not None for piece in pieces[:at]):
        keep_words(*pieces[at : at + 2])


ADD_UP: Final = (
    _keep_what_is_left, _count_the_rest, _keep_summands, _add_up, _keep_times, _count_out_of_seeds, _keep_head_total,
    _keep_total_of_plants,
)  # fmt: skip
"""Tell a sum, or a whole, from the counts that it is of, in place."""
