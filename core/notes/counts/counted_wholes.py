"""Out of how many, where other words stand between: `30 of the surviving 42`, `30 of the 42 left in lot 18 rooted`.

And where one number is no count of the whole: the tally of `six packs 5/6 4/6 6/6`, which is asked.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from core.notes.words.pieces import COUNTS, Piece, is_act
from core.notes.words.said import keep_words
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_OF: Final = frozenset({"of", "of the", "out of", "out of the", "of those", "of my", "of our", "the", "those"})
_STILL_THERE: Final = small_words("counted_wholes", "still_there")
_LEFT: Final = small_words("counted_wholes", "left")
_JOINTS: Final = frozenset({",", "and", "&"})
_ODDS: Final = 10
_MOST_TRAYS: Final = 12
_TALLIED: Final = 3


@looks_for("+", "in", "to", any_of=_STILL_THERE | _LEFT, beside=("=number",))
def join_wholes(pieces: list[Piece]) -> None:
    """Gives each count the whole that it is out of, in place."""
    for place, piece in enumerate(pieces):
        if piece.kind != "number" or piece.value.whole is None:
            continue
        _added(pieces, place)
        _join_odds(pieces, place)
        _whole_after(pieces, place)
        following = pieces[place + 1] if place + 1 < len(pieces) else None
        if piece.value.of is None or following is None or following.low not in _LEFT:
            continue
        if _counted_later(pieces, place + 2):
            pieces[place + 1] = Piece("phrase", None, following.first, following.last, "left", {"filler": True})


def _join_odds(pieces: list[Piece], place: int) -> None:
    """`lot 9: 1 in 3 rooted`, `9 in 10 of lot 9`: a share of the lot named; `3 to 1` is kept."""
    low, joint, high = (*pieces[place : place + 3], None, None, None)[:3]
    if low is None or joint is None or high is None or high.kind != "number" or not _counted_beside(pieces, place):
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


def _added(pieces: list[Piece], place: int) -> None:
    """`tray 5 +6 sprouted`: six more; not the `+ 12 lot 31` of another lot."""
    plus = pieces[place - 1] if place else None
    if plus is None or plus.low != "+" or plus.last != pieces[place].first or place < 2:
        return
    of_another = any(piece.kind in ("lots", "trays") for piece in pieces[place + 1 : place + 3])
    if pieces[place - 2].kind in ("lots", "trays") and not of_another:
        plus.kind, plus.value, plus.low, plus.roles = "phrase", None, "another", {"more": True}


def _whole_after(pieces: list[Piece], place: int) -> None:
    """`30 of the surviving 42`: the whole, and the word before it kept apart."""
    at = place + 1
    while at < len(pieces) and pieces[at].low in _OF:
        at += 1
    if at == place + 1 or at + 1 >= len(pieces) or pieces[at].low not in _STILL_THERE:
        return
    number, whole = pieces[place], pieces[at + 1]
    if whole.kind != "number" or whole.value.whole is None or number.value.of or whole.value.whole < number.value.value:
        return
    number.value = replace(number.value, of=whole.value.whole)
    kept = Piece("compared", None, pieces[at].first, pieces[at].last, pieces[at].low)
    pieces[place + 1 : at + 2] = [kept]


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
