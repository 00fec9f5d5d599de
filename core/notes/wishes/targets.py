"""Is it a target: how many of what are wanted by when (`need 75 snowberry by nov 1`)."""

from __future__ import annotations

from datetime import datetime
from itertools import pairwise
from typing import Final

from core.notes.acts.slots import Slots
from core.notes.counts.from_and_to import keep_wanted_before
from core.notes.days.moments import Moment, resolve_coming
from core.notes.details.drafts import Draft
from core.notes.details.things import plant_as_texted
from core.notes.parting.clauses import Clause
from core.notes.wishes.each_wanted import deal_each, is_dealt
from core.notes.wishes.wanted_lists import BEFORE_DAYS, SALES, WANTING, end_of_day
from core.notes.words.pieces import SENTENCE_ENDS, Piece, is_act
from core.notes.words.said import end_of_sentence
from core.notes.words.steps import looks_for
from core.notes.words.tokens import Token
from core.vocabulary.everyday import home_words
from core.vocabulary.loading import small_words

_LEADING: Final = small_words("targets", "leading")
_PEOPLE: Final = (
    small_words("targets", "people")
    | small_words("equipment", "gear")
    | home_words("clothes", "food", "papers", "money", "vehicles", "household", "animals", "people")
)
_ASKING: Final = small_words("targets", "asking")
_DUE_ON: Final = small_words("targets", "due_on")
_AFTER_HEADS: Final = frozenset({":", ",", "-"})


def _wants_people(pieces: list[Piece], place: int) -> bool:
    """`need two people for saturday`, `need 3 more chairs sat`: no plants in the sentence."""
    end = next((at for at in range(place, len(pieces)) if pieces[at].low in (".", "\n", ";")), len(pieces))
    told = pieces[place:end]
    return any(piece.low in _PEOPLE for piece in told) and not any("plant" in piece.roles for piece in told)

_BEFORE_ORDERS: Final = frozenset({"no", "no.", "num", "number", "#", "nr"})


@looks_for("by", "before", "needed", "wanted", "required", "are needed", "is needed", any_of=WANTING)
def target_at(pieces: list[Piece], place: int) -> int | None:
    """Where the word of wanting stands, if a plant or a count is wanted, and neither people nor a deed."""
    found = _wanting_at(pieces, place)
    return None if found is None or _wants_people(pieces, place) else found


def _counted_by(pieces: list[Piece], place: int) -> bool:
    """`80 monkeyflower by next april 1`: a count, its plant and a day to come, and nothing else in the sentence, or
    more of the same.
    """
    end = end_of_sentence(pieces, place)
    told = [piece for piece in pieces[place:end] if piece.kind not in ("mark", "quote", "break")]
    opens = place == 0 or pieces[place - 1].low in SENTENCE_ENDS
    return opens and len(told) > 3 and len(told) % 4 == 0 and all(
        _wanted_by(*told[at : at + 4]) for at in range(0, len(told), 4)
    )


def _wanted_by(count: Piece, plant: Piece, by: Piece, day: Piece) -> bool:
    if count.kind != "number" or "plant" not in plant.roles or by.low not in ("by", "before"):
        return False
    if day.kind == "moment":
        return day.value.names_day and not (day.value.days or 0) < 0
    return day.kind == "fraction" or "month" in day.roles


def _wanting_at(pieces: list[Piece], place: int) -> int | None:
    if _counted_by(pieces, place):
        return place
    at = _head_end(pieces, place)
    wanted = _wanted_after(pieces, at, of_head=at > place and "plant" in pieces[place].roles)
    if wanted is not None:
        return wanted
    start = at
    if at + 1 < len(pieces) and pieces[at].low == "must" and pieces[at + 1].low == "have":
        pieces[at + 1].used = True
    while at < len(pieces) and at - start < 4 and pieces[at].low in _LEADING and pieces[at].low not in WANTING:
        at += 1
    if at >= len(pieces) or pieces[at].low not in WANTING or _names_order(pieces, at):
        return None
    if pieces[at].low.endswith(" to") and pieces[at + 1 : at + 2] and pieces[at + 1].kind == "word":
        # "would like to hive 12 off lot 14".
        return None
    named = counted = dated = False
    for piece in pieces[place:start]:
        named, dated = named or "plant" in piece.roles, dated or piece.kind in ("moment", "fraction")
    for step in range(at + 1, len(pieces)):
        piece = pieces[step]
        if piece.low in (".", "\n", ";", "!"):
            break
        if "plant" in piece.roles or piece.kind == "quote":
            named = True
        elif piece.kind in ("number",) and step - at <= 4:
            counted = True
        elif piece.kind == "moment" or _ends_day(pieces, step):
            dated = True
        elif (piece.kind in ("lots", "trays") and not counted) or (
            ("to_do" in piece.roles or is_act(piece))
            and not named
            and not (counted and piece.roles.get("act") is not None and piece.roles["act"].counts_before)
        ):
            return None
    if pieces[at].low in ("have to", "gotta", "trying to", "must") and not (counted and named):
        return None
    if start > place and _supplies(pieces, at):
        return None
    unknown = any(piece.kind == "word" for piece in pieces[at + 1 : at + 5])
    return (
        at
        if (named and (counted or dated or any("vague" in piece.roles for piece in pieces[at:])))
        or (counted and (unknown or dated) and not _supplies(pieces, at))
        else None
    )


def _names_order(pieces: list[Piece], at: int) -> bool:
    """`order 312: 20 sage to hill school`, `order no 44 for 12 sage`: which order, and no count."""
    number = at + 1 + (at + 1 < len(pieces) and pieces[at + 1].low in _BEFORE_ORDERS)
    after = pieces[number + 1 : number + 3]
    if pieces[at].low != "order" or not after:
        return False
    counted = pieces[number].kind == "number" and [piece.kind for piece in after[1:]] == ["number"]
    return after[0].low == ":" or (after[0].low == "for" and counted)


def _ends_day(pieces: list[Piece], at: int) -> bool:
    """`by 10/3`, `for the sale`."""
    if pieces[at].kind == "fraction":
        return pieces[at - 1].low in BEFORE_DAYS
    return pieces[at].low in SALES and _for_sale(pieces, at)


def _for_sale(pieces: list[Piece], at: int) -> bool:
    """`need penstemon for the sale`: a plant, and what it is for."""
    lead = at - 1 - (pieces[at - 1].low in ("the", "our"))
    plant = pieces[lead - 1] if lead > 0 else None
    return plant is not None and pieces[lead].low == "for" and ("plant" in plant.roles or plant.kind == "quote")


def _head_end(pieces: list[Piece], place: int) -> int:
    """Where the wanting begins after its head: a day (`by oct 15 we need`), or a plant (`toyon: 30 wanted`)."""
    at = place
    if end_of_day(pieces, at) > at:
        at = end_of_day(pieces, at)
    elif at + 1 < len(pieces) and "plant" in pieces[at].roles:
        at += 1 + (pieces[at + 1].kind == "quote")
        if at >= len(pieces) or pieces[at].low not in _AFTER_HEADS:
            return place
    else:
        return place
    return at + (at < len(pieces) and pieces[at].low in _AFTER_HEADS)


def _wanted_after(pieces: list[Piece], place: int, *, of_head: bool) -> int | None:
    """`40 yarrow needed by april 12`: the wanting after a count and a plant (that may head it)."""
    for step in range(place, min(place + 7, len(pieces))):
        if pieces[step].kind == "break":
            return None
        if pieces[step].low in ("needed", "wanted", "required", "are needed", "is needed"):
            before = pieces[place:step]
            if (
                (any(piece.kind == "number" for piece in before) or _dated(pieces, step + 1))
                and (of_head or any("plant" in piece.roles for piece in before))
                and not any("act" in piece.roles for piece in before)
            ):
                pieces[step].used = True
                return place
            return None
    return None


def _dated(pieces: list[Piece], at: int) -> bool:
    """`by 3/1`: a day right after the wanting."""
    return at + 1 < len(pieces) and pieces[at].low in BEFORE_DAYS and pieces[at + 1].kind in ("moment", "fraction")


def _supplies(pieces: list[Piece], at: int) -> bool:
    return any(
        "medium" in piece.roles
        or "container" in piece.roles
        or "thing" in piece.roles
        or "solution" in piece.roles
        or piece.kind in ("amount", "duration", "size")
        for piece in pieces[at:]
    )


def targets(text: str, tokens: list[Token], pieces: list[Piece], at: int, now: datetime) -> list[Draft] | None:
    """The drafts of what is wanted from a place on; a day that heads it holds until another is named."""
    pieces = [*pieces[:at], *deal_each(pieces[at:])]
    keep_wanted_before(pieces)
    end = _head_end(pieces, 0) if at else 0
    head = pieces[: end if end <= at else 0]
    by_days = any(piece.kind in ("moment", "fraction") for piece in head)
    runs: list[list[Piece]] = [[piece for piece in head if piece.kind != "break"]]
    for place in range(at, len(pieces)):
        piece = pieces[place]
        if (
            piece.low in ("and", "&", ",", "\n", "+", "plus")
            and runs[-1]
            and _counts_anew(pieces, place + 1, by_days=by_days)
            and any(one.kind == "number" for one in runs[-1])
        ):
            runs.append([])
            continue
        if _follows_plant(pieces, place, runs[-1]):
            # "need 40 toyon | 30 ribes".
            runs.append([])
        runs[-1].append(piece)
    asking = [piece for piece in pieces[len(head) : at] if piece.low in _ASKING]
    for piece in pieces[len(head) : at]:
        piece.used = piece not in asking
    pieces[at].used = pieces[at].used or bool(asking)
    runs[0][:0] = asking
    runs = [run for run in runs if run]
    drafts = [_target(text, tokens, run, now) for run in runs]
    for place in range(len(runs) - 2, -1, -1):
        # "20 each of toyon and sage by nov 14 and 30 yarrow by dec 1".
        due = drafts[place + 1].extra.get("due")
        if due and is_dealt(runs[place]) and is_dealt(runs[place + 1]):
            drafts[place].extra.setdefault("due", due)
    shared = next((draft.extra.get("due") for draft in reversed(drafts) if draft.extra.get("due")), None)
    last_only = len(drafts) > 1 and all("due" not in draft.extra and not draft.asks for draft in drafts[:-1])
    if shared is not None and last_only:
        for draft in drafts[:-1]:
            draft.extra["due"] = shared
    if by_days:
        for before, draft in pairwise(drafts):
            if before.extra.get("due") and not draft.asks:
                draft.extra.setdefault("due", before.extra["due"])
    return drafts


def _follows_plant(pieces: list[Piece], at: int, run: list[Piece]) -> bool:
    """Whether a count and its plant stand right after another plant that was counted, or the day it is wanted by."""
    dated = run[-1:] != [] and run[-1].kind == "moment" and any("plant" in one.roles for one in run)
    counted = any(one.kind == "number" for one in run) and (dated or "plant" in run[-1].roles)
    return counted and pieces[at].kind == "number" and any("plant" in one.roles for one in pieces[at + 1 : at + 2])


def _counts_anew(pieces: list[Piece], at: int, *, by_days: bool) -> bool:
    if by_days and at < len(pieces) and pieces[at].low in BEFORE_DAYS:
        at += 2
    wanted = False
    while at < len(pieces) and pieces[at].kind == "phrase":
        if "filler" not in pieces[at].roles and pieces[at].low not in WANTING:
            break
        wanted = wanted or pieces[at].low in WANTING
        at += 1
    if at + 1 < len(pieces) and "plant" in pieces[at].roles and (wanted or pieces[at + 1].low in BEFORE_DAYS):
        # "need 30 salal by 11/1 | , need toyon by 11/15".
        return True
    return (
        at + 1 < len(pieces)
        and pieces[at].kind == "number"
        and ("plant" in pieces[at + 1].roles or pieces[at + 1].kind in ("word", "quote"))
    )


def _use_due_on(before: list[Piece]) -> None:
    """The `deadline` right before a day, the `due date is`: they tell no more than the day, in place."""
    for piece in reversed(before):
        if piece.low not in _DUE_ON and "filler" not in piece.roles:
            break
        piece.used = True


def _target(text: str, tokens: list[Token], run: list[Piece], now: datetime) -> Draft:
    clause = Clause("", run)
    clause.act = "target"
    slots = Slots(clause, tokens, now)
    draft = Draft("target", None, [clause])  # its subject is carried to a question after it
    for piece in run:
        piece.used = piece.used or (piece.low in WANTING and (piece is run[0] or piece.first > run[0].first + 1))
    moment: Moment | None = None
    seen: list[Piece] = []
    for place, piece in enumerate(run):
        if (
            piece.kind == "fraction"
            and place
            and (run[place - 1].low in BEFORE_DAYS | {"on"} or (place == len(run) - 1 and "count" in draft.extra))
            and 1 <= piece.value[0] <= 12
            and 1 <= piece.value[1] <= 31
        ):
            piece.kind, piece.value = "moment", Moment(month=piece.value[0], day=piece.value[1])
        if piece.kind == "moment":
            moment = piece.value if moment is None else moment.joined(piece.value) or moment
            seen.append(piece)
            _use_due_on(run[:place])
        elif piece.kind == "duration" and place and run[place - 1].low in ("in", "within"):
            moment = Moment(ahead=piece.value[0])
            seen.append(piece)
        elif piece.kind == "number" and "count" not in draft.extra and piece.value.whole is not None:
            draft.extra["count"] = piece.value.whole
            if piece.value.approx:
                draft.extra["approx"] = True
            if piece.value.high is not None:
                draft.extra["count_max"] = int(piece.value.high)
            piece.used = True
    if moment is not None:
        due = resolve_coming(moment, now)
        if due is not None:
            draft.extra["due"] = due.date() if isinstance(due, datetime) else due
            for piece in seen:
                piece.used = True
        else:
            draft.asks.append("date")
    known = next((piece for piece in run if "plant" in piece.roles), None)
    if known is None:
        end = next(
            (place for place, piece in enumerate(run) if place and piece.low in ("by", "for", "before", "in", "on")),
            len(run),
        )
        plant_as_texted(slots, run[:end])
    else:
        plant_as_texted(slots, run)
    if slots.values.get("plant"):
        draft.extra["plant"] = slots.values["plant"]
    return draft
