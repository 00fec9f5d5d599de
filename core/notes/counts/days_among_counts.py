"""Which fractions are days: `5/10 lot 9 12/40 rooted`, `30 up 6/8`, where the statement has another count.

Rules
1. In a statement with two counts the one beside its state counts; a fraction that may be a day is one.
2. A fraction alone at the head of a line, or with its lot before a colon or a dash, is the day of the count after it.
3. From one day to another (`5/8-5/10`) names no one day, and may be a range of counts: it is kept.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from typing import Final

from core.notes.counts.days_in_row import COUNTING, is_harmed, is_weekday, join_days, may_be_day, states
from core.notes.counts.days_of_deeds import counts_plants, keep_coming, part_second_day
from core.notes.days.moments import Moment, resolve_past
from core.notes.words.act_kinds import COUNTLESS, OPENING
from core.notes.words.pieces import NO_ROLES, SENTENCE_ENDS, SUBJECTS, Piece
from core.notes.words.said import (
    begin_of_statement,
    comma_before,
    end_of_statement,
    keep_words,
    pass_over,
    statement_at,
)
from core.notes.words.steps import Marks, Steps, looks_for
from core.vocabulary.loading import small_words

_TELLING: Final = frozenset({
    "act", "shared", "noun", "to_do", "plant", "container", "medium", "cover_noun", "vent_noun", "vent_open", "cause",
    "solution", "thing", "place_word", "plan", "negation", "condition",
})  # fmt: skip
_OUT_OF: Final = small_words("split", "out_of") | {"of", "in", "on"}
_BEING: Final = small_words("beside", "being")
_LONGEST: Final = 3
_NEAR: Final = 60
_UNTIL: Final = frozenset({"-", "to", "thru", "through", "til", "till", "until", "and"})
_COUNTINGS: Final = frozenset({"count", "counts", "counted", "count on", "tally"})


@looks_for("=fraction", "=moment", "=dashed")
def find_days(pieces: list[Piece], marks: Marks, now: datetime) -> None:
    """Makes the fractions that are days, by the other counts beside them, days, in place; `marks` are those of the
    sentence.
    """
    _KEEP_SPANS.take(pieces, marks)
    if _dashed_days.needed_by(marks):
        _dashed_days(pieces, now)
    if _open_counts.needed_by(marks):
        _open_counts(pieces)
    if _name_days.needed_by(marks):
        _name_days(pieces, now)
    _JOIN_DAYS.take(pieces, marks)


@looks_for("=fraction")
def _name_days(pieces: list[Piece], now: datetime) -> None:
    """`5/10 lot 9 12/40 rooted`: the fractions that are days, in place."""
    for at, piece in enumerate(pieces):
        if not may_be_day(piece) or _of_each(pieces, at):
            continue
        start, end = statement_at(pieces, at)
        if _in_heading(pieces, start, end) and _is_near(piece, now):
            _make_day(pieces, at)
            piece.roles = {"heads": True}
            continue
        if _heads_another_count(pieces, at, end) and _is_near(piece, now):
            _make_day(pieces, at)
            continue
        if not _only_counts(pieces, start, end):
            continue
        others = [place for place in range(start, end) if place != at and counts_plants(pieces[place])]
        tells = any(_is_own(pieces, place) for place in others) and not _is_own(pieces, at)
        after = any(_is_own(pieces, place, before=True) for place in others) and not _is_own(pieces, at, before=True)
        if _either(pieces, at, start):
            keep_words(pieces[at])
            keep_words(pieces[at + 1])
        elif tells or after or _before_state(pieces, at, end) or (not others and _heads_near(pieces, at, now)):
            _make_day(pieces, at)


def _heads_another_count(pieces: list[Piece], at: int, end: int) -> bool:
    """`8/15 54 of lot 56 alive`, `8/15 mice got 53`, `8/15 lot 54 vents half`: a day before what is counted, or before
    a lot of which nothing is.
    """
    if at and pieces[at - 1].low not in SENTENCE_ENDS:
        return False
    said = pieces[at + 1 : end]
    if not said or said[0].low in _OUT_OF:
        return False
    held = said[0].roles.get("shared")
    if held is not None and held.rule == "hold" and len(said) > 1 and said[1].kind in SUBJECTS:
        return True
    if any(_counts_of_deed(said, place) for place in range(1, len(said))):
        return True
    if "thing" in said[0].roles and any("solution" in piece.roles for piece in said):
        return True
    if _is_own(pieces, at):
        return False
    if any(piece.kind in ("number", "fraction") for piece in said):
        return said[0].kind not in SUBJECTS and not states(said[0], after=True)
    return said[0].kind in SUBJECTS and any("vent_noun" in piece.roles for piece in said)


def _counts_of_deed(said: list[Piece], place: int) -> bool:
    """The 28 of `frost killed 28 in tray 3`, the 61 of `lost about 61 to rot`; not the 3 of `rooted 3 dead`."""
    number, after = said[place], said[place + 1 : place + 2]
    lead = place - 1 - ("approx" in said[place - 1].roles and place > 1)
    word = said[lead].roles.get("act")
    of_deed = word is not None and (word.act == "lose" or not word.counts_before) and word.act != "check"
    return number.kind == "number" and of_deed and not any(map(states, after))


@looks_for("=fraction", "=moment", beside=(f"!{act}" for act in OPENING))
def _part_after_opening(pieces: list[Piece]) -> None:
    """`tray 4 sown 5/10 12 up`: the day of a sowing, and what came of it, parted in place."""
    for at in range(len(pieces) - 3, 0, -1):
        word = pieces[at - 1].roles.get("act")
        day, number, state = pieces[at : at + 3]
        opens = word is not None and word.act in OPENING
        dated = may_be_day(day) or (day.kind == "moment" and day.value.names_day)
        if opens and dated and counts_plants(number) and states(state) and "noun" in state.roles:
            if day.kind == "fraction":
                _make_day(pieces, at)
            pieces.insert(at + 1, comma_before(number))
            return


def _in_heading(pieces: list[Piece], start: int, end: int) -> bool:
    """`closing notes 8/18` on the first line, `wed 8/12 catch up:`: words that tell nothing beside the day."""
    heads = start == 0 and end < len(pieces) - 1 and pieces[end].low in ("\n", ":")
    names = [piece for piece in pieces[start : start + 1] if "weekday" in piece.roles or is_weekday(piece)]
    others = [piece for piece in pieces[start + len(names) : end] if piece.kind != "fraction"]
    said = 0 < len(others) == end - start - 1 - len(names)
    return heads and said and len(others) <= _LONGEST and all(map(_tells_nothing, others))


def _tells_nothing(piece: Piece) -> bool:
    known = piece.kind in ("word", "phrase") and piece.low not in _BEING
    return known and piece.roles.keys().isdisjoint(_TELLING)


def _is_near(piece: Piece, now: datetime) -> bool:
    found = resolve_past(Moment(month=piece.value[0], day=piece.value[1]), now)
    return found is not None and not isinstance(found, datetime) and (now.date() - found).days <= _NEAR


def _before_state(pieces: list[Piece], at: int, end: int) -> bool:
    """`lot 9: 8/10 callused 20`, `8/14 callused 20`: the day of a count that stands after its state, where the lot or
    the tray is named before it.
    """
    start = begin_of_statement(pieces, at)
    opens = all(piece.kind in SUBJECTS for piece in pieces[start:at])
    told = at + 3 == end and states(pieces[at + 1]) and pieces[at + 2].kind == "number"
    return told and opens and any(piece.kind in SUBJECTS for piece in pieces[:at])


def _of_each(pieces: list[Piece], at: int) -> bool:
    """`lot 9 5/20 lot 10 7/20 rooted`: each lot right before a count of its own."""
    if at == 0 or pieces[at - 1].kind not in SUBJECTS:
        return False
    near = [(pieces[step], pieces[step + 1]) for step in (at - 3, at + 1) if 0 <= step < len(pieces) - 1]
    return any(subject.kind == pieces[at - 1].kind and counts_plants(count) for subject, count in near)


def _either(pieces: list[Piece], at: int, start: int) -> bool:
    """`tray 6 12/24 6/8 up`: two fractions of which either may be the day, and none heads the statement."""
    if at + 1 >= len(pieces) or not (may_be_day(pieces[at]) and may_be_day(pieces[at + 1])):
        return False
    return at > start


@looks_for("week", beside=("=fraction", "=moment"))
def _keep_weeks(pieces: list[Piece]) -> None:
    """`week of 6/1`: no one day, in place."""
    for at in range(len(pieces) - 2):
        week, of, day = pieces[at : at + 3]
        if week.low == "week" and of.low == "of" and (may_be_day(day) or day.kind == "moment"):
            pieces[at : at + 3] = [Piece("kept", None, week.first, day.last, f"week of {day.low}")]
            return


@looks_for("=dashed")
def _dashed_days(pieces: list[Piece], now: datetime) -> None:
    """`6-8 lot 9 12 rooted`, `1-15 fed lot 30`: a range at the head of a line that has its lot and its count, or its
    deed, besides: the day that it names, where that is near, in place.
    """
    for at, piece in enumerate(pieces):
        if piece.kind != "number" or not piece.value.dashed or (at and pieces[at - 1].low not in SENTENCE_ENDS):
            continue
        start, end = statement_at(pieces, at)
        said = pieces[start:end]
        counted = any(_is_own(pieces, place) for place in range(at + 1, end) if counts_plants(pieces[place]))
        near = (one.roles["act"] for one in pieces[at + 1 : min(end, at + 3)] if "act" in one.roles)
        deed = any(word.act in COUNTLESS for word in near)
        if _is_own(pieces, at) or not any(one.kind in SUBJECTS for one in said) or not (counted or deed):
            continue
        month, day = int(piece.value.value), int(piece.value.high or 0)
        moment = Moment(month=month, day=day) if 1 <= month <= 12 and 1 <= day <= 31 else None
        found = resolve_past(moment, now) if moment is not None else None
        if found is None or isinstance(found, datetime) or (now.date() - found).days > _NEAR:
            keep_words(piece)
        else:
            piece.kind, piece.value = "moment", moment


@looks_for(any_of=_COUNTINGS)
def _open_counts(pieces: list[Piece]) -> None:
    """`count on 6/6: 44 rooted in lot 9`: a heading of a day, in place."""
    for at in range(len(pieces) - 3):
        heads = at == 0 or pieces[at - 1].low in SENTENCE_ENDS
        day = at + 1 + (pieces[at + 1].low in ("on", "of", "for"))
        if not heads or pieces[at].low not in _COUNTINGS or day + 1 >= len(pieces) or pieces[day].kind != "moment":
            continue
        if pieces[day + 1].low in (":", "-"):
            pass_over(pieces[at])
            del pieces[day + 1]
            return


def _make_day(pieces: list[Piece], at: int) -> None:
    month, day, _ = pieces[at].value
    pieces[at].kind, pieces[at].value = "moment", Moment(month=month, day=day)


def _only_counts(pieces: list[Piece], start: int, end: int) -> bool:
    """Whether the deeds of a statement are counts of plants and losses, or there are none."""
    told = (piece.roles for place, piece in enumerate(pieces[start:end], start) if not is_harmed(pieces, place + 1))
    words = [roles.get("act") or roles.get("shared") for roles in told]
    return all(word is None or word.act in COUNTING for word in words)


def _is_own(pieces: list[Piece], at: int, *, before: bool = False) -> bool:
    """Whether a number stands right before its state (`12/40 rooted`), or after its deed (`lost 6`, `rot got 6`)."""
    step = at + 1
    while step < len(pieces) and "filler" in pieces[step].roles and not states(pieces[step]):
        step += 1
    if step < len(pieces) and states(pieces[step]):
        return True
    return not before and at > 0 and (states(pieces[at - 1], after=True) or is_harmed(pieces, at))


def _heads_near(pieces: list[Piece], at: int, now: datetime) -> bool:
    """Whether a day heads what is told; before a comma only one of late."""
    start, end = statement_at(pieces, at)
    listed = end < len(pieces) and pieces[end].low == ","
    return _heads(pieces, at, start, end) and (not listed or _is_near(pieces[at], now))


def _heads(pieces: list[Piece], at: int, start: int, end: int) -> bool:
    """`5/10 - 5 of 12 rooted`, `lot 9 1/18: 12/40`, `5/10, lot 9 12/40 rooted`, `lot 9 - 12/40 - 1/18`."""
    said = [piece for piece in pieces[start:end] if piece is not pieces[at] and "filler" not in piece.roles]
    if any(piece.kind not in SUBJECTS | {"person", "moment"} and "plant" not in piece.roles for piece in said):
        return False
    if end < len(pieces) and pieces[end].low in (":", "-"):
        return _count_follows(pieces, end + 1)
    alone = not any(piece.kind in SUBJECTS for piece in said)
    line_head = start == 0 or pieces[start - 1].low in SENTENCE_ENDS
    if alone and not line_head and end < len(pieces) and pieces[end].low == ",":
        return _count_follows(pieces, end + 1) and not _counted_before(pieces, start, any_count=True)
    if line_head and end < len(pieces) and pieces[end].low == ",":
        subject = statement_at(pieces, end + 1) if end + 1 < len(pieces) else (end, end)
        named = any(piece.kind in SUBJECTS for piece in pieces[slice(*subject)])
        opens = pieces[start] is pieces[at]
        return _count_follows(pieces, end + 1) and opens and alone == named
    closes = end >= len(pieces) or pieces[end].low in SENTENCE_ENDS
    return closes and alone and not line_head and _counted_before(pieces, start)


def _count_follows(pieces: list[Piece], at: int) -> bool:
    """Whether the statement at a place counts, and tells the state of what it counts, or its whole is no day."""
    if at >= len(pieces):
        return False
    start, end = statement_at(pieces, at)
    counts = [place for place in range(start, end) if counts_plants(pieces[place])]
    return bool(counts) and (any(_is_own(pieces, place) for place in counts) or _has_whole(pieces[counts[0]]))


def _has_whole(piece: Piece) -> bool:
    return (piece.kind == "fraction" and not may_be_day(piece)) or (piece.kind == "number" and bool(piece.value.of))


def _counted_before(pieces: list[Piece], at: int, *, any_count: bool = False) -> bool:
    """Whether a count that can be no day stands in the sentence before a place."""
    for piece in reversed(pieces[:at]):
        if piece.kind == "break" and piece.low in SENTENCE_ENDS:
            return False
        if _has_whole(piece) or (any_count and counts_plants(piece)):
            return True
    return False


@looks_for("=fraction", beside=_UNTIL)
def _keep_spans(pieces: list[Piece]) -> None:
    """Keeps `from 5/8 to 5/10` and `5/8-5/10` together, as words that nothing reads, in place."""
    at = 0
    while at + 2 < len(pieces):
        first, until, last = pieces[at : at + 3]
        spaced = until.kind == "break" and _is_own(pieces, at + 2)
        spaced = spaced or (until.low == "and" and not (at and pieces[at - 1].low == "between"))
        if may_be_day(first) and may_be_day(last) and until.low in _UNTIL and not spaced:
            begin, end = first.value[:2], last.value[:2]
            if begin < end:
                at -= at > 0 and pieces[at - 1].low in ("from", "between", "on")
                low = " ".join(piece.low for piece in pieces[at : pieces.index(last) + 1])
                run = pieces[at : pieces.index(last) + 1]
                pieces[at : at + len(run)] = [Piece("kept", None, run[0].first, last.last, low)]
        at += 1


@looks_for("=moment", "@weekday")
def _join_weekdays(pieces: list[Piece]) -> None:
    """`monday 1/18 lot 9: 12/40 rooted`: a weekday and its day, in place."""
    at = 0
    while at + 1 < len(pieces):
        if pieces[at].kind == "phrase" and "weekday" in pieces[at].roles:
            _name_weekday(pieces, at)
        if is_weekday(pieces[at]) and at + 1 < len(pieces):
            _join_day(pieces, at)
        at += 1


def _join_day(pieces: list[Piece], at: int) -> None:
    """Joins a weekday with the date right after it, in place."""
    name, day = pieces[at : at + 2]
    if may_be_day(day) and not _is_own(pieces, at + 1):
        end = end_of_statement(pieces, at)
        told = end < len(pieces) and pieces[end].low in (":", "-", ",") and _count_follows(pieces, end + 1)
        others = any(one.kind == "fraction" for one in pieces[at + 2 : end])
        if told or others or _deed_follows(pieces, at + 2):
            _make_day(pieces, at + 1)
    if day.kind == "moment" and day.value.month is not None and day.value.weekday is None:
        name.value = replace(day.value, weekday=name.value.weekday)
        name.last, name.low = day.last, f"{name.low} {day.low}"
        del pieces[at + 1]


def _name_weekday(pieces: list[Piece], at: int) -> None:
    """The `mon` of `mon 8/17: misted trays 2-4`, in place."""
    name, day = pieces[at : at + 2]
    heads = at == 0 or pieces[at - 1].low in SENTENCE_ENDS
    told = at + 2 < len(pieces) and (
        pieces[at + 2].low in (":", "-") or pieces[at + 2].kind == "fraction" or _deed_follows(pieces, at + 2)
    )
    dated = "heads" in day.roles
    if heads and (dated or (told and may_be_day(day))):
        month, number = (day.value.month, day.value.day) if dated else day.value[:2]
        moment = Moment(month=month, day=number, weekday=name.roles["weekday"])
        name.kind, name.value, name.roles = "moment", moment, NO_ROLES
        name.last, name.low = day.last, f"{name.low} {day.low}"
        del pieces[at + 1]


def _deed_follows(pieces: list[Piece], at: int) -> bool:
    word = pieces[at].roles.get("act") if at < len(pieces) else None
    return word is not None and not word.counts_before and word.form == "done"


_KEEP_SPANS: Final = Steps(_keep_weeks, _keep_spans)
_JOIN_DAYS: Final = Steps(_part_after_opening, _join_weekdays, join_days, part_second_day, keep_coming)
