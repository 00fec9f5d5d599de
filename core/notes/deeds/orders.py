"""Is it asked of somebody, and not told as done: requests to others, and what is to hold or to stop from now on.

Rules
1. `ask kit to vent tray 4`, `@mei tray 4 vents shut`, `keep lot 30 covered`, `always shut the vents at night`: orders.
2. "Please" makes an order of words that tell no past (`lids on trays 4-6 pls`) and of nothing else (`misted tray 3 pls`
   is politeness). What is done by saying so is no order: `please keep 6 of lot 9 for kit`, `pls hold lot 18`.
3. Bare verbs after a name are orders too: `kim do vents`, `left for kim: mist 3, vent 4`.
"""

from __future__ import annotations

import re
from typing import Final

from core.notes.parting.clauses import Clause
from core.notes.parting.not_deeds import may_be_deed
from core.notes.words.pieces import SUBJECTS, Piece, is_act, names_plants
from core.notes.words.steps import looks_for
from core.vocabulary.everyday import is_given_name
from core.vocabulary.loading import small_words

_POLITE: Final = small_words("orders", "polite")
_TO_LOG: Final = small_words("orders", "to_log")
_ASKING: Final = small_words("orders", "asking")
_ABOUT: Final = small_words("orders", "about")
_LETTING: Final = small_words("orders", "letting")
_BARE: Final = small_words("orders", "bare")
_STAYING: Final = small_words("orders", "staying")
_STANDING: Final = small_words("orders", "standing")
HABITS: Final = small_words("orders", "habits")
_NIGHTLY: Final = small_words("orders", "nightly")
_RATES: Final = small_words("orders", "rates")
_PLANS: Final = small_words("orders", "heads_of_plans")
_GOALS: Final = small_words("orders", "goals")
_WHOEVER: Final = small_words("orders", "whoever")
_NIGHTS: Final = re.compile(rf"(?<!\S)(?:{'|'.join(map(re.escape, sorted(_NIGHTLY)))})(?!\S)")
_PAST: Final = small_words("orders", "past")
_COMING: Final = small_words("orders", "coming")
_LISTS: Final = small_words("orders", "lists")
_NEXT: Final = frozenset({"you", "tomorrow", "tmrw", "later", "next"})
_SUPPOSED: Final = small_words("asking", "after_auxiliaries")
_CALLED: Final = 3
_SET: Final = frozenset({"cover", "vent", "air", "uncover", "move"})
_SAYING_SO: Final = frozenset({"reserve", "hold", "clear"})
"""Acts that stand in the books as soon as somebody says so."""


@looks_for(
    "do", "does", "vent", "hold", "you", "your", "u", "ur", "youre", "you're", "gets", "get", "@", "by", "every",
    "everyday", "daily", "weekly", "hourly", any_of=_ASKING | _LETTING | _STANDING | _STAYING | HABITS | _NIGHTLY,
)  # fmt: skip
def is_order(clause: Clause) -> bool:
    """`keep lot 30 covered`, `ask kit to vent tray 4`, `@dev shut the vents on 4`, `we usually mist tray 4`."""
    pieces = clause.pieces
    return (
        _asks_another(pieces)
        or _sends(clause)
        or _stands(pieces)
        or _holds_care(pieces)
        or _speaks_to_reader(clause)
        or _stays(pieces)
        or _is_habit(pieces)
        or (_calls_somebody(pieces) and not tells_past(pieces))
        or (_ends_by_hour(pieces) and not tells_past(pieces))
    )


@looks_for("next", "should", any_of=_POLITE | _WHOEVER | _NIGHTLY | _PLANS | _GOALS)
def asks_sentence(clauses: list[Clause]) -> bool:
    """Whether a sentence is asked of somebody as a whole: `mei please put the dome back on tray 4, vents shut`."""
    pieces = [piece for clause in clauses for piece in clause.pieces]
    if pieces and (pieces[0].low in _GOALS or _supposes(clauses)):
        # "goal is 30 rooted in lot 9".
        return True
    polite = any(_is_polite(pieces, place) for place in range(len(pieces)))
    polite = polite and not any(map(_says_so, clauses))
    asks = polite or calls_all(pieces) or tells_of_nights(pieces) or heads_plans(clauses)
    return asks and not tells_past(pieces)


def _supposes(clauses: list[Clause]) -> bool:
    """`should it freeze, cover tray 4`: what may happen, and what is to be done then."""
    head = clauses[0].pieces
    if len(clauses) < 2 or len(head) < 2 or head[0].low != "should":
        return False
    return names_plants(head[1]) or head[1].low in _SUPPOSED


@looks_for("=moment", "left", "leave", "vent", any_of=_LISTS | _COMING)
def opens_ahead(clauses: list[Clause]) -> bool:
    """Whether a day to come heads a sentence that tells no past: `tomorrow: tug lot 22, feed lot 14`,
    `to do: mist tray 4, pot lot 22`."""
    pieces = [piece for clause in clauses for piece in clause.pieces]
    head = clauses[0].pieces
    headed = len(clauses) > 1 and clauses[1].after == ":" and (heads_list(head) or _leaves_for(head, pieces))
    if _tells_somebody(clauses) and not tells_past(pieces):
        return True
    if headed and not tells_past(pieces[len(clauses[0].pieces) :]):
        return True
    first = next((piece for piece in pieces if "filler" not in piece.roles), None)
    if first is not None and first.low in _LISTS | _COMING and not tells_past(pieces):
        return True
    if first is None or first.kind != "moment" or tells_past(pieces):
        return False
    return bool(first.value.is_to_come)


@looks_for(any_of=_POLITE)
def asks_politely(clause: Clause) -> bool:
    """`lids on trays 4-6 pls` in a sentence that tells more."""
    pieces = clause.pieces
    polite = any(_is_polite(pieces, place) for place in range(len(pieces)))
    return polite and not _says_so(clause) and not tells_past(pieces)


def _says_so(clause: Clause) -> bool:
    """`keep 6 of lot 9 for kit`, `hold lot 18`, `put lot 18 on hold`: plants that a word puts apart or sets free; not
    `hold the vents at half`.
    """
    if clause.act not in _SAYING_SO:
        return False
    told = [piece for piece in clause.pieces if "filler" not in piece.roles]
    at = next((place for place, piece in enumerate(told) if is_act(piece)), 0)
    near = told if clause.act == "reserve" else told[max(0, at - 1) : at] + told[at + 1 : at + 2]
    return any(piece.kind in (*SUBJECTS, "number") or piece.roles.keys() & {"plant", "all"} for piece in near)


@looks_for("someone", "somebody")
def may_be_asked(pieces: list[Piece]) -> bool:
    """`someone put a lid on tray 3`: told, or asked of whoever reads it."""
    over = any(piece.kind == "moment" and (piece.value.days or 0) < 0 for piece in pieces)
    return len(pieces) > 2 and pieces[0].low in ("someone", "somebody") and pieces[1].low in _BARE and not over


def goes_with_plan(pieces: list[Piece]) -> bool:
    """`split the iris` after `pot lot 12`, `were potting lot 9` after `bring gloves sat`: a verb that may be bare, or
    in "-ing", belongs to the plan before it.
    """
    deed = next((piece for piece in pieces if is_act(piece)), None)
    return deed is not None and (deed.low in _BARE or deed.low.split(" ")[0].endswith("ing"))


def calls_all(pieces: list[Piece]) -> bool:
    """`whoevers here, lids on trays 4-6`."""
    return bool(pieces) and pieces[0].low in _WHOEVER


def heads_plans(clauses: list[Clause]) -> bool:
    """`plan for sat: pot lot 9, split lot 12`, `todo pot lot 9`: a head after which all is yet to be done."""
    head = clauses[0].pieces
    return bool(head) and (head[0].low in _PLANS or (len(head) == 1 and head[0].low == "next"))


def heads_undone(pieces: list[Piece]) -> bool:
    """`still to do`, `plan for fri`, `tomorrow`: a heading of what is yet to be done."""
    if heads_list(pieces) or (pieces and pieces[0].low in _PLANS | _COMING):
        return True
    if any(piece.kind == "moment" and piece.value.is_to_come for piece in pieces):
        return True
    told = [piece for piece in pieces if "filler" not in piece.roles]
    return bool(told) and not any(map(is_act, told)) and all("plan" in piece.roles for piece in told)


def heads_list(pieces: list[Piece]) -> bool:
    """`still to do`, `to do list`: nothing but the name of a list of what is to be done."""
    return " ".join(piece.low for piece in pieces) in _LISTS


def tells_of_nights(pieces: list[Piece]) -> bool:
    """`shut at night`, `open by day`: what is done every night or day."""
    return _NIGHTS.search(" ".join(piece.low for piece in pieces)) is not None


def tells_past(pieces: list[Piece]) -> bool:
    """Whether any word is a verb that only tells what is over: `misted`, `took`; `put` and `shut` may be orders."""
    return any(_is_past(piece) for piece in pieces)


def _is_past(piece: Piece) -> bool:
    word = piece.low.split(" ")[0]
    return word in _PAST or (is_act(piece) and len(word) > 3 and word.endswith("ed")) or "negation" in piece.roles


def _is_polite(pieces: list[Piece], place: int) -> bool:
    if pieces[place].low not in _POLITE:
        return False
    return not (place + 1 < len(pieces) and pieces[place + 1].low.split(" ")[0] in _TO_LOG)


def _asks_another(pieces: list[Piece]) -> bool:
    """`ask kit to vent tray 4`, `told the kids to mist tray 6`, `have dev shut the vents`."""
    if len(pieces) > 2 and pieces[0].low in _LETTING and pieces[1].kind in ("word", "person"):
        return "to_do" in pieces[2].roles or pieces[2].low in _BARE
    if not pieces or pieces[0].low not in _ASKING:
        return False
    for place, piece in enumerate(pieces[1 : 2 + _CALLED], start=1):
        if place > 1 and (piece.low == "to" or piece.low in _ABOUT):
            return True
        if piece.kind not in ("word", "person") and "filler" not in piece.roles:
            return False
    return False


def _sends(clause: Clause) -> bool:
    """`kim do vents half on 1-3`, `do vents at noon`, `mei to vent tray 4`."""
    pieces = clause.pieces[_is_somebody(clause.pieces[0]) :]
    if len(pieces) < 2 or tells_past(pieces):
        return False
    named = len(pieces) < len(clause.pieces)
    if named and pieces[0].low == "to":
        return pieces[1].low == "vent"
    sent = pieces[0].low == "do" or (named and pieces[0].low == "does")
    return sent and any(map(may_be_deed, pieces[1:]))


def _is_somebody(piece: Piece) -> bool:
    return piece.kind == "person" or (piece.kind == "word" and is_given_name(piece.low))


def _leaves_for(head: list[Piece], pieces: list[Piece]) -> bool:
    """`left for kim:`: what heads a list of what somebody is to do."""
    lows = [piece.low for piece in head]
    led = len(lows) == 3 and lows[0] in ("left", "leave") and lows[1] == "for"
    led = led and (_is_somebody(head[2]) or lows[2] in _NEXT)
    return led and any(map(may_be_deed, pieces[len(head) :]))


def _tells_somebody(clauses: list[Clause]) -> bool:
    """`kim: vent 1-3, feed 6`: bare verbs after somebody's name."""
    if len(clauses) < 2 or not _is_somebody(clauses[0].pieces[0]):
        return False
    vents = any(piece.low == "vent" and is_act(piece) for clause in clauses for piece in clause.pieces)
    return vents and any(clause.act is None and "to_do" in clause.pieces[0].roles for clause in clauses[1:])


def _stands(pieces: list[Piece]) -> bool:
    """`keep lot 30 misted`, `leave the vents at half`, `skip watering lot 30`: what goes on, stops or is left alone."""
    at = 0
    while at < len(pieces) and (pieces[at].low in _POLITE or pieces[at].kind == "mark"):
        at += 1
    if at + 1 >= len(pieces) or pieces[at].low not in _STANDING or pieces[at + 1].low == "of":
        return False
    if pieces[at].low == "better":
        return pieces[at + 1].low in _BARE or "to_do" in pieces[at + 1].roles
    if pieces[at].low in ("kept", "stopped"):
        deed = pieces[at + 1 :] if pieces[at].low == "kept" else pieces[at + 1 : at + 2]
        acts = {piece.roles["act"].act for piece in deed if "act" in piece.roles} - {"treat", "reserve"}
        # "kept the lid off tray 16 for 25 min".
        return bool(acts - {"air"}) or ("air" in acts and not any(map(_lasts, deed)))
    return any(may_be_deed(piece) for piece in pieces[at + 1 :])


def _lasts(piece: Piece) -> bool:
    return piece.kind in ("duration", "moment") or "loose_times" in piece.roles


def _holds_care(pieces: list[Piece]) -> bool:
    """`hold the water on lot 9`: what is to be left off."""
    named = [piece for piece in pieces if piece.low not in _POLITE | {"the", "off"}]
    if len(named) < 2 or named[0].low != "hold":
        return False
    word = named[1].roles.get("to_do") or named[1].roles.get("noun")
    return word is not None and word.act in ("water", "tend")


def _speaks_to_reader(clause: Clause) -> bool:
    """`lids on before you leave`, `vents shut on your way out`."""
    spoken = any(piece.low in ("you", "your", "u", "ur", "youre", "you're") for piece in clause.pieces)
    return spoken and clause.act in _SET and not tells_past(clause.pieces)


def _stays(pieces: list[Piece]) -> bool:
    """`lot 5 stays domed`, `tray 3 stays at half vent`: what is so already, and nothing done."""
    at = next((place for place, piece in enumerate(pieces) if piece.low in _STAYING), None)
    return at is not None and any(may_be_deed(piece) for piece in pieces[at:])


def _is_habit(pieces: list[Piece]) -> bool:
    """`we usually mist tray 4 at 10`, `tray 4 gets misted 3x a day`, `vents on tray 4 shut at night`."""
    if any(piece.low in HABITS for piece in pieces):
        return True
    if tells_of_nights(pieces) and not tells_past(pieces):
        return True
    going = any(is_act(piece) and piece.low.split(" ")[0].endswith("ing") for piece in pieces)
    if going and any(piece.low in ("every", "everyday", "daily", "weekly", "hourly") for piece in pieces):
        return True
    at = next((place for place, piece in enumerate(pieces) if piece.low in ("gets", "get")), None)
    return at is not None and any(_is_rate(piece) for piece in pieces[at:])


def _is_rate(piece: Piece) -> bool:
    """`3x a day`, `daily`, `each morning`."""
    first = piece.low.split(" ")[0]
    return piece.low in _RATES or (piece.kind == "duration" and first in ("a", "per", "each", "every"))


def _calls_somebody(pieces: list[Piece]) -> bool:
    """`@mei tray 4 vents shut`."""
    return len(pieces) > 2 and pieces[0].low == "@" and pieces[1].first == pieces[0].last and pieces[1].kind == "word"


def _ends_by_hour(pieces: list[Piece]) -> bool:
    """`lids on trays 4-6 by 5`: what is to be done by an hour."""
    if len(pieces) < 3 or pieces[-2].low != "by":
        return False
    last = pieces[-1]
    hour = last.kind == "moment" and last.value.hour is not None and not last.value.names_day
    return hour or (last.kind == "number" and last.low.isdigit() and 1 <= int(last.low) <= 12)
