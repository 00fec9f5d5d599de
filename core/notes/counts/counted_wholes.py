"""Out of how many, where other words stand between: `30 of the surviving 42`, `30 of the 42 left in lot 18 rooted`.

And where one number is no count of the whole: the tally of `six packs 5/6 4/6 6/6`, which is asked.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from core.notes.words.pieces import COUNTS, SUBJECTS, Piece, is_act
from core.notes.words.said import keep_words, one_piece
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_OF: Final = frozenset({"of", "of the", "out of", "out of the", "of those", "of my", "of our", "the", "those"})
_STILL_THERE: Final = small_words("counted_wholes", "still_there")
_LEFT: Final = small_words("counted_wholes", "left")
_JOINTS: Final = frozenset({",", "and", "&"})
_ODDS: Final = 10
_MOST_TRAYS: Final = 12
_TALLIED: Final = 3


@looks_for("+", beside=("=number",))
def _count_more(pieces: list[Piece]) -> None:
    """`tray 5 +6 sprouted`: six more, in place; not the `+ 12 lot 31` of another lot."""
    for at in range(2, len(pieces)):
        plus = pieces[at - 1]
        if plus.low != "+" or pieces[at].kind != "number" or plus.last != pieces[at].first:
            continue
        of_another = any(piece.kind in SUBJECTS for piece in pieces[at + 1 : at + 3])
        if pieces[at].value.whole is not None and pieces[at - 2].kind in SUBJECTS and not of_another:
            plus.kind, plus.value, plus.low, plus.roles = "phrase", None, "another", {"more": True}


@looks_for("in", "to", beside=("=counts",))
def _join_odds(pieces: list[Piece]) -> None:
    """`lot 9: 1 in 3 rooted`, `9 in 10 of lot 9`: a share of the lot named, in place; `3 to 1` is kept."""
    for at, high in enumerate(pieces):
        counted = high.kind == "number" and at > 1 and pieces[at - 2].kind == "number"
        if counted and pieces[at - 1].low in ("in", "to"):
            _join_odds_at(pieces, at - 2)


def _join_odds_at(pieces: list[Piece], place: int) -> None:
    low, joint, high = pieces[place : place + 3]
    if low.value.whole is None or not _counted_beside(pieces, place):
        return
    part, whole = low.value, high.value
    if part.of or part.high or whole.of or whole.high or whole.whole is None:
        return
    run = Piece("kept", None, low.first, high.last, f"{low.low} {joint.low} {high.low}")
    if joint.low == "in" and 0 < part.value < whole.value <= _ODDS:
        run.kind, run.roles = "phrase", {"fraction": part.value / whole.value}
        state = next((one.roles.get("noun") for one in pieces[place + 3 : place + 4]), None)
        if state is not None and state.counts_before:
            pieces[place + 3].roles = {"act": state}
        about = Piece("phrase", None, low.first, low.first, "about", {"approx": True, "filler": True})
        pieces[place : place + 3] = [about, run] if part.approx else [run]
    elif joint.low == "to" and part.value >= whole.value:
        pieces[place : place + 3] = [run]


def _counted_beside(pieces: list[Piece], place: int) -> bool:
    """Whether a lot and a state, and no other count, stand in the sentence of `1 in 3`."""
    start, end = place, place
    while start and pieces[start - 1].low not in (".", "\n", ";"):
        start -= 1
    while end < len(pieces) and pieces[end].low not in (".", "\n", ";"):
        end += 1
    said = pieces[start:place] + pieces[place + 3 : end]
    if any(piece.kind in COUNTS for piece in said):
        return False
    words = [piece.roles.get("act") or piece.roles.get("noun") for piece in said]
    named = any(piece.kind in ("lots", "trays") for piece in said)
    return named and any(word is not None and word.act in ("check", "lose") for word in words)


@looks_for(any_of=_STILL_THERE, beside=("=counts",))
def _join_survivors(pieces: list[Piece]) -> None:
    """`30 of the surviving 42`: gives each count the whole that it is out of, and keeps the word before that, in
    place.
    """
    for place, number in enumerate(pieces):
        if number.kind != "number" or number.value.whole is None or number.value.of:
            continue
        at = place + 1
        while at < len(pieces) and pieces[at].low in _OF:
            at += 1
        if at == place + 1 or at + 1 >= len(pieces) or pieces[at].low not in _STILL_THERE:
            continue
        whole = pieces[at + 1].value.whole if pieces[at + 1].kind == "number" else None
        if whole is not None and whole >= number.value.value:
            number.value = replace(number.value, of=whole)
            pieces[place + 1 : at + 2] = [one_piece(pieces[at : at + 1], "compared")]


@looks_for(any_of=_LEFT, beside=("=number",))
def _pass_what_was_left(pieces: list[Piece]) -> None:
    """`30 of the 42 left in lot 18 rooted`: those that were left are the whole, and nothing is told of the rest, in
    place.
    """
    for at in range(1, len(pieces)):
        number, left = pieces[at - 1 : at + 1]
        if left.low not in _LEFT or number.kind != "number":
            continue
        if number.value.whole is not None and number.value.of is not None and _counted_later(pieces, at + 1):
            left.kind, left.value, left.low, left.roles = "phrase", None, "left", {"filler": True}


def _counted_later(pieces: list[Piece], at: int) -> bool:
    """Whether a state that is counted follows in the statement (`have roots`)."""
    for piece in pieces[at:]:
        if piece.kind == "break":
            return False
        word = piece.roles.get("act")
        if word is not None:
            return bool(word.act == "check" and word.says.get("state"))
    return False


@looks_for("=trays", beside=("of", "out of"))
def keep_of_trays(pieces: list[Piece]) -> None:
    """`tray 1 of 2 of lot 9: 20 rooted`, `lost tray 2 of 3`: of so many trays, in place."""
    for at in range(len(pieces) - 2):
        tray, of, whole = pieces[at : at + 3]
        named = tray.kind == "trays" and len(tray.value) == 1 and tray.value[0].isdigit()
        if not named or of.low not in ("of", "out of") or whole.kind != "number" or whole.value.of is not None:
            continue
        after = pieces[at + 3 : at + 4]
        counts = any(is_act(piece) or "noun" in piece.roles or "plant" in piece.roles for piece in after)
        if not counts and whole.low.isdigit() and int(tray.value[0]) <= whole.value.value <= _MOST_TRAYS:
            keep_words(of, whole)


@looks_for("=fraction")
def join_tallies(pieces: list[Piece]) -> None:
    """Makes a tally (`5/6 4/6 6/6`: three and more counts of parts, none of them of all) one unread piece, in place."""
    if sum([piece.kind == "fraction" for piece in pieces]) < _TALLIED:
        return
    at = 0
    while at < len(pieces):
        end, many = at, 0
        while end < len(pieces) and (pieces[end].kind == "fraction" or (many and pieces[end].low in _JOINTS)):
            many += pieces[end].kind == "fraction"
            end += 1
        while end > at and pieces[end - 1].low in _JOINTS:
            end -= 1
        if many >= _TALLIED:
            run = pieces[at:end]
            low = " ".join(piece.low for piece in run)
            pieces[at:end] = [Piece("tally", None, run[0].first, run[-1].last, low)]
        at += 1


JOIN_WHOLES: Final = (_count_more, _join_odds, _join_survivors, _pass_what_was_left)
"""Give each count the whole that it is out of, in place."""
