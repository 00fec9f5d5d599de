"""Which numbers are a list of counts, one for each lot or tray named (`lots 20, 21, 22: 5, 6 and 7 rooted`).

Rules
1. As many counts in a row as the lots or trays named nearest are theirs, in order; another number of counts is asked.
2. After a deed that counts nothing (`misted lots 3 and 4, 5 and 6 too`) numbers are no counts.
3. `24 each of coyote brush and toyon` counts each plant, `trays 1-3: yarrow, clarkia, lupine` names one for each.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any, Final

from core.notes.words.act_kinds import COUNTLESS, OPENING
from core.notes.words.numbers import Number
from core.notes.words.pieces import COUNTS, SENTENCE_ENDS, SUBJECTS, Piece, is_act
from core.notes.words.runs import Runs
from core.notes.words.said import begin_of_statement, comma_before, end_of_sentence, end_of_statement, keep_words
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_JOINTS: Final = frozenset({"and", "&", ",", "+", "/"})
_NEVER: Final = COUNTLESS | {"mix", "temp", "sanitize", "pour_out", "merge"}
_LEADS: Final = frozenset({"in", "to", "into", "on", "for", "from", "of"})
_PAIR: Final = 2
_SHARING: Final = frozenset({"fraction", "all", "none"})
"""The meanings of words that may be one of counts in a row (`20 and none`)."""
_OF_SUBJECT: Final = frozenset({"in", "of", "from"})
EACH: Final = small_words("apiece", "each")
_NO_COUNTS_AFTER: Final = frozenset({"lot", "lots", "tray", "trays", "at", "for"})
_STRUCTURES: Final = small_words("places", "structures")
_OF_EACH: Final = Runs(small_words("apiece", "said"))
_MOST_BETWEEN: Final = 3
"""Between a count and `a tray` stand so many pieces at most (`48 toyon tips a tray`)."""


@looks_for("=several", beside=("each", "every", "per", "a", "apiece"))
def say_each(pieces: list[Piece]) -> None:
    """`trays 4 and 5, 48 a tray`, `36 in each`: "each", where so many are told of several trays, in place."""
    for at, number in enumerate(pieces):
        counts = number.kind in ("number", "amount")
        for place in range(at + 1, min(at + 2 + _MOST_BETWEEN, len(pieces)) if counts else 0):
            end = _OF_EACH.end_at(pieces, place)
            if end and _names_several(pieces, at, end):
                first, last = pieces[place].first, pieces[end - 1].last
                pieces[place:end] = [Piece("phrase", None, first, last, "each", {"filler": True})]
            if end or pieces[place].kind in ("break", "number", *SUBJECTS) or pieces[place].low in _LEADS:
                break


def _names_several(pieces: list[Piece], at: int, end: int) -> bool:
    """Whether several lots or trays are named before a count, or right after it (`48 toyon a tray in trays 4-5`)."""
    stop = end_of_statement(pieces, end)
    return any(piece.kind in SUBJECTS and len(piece.value) > 1 for piece in [*pieces[:at], *pieces[end:stop]])


@looks_for("=counts", "@none", "@fraction", "@all", beside=("=lots", "=trays", ":", "-", "and", "&"))
def _join_in_row(pieces: list[Piece]) -> None:
    """Makes one number of counts in a row that are told of several lots or trays, in place."""
    at = -1
    while (at := _next_in_row(pieces, at + 1)) < len(pieces):
        end = _end_of_run(pieces, at)
        act = _act_of(pieces, at, end) if end > at + 1 else None
        if end > at + 1 and act not in _NEVER:
            counts = [piece for piece in pieces[at:end] if _count(piece) is not None]
            marked = len(counts) < end - at
            named = _named(pieces, at, end, len(counts), marked=marked)
            shares = any(piece.kind in ("percent", "phrase") for piece in counts)
            named = named and not _some_of_those(pieces, at, counts)
            if named and not (shares and act not in ("check", "lose")):
                pieces[at:end] = [_listed(counts, act)]
            elif not named and marked and _is_tally(pieces, at, end, counts):
                for one in pieces[at:end]:
                    one.kind = one.kind if one.kind == "break" else "kept"


def _next_in_row(pieces: list[Piece], start: int) -> int:
    """Where the next count stands, from a place on, that another follows with nothing but joints between."""
    found = None
    for at, piece in enumerate(pieces[start:], start):
        if piece.kind in COUNTS or (piece.kind == "phrase" and not _SHARING.isdisjoint(piece.roles)):
            if found is not None:
                return found
            found = at
        elif found is not None and piece.low not in _JOINTS:
            found = None
    return len(pieces)


@looks_for("@vent_noun", beside=("=several",))
def _join_openings(pieces: list[Piece]) -> None:
    """`trays 4 and 5 vents half and shut`: as many openings as trays as one piece, in place."""
    vents = next((at for at, piece in enumerate(pieces) if "vent_noun" in piece.roles), None)
    if vents is None:
        return
    start = max((at for at in range(vents) if pieces[at].low in SENTENCE_ENDS), default=0)
    end_of = end_of_sentence(pieces, vents)
    for at in range(start, end_of):
        piece = pieces[at]
        found = [_opening(piece)]
        end = at + 1
        while found[0] is not None and end + 1 < len(pieces) and pieces[end].low in ("and", "&", ","):
            opening = _opening(pieces[end + 1])
            if opening is None:
                break
            found.append(opening)
            end += 2
        named = next((one for one in reversed(pieces[:at]) if one.kind in SUBJECTS), None)
        if len(found) > 1 and named is not None and len(named.value) == len(found):
            low = " ".join(one.low for one in pieces[at:end])
            each = tuple({"vent_open": opening} for opening in found)
            roles = {"vent_open": found[0], "apiece": each}
            pieces[at:end] = [Piece("phrase", None, piece.first, pieces[end - 1].last, low, roles)]
            return


def _opening(piece: Piece) -> float | None:
    """How far vents stand open: `half`, `1/4`."""
    if piece.kind == "fraction" and 0 < piece.value[0] < piece.value[1]:
        return float(piece.value[0] / piece.value[1])
    opening = piece.roles.get("vent_open")
    return float(opening) if opening is not None and piece.kind == "phrase" else None


@looks_for("all", beside=("have", "had", "has", "got"))
def _count_in_all(pieces: list[Piece]) -> None:
    """`lots 5, 6 and 7 all have 12 rooted`: so many in each, in place."""
    for at in range(len(pieces) - 2):
        every, has, number = pieces[at : at + 3]
        named = at and pieces[at - 1].kind in SUBJECTS and len(pieces[at - 1].value) > 1
        if named and every.low == "all" and has.low in ("have", "had", "has", "got") and number.kind == "number":
            every.kind, every.low, every.roles = "phrase", "each", {"filler": True}


@looks_for("=fraction", beside=("/",))
def _part_slashed(pieces: list[Piece]) -> None:
    """`10/12/8`: three numbers in a row, of which the last two were read as one out of another, in place."""
    for at in range(len(pieces) - 2):
        first, slash, rest = pieces[at : at + 3]
        touching = first.last == slash.first and slash.last == rest.first and slash.low == "/" and slash.value == "/"
        if first.kind == "number" and touching and rest.kind == "fraction" and not rest.value[2]:
            parts = [Piece("number", Number(value), rest.first, rest.last, str(value)) for value in rest.value[:2]]
            pieces[at + 2 : at + 3] = [parts[0], comma_before(rest), parts[1]]
            return


@looks_for("=fraction", beside=("=several",))
def _keep_doubtful(pieces: list[Piece]) -> None:
    """`lots 5/6 10/12 rooted`, `lots 5/6 rooted 10/12`: ten out of twelve, or a count for each; it is kept, and the
    count is asked, in place.
    """
    for at, before in enumerate(pieces[:-1]):
        slashed = before.kind in SUBJECTS and "/" in before.low and len(before.value) == _PAIR
        place = at + 1 + (at + 2 < len(pieces) and is_act(pieces[at + 1]))
        if slashed and pieces[place].kind == "fraction":
            keep_words(pieces[place])


def _end_of_run(pieces: list[Piece], at: int) -> int:
    """Where counts in a row end (`5, 6 and 7`, `12/36, 14/36`, `5 6 7`, `20 and none`, `50% and 75%`)."""
    before = pieces[at - 1].low if at else ""
    if _count(pieces[at]) is None or before in _NO_COUNTS_AFTER or before in _STRUCTURES:
        return at
    if at > 1 and pieces[at - 1].low == "in" and is_act(pieces[at - 2]):
        # "12 rooted in 2, 9 in 3": where they are.
        return at
    kind = pieces[at].kind
    end = at + 1
    while end < len(pieces):
        step = end
        while step < len(pieces) and step < end + 2 and pieces[step].low in _JOINTS:
            step += 1
        if step >= len(pieces) or _count(pieces[step]) is None or pieces[step].kind not in (kind, "phrase"):
            break
        if "all" in pieces[step].roles and not _closes(pieces, step + 1):
            # "31 and 28, all 4 inch".
            break
        if kind == "phrase" and step == end:
            break
        end = step + 1
    return end


def _count(piece: Piece) -> dict[str, Any] | None:
    """A count or share as values of an entry; None for anything that is neither."""
    if piece.kind == "number":
        number: Number = piece.value
        if number.whole is None or number.each or (number.high is not None and number.high != int(number.high)):
            return None
        told = {"count": number.whole, "of": number.of, "approx": number.approx or None}
        told["count_max"] = int(number.high) if number.high is not None else None
        return {key: value for key, value in told.items() if value is not None}
    if piece.kind == "fraction":
        above, below, approx = piece.value
        return {"count": above, "of": below} if above <= below and not approx else None
    if piece.kind == "percent":
        return {"share": round(piece.value.value / 100, 4)} if piece.value.value <= 100 else None
    if piece.kind != "phrase":
        return None
    if "fraction" in piece.roles:
        return {"share": round(piece.roles["fraction"], 4)}
    if "all" in piece.roles and piece.low == "all":
        return {"all_of": True}
    return {"count": 0} if "none" in piece.roles and piece.low in ("none", "zero", "nil") else None


def _act_of(pieces: list[Piece], at: int, end: int) -> str | None:
    """The act of counts in a row: of the last deed before them in their statement, of the first after it, or of the
    sentence.
    """
    start = begin_of_statement(pieces, at)
    close = end_of_statement(pieces, end)
    begin = start
    while begin and not (pieces[begin - 1].kind == "break" and pieces[begin - 1].low in SENTENCE_ENDS):
        begin -= 1
    for piece in (*reversed(pieces[start:at]), *pieces[end:close], *reversed(pieces[begin:start])):
        word = piece.roles.get("act") or piece.roles.get("shared") or piece.roles.get("noun")
        if word is not None:
            return word.act or "move"
        if "vent_noun" in piece.roles:
            return "vent"
    return None


def _named(pieces: list[Piece], at: int, end: int, many: int, *, marked: bool) -> bool:
    """Whether counts in a row are told of the lots or trays named nearest before them, else after them."""
    before = next((piece for piece in reversed(pieces[:at]) if piece.kind in SUBJECTS), None)
    if before is not None and _only_cared_for(pieces, pieces.index(before), at):
        return False
    after = next((piece for piece in pieces[end:] if piece.kind in SUBJECTS), None)
    follows = end < len(pieces) and pieces[end].low in _OF_SUBJECT and after is not None
    if before is not None and not (follows and end + 1 < len(pieces) and pieces[end + 1] is after):
        if len(before.value) == many:
            return True
        between = pieces[pieces.index(before) + 1 : at]
        same = not any(piece.kind == "break" and piece.low in SENTENCE_ENDS for piece in between)
        several = len(before.value) > 1 or (pieces[end - 2].low in ("and", "&") and pieces[at - 1].kind == "break")
        return same and marked and several and _closes(pieces, end)
    return after is not None and len(after.value) == many


def _is_tally(pieces: list[Piece], at: int, end: int, counts: list[Piece]) -> bool:
    """`lot 60: 5, 4, 6, 6, 3 rooted per pack`: several counts of one lot, of which none is that of all."""
    before = next((piece for piece in reversed(pieces[:at]) if piece.kind in SUBJECTS), None)
    word = pieces[end].roles.get("act") if end < len(pieces) else None
    states = word is not None and word.act in ("check", "lose") and word.counts_before
    one = before is not None and len(before.value) == 1 and at and pieces[at - 1] in (before, *_colons(pieces, at))
    return states and bool(one) and len(counts) > _PAIR and all(piece.kind == "number" for piece in counts)


def _colons(pieces: list[Piece], at: int) -> list[Piece]:
    return [pieces[at - 1]] if pieces[at - 1].low in (":", "-") else []


def _some_of_those(pieces: list[Piece], at: int, counts: list[Piece]) -> bool:
    """`misted trays 1-3, 2 and 3 wilting`: some of those named, and no counts."""
    before = next((piece for piece in reversed(pieces[:at]) if piece.kind in SUBJECTS), None)
    return before is not None and {piece.low for piece in counts} < set(before.value)


def _only_cared_for(pieces: list[Piece], named: int, at: int) -> bool:
    """`watered lots 3 and 4, potted 5 and 6`: the lots were named with a deed of care, and numbers right after another
    deed may be other lots.
    """
    deed = pieces[at - 1].roles.get("act") if at else None
    start, end = begin_of_statement(pieces, named), min(at, end_of_statement(pieces, named))
    words = [piece.roles["act"] for piece in pieces[start:end] if "act" in piece.roles]
    cared = bool(words) and all(word.act in COUNTLESS for word in words)
    return deed is not None and end < at and cared


def _closes(pieces: list[Piece], end: int) -> bool:
    """Whether nothing but the word for what was counted follows a row of counts."""
    return end >= len(pieces) or pieces[end].kind == "break" or is_act(pieces[end]) or "noun" in pieces[end].roles


def _listed(counts: list[Piece], act: str | None) -> Piece:
    """The counts as one number; of a check `all` is the whole share."""
    told = [count for piece in counts if (count := _count(piece)) is not None]
    if act != "lose":
        told = [{"share": 1.0} if "all_of" in one else one for one in told]
    low = " ".join(piece.low for piece in counts)
    first = told[0].get("count", 1)
    return Piece("number", Number(first, of=told[0].get("of"), each=tuple(told)), counts[0].first, counts[-1].last, low)


@looks_for("@plant", beside=EACH)
def _count_each_plant(pieces: list[Piece]) -> None:
    """`24 each of coyote brush, toyon and coffeeberry`, `18 each toyon and sage`: the count again before each plant, in
    place.
    """
    for at in range(len(pieces) - 3):
        number, each = pieces[at : at + 2]
        place = at + 2 + (pieces[at + 2].low == "of")
        if number.kind != "number" or each.low not in EACH or "plant" not in pieces[place].roles:
            continue
        place += 1
        while place + 1 < len(pieces) and pieces[place].low in _JOINTS and "plant" in pieces[place + 1].roles:
            first = pieces[place + 1].first
            pieces.insert(place + 1, Piece("number", replace(number.value), first, first, number.low))
            place += 3


@looks_for("@plant", beside=("=several",))
def _plant_each_tray(pieces: list[Piece]) -> None:
    """`sowed trays 1-4: yarrow, clarkia, lupine, poppy`: as many plants as trays are one in each, in place."""
    for at, piece in enumerate(pieces[:-1]):
        if piece.kind not in SUBJECTS or len(piece.value) < 2:
            continue
        first = at + 1 + (pieces[at + 1].low in (":", "-", "with", "w", "w/", "to"))
        word = pieces[at + 1].roles.get("act")
        if word is not None and word.act in OPENING and at + 2 < len(pieces) and pieces[at + 2].low in (":", "-"):
            # "lots 75 and 76 stuck: 24 sage, 30 toyon".
            first = at + 3
        starts: list[int] = []
        step = first
        while (plant := _planted_at(pieces, step)) is not None:
            starts.append(step)
            step = plant + 1
            while step < len(pieces) and step < plant + 3 and pieces[step].low in _JOINTS:
                step += 1
            if step == plant + 1:
                break
        if len(starts) == len(piece.value):
            _deal_out(pieces, at, starts)
            return


def _planted_at(pieces: list[Piece], at: int) -> int | None:
    """The plant, perhaps with its count before it, at a place."""
    counted = at + 1 < len(pieces) and _count(pieces[at]) is not None and pieces[at].kind == "number"
    at += counted
    return at if at < len(pieces) and "plant" in pieces[at].roles else None


@looks_for("=duration", beside=("=several",))
def _time_each_tray(pieces: list[Piece]) -> None:
    """`weaned trays 3-5: 10 min, 15 min, 20 min`: as many lengths of time as trays are one for each, in place."""
    for at, piece in enumerate(pieces[:-1]):
        if piece.kind not in SUBJECTS or len(piece.value) < 2:
            continue
        step = at + 1 + (pieces[at + 1].low in (":", "-", ",", "for"))
        starts: list[int] = []
        while step < len(pieces) and pieces[step].kind == "duration":
            starts.append(step)
            step += 1 + (step + 1 < len(pieces) and pieces[step + 1].low in _JOINTS)
        if len(starts) == len(piece.value):
            if pieces[at + 1].low == "for":
                del pieces[at + 1]
                starts = [start - 1 for start in starts]
            _deal_out(pieces, at, starts)
            return


def _deal_out(pieces: list[Piece], at: int, plants: list[int]) -> None:
    names = pieces[at].value
    pieces[at].value = names[:1]
    for place, name in reversed(list(zip(plants[1:], names[1:], strict=True))):
        first = pieces[place].first
        pieces.insert(place, Piece(pieces[at].kind, (name,), first, first, name))
    if pieces[at + 1].kind == "break":
        del pieces[at + 1]


JOIN_COUNTS: Final = (
    _count_in_all, _part_slashed, _count_each_plant, _plant_each_tray, _time_each_tray, _join_openings, _keep_doubtful,
    _join_in_row,
)  # fmt: skip
"""Give each of several lots, trays or plants the count that is told of it, in place."""
