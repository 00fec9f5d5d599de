"""What was, and what is now: `was 31 now 36`, `went from 31 to 36`; what is less than a number; what is still so.

Rules
1. A count that is no more is kept, with its day; the count of now counts.
2. `less than 10` is no 10: it is kept, and the count is asked.
3. `52 left after potting 20` tells two things.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from core.notes.words.pieces import NO_ROLES, SENTENCE_ENDS, Piece, is_act
from core.notes.words.runs import Runs
from core.notes.words.said import begin_of_statement, comma_before, end_of_statement, said_in
from core.notes.words.steps import looks_at_each, looks_for
from core.vocabulary.loading import small_words

_WAS: Final = small_words("old_and_new", "was")
_NOW: Final = small_words("old_and_new", "now")
_HOPED: Final = small_words("old_and_new", "hoped")
_THERE_IS: Final = small_words("old_and_new", "there_is")
_ROSE: Final = small_words("old_and_new", "rose")
_THEN: Final = small_words("old_and_new", "then")
_TIMES: Final = Runs(_THEN)
_COMPARED: Final = small_words("old_and_new", "compared")
_COMPARISONS: Final = Runs(_COMPARED)
_MAKING: Final = small_words("old_and_new", "making")
_FARTHEST: Final = 5
_LESS: Final = small_words("old_and_new", "less")
_LESS_THAN: Final = Runs(_LESS)
_OPENERS: Final = frozenset({",", "(", "-"})
_COUNTED: Final = ("=number", "=fraction")


def _counts(piece: Piece) -> bool:
    return piece.kind == "fraction" or (piece.kind == "number" and piece.value.whole is not None)


def _measures(piece: Piece) -> bool:
    return _counts(piece) or piece.kind in ("temp", "percent", "degrees")


@looks_at_each(any_of=_WAS)
def _keep_before_now(pieces: list[Piece], at: int) -> None:
    """`was 31 rooted now 36`, `was 31 last week, now 36 rooted`, `had 12 rooted last time, 20 today`."""
    if pieces[at].low not in _WAS or at + 2 >= len(pieces):
        return
    old = at + 1 + (pieces[at + 1].low == "at")
    if not _measures(pieces[old]) or _told_of_day(pieces, at):
        return
    end = old + 1
    if _deed_counts(pieces, end):
        _keep(pieces, at, end)
        return
    step = end
    while step < len(pieces) and step < end + _FARTHEST and not _begins_now(pieces, step):
        if pieces[step].kind == "break" and pieces[step].low in SENTENCE_ENDS:
            return
        step += 1
    if step >= len(pieces) or not _begins_now(pieces, step):
        return
    _share_too(pieces[old], pieces[step if _measures(pieces[step]) else step + 1])
    for day in range(step - 1, end - 1, -1):
        if pieces[day].kind == "moment" or pieces[day].low in _THEN:
            _keep(pieces, day, day + 1)
    _keep(pieces, at, end)
    for day in range(begin_of_statement(pieces, at), at):
        if _names_day_of_before(pieces[day]):
            # "yesterday lot 14 | had 12 rooted, now 15".
            _keep(pieces, day, day + 1)


def _names_day_of_before(piece: Piece) -> bool:
    return piece.kind == "moment" and bool(piece.value.names_day) and piece.low not in _NOW


def _told_of_day(pieces: list[Piece], at: int) -> bool:
    """`yesterday lot 14 | had 12 rooted, today 15`: a count of each of two days, and none of before."""
    before = pieces[begin_of_statement(pieces, at) : at]
    until = end_of_statement(pieces, at)
    today = any(piece.low == "today" for piece in pieces[until + 1 : until + 2])
    return today and any(map(_names_day_of_before, before))


def _deed_counts(pieces: list[Piece], at: int) -> bool:
    """`was 36 | lost 4`: a deed with a count of its own."""
    at += at < len(pieces) and pieces[at].low == ","
    word = pieces[at].roles.get("act") if at + 1 < len(pieces) else None
    return word is not None and not word.counts_before and _counts(pieces[at + 1])


@looks_at_each(any_of=_HOPED, beside=_COUNTED)
def _keep_hoped_for(pieces: list[Piece], at: int) -> None:
    """`expected 40 rooted, found 12`: what was only hoped for, before what there is."""
    number = pieces[at + 1] if at + 2 < len(pieces) else None
    if pieces[at].low not in _HOPED or number is None or not _counts(number):
        return
    end = end_of_statement(pieces, at)
    joint = next((place for place in range(at + 2, end) if pieces[place].low == "but"), end)
    found = joint + 1
    while found < len(pieces) and pieces[found].low in _THERE_IS:
        found += 1
    told = joint + 1 < found < len(pieces) and _counts(pieces[found])
    if told and not any(map(is_act, pieces[found:end_of_statement(pieces, found)])):
        _keep(pieces, at, at + 2)


def _begins_now(pieces: list[Piece], at: int) -> bool:
    """Whether the count of now begins at a place (`now 36`, `20 today`)."""
    after = pieces[at + 1] if at + 1 < len(pieces) else None
    if after is None:
        return False
    return (pieces[at].low in _NOW and _measures(after)) or (_measures(pieces[at]) and after.low in _NOW)


def _share_too(old: Piece, new: Piece) -> None:
    """`was 60% rooted, now 80`: the count of now is a share as well."""
    if old.kind == "percent" and new.kind == "number" and new.value.of is None and new.value.value <= 100:
        new.kind = "percent"


@looks_at_each("from", beside=_ROSE | {"!check"})
def _keep_risen_from(pieces: list[Piece], at: int) -> None:
    """`went from 31 to 36 rooted`, `went from 40 to 31`, `up from 31 to 36`: what it was before is no count."""
    went = pieces[at].low in _ROSE
    if not (went or _tells_state(pieces[at])) or at + 2 >= len(pieces) or pieces[at + 1].low != "from":
        return
    number = pieces[at + 2]
    if number.kind in ("temp", "percent") and at + 4 < len(pieces) and pieces[at + 3].low in ("to", "->"):
        _keep(pieces, at, at + 3)
        return
    if number.kind != "number" or number.value.whole is None:
        return
    high = number.value.high
    if high is not None and number.last - number.first == 3 and high == int(high):
        old = Piece("number", replace(number.value, high=None), number.first, number.first + 1)
        new = Piece("number", replace(number.value, value=high, high=None), number.last - 1, number.last, f"{high:g}")
        pieces[at + 2 : at + 3] = [old, new]
        _keep(pieces, at + (not went), at + 3)
    elif went and at + 4 < len(pieces) and pieces[at + 3].low in ("to", "->") and _counts(pieces[at + 4]):
        _keep(pieces, at, at + 3)


def _tells_state(piece: Piece) -> bool:
    """The `rooted` of `lot 14 rooted from 20 to 31`."""
    word = piece.roles.get("act")
    return word is not None and word.act == "check" and "state" in word.says


@looks_at_each("up", "down", beside=("=number",))
def _keep_risen_by(pieces: list[Piece], at: int) -> None:
    """`lot 31 down 6 to 18`: by how many it fell, and how many are left."""
    number = pieces[at + 1] if at + 1 < len(pieces) else None
    if pieces[at].low not in ("up", "down") or number is None or number.kind != "number":
        return
    closes = at + 2 == len(pieces) or pieces[at + 2].kind == "break"
    if pieces[at].low == "down" and number.value.high is None and closes and _named_before(pieces, at):
        _keep(pieces, at, at + 2)
        return
    if number.value.high is None:
        return
    high = number.value.high
    if " to " in number.low and number.last - number.first == 3 and high == int(high) and _named_before(pieces, at):
        new = Piece("number", replace(number.value, value=high, high=None), number.last - 1, number.last, f"{high:g}")
        run = [pieces[at], Piece("kept", None, number.first, number.first + 1, number.low.split(" ")[0])]
        pieces[at : at + 2] = [*run, new]
        _keep(pieces, at, at + 2)


def _named_before(pieces: list[Piece], at: int) -> bool:
    return at > 0 and pieces[at - 1].kind in ("lots", "trays")


@looks_at_each("up", "down", any_of=_WAS | _ROSE, beside=_COUNTED)
def _keep_afterthought(pieces: list[Piece], at: int) -> None:
    """`36 rooted, was 31`, `36 rooted (up from 31 last week)`."""
    end = at + 1
    if pieces[at].low in _ROSE and at + 1 < len(pieces) and pieces[at + 1].low == "from":
        end = at + 2
    elif pieces[at].low in ("up", "down") and at + 2 < len(pieces) and pieces[at + 2].low == "from":
        # "36 rooted, up 5 from last week": by how many it rose.
        end = at + 1
    elif pieces[at].low not in _WAS:
        return
    if end >= len(pieces) or not _counts(pieces[end]) or at == 0 or pieces[at - 1].low not in _OPENERS:
        return
    end += 1
    end += end < len(pieces) and pieces[end].low == "from"
    end += end < len(pieces) and pieces[end].kind == "moment"
    closes = end >= len(pieces) or pieces[end].kind == "break"
    if closes and _counted_before(pieces, at):
        _keep(pieces, at, end)


@looks_at_each(any_of=_COMPARED, beside=("=counts", "@none"))
def _keep_compared(pieces: list[Piece], at: int) -> None:
    """`44 up vs 39 on sat`: the count of another day, with its day."""
    number = _COMPARISONS.end_at(pieces, at)
    none = number and number < len(pieces) and "none" in pieces[number].roles
    if not number or number >= len(pieces) or not (none or _counts(pieces[number])) or not _counted_before(pieces, at):
        return
    end = number + 1
    end += end < len(pieces) and (is_act(pieces[end]) or "noun" in pieces[end].roles)
    lead = end + (end < len(pieces) and pieces[end].low in ("on", "at", "from"))
    told = _TIMES.end_at(pieces, lead)
    if lead < len(pieces) and pieces[lead].kind == "moment":
        end = lead + 1
    elif told > lead:
        end = told
    if end >= len(pieces) or pieces[end].kind == "break":
        _keep(pieces, at, end)


@looks_at_each(any_of=_THEN, beside=("=counts",))
def _keep_then(pieces: list[Piece], at: int) -> None:
    """`12 rooted last check 20 today`: a count of before, where the count of now follows."""
    end = told = _TIMES.end_at(pieces, at)
    if told and told + 1 < len(pieces) and pieces[told].low == "," and not pieces[at].low.startswith("last "):
        end = told + 1
    now = end > at and end + 1 < len(pieces) and _counts(pieces[end]) and _is_now(pieces[end + 1])
    count = next((step for step in range(at - 1, max(-1, at - 4), -1) if _counts(pieces[step])), None)
    between = pieces[count + 1 : at] if count is not None else []
    if now and count is not None and all(piece.kind in ("word", "phrase") for piece in between):
        _keep(pieces, at, told)
        _keep(pieces, count, count + 1)


def _is_now(piece: Piece) -> bool:
    """`today`, `now`."""
    return piece.low in _NOW


def _counted_before(pieces: list[Piece], at: int) -> bool:
    for piece in reversed(pieces[:at]):
        if piece.kind == "break" and piece.low in SENTENCE_ENDS:
            return False
        if _counts(piece):
            return True
    return False


@looks_at_each("more", "less", "fewer", "under", any_of=_LESS)
def _keep_bound(pieces: list[Piece], at: int) -> None:
    """`less than 10 rooted`, `not even 10`, `under 10% rooted`, `no more than 10`, `3 short of 40`."""
    number = pieces[at + 1] if at + 1 < len(pieces) else None
    if pieces[at].low in ("no", "not") and number is not None and number.low.startswith("more than"):
        _keep(pieces, at, at + 2)
        return
    for size in (3, 2, 1) if pieces[at].low in _LESS_THAN.heads else ():
        end = at + size
        if " ".join(piece.low for piece in pieces[at:end]) in _LESS and end < len(pieces) and _bounds(pieces, end):
            lacking = pieces[end - 1].low == "of" and at > 0 and pieces[at - 1].kind == "number"
            _keep(pieces, at - lacking, end + 1)
            return
    if _counts(pieces[at]) and said_in(pieces[at + 1 : at + 3]) in ("or less", "or fewer", "or under"):
        _keep(pieces, at, at + 3)


@looks_at_each("most", "at most", beside=("=number",))
def _keep_bound_before(pieces: list[Piece], at: int) -> None:
    """`20 rooted at most`: a bound that is told after the count and its state."""
    words = [piece.low for piece in pieces[at : at + 2]]
    bound = words[:1] == ["at most"] or words == ["at", "most"]
    if bound and at > 1 and is_act(pieces[at - 1]) and pieces[at - 2].kind == "number":
        pieces[at - 2].kind = "kept"
        for piece in pieces[at : at + (1 if " " in words[0] else 2)]:
            piece.kind, piece.roles = "kept", NO_ROLES


@looks_at_each("minus", "less", beside=("=counts",))
def keep_lessened(pieces: list[Piece], at: int) -> None:
    """`28 minus 8 dead is 20`: how many there were, and how many are left, beside what became of some."""
    lessened = at > 0 and at + 2 < len(pieces) and pieces[at].low in ("minus", "less")
    if not lessened or not (_counts(pieces[at - 1]) and _counts(pieces[at + 1]) and is_act(pieces[at + 2])):
        return
    if any(map(is_act, pieces[begin_of_statement(pieces, at) : at])):
        return
    left = pieces[at + 3 : at + 5]
    if len(left) > 1 and left[0].low in _MAKING and _counts(left[1]):
        _keep(pieces, at + 3, at + 5)
    _keep(pieces, at - 1, at + 1)


def _bounds(pieces: list[Piece], at: int) -> bool:
    part = pieces[at].kind == "percent" or "fraction" in pieces[at].roles
    return (part and at + 1 < len(pieces) and is_act(pieces[at + 1])) or _counts(pieces[at])


def _keep(pieces: list[Piece], at: int, end: int) -> None:
    run = pieces[at:end]
    low = " ".join(piece.low for piece in run)
    pieces[at:end] = [Piece("kept", None, run[0].first, run[-1].last, low, NO_ROLES)]


@looks_for("left", "remain", "remaining", beside=("=counts", "after"))
def _part_left(pieces: list[Piece]) -> None:
    """`after potting lot 9 20 left`: a comma before what is left after a deed, in place."""
    for at in range(3, len(pieces) - 1):
        if not _counts(pieces[at]) or pieces[at + 1].low not in ("left", "remain", "remaining"):
            continue
        start = begin_of_statement(pieces, at)
        if at > start + 1 and _counts(pieces[at - 2]) and "act" in pieces[at - 1].roles:
            # "8 lost 32 left": the second is how many are left.
            pieces.insert(at, comma_before(pieces[at]))
            return
        ing = start + 1 < at and pieces[start + 1].low.split(" ")[0].endswith("ing") and is_act(pieces[start + 1])
        if ing and pieces[start].low == "after":
            pieces.insert(at, comma_before(pieces[at]))
            return


@looks_for("after", beside=("=counts",))
def _part_after_deed(pieces: list[Piece]) -> None:
    """`52 left in lot 14 after potting 20`: a comma before the deed that came first, in place."""
    for at in range(len(pieces) - 3, 1, -1):
        lead, deed, number = pieces[at : at + 3]
        if lead.low != "after" or not is_act(deed) or not deed.low.split(" ")[0].endswith("ing") or not _counts(number):
            continue
        start = begin_of_statement(pieces, at)
        if any(_counts(piece) for piece in pieces[start:at]):
            pieces.insert(at, comma_before(lead))


KEEP_OLD: Final = (
    _keep_before_now, _keep_hoped_for, _keep_risen_from, _keep_risen_by, _keep_afterthought, _keep_compared, _keep_then,
    _keep_bound, _keep_bound_before, _part_after_deed, _part_left,
)  # fmt: skip
"""Keep counts of before, and bounds, out of what is counted, in place."""
