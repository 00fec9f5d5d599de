"""Which lots came of one that was split, and how many each has: `split lot 30 into 94 (12) and 95 (8)`.

Rules
1. Those that stay are no lot of their own (`20 stay, 14 become lot 94`): they are kept.
2. A bare number with its count in brackets or after "gets" is a new lot; so is the one that so many "go to".
3. `94 and 95, 10 each` tells two new lots with ten in each.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from core.notes.words.pieces import NO_ROLES, SENTENCE_ENDS, Piece
from core.notes.words.said import is_end, keep_words
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_STAYING: Final = small_words("split", "staying")
_HOLDING: Final = small_words("split", "holding") | {"=", ":", "-"}
_SHALL_BE: Final = small_words("split", "shall_be")
_NEW: Final = frozenset({"a", "the", "new"})
_GOING: Final = small_words("split", "going")
_JOINTS: Final = frozenset({",", "and", "&", "+"})
_INTO: Final = frozenset({"into", "to", "as", "in", "ways", "way", ":", "-"})
_LOTS: Final = frozenset({"lots", "new lots", "ways", "groups"})
_DASHED: Final = 3
_WENT: Final = frozenset({"went", "go", "going"})
_EACH: Final = small_words("apiece", "each")

Pair = tuple[int, int, str, Piece]
"""Where a new lot and its count begin and end, its name, and the count."""


@looks_for("!split", beside=_SHALL_BE)
def lead_lots_to_be(pieces: list[Piece]) -> None:
    """`split 20 out of lot 33 | to be | lot 110`: no plan, but the new lot, in place."""
    split = False
    for at, piece in enumerate(pieces[:-1]):
        word = piece.roles.get("act")
        split = (split or (word is not None and word.act == "split")) and piece.low not in SENTENCE_ENDS
        new = next((one for one in pieces[at + 1 :] if one.low not in _NEW), piece)
        if split and piece.low in _SHALL_BE and new.kind == "lots":
            piece.kind, piece.low, piece.roles = "phrase", "as", {"filler": True}


@looks_for("!split", "!divide", beside=("=number",))
def tell_new_lots(pieces: list[Piece]) -> None:
    """Puts each count of a split right before its new lot (`12 as lot 94`), in place."""
    _split_divided(pieces)
    at = next((at for at, piece in enumerate(pieces) if "act" in piece.roles and piece.roles["act"].act == "split"), 0)
    start, end = _sentence(pieces, at)
    origin = next((piece for piece in pieces[start:end] if piece.kind == "lots"), None)
    if origin is None or "act" not in pieces[at].roles:
        _divide_plant(pieces, at)
        return
    if len(origin.value) != 1:
        _keep_listed(pieces, at, end)
        return
    _go_to_new_lots(pieces)
    start, end = _sentence(pieces, at)
    _keep_number_of_lots(pieces, at)
    _keep_staying(pieces, start, end)
    _keep_each(pieces, at)
    _name_holding(pieces, at, origin.value[0])
    _lead_new_lots(pieces, origin)


def _split_divided(pieces: list[Piece]) -> None:
    """`lot 9 divided into lot 44 (24) and lot 45 (30)`: a lot that became others was split, in place."""
    for at in range(1, len(pieces) - 2):
        if pieces[at + 1].low != "into":
            continue
        word = pieces[at].roles.get("act")
        divided = word is not None and word.act == "divide"
        if divided and pieces[at - 1].kind == "lots" and pieces[at + 2].kind == "lots":
            pieces[at].roles = {"act": ActWord(act="split")}


def _divide_plant(pieces: list[Piece], at: int) -> None:
    """`dug rush, split into 9`: a plant that was divided, where no lot is named at all, in place."""
    into, number = pieces[at + 1 : at + 2], pieces[at + 2 : at + 3]
    named = any("plant" in piece.roles for piece in pieces[:at]) and all(piece.kind != "lots" for piece in pieces)
    if named and into and into[0].low == "into" and number and _bare(number[0]) and is_end(pieces, at + 3):
        pieces[at].roles = {"act": ActWord(act="divide")}
        into[0].roles, into[0].used = {"filler": True}, True


def _keep_number_of_lots(pieces: list[Piece], at: int) -> None:
    """`split 2 lots off lot 30`, `split lot 9 20-10 into 50 and 51`: how many lots there are, and two counts for two
    lots, of which no one is said to be of the first or the second.
    """
    for place in range(at + 1, len(pieces) - 1):
        number, after = pieces[place], pieces[place + 1]
        if number.kind != "number":
            continue
        if after.low in _LOTS:
            keep_words(number, after)
        run = pieces[place : place + _DASHED]
        counts = len(run) == _DASHED and _bare(run[0]) and run[1].kind == "dash" and _bare(run[2])
        if counts and place + _DASHED < len(pieces) and pieces[place + _DASHED].low == "into":
            keep_words(*run)


def _go_to_new_lots(pieces: list[Piece]) -> None:
    """`split lot 64: 9 | went to new | lot 96 and 5 | to | lot 97`: where so many of a split went are the new lots, in
    place.
    """
    for at in range(len(pieces) - 2, 0, -1):
        if pieces[at - 1].kind != "number":
            continue
        new = at + (pieces[at].low in _WENT)
        leads = new < len(pieces) and pieces[new].low in ("to", "into")
        new += leads
        new += new < len(pieces) and pieces[new].low == "new"
        if leads and new < len(pieces) and pieces[new].kind == "lots":
            led = Piece("phrase", None, pieces[at].first, pieces[new - 1].last, "as", {"filler": True})
            pieces[at:new] = [led]


def _lead_new_lots(pieces: list[Piece], origin: Piece) -> None:
    """`split lot 9 | 10 lot 20, 12 lot 21`: a count right before each new lot, at the end of its statement."""
    first = pieces.index(origin) + 1
    for place in range(len(pieces) - 1, first, -1):
        number, lot = pieces[place - 1], pieces[place]
        if lot.kind != "lots":
            continue
        before = pieces[place - 2]
        new = len(lot.value) == 1 and lot.value != origin.value
        ends = place + 1 == len(pieces) or pieces[place + 1].kind == "break" or pieces[place + 1].low in _JOINTS
        opens = before is origin or before.low in _JOINTS | {":", ";"}
        if new and ends and opens and number.kind == "number" and _counts(number):
            pieces.insert(place, Piece("phrase", None, lot.first, lot.first, "as", {"filler": True}))


def _sentence(pieces: list[Piece], at: int) -> tuple[int, int]:
    start = at
    while start and pieces[start - 1].low not in SENTENCE_ENDS:
        start -= 1
    end = at
    while end < len(pieces) and pieces[end].low not in SENTENCE_ENDS:
        end += 1
    return start, end


def _keep_staying(pieces: list[Piece], start: int, end: int) -> None:
    """`20 stay`, `30 stay as 12`: those that are of the old lot still."""
    for at in range(start, end - 1):
        number, verb = pieces[at], pieces[at + 1]
        if number.kind != "number" or verb.low not in _STAYING:
            continue
        run = [number, verb]
        named = pieces[at + 2 : at + 4]
        if len(named) == 2 and named[0].low in ("as", "in", "with") and named[1].kind in ("number", "lots"):
            run.extend(named)
        keep_words(*run)


def _keep_listed(pieces: list[Piece], at: int, end: int) -> None:
    """`split lots 8 and 9, 10 each, to 93 and 94`: which of several became which is not told."""
    for place in range(at + 1, end - 3):
        listed = pieces[place : place + 4]
        joint = listed[2].low in _JOINTS
        if listed[0].low in _INTO and _bare(listed[1]) and joint and _bare(listed[3]):
            keep_words(*listed)


def _keep_each(pieces: list[Piece], at: int) -> None:
    """`into 94 and 95, 10 each`: a count after each of the new lots, in the stead of one for all."""
    for place in range(at + 2, len(pieces) - 1):
        number, each = pieces[place], pieces[place + 1]
        if number.kind != "number" or each.low not in _EACH or not _counts(number):
            continue
        first = place - (pieces[place - 1].kind == "break")
        names: list[Piece] = []
        while first > at and (_bare(pieces[first - 1]) or pieces[first - 1].low in _JOINTS):
            first -= 1
            names[:0] = [pieces[first]] if _bare(pieces[first]) else []
        if len(names) < 2 or pieces[first - 1].low not in _INTO:
            return
        told: list[Piece] = []
        for name in names:
            told.extend((name, _mark("(", name), Piece(number.kind, number.value, name.first, name.last, number.low)))
            told.append(_mark(")", name))
        each.used, each.kind, each.roles = True, "mark", NO_ROLES
        number.used, number.kind = True, "mark"
        pieces[first:place] = told
        return


def _mark(low: str, near: Piece) -> Piece:
    return Piece("break", low, near.first, near.first, low)


def _name_holding(pieces: list[Piece], at: int, origin: str) -> None:
    """`94 (12) and 95 (8)`, `91 gets 12, 92 gets 8`, `14 go to 96`."""
    place = at + 1
    while place < len(pieces):
        pair = _pair_at(pieces, place) if pieces[place].kind in ("lots", "number") else None
        if pair is None:
            place += 1
            continue
        first, end, name, count = pair
        if name == origin:
            keep_words(*pieces[first + (pieces[first].kind == "lots") : end])
            place = end
            continue
        lot = Piece("lots", (name,), count.first, pieces[end - 1].last, name)
        told = [count, Piece("phrase", None, count.first, count.first, "as", {"filler": True}), lot]
        before = pieces[first - 1]
        if before.low in _JOINTS and first - 1 > at:
            pieces[first - 1 : first] = [Piece("break", ",", before.first, before.last, ",")]
        elif before.low in _INTO and before.kind == "phrase":
            before.kind, before.roles, before.used = "mark", NO_ROLES, True
        pieces[first:end] = told
        place = first + len(told)


def _pair_at(pieces: list[Piece], at: int) -> Pair | None:
    told = pieces[at : at + 4]
    bracketed = len(told) == 4 and (told[1].low, told[3].low) == ("(", ")") and _counts(told[2])
    if bracketed and told[0].kind == "lots" and len(told[0].value) == 1:
        return at, at + 4, str(told[0].value[0]), told[2]
    if not _bare(pieces[at]):
        return _ranged_at(pieces, at)
    name, end = pieces[at].low, at + 1
    if end < len(pieces) and len(pieces[end].low) == 1 and pieces[end].low.isalpha():
        name, end = name + pieces[end].low, end + 1
    bracket = [piece.low for piece in pieces[end : end + 1]] == ["("]
    if bracket and end + 2 < len(pieces) and _counts(pieces[end + 1]) and pieces[end + 2].low == ")":
        return at, end + 3, name, pieces[end + 1]
    if end + 1 < len(pieces) and pieces[end].low in _HOLDING and _counts(pieces[end + 1]):
        return at, end + 2, name, pieces[end + 1]
    return _going_at(pieces, at)


def _going_at(pieces: list[Piece], at: int) -> Pair | None:
    """`14 went to 93`, `14 went to lot 93`: so many that are a new lot now."""
    told = pieces[at + 1 : at + 4]
    if len(told) < 3 or told[0].low not in _GOING or told[1].low not in ("to", "into", "in"):
        return None
    if told[2].kind == "lots" and len(told[2].value) == 1:
        return at, at + 4, str(told[2].value[0]), pieces[at]
    if not _bare(told[2]) or (at + 4 < len(pieces) and "container" in pieces[at + 4].roles):
        return None
    return at, at + 4, told[2].low, pieces[at]


def _ranged_at(pieces: list[Piece], at: int) -> Pair | None:
    """`12 to 94`: so many that went to a lot, where a range would be a wide one."""
    piece = pieces[at]
    if piece.kind != "number" or " to " not in piece.low or piece.value.high is None or pieces[at - 1].kind != "break":
        return None
    closes = at + 1 == len(pieces) or pieces[at + 1].kind == "break" or pieces[at + 1].low in _JOINTS
    if not closes or piece.value.high < 2 * piece.value.value:
        return None
    count = Piece("number", replace(piece.value, high=None), piece.first, piece.first + 1, piece.low.split(" ")[0])
    return at, at + 1, f"{piece.value.high:g}", count


def _bare(piece: Piece) -> bool:
    return piece.kind == "number" and piece.low.isdigit() and _counts(piece)


def _counts(piece: Piece) -> bool:
    return piece.kind == "number" and piece.value.whole is not None and piece.value.high is None
