"""Does a deed lie ahead: words in "-ing" or of going beside a day that is to come (`moving lot 26 tomorrow`)."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from itertools import pairwise
from typing import Final

from core.notes.days.moments import Moment, resolve_coming, resolve_past
from core.notes.deeds.orders import tells_past
from core.notes.parting.clauses import Clause
from core.notes.words.pieces import SUBJECTS, Piece, is_act, names_plants
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_GETTING: Final = small_words("cues", "getting")
UNTIL: Final = small_words("dates", "until")
_NOUNS: Final = frozenset({"noun_of_cover", "vent_noun"})
_FIRST_HOUR: Final = 6
_SOON: Final = timedelta(days=14)
_STARTING: Final = small_words("cues", "starting")
_STARTS: Final = _STARTING | small_words("cues", "starting_on")
_BEGINNING: Final = small_words("cues", "beginning")
_BEGUN: Final = small_words("cues", "begun")
_ONWARD: Final = small_words("cues", "onward")
_COMES: Final = frozenset({"gets", "goes", "go", "get"})
_HAVING: Final = frozenset({"has", "have", "had", "'s"})
_GOING: Final = small_words("cues", "going_to_be")
_PUTTING: Final = small_words("cues", "putting")
_LEADS: Final = frozenset({"in", "into", "out", "off", "on", "onto", "to", "back", "outside", "from"})
_SINCE: Final = small_words("cues", "since")
_WAITING: Final = small_words("cues", "waiting")
_GOING_BACK: Final = small_words("cues", "going_back")
_SUBJECT_AND_DAY: Final = 2
_LEAVING: Final = frozenset({"pot", "sell", "give", "plant_out", "stick", "sow", "divide", "collect", "move", "lose"})
_EVENING: Final = 17
_BARE: Final = small_words("cues", "bare_verbs")
_BARE_NOUNS: Final = small_words("cues", "bare_nouns")
_ALIKE: Final = small_words("orders", "bare") - _BARE
"""Verbs that are the same bare and past."""


@looks_for("=moment", "=duration", "come", "go", *_COMES, any_of=_GOING | _ONWARD | _STARTING)
def lies_ahead(pieces: list[Piece], now: datetime) -> bool:
    """`moving lot 26 tomorrow`, `weaning lot 19 starts monday`, `starting to wean tray 6 next week`: not done yet."""
    if _goes_on_later(pieces) or _comes_to_it(pieces, now) or _ready_later(pieces):
        return True
    if _covers_to_come(pieces, now) or _starts_later(pieces, now):
        return True
    for place, piece in enumerate(pieces):
        if is_act(piece) and place > 1 and pieces[place - 1].low in ("come", "go") and pieces[place - 2].low == "to":
            return True
        if is_act(piece) and _goes_on(pieces, place):
            if any(one.low in _STARTING and one.kind != "moment" for one in pieces[place + 1 :]):
                return True
            begun = any(one.low in _BEGUN for one in pieces[:place])
            told = (pieces[place].roles.get("act") or pieces[place].roles["shared"]).says
            if not begun and "state" not in told and _after_a_time(pieces):
                return True
            return names_coming(pieces, now, weekdays=not begun and _is_planned(pieces, place))
        if "to_do" in piece.roles and place and pieces[place - 1].low in ("to", "will"):
            return names_coming(pieces, now, weekdays=False)
    return False


@looks_for("=moment")
def put_off(pieces: list[Piece], now: datetime) -> bool:
    """`lot 6 tmrw`, `8 more next week`, after what was done today: yet to be done to these."""
    told = [piece for piece in pieces if "filler" not in piece.roles and "more" not in piece.roles]
    named = all(piece.kind in (*SUBJECTS, "number", "moment") or "plant" in piece.roles for piece in told)
    return len(told) > 1 and named and names_coming(pieces, now, weekdays=False)


@looks_for("=moment", beside=("=number",))
def put_off_of_counted(clause: Clause, deed: Clause) -> bool:
    """`potted 6 of lot 9 | , lot 10 on sat`, `stuck 40 toyon | , yarrow fri`: others without a count of their own, on a
    weekday that the deed before them has not.
    """
    if clause.act is not None or clause.after not in (",", ";", ".", "and", "then"):
        return False
    told = [piece for piece in clause.pieces if "filler" not in piece.roles]
    if len(told) != _SUBJECT_AND_DAY or told[1].kind != "moment" or not _is_bare(told[1].value):
        return False
    named = names_plants(told[0])
    days = any(piece.kind == "moment" for piece in deed.pieces)
    counts = [piece for piece in deed.pieces if piece.kind == "number"]
    return named and not days and len(counts) == 1 and deed.act in _LEAVING


def _is_bare(moment: Moment) -> bool:
    return moment.weekday is not None and not moment.which and moment.day is None and moment.weeks is None


@looks_for("=moment", beside=_GOING_BACK)
def goes_back_later(pieces: list[Piece], before: list[Clause], now: datetime) -> bool:
    """`back on tonight`, `back in fri`, after what was done today: the cover or the plants are yet to go back."""
    if pieces[0].low not in _GOING_BACK or any(is_act(piece) and "ed" in piece.low for piece in pieces):
        return False
    days = [piece.value for piece in pieces if piece.kind == "moment"]
    tonight = any(day.days == 0 and day.part == "pm" and now.hour < _EVENING for day in days)
    dated = any(piece.kind == "moment" for clause in before for piece in clause.pieces)
    hours = any(not day.names_day and _is_yet_to_come(day, now) for day in days)
    return tonight or hours or names_coming(pieces, now, weekdays=not dated)


@looks_for(any_of=_WAITING)
def waits_for(pieces: list[Piece]) -> bool:
    """`pot lot 14 when 20 rooted`, `dont uncover tray 4 til its rooted`: a bare verb, and what it is to wait for."""
    at = _bare_verb(pieces)
    if len(pieces) > 1 and "cover_noun" in pieces[0].roles and _waits(pieces[1]):
        # "dome when misted".
        return True
    if at is not None and any(_waits(piece) for piece in pieces[at + 1 :]):
        return True
    verb = next((at for at, piece in enumerate(pieces) if "to_do" in piece.roles and not _looks_at(piece)), 0)
    return verb > 2 and _waits(pieces[0]) and "plant" not in pieces[verb].roles and _is_verb_after(pieces, verb)


def _is_verb_after(pieces: list[Piece], verb: int) -> bool:
    """The `move it` of `when tray 4 is rooted move it to lath`, the `sow lot 30` of `after 60 days cold sow lot 30`."""
    after = pieces[verb + 1] if verb + 1 < len(pieces) else None
    named = after is not None and (after.kind in ("lots", "trays") or after.low in ("it", "them", "em", "the", "all"))
    return named and "medium" not in pieces[verb].roles


def ends_waiting(clause: Clause) -> bool:
    """`hold off on potting lot 14 till its` before `rooted`, `lot 5 should be potted if roots` before `hold`: what a
    deed that was not done is to wait for.
    """
    told = [piece for piece in clause.pieces if "filler" not in piece.roles or _waits(piece)]
    if not told or _waits(told[-1]):
        return bool(told)
    deed = next((at for at in range(len(told) - 1, -1, -1) if is_act(told[at])), len(told))
    return any("condition" in piece.roles for piece in told[deed:])


def _waits(piece: Piece) -> bool:
    waits = piece.low in _WAITING or piece.low.split(" ")[0] in _WAITING
    return waits and "for_good" not in piece.roles


@looks_for("=moment")
def is_bare_ahead(pieces: list[Piece], now: datetime) -> bool:
    """`rinse lot 9 tomorrow`, `take lot 30 out of the fridge fri`: a bare verb with a day that is to come."""
    at = _bare_verb(pieces, more=_BARE_NOUNS)
    if at is None or tells_past(pieces) or any(piece.low.endswith("ed") for piece in pieces[at + 1 :]):
        return False
    return names_coming(pieces, now, weekdays=pieces[at].low not in _ALIKE)


def _bare_verb(pieces: list[Piece], more: frozenset[str] = frozenset()) -> int | None:
    """Where a statement opens with a bare verb, after no more than what it is done to and small words; else None."""
    for place, piece in enumerate(pieces):
        if piece.low in _BARE or piece.low in more or ("to_do" in piece.roles and not _looks_at(piece)):
            return place
        small = not piece.roles.keys().isdisjoint(("filler", "negation", "medium_is", "plant"))
        if not small and piece.kind not in ("lots", "trays", "mark", "person", "moment"):
            return None
    return None


def _looks_at(piece: Piece) -> bool:
    return bool(piece.roles["to_do"].act == "check")


def _comes_to_it(pieces: list[Piece], now: datetime) -> bool:
    """`tray 6 gets its drink tomorrow`, `lot 56 goes in the ground once it rains`: told as what is to come."""
    at = next((at for at, piece in enumerate(pieces) if piece.low.split(" ")[0] in _COMES), None)
    if not at or not names_plants(pieces[at - 1]):
        return False
    after = pieces[at:]
    return names_coming(after, now, weekdays=True) or any(map(_waits, after[1:]))


def _after_a_time(pieces: list[Piece]) -> bool:
    """`misting tray 3 in 20 min`."""
    return any(before.low == "in" and after.kind == "duration" for before, after in pairwise(pieces))


def _goes_on(pieces: list[Piece], place: int) -> bool:
    """`potting`, `getting potted`, `going out to harden`: a deed that goes on, or is planned."""
    first = pieces[place].low.split(" ")[0]
    before = pieces[place - 1].low if place else ""
    if first.endswith("ing") or before in _GETTING or first in _PUTTING:
        return True
    return first in _LEADS and any(piece.low in _PUTTING for piece in pieces[max(0, place - 4) : place])


def _is_planned(pieces: list[Piece], place: int) -> bool:
    """Whether a deed can be planned: no `wilting`, and no time that it took (`weaning tray 3 tue, 15 min`)."""
    word = pieces[place].roles.get("act") or pieces[place].roles["shared"]
    seen = word.act in ("wilt", "lose") or "state" in word.says
    return not seen and not any(piece.kind == "duration" for piece in pieces)


def lasts_to(pieces: list[Piece], place: int, *, apart: bool) -> bool:
    """`moved lot 14 out til friday`: a day or an hour that is not the deed's; nor is it after "since" in words `apart`
    from the deed (`watered lot 3, dry since mon`).
    """
    before = pieces[place - 1].low if place else ""
    if before in UNTIL or pieces[place].low.split(" ")[0] in UNTIL:
        return True
    return before == "since" and apart


def _ready_later(pieces: list[Piece]) -> bool:
    """`lot 9 ready to pot next week`, `ready in 2 weeks`."""
    ready = any("act" in piece.roles and piece.roles["act"].says.get("state") == "ready" for piece in pieces)
    return ready and (any(piece.low in _ONWARD for piece in pieces) or _after_a_time(pieces))


def _goes_on_later(pieces: list[Piece]) -> bool:
    """`lids going on trays 4-6 at 5`, `dome comes off tray 3 friday`: a cover or plants that go somewhere, not gone."""
    covered = False
    for at, piece in enumerate(pieces):
        covered = covered or "cover_noun" in piece.roles
        if covered and piece.low in _GOING and pieces[at - 1].low not in _HAVING:
            return True
    return False


def _starts_later(pieces: list[Piece], now: datetime) -> bool:
    """`lots 80-83 cold strat 90 days starting monday`, `lot 9 on the mat starting tomorrow`: no verb that is past."""
    past = any(is_act(piece) and piece.low.split(" ")[0].endswith("ed") for piece in pieces)
    days = [day.value for lead, day in pairwise(pieces) if lead.low in _STARTS and day.kind == "moment"]
    return not past and any(_is_coming(day, True) or _is_yet_to_come(day, now) for day in days)


@looks_for(any_of=_BEGINNING, beside=("=moment",))
def begins_ahead(pieces: list[Piece], now: datetime) -> bool:
    """`lot 9 start strat dec 1`: what begins on a day that is to come."""
    begun = any(lead.low in _BEGINNING and (one.kind == "moment" or _treats(one)) for lead, one in pairwise(pieces))
    if not begun or not any(is_act(piece) or _treats(piece) for piece in pieces):
        return False
    days = [piece.value for piece in pieces if piece.kind == "moment"]
    past = any(is_act(piece) and piece.low.split(" ")[0].endswith("ed") for piece in pieces)
    return not past and any(_is_coming(day, True) or _is_yet_to_come(day, now) for day in days)


def _treats(piece: Piece) -> bool:
    word = piece.roles.get("noun")
    return word is not None and bool(word.act == "treat")


def _covers_to_come(pieces: list[Piece], now: datetime) -> bool:
    """`dome off tray 3 tomorrow`: no verb, and a day that is to come."""
    named = any("act" in piece.roles and not piece.roles.keys().isdisjoint(_NOUNS) for piece in pieces)
    return named and not tells_past(pieces) and names_coming(pieces, now, weekdays=False)


def names_coming(pieces: list[Piece], now: datetime, *, weekdays: bool) -> bool:
    """Whether a day that is to come is named; beside a deed in "-ing" a bare weekday is one."""
    if any(piece.low in _ONWARD for piece in pieces):
        return True
    weekdays = weekdays and not any(piece.kind == "moment" and (piece.value.days or 0) < 0 for piece in pieces)
    return any(
        _is_coming(piece.value, weekdays and not _heads_log(pieces, place))
        or (weekdays and not lasts_to(pieces, place, apart=False) and _is_yet_to_come(piece.value, now))
        for place, piece in enumerate(pieces)
        if piece.kind == "moment"
    )


def _heads_log(pieces: list[Piece], place: int) -> bool:
    """`fri: weaning tray 7` (the mark is no piece any more), `weaning tray 7 since fri`: a day that is over."""
    if place:
        return pieces[place - 1].low in _SINCE
    return len(pieces) > 1 and pieces[1].first > pieces[0].last


def _is_coming(moment: Moment, weekdays: bool) -> bool:
    if moment.ahead is not None or moment.which in ("next", "coming", "this") or (moment.days or 0) > 0:
        return True
    return weekdays and (_is_bare(moment) or (moment.days == 0 and moment.part == "pm"))


def _is_yet_to_come(moment: Moment, now: datetime) -> bool:
    """`oct 3` in august, `at 5` in the morning: a date or an hour that cannot lie behind, as nobody works at night; nor
    does `dec 12`, which is nearer than the one before.
    """
    if moment.loose or moment.said or moment.weekday is not None:
        return False
    if moment.day is not None and moment.month is None:
        soon = resolve_coming(moment, now)
        return soon is not None and (soon if isinstance(soon, date) else soon.date()) <= now.date() + _SOON
    if moment.hour is None and moment.month is None:
        return False
    past, coming = resolve_past(moment, now), resolve_coming(moment, now)
    by_night = isinstance(past, datetime) and not moment.half and past.hour < _FIRST_HOUR
    return coming is not None and (past is None or by_night or _is_nearer(moment, past, coming, now))


def _is_nearer(moment: Moment, past: date, coming: date, now: datetime) -> bool:
    """Whether a date without its year is nearer to come than it is over."""
    if moment.month is None or moment.year is not None:
        return False
    return coming.toordinal() - now.toordinal() < now.toordinal() - past.toordinal()


def says_what_is_right(pieces: list[Piece], place: int) -> bool:
    """`counted 38 lot 12 should be 41`: what was counted, and what the books say."""
    after = [piece for piece in pieces[place + 1 : place + 3] if piece.low != "be"][:1]
    told = any(is_act(piece) for piece in pieces[:place]) and any(piece.kind == "number" for piece in pieces[:place])
    return told and bool(after) and after[0].kind == "number"
