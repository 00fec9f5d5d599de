"""What becomes of words that tell no deed: a note with what it names, and the question whether a deed was meant."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, timedelta
from itertools import pairwise
from typing import Any, Final

from core.notes.acts.slots import joined
from core.notes.days.moments import Moment, resolve_coming, resolve_past
from core.notes.days.who import day_named, may_be_who
from core.notes.deeds.ahead import UNTIL
from core.notes.deeds.orders import HABITS, tells_past
from core.notes.details.drafts import Draft
from core.notes.joining.counted import heads_day
from core.notes.names.people import RATHER_PEOPLE
from core.notes.parting.clauses import Clause
from core.notes.words.pieces import Piece, is_act
from core.notes.words.tokens import Token
from core.vocabulary.everyday import is_given_name
from core.vocabulary.loading import small_words

_DILUTED: Final = frozenset({"solution", "hormone", "hormone_name", "medium"})
_HOURS: Final = 24
_MINUTES: Final = 60
_MINUTE_DIGITS: Final = 2
_WEEK: Final = 7
_OF_CODE: Final = frozenset("{}<>=\\^_")
"""Marks that nobody texts of plants."""
_EACH: Final = frozenset({"every", "each"})

_SEVERAL: Final = 2
_WAYS: Final = frozenset({"to", "out", "into", "onto", "in", "on", "up", "back"})
_AHEAD: Final = small_words("noting", "ahead")
_AWAY: Final = small_words("noting", "away")
_TASKS: Final = small_words("reminders", "tasks")
_NOBODY: Final = small_words("noting", "nobody")
_SELF: Final = small_words("noting", "self")
_BEHIND: Final = small_words("noting", "behind")
_SOME_DEED: Final = small_words("noting", "some_deed")
_EITHER_DEED: Final = small_words("noting", "either_deed")
_ONCE_PLANNED: Final = small_words("noting", "once_planned")
_UNUSED: Final = small_words("noting", "unused")
_APART: Final = small_words("noting", "apart")
_SIZES: Final = frozenset({"size", "amount"})
_EVENTS: Final = small_words("noting", "events")
_COMING: Final = small_words("noting", "coming")
_MAY: Final = small_words("noting", "may")
_PREPARING: Final = small_words("noting", "preparing")


def draft_notes(
    text: str, tokens: list[Token], clauses: list[Clause], now: datetime, *, whole: bool = True
) -> list[Draft]:
    """One note of some clauses, with the subjects and the date that they name; a bare subject, or a deed left
    open, is asked.
    """
    pieces = [piece for clause in clauses for piece in clause.pieces]
    values: dict[str, Any] = {}
    for place, piece in enumerate(pieces):
        if piece.kind in ("lots", "trays"):
            values[piece.kind] = tuple(dict.fromkeys((*values.get(piece.kind, ()), *piece.value)))
        elif place == 0 and len(pieces) > 1 and piece.low in RATHER_PEOPLE:
            continue  # "rosa cant make thurs"
        elif "plant" in piece.roles and "plant" not in values and piece.kind == "phrase":
            name = joined(tokens, piece.first, piece.last)
            if place + 1 < len(pieces) and pieces[place + 1].kind == "quote":
                name += f" '{pieces[place + 1].value}'"
            values["plant"] = name
        elif piece.kind == "moment" and "on" not in values and not _is_repeated(pieces, place):
            moment = _day_of(clauses, pieces, place, now)
            if moment is not None or piece.value.weekday is not None:
                # An hour after a day that may be either is of that day.
                values["on"] = moment
        elif piece.kind == "person" and not whole:
            values.setdefault("by", None)
    draft = Draft("note", None, clauses)
    if whole:
        values["text"] = text.strip()
    else:
        first, last = pieces[0].first, pieces[-1].last
        values["text"] = text[tokens[first].start : tokens[last - 1].end].strip()
    draft.extra = {name: value for name, value in values.items() if value is not None}
    draft.asks = _asks_of_note(clauses, pieces) if whole else []
    if not whole and any(clause.cue == "wish" for clause in clauses):
        draft.asks = ["act"]
    return [draft]


def put_in_order(drafts: list[Draft]) -> None:
    """`mon: fed lot 3. tue: nobody in`: the day of a note after another day is the next of that name."""
    for before, draft in pairwise(drafts):
        day, first = draft.extra.get("on"), before.held("on") or before.extra.get("on")
        heads = draft.act == "note" and heads_day(draft.clauses[0])
        heads = heads and draft.clauses[0].pieces[0].value.weekday is not None
        if heads and type(day) is date and type(first) is date and (day - first).days > _WEEK:
            draft.extra["on"] = day - timedelta(days=_WEEK)


def _is_repeated(pieces: list[Piece], place: int) -> bool:
    """`every sat`, `every other sat`: no one day."""
    at = place - 1 - (place > 1 and pieces[place - 1].low == "other")
    return place > 0 and pieces[at].low in _EACH


def _day_of(clauses: list[Clause], pieces: list[Piece], place: int, now: datetime) -> date | datetime | None:
    """The day of a note, with the hour that stands beside it (`at 9 tomorrow`): ahead for plans and for what comes."""
    moment: Moment = pieces[place].value
    following = pieces[place + 1] if place + 1 < len(pieces) else None
    if following is not None and following.kind == "moment":
        moment = moment.joined(following.value) or moment
    elif following is not None and following.kind == "colon" and moment.names_day and moment.hour is None:
        moment = moment if any(one.roles.keys() & _DILUTED for one in pieces) else _at_clock(moment, following)
    if moment.hour is not None and not moment.names_day and any(piece.low in HABITS for piece in pieces):
        return None
    own = (clause.cue for clause in clauses if pieces[place] in clause.pieces)
    cue = next(own, None) or next((clause.cue for clause in clauses if clause.cue), None)
    ahead = cue in ("plan", "condition", "wish") or (cue == "hearsay" and (_only_to_do(pieces) or _may_come(pieces)))
    over = any(piece.low in _ONCE_PLANNED for piece in pieces)
    until = place > 0 and pieces[place - 1].low in UNTIL
    counted = any("plant" in piece.roles or piece.kind in ("lots", "trays") for piece in pieces)
    until = until or (counted and place > 0 and pieces[place - 1].low == "for")
    coming = moment.which == "coming" or until or any(piece.low in _COMING for piece in pieces)
    comes = cue is None and coming and not tells_past(pieces)
    comes = comes or (cue in (None, "negation") and _is_event(pieces, place))
    if (ahead and not over) or comes or _looks_ahead(pieces, moment):
        return resolve_coming(moment, now)
    if _may_be_either(pieces, moment):
        return None
    return resolve_past(moment, now) or resolve_coming(moment, now)


def _may_come(pieces: list[Piece]) -> bool:
    """`ivy might buy 10 more sat`: what is thought to come; `might have` is of what was."""
    return any(piece.low in _MAY for piece in pieces) and not tells_past(pieces)


def _at_clock(moment: Moment, clock: Piece) -> Moment:
    """`tomorrow 7:30`: the day with the hour right after it, where the figures are one."""
    hour, minute = clock.value
    whole = isinstance(hour, int) and isinstance(minute, int) and len(clock.low.split(":")[1]) == _MINUTE_DIGITS
    return replace(moment, hour=hour, minute=minute) if whole and hour < _HOURS and minute < _MINUTES else moment


def _may_be_either(pieces: list[Piece], moment: Moment) -> bool:
    """`happy hour fri`: a bare weekday in words that tell of no plant and no deed, and not whether it is over."""
    plain = moment.weekday is not None and not moment.which and moment.day is None
    if not plain or tells_past(pieces) or any(piece.low in _BEHIND or piece.low.endswith("ed") for piece in pieces):
        return False
    return not any(
        piece.kind in _OF_BENCH or not piece.roles.keys().isdisjoint(("act", "shared", "noun", "plant"))
        for piece in pieces
    )


_OF_BENCH: Final = frozenset({"lots", "trays", "quote", "number", "fraction", "temp", "amount", "duration"})


def _is_event(pieces: list[Piece], place: int) -> bool:
    """`plant sale is mar 20`, `sale on apr 10 dont forget`: what all come to, and nothing that was done to plants."""
    named = any(piece.low.split(" ")[-1] in _EVENTS for piece in pieces)
    dated = pieces[place].value.month is not None or (place > 0 and pieces[place - 1].low in ("is", "are"))
    over = any(is_act(piece) or piece.kind in ("lots", "trays") or piece.low in _BEHIND for piece in pieces)
    return named and dated and not over


def _looks_ahead(pieces: list[Piece], moment: Moment) -> bool:
    """`can't make it sat`, `sign me up for fri`, `dont forget lot 14 on tue`: what is said of a day to come."""
    said = f" {' '.join(piece.low for piece in pieces if piece.kind not in ('break', 'mark'))} "
    if any(f" {word} " in said for word in _BEHIND) or _nobody_did(pieces):
        return False
    away = any(_is_away(pieces, place) for place in range(len(pieces)))
    if moment.which in ("next", "coming") or away:
        return True
    if moment.weekday is not None and not moment.which and (_has_shift(pieces) or _only_people(pieces)):
        return True
    plain = moment.weekday is not None and not moment.which
    if plain and any(piece.low in _PREPARING for piece in pieces) and _is_for(pieces, moment):
        return True
    if plain and (_orders_a_task(pieces) or _is_going(pieces) or _is_on(pieces, moment) or _somebody_has(pieces)):
        return True
    return plain and any(f" {word} " in said for word in _AHEAD)


def _is_for(pieces: list[Piece], moment: Moment) -> bool:
    """`prepped 60 sage tips for sat`: the day that something was made ready for."""
    return any(lead.low == "for" and day.kind == "moment" and day.value is moment for lead, day in pairwise(pieces))


def _is_on(pieces: list[Piece], moment: Moment) -> bool:
    """`lilys bday is fri`: when something is."""
    return any(
        lead.low in ("is", "are") and day.kind == "moment" and day.value is moment for lead, day in pairwise(pieces)
    )


def _is_going(pieces: list[Piece]) -> bool:
    """`lot 31 is going outside mon`: where it will go; `lot 31 is going strong mon` is how it was."""
    runs = zip(pieces, pieces[1:], pieces[2:], strict=False)
    return any(
        being.low in ("is", "are") and verb.low == "going" and (way.low in _WAYS or "place_word" in way.roles)
        for being, verb, way in runs
    )


def _somebody_has(pieces: list[Piece]) -> bool:
    """`mei has the car fri`: what somebody is to have that day; `lot 4 has mold tues` is how it was."""
    named = any(may_be_who(who) and verb.low == "has" for who, verb in pairwise(pieces))
    return named and not any(piece.kind in _OF_BENCH or "plant" in piece.roles for piece in pieces)


def _nobody_did(pieces: list[Piece]) -> bool:
    """`nobody watered lot 30 sat`: a day that is over."""
    return any(
        piece.low in _NOBODY and is_act(after) and after.low.split(" ")[0].endswith("ed")
        for piece, after in pairwise(pieces)
    )


def _orders_a_task(pieces: list[Piece]) -> bool:
    """`mon: order soil`, `note to self order perlite fri`: a bare verb that opens a task."""
    told = [piece for piece in pieces if "filler" not in piece.roles and piece.kind not in ("break", "moment", "mark")]
    return bool(told) and (told[0].low in _TASKS or (told[0].low == "self" and len(told) > 1 and told[1].low in _TASKS))


def _has_shift(pieces: list[Piece]) -> bool:
    """`volunteers sat 9-12`: hours beside a day, where nothing was done."""
    named = any(piece.kind in ("lots", "trays") or "plant" in piece.roles for piece in pieces)
    for piece, after in (*pairwise(pieces), *(() if named else pairwise(pieces[::-1]))):
        ranged = after.kind == "number" and after.value.high is not None and 1 <= after.value.value < after.value.high
        if day_named(piece) is not None and ranged and after.value.high <= _LAST_HOUR:
            return True
    return False


_LAST_HOUR: Final = 23


def _only_people(pieces: list[Piece]) -> bool:
    """`thurs: kit am, bao pm`: names and days alone."""
    told = [piece for piece in pieces if piece.kind not in ("break", "mark", "dash") and "filler" not in piece.roles]
    return any(may_be_who(piece) for piece in told) and all(
        may_be_who(piece) or day_named(piece) is not None for piece in told
    )


def _is_away(pieces: list[Piece], place: int) -> bool:
    """`kit off mon`, `im away thurs`; `dome blew off tray 3 tues` is not."""
    if pieces[place].low not in _AWAY or (place + 1 < len(pieces) and pieces[place + 1].kind != "moment"):
        return False
    return place == 0 or may_be_who(pieces[place - 1]) or pieces[place - 1].low in _SELF


def _only_to_do(pieces: list[Piece]) -> bool:
    """`maybe trim lot 22 on fri`: a bare verb, and nothing told as done."""
    return any("to_do" in piece.roles for piece in pieces) and not any(is_act(piece) for piece in pieces)


def _asks_of_note(clauses: list[Clause], pieces: list[Piece]) -> list[str]:
    if [piece.low for piece in pieces[:1]] == ["have"] or [piece.low for piece in pieces[:2]] == ["we", "have"]:
        # "have 12 toyon": how many there are, and no deed.
        return []
    bare = [
        piece
        for piece in pieces
        if piece.kind == "number" and piece.value.whole is not None and not (piece.value.approx or piece.value.of)
    ]
    others = [
        piece
        for piece in pieces
        if piece not in bare and piece.kind not in ("break", "dash", "mark") and "filler" not in piece.roles
    ]
    subjects = [piece for piece in others if piece.kind in ("lots", "trays")]
    if bare and not others and any(piece.low in _OF_CODE for piece in pieces):
        return []  # "{{7*7}}"
    if bare and not others:
        return ["act", "number"] if len(bare) == 2 or bare[0].value.high is not None else ["act"]
    if bare and all(piece.kind == "size" or "pot_size" in piece.roles for piece in others):
        return ["act"]  # "20 in 4 in"
    if any(clause.cue == "condition" for clause in clauses):
        return []
    if any(clause.cue == "wish" for clause in clauses):
        gear = bool(bare) and not subjects and _is_gear(pieces)
        return [] if gear or any(piece.low in ("please", "pls", "plz") for piece in pieces) else ["act"]
    fine = any(piece.low in ("ok", "okay", "all right", "alright") for piece in pieces)
    if any(clause.cue for clause in clauses) or (fine and len(bare) < _SEVERAL):
        return []
    plants = [piece for piece in others if "plant" in piece.roles or piece.kind == "quote"]
    if bare and (plants or subjects) and _names_receiver(pieces):
        return ["act"]
    if (subjects or (bare and plants)) and len(others) == len(subjects) + len(plants):
        return ["act"]
    if (subjects or plants or bare) and any(
        piece.low in ("did", "done", "finished", "started") for piece in pieces[:3]
    ):
        return ["act"]
    measured = any(
        piece.kind in ("number", "fraction", "size", "amount", "percent", "duration")
        or ("container" in piece.roles and piece.low not in ("bed", "tray"))
        for piece, after in pairwise([*pieces, pieces[-1]])
        if after.low not in _APART
    )
    deedless = any("no_deed" in piece.roles and piece.low != "dropped off" for piece in pieces)
    if subjects and measured and not deedless:
        return ["act"]
    if subjects and _some_deed(pieces):
        return ["act"]
    if (subjects or plants) and any(piece.low in _EITHER_DEED and piece.kind == "word" for piece in pieces):
        return ["act"]
    if any("shared" in piece.roles for piece in pieces) and (subjects or plants or (bare and not _is_gear(pieces))):
        return ["act"]
    return []


def _is_gear(pieces: list[Piece]) -> bool:
    """`got 40 new pots`, `50 empty 4 in pots`, `got 20 domes`: nothing with plants in it."""
    for before, piece in pairwise(one for one in pieces if one.kind not in _SIZES and "pot_size" not in one.roles):
        if "cover_noun" in piece.roles or ("container" in piece.roles and before.low in _UNUSED):
            return True
    return False


def _names_receiver(pieces: list[Piece]) -> bool:
    """`4 yarrow to odette`: to whom, and not whether they were sold, given or kept."""
    return any(lead.low in ("to", "for") and is_given_name(who.low) for lead, who in pairwise(pieces))


def _some_deed(pieces: list[Piece]) -> bool:
    """`the usual for lots 8 and 9`, `same as before on tray 7`: a deed that is not named."""
    said = f" {' '.join(piece.low for piece in pieces)} "
    return any(f" {words} " in said for words in _SOME_DEED)
