"""Of several lots or trays one is told of apart: `lots 14-16 none rooted except 2 in 15`, `none rooted, 2 in 15`.

Of one lot those excepted are counted: `lot 9 none rooted except 3`.
Of `all dead but 2 in tray 3` the tray is left out, and its count is kept: nobody can tell here what it leaves.
"""

from __future__ import annotations

from typing import Final

from core.notes.counts.exceptions import EXCEPTING, SOFTLY, excepting_words, keep_run
from core.notes.counts.lists_before import all_before, holds_more, names_in, numbers_in, whole_before
from core.notes.words.act_kinds import COUNTLESS
from core.notes.words.pieces import COUNTS, SUBJECTS, Piece, names_plants
from core.notes.words.runs import Runs
from core.notes.words.said import begin_of_sentence, comma_before, keep_words, state_of, statement_at
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_IN: Final = frozenset({"in", "of", "from"})
_REMAINING: Final = small_words("wholes", "remaining")
_OTHERS: Final = small_words("wholes", "others")
_BEING: Final = frozenset({"are", "is", "all", "were", "now"})
_AND: Final = frozenset({",", "and", ";", "&", ".", "but"})
_NOUGHT: Final = frozenset({"none", "negation"})
_NOTHING_BUT: Final = Runs(small_words("wholes", "nothing_but"))
_NOTHING_BUT_HEADS: Final = frozenset(said.split(" ")[0] for said in small_words("wholes", "nothing_but"))


@looks_for("@left", "but", "@none", "@negation", any_of=small_words("wholes", "excepting"), beside=("=number",))
def leave_out_some(pieces: list[Piece]) -> None:
    """Parts, or keeps, what is told of some of one, in place."""
    _part_others(pieces)
    for at in range(len(pieces) - 3, 0, -1):
        mark, piece = pieces[at].low == ",", pieces[at]
        if not mark and piece.low not in EXCEPTING.heads and "left" not in piece.roles:
            continue
        end = at + 1 if mark else excepting_words(pieces, at)
        told = pieces[end : end + 3] if end is not None else []
        whole = whole_before(pieces, at) if len(told) == 3 and told[1].low in _IN and numbers_in(told[0]) else None
        if end is not None and whole is not None and pieces[whole].kind in SUBJECTS:
            _leave_out(pieces, whole, at, end)


@looks_for(any_of=_REMAINING, beside=("rest", "others"))
def tell_what_is_left(pieces: list[Piece]) -> None:
    """`lot 14 3 left, rest dead`, `5 left in tray 4, tossed the others`: all but so many were lost, in place."""
    for at in range(len(pieces) - 3, -1, -1):
        number, left = pieces[at : at + 2]
        if number.kind != "number" or number.value.whole is None or number.value.approx or left.low not in _REMAINING:
            continue
        end = at + 2
        while end < len(pieces) and (pieces[end].kind in SUBJECTS or pieces[end].low in _IN):
            end += 1
        named = pieces[at + 2 : end]
        end += end < len(pieces) and pieces[end].low in _AND
        lost = pieces[end : end + 3]
        lost = [piece for piece in lost if piece.low not in _BEING][:2]
        others = [piece for piece in lost if piece.low in _OTHERS]
        deeds = [piece for piece in lost if "act" in piece.roles and piece.roles["act"].act == "lose"]
        if len(others) == 1 and len(deeds) == 1:
            last = max(pieces.index(others[0]), pieces.index(deeds[0]))
            all_but = Piece("phrase", None, left.first, left.last, "all but", {"left": True})
            pieces[at : last + 1] = [*named, all_but, number, deeds[0]]


@looks_for("@none", "nothing", beside=_NOTHING_BUT_HEADS)
def count_excepted(pieces: list[Piece]) -> None:
    """`none rooted except 3 in lot 9`: those excepted are the ones that have rooted, and not none of them, in place."""
    found = _NOTHING_BUT.first_from(pieces)
    if found is None:
        return
    at, end = found
    start, stop = statement_at(pieces, at)
    nought = [piece for piece in pieces[start:at] if "none" in piece.roles or piece.low == "nothing"]
    states = [piece for piece in pieces[start:at] if state_of(piece)]
    while end < stop and (pieces[end].low == "the" or pieces[end].low in _IN):
        end += 1
    excepted = pieces[end] if end < stop else None
    if excepted is None or len(nought) != 1 or len(states) != 1 or any(one.kind in COUNTS for one in pieces[start:at]):
        return
    before = any(piece.kind in SUBJECTS for piece in pieces[start:at])
    where = pieces[end + 1 : stop]
    ends = not where or (not before and len(where) == 2 and where[0].low in _IN and where[1].kind in SUBJECTS)
    named = not before and names_plants(excepted)
    if ends and (numbers_in(excepted) or named):
        keep_words(*nought, *pieces[at : found[1]])


def _part_others(pieces: list[Piece]) -> None:
    """`misted 4 | not 5`: another that a care was not given to, as if after a comma."""
    for at in range(len(pieces) - 2, 1, -1):
        word = pieces[at - 2].roles.get("act")
        ends = at + 2 == len(pieces) or pieces[at + 2].kind == "break"
        named = pieces[at - 1].kind == pieces[at + 1].kind == "number"
        if pieces[at].low == "not" and ends and named and word is not None and word.act in COUNTLESS:
            pieces.insert(at, comma_before(pieces[at]))


def _leave_out(pieces: list[Piece], whole: int, at: int, end: int) -> None:
    one, kind = pieces[end + 2], pieces[whole].kind
    names = names_in(one)
    of_those = one.kind in ("number", kind) and bool(names) and holds_more(pieces[whole], names)
    start = begin_of_sentence(pieces, whole + 1)
    nought = [piece for piece in pieces[start:at] if not piece.roles.keys().isdisjoint(_NOUGHT)]
    excepted = pieces[at].low != ","
    if of_those and ("left" in pieces[at].roles or (excepted and all_before(pieces, at) is not None)):
        keep_run(pieces, at, end + 3)
    elif of_those and nought:
        one.kind, one.value = kind, names
        pieces[at:end] = [comma_before(pieces[at])]
    elif excepted and (of_those or (one.kind in SUBJECTS and nought)):
        if " ".join(piece.low for piece in pieces[at:end]) in SOFTLY and not nought:
            return
        keep_run(pieces, at, end + 3)
        for piece in nought:
            piece.kind, piece.roles = "kept", {}
        return
    else:
        return
    pieces[whole].value = tuple(name for name in pieces[whole].value if name not in names)
