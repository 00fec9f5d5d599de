"""Does a clause without an act repeat the act before it, for another subject or day (`31 rooted in lot 14, 12 in 15`).

Rules
1. A lot, tray or plant of its own with a count, a length of time or a place of its own repeats the act.
2. So does another day with a count, and for losses and sales another cause, size or receiver.
3. What stands before the colon of a list holds for each of its repeats.
"""

from __future__ import annotations

from datetime import datetime
from itertools import pairwise
from typing import Any, Final

from core.notes.acts.slots import Slots
from core.notes.deeds.ahead import UNTIL
from core.notes.details.drafts import Draft, draft_of
from core.notes.details.places import ends_name
from core.notes.details.vessels import is_vessel
from core.notes.joining.adding import subject_only
from core.notes.joining.beside import is_beside
from core.notes.joining.counted import opens_with_plants
from core.notes.joining.cultivars import OF_CULTIVARS, of_another_cultivar, weighed_again, with_its_cultivar
from core.notes.joining.givings import gives_another, named_first
from core.notes.names.place_leads import PLACE_LEADS
from core.notes.names.unknown_plants import name_unknown, unknown_plant
from core.notes.parting.clauses import Clause
from core.notes.words.act_kinds import COUNTLESS, OF_PLANTS, OPENING
from core.notes.words.pieces import COUNTS, SENTENCE_ENDS, SUBJECTS, Piece, is_act
from core.notes.words.tokens import Token
from core.vocabulary.loading import small_words

_OUT_OF: Final = small_words("split", "out_of")
_HOLDING: Final = frozenset({"is", "has", "holds", "=", "are", "have", "had"})
_TURNING: Final = frozenset({"on", "off", "it", "now", "again", "too"})
_COVERS: Final = frozenset({"cover", "air", "uncover"})
_PAST: Final = small_words("orders", "past")
_BEING: Final = frozenset({"is", "are", "has", "have", "was", "were", "did", "does", "though", "already"})
_NEVER: Final = frozenset({"note", "ask", "sanitize", "mix", "temp"})
_LEAVING: Final = frozenset({"pot", "sell", "give", "plant_out", "reserve"})
_COUNTED_OFF: Final = _LEAVING | {"lose"}
_CHECKED_OFF: Final = frozenset({"check", "lose"})
_NOW: Final = frozenset({"now", "right now", "currently", "as of now", "so far", "today", "up to", "just"})
_TOGETHER: Final = frozenset({"and", "&", "+"})
_SHARED_AT_END: Final = {
    "pot": "container", "give": "to", "sell": "to", "reserve": "to", "plant_out": "to", "move": "to",
}  # fmt: skip
_HANDED_ON: Final = ("state", "method", "cause", "care", "treatment", "what", "cutting", "bagged", "sample")


def repeats(drafts: list[Draft], clause: Clause) -> bool:
    """Whether a clause without an act tells the act before it again."""
    if drafts and _mixed_another(drafts[-1], clause):
        return True
    if not drafts or drafts[-1].slots is None or drafts[-1].act in _NEVER:
        return False
    if gives_another(drafts[-1].act, drafts[-1].slots.values, clause):
        return True
    if drafts[-1].act in OPENING and any(map(_tells_state, clause.pieces)):
        # "8/12 sown 100 madia, 8/18 up 40".
        return False
    if _lasts_until(drafts[-1], clause):
        return True
    if is_beside(clause, drafts[-1]) or _counts_source(drafts[-1], clause) or _tells_unknown_deed(clause):
        return False
    before = drafts[-1].slots
    if before.act == "split" and before.values.get("to") is None and not _out_of_another(before, clause):
        return False
    if _moves_others(before, clause):
        # Of which of two lots that were moved the others are is not known.
        return not (len(drafts) > 1 and drafts[-2].act == "move" and not drafts[-2].held("to"))
    if of_another_cultivar(before, clause) or weighed_again(before, clause):
        return True
    if _turned(before.act, before.values, clause) or _is_so(before, clause):
        return True
    return _on_another_day(before, clause) or _told_apart(before, clause) or _of_another(before, clause)


def _tells_unknown_deed(clause: Clause) -> bool:
    """`lot 69: | dug 14 into the library bed`: what was done to so many of these, in words that are not known."""
    return any(
        verb.kind == "word" and (verb.low in _PAST or verb.low.endswith("ed")) and number.kind == "number"
        for verb, number in pairwise(clause.pieces)
    )


def repeat(before: Draft, clause: Clause, tokens: list[Token], now: datetime) -> Draft:
    """The act before, told of a clause that repeats it."""
    assert before.slots is not None
    told: dict[str, Any] = before.slots.values
    if before.act in OF_PLANTS and told.get("plant") and not clause.has("plant"):
        name_unknown(clause.pieces)
    clause.act, clause.word = before.act, before.slots.clause.word
    clause.says = {key: told[key] for key in _HANDED_ON if key in told}
    for name in ("method", "what"):
        if clause.has(name):
            clause.says.pop(name, None)
    turned = _turned(before.act, told, clause)
    if turned is not None:
        clause.act, clause.word, clause.says = turned[0], None, dict(turned[1])
        for piece in clause.pieces:
            piece.used = piece.used or piece.low in _TURNING or "for_good" in piece.roles
    elif before.act == "uncover" and "duration" in clause.kinds():
        clause.act = "air"
    if before.act == "lose" and (clause.has("cause") or any(one.has("of_these") for one in before.clauses)):
        # "tossed 4 from lot 19 (rot), 2 from lot 20": the cause in brackets is of those alone.
        clause.says.pop("cause", None)
    if before.act in OF_CULTIVARS:
        clause.says.pop("cutting", None)
        of_lot = before.act in _COUNTED_OFF and _counts_of_lot(before.slots, clause)
        if not clause.has("plant") and told.get("plant") and not of_lot:
            clause.says["plant"] = with_its_cultivar(told["plant"], clause)
    named = named_first(clause) if gives_another(before.act, told, clause) else None
    if named is not None:
        clause.says["to"], named[0].used = named[0].low, True
    repeated = draft_of(clause, tokens, now)
    assert repeated.slots is not None
    handed = {"by": before.held("by"), **before.headed}
    if told.get("receiver") and clause.after not in SENTENCE_ENDS:
        handed.update(to=told["to"], receiver=True)
    if clause.kinds() & SUBJECTS:
        handed.pop("trays", None)
    for name, value in handed.items():
        if value is not None:
            repeated.slots.values.setdefault(name, value)
    repeated.headed = {name: value for name, value in before.headed.items() if name in handed}
    return repeated


def share_last(drafts: list[Draft]) -> None:
    """`12 sage and 9 mint potted into 4s`: where plants went that "and" joins before their deed holds for all, in
    place; after `gave 6 sage and 4 yarrow to the museum` it may be of the last alone.
    """
    for before, after in reversed(list(pairwise(drafts))):
        name = _SHARED_AT_END.get(after.act)
        if name is None or before.act != after.act or before.slots is None:
            continue
        first, last = before.clauses[-1], after.clauses[0]
        told_once = any(map(is_act, last.pieces)) and not any(map(is_act, first.pieces))
        counted = before.held("count") is not None and after.held("count") is not None
        if last.after in _TOGETHER and told_once and counted and not before.held(name) and after.held(name):
            before.slots.values[name] = after.held(name)


def _mixed_another(before: Draft, clause: Clause) -> bool:
    """`mixed 1 gal bleach, 1 qt hormone 1000 ppm`: so much of another solution."""
    if before.act != "mix" or not before.held("solution") or "amount" not in clause.kinds():
        return False
    named = {piece.roles["solution"] for piece in clause.pieces if "solution" in piece.roles}
    named |= {"hormone" for piece in clause.pieces if not piece.roles.keys().isdisjoint(("hormone", "hormone_name"))}
    return len(named) == 1 and before.held("solution") not in named


def _turned(act: str, told: dict[str, Any], clause: Clause) -> tuple[str, dict[str, Any]] | None:
    """`dome off tray 3, tray 4 on`, `tray 2 on the mat, tray 5 off`, `dome on lot 3, off lot 4 20 min`: another that
    went on or off, and the act it is.
    """
    said = [
        piece
        for piece in clause.pieces
        if piece.kind not in ("mark", "lots", "trays") and piece.roles.keys().isdisjoint(("remarks", "closes"))
    ]
    if act in ("cover", "air", "uncover") and clause.has("for_good") and all(map(_is_of_leaving, said)):
        comes_off = act != "cover" or any(piece.low == "off" for piece in said)
        another = clause.pieces[0].kind in ("lots", "trays") or (act == "air" and told.get("duration") is not None)
        return ("uncover", {}) if comes_off and another else None
    if not clause.kinds() & {"lots", "trays"} or not said or said[0].low not in ("on", "off"):
        return None
    good = any("for_good" in piece.roles for piece in said)
    heads = clause.pieces[0].kind in ("lots", "trays") or (clause.pieces[0] is said[0] and act in _COVERS)
    off = said[0].low == "off"
    said = [piece for piece in said if not (off and act in _COVERS and _says_how_long(piece))]
    if not heads or any(piece.low not in _TURNING and "for_good" not in piece.roles for piece in said):
        return None
    if act in _COVERS:
        return ("uncover" if off and good else "air" if off else "cover"), {}
    if act == "treat" and told.get("treatment") == "heat":
        return act, {"treatment": "heat", **({"ends": True} if off else {})}
    return None


def _says_how_long(piece: Piece) -> bool:
    """The `20 min` of `off lot 4 for 20 min`."""
    return piece.kind == "duration" or piece.low == "for"


def _is_of_leaving(piece: Piece) -> bool:
    """A word of `tray 4 off for good`."""
    plain = piece.low == "off" or not piece.roles.keys().isdisjoint(("filler", "for_good", "part_of_day"))
    return plain or piece.kind == "moment"


def _is_so(before: Slots, clause: Clause) -> bool:
    """`lot 5 not rooted yet, lot 6 is`: another in the state that the one before is not."""
    if before.act != "check" or before.values.get("state") is None or before.values.get("count") != 0:
        return False
    said = [
        piece.low
        for piece in clause.pieces
        if piece.kind not in ("mark", "lots", "trays", "number", "fraction")
        and piece.roles.keys().isdisjoint(("remarks", "closes"))
    ]
    named = clause.pieces[0].kind in ("lots", "trays")
    return named and bool(said) and said[0] in _BEING and all(low in _BEING | _TURNING for low in said)


def _on_another_day(before: Slots, clause: Clause) -> bool:
    """`misted tray 3 mon, tray 4 tue`, `4 of 30 rooted mon, 11 of 30 wed`."""
    dated = before.values.get("on") is not None or before.values.get("moment") is not None
    if dated and before.values.get("count") is not None and _counts_now(clause):
        return True
    if not dated and before.act == "check" and before.values.get("count") is not None and _counts_then(clause):
        return True
    if "moment" not in clause.kinds() or before.values.get("on") is None:
        return False
    if any(
        piece.kind in ("lots", "trays") and before.values.get(piece.kind) not in (None, piece.value)
        for piece in clause.pieces
    ):
        return True
    timed = "duration" in clause.kinds() and before.values.get("duration") is not None
    weighed = "amount" in clause.kinds() and before.act == "collect" and before.values.get("amount") is not None
    if timed or weighed:
        return True
    return bool(clause.kinds() & (COUNTS | {"shares"})) and before.values.get("count") is not None


def _counts_now(clause: Clause) -> bool:
    """`20 rooted as of 6/2, 31 now`: a count of this day after one of another."""
    told = [piece for piece in clause.pieces if piece.low not in _NOW]
    return len(told) == 1 < len(clause.pieces) and told[0].kind in COUNTS


def _counts_then(clause: Clause) -> bool:
    """`36 up in tray 4 (31 yesterday)`: a count of another day, and nothing else."""
    return [piece.kind for piece in clause.pieces if "filler" not in piece.roles] == ["number", "moment"]


def _told_apart(before: Slots, clause: Clause) -> bool:
    """`20 heels, 20 tips`, `lost 2 to rot, 3 to mice`, `fed the toyon, the salal`."""
    kinds = clause.kinds()
    counted_again = "number" in kinds and before.values.get("count") is not None
    if before.act == "stick" and counted_again and clause.has("cutting") and before.values.get("cutting"):
        return True
    if before.act == "lose" and counted_again and clause.has("cause"):
        return True
    named = subject_only(clause) and clause.has("plant") and not kinds & {"lots", "trays"}
    return bool(named and before.values.get("plant") and before.act in COUNTLESS)


def _of_another(before: Slots, clause: Clause) -> bool:
    """A subject of its own, with a count, a length of time or a place of its own."""
    kinds = clause.kinds()
    fresh = clause.has("plant") and before.values.get("plant") is not None
    for kind in ("lots", "trays"):
        named = [piece.value for piece in clause.pieces if piece.kind == kind]
        fresh = fresh or bool(named and before.values.get(kind) not in (None, named[0]))
    if before.act in _COUNTED_OFF and before.values.get("count") is not None and kinds & SUBJECTS:
        # "tossed 3 of lot 6, tray 12 all of it": all of a tray are not the three of the lot.
        fresh = fresh or clause.has("all")
    if before.act in _LEAVING and "number" in kinds and before.values.get("count") is not None:
        led = any(piece.low in ("to", "into", "at") for piece in clause.pieces)
        fresh = fresh or led or bool(kinds & {"size", "amount"}) or clause.has("pot_size")
    if before.act in _COUNTED_OFF and before.values.get("count") is not None and clause.after in _TOGETHER:
        fresh = fresh or opens_with_plants(clause) or _counts_of_lot(before, clause)
        if _names_a_lot_too(before, clause):
            return True
    if before.act in _COUNTED_OFF and before.values.get("plant") and before.values.get("count") is not None:
        # "sold 3 yarrow, 5 of lot 98".
        fresh = fresh or {"number", "lots"} <= kinds
    if before.act in _CHECKED_OFF and before.values.get("count") is not None:
        fresh = fresh or _plant_and_count(clause)
    if before.act == "divide" and before.values.get("container") and before.values.get("count") is not None:
        fresh = fresh or _counts_into(clause)
    counts = bool(kinds & (COUNTS | {"amount", "duration"})) or clause.has("all", "vague", "fraction", "vent_open")
    counts = counts or (clause.has("none") and before.act not in COUNTLESS | {"wilt"})
    if before.act == "water" and before.values.get("depth_in") and kinds & {"size", "depth"}:
        counts = True
    if before.act == "water" and clause.has("method") and kinds & {"lots", "trays"}:
        # `misted trays 1-4; tray 7 overhead`: another way of watering, for another tray.
        counts = True
    if "person" in kinds and kinds & {"lots", "trays"} and before.act in COUNTLESS:
        return True
    if "person" in kinds and clause.after in SENTENCE_ENDS and before.values.get("count") is not None:
        # "ana potted 9 of lot 7. bea did 12 on mon".
        return "number" in kinds and before.act in _LEAVING and not clause.has("plant")
    if before.act == "check" and tells_what_is_in(clause):
        return False
    if before.act in COUNTLESS and fresh and _says_how(clause):
        return True
    if before.act in OPENING and before.values.get("plant") and clause.has("plant") and kinds & {"lots", "trays"}:
        counts = counts or not any(piece.low == before.values["plant"] for piece in clause.pieces)
    if before.act in OF_PLANTS and before.values.get("plant") and not clause.has("plant"):
        fresh = fresh or unknown_plant(clause.pieces) is not None
    return fresh and (counts or _goes_elsewhere(before.act, clause))


def _plant_and_count(clause: Clause) -> bool:
    """`coffeeberry 9` after `6 rooted in tray 14`: a plant with a count of its own."""
    told = [piece for piece in clause.pieces if piece.kind != "mark" and "filler" not in piece.roles]
    return len(told) == len(("plant", "count")) and "plant" in told[0].roles and told[1].kind in COUNTS


def tells_what_is_in(clause: Clause) -> bool:
    """`tray 3 is 30 ribes`, after `tray 2 …, 20 rooted`: what stands in it, and no count of the state before."""
    told = [piece for piece in clause.pieces if piece.kind != "mark"]
    named = len(told) > 3 and told[0].kind in SUBJECTS and told[1].low in _HOLDING
    return named and told[2].kind == "number" and "plant" in told[3].roles


def _counts_of_lot(before: Slots, clause: Clause) -> bool:
    """`3 of lot 5` after `sold 12 deer grass and`: a count of a lot, where plants of no lot were counted before."""
    named = before.values.get("plant") and not any(before.values.get(kind) for kind in SUBJECTS)
    told = [piece.kind for piece in clause.pieces if "filler" not in piece.roles]
    return bool(named) and told[:1] == ["number"] and bool(set(told[1:]) & SUBJECTS)


def _names_a_lot_too(before: Slots, clause: Clause) -> bool:
    """`lot 5` after `lost 12 sage and`: it is of its own, and how many of it is asked."""
    named = before.values.get("plant") and not any(before.values.get(kind) for kind in SUBJECTS)
    told = [piece for piece in clause.pieces if "filler" not in piece.roles]
    return bool(named) and before.act == "lose" and [piece.kind for piece in told] == ["lots"]


def _moves_others(before: Slots, clause: Clause) -> bool:
    """`moved 8 of lot 9 to the lath, 12 to the slab`: a count with a place of its own."""
    told = [piece for piece in clause.pieces if piece.kind != "mark"]
    to = [piece for piece in told[2:] if piece.low not in ("the", "our")]
    placed = len(told) > 2 and told[0].kind == "number" and told[1].low == "to" and bool(to) and ends_name(to[0])
    counted = before.values.get("count") is not None and before.values.get("to") is not None
    return placed and counted and before.act == "move"


def _tells_state(piece: Piece) -> bool:
    """A word such as `up` or `roots`."""
    word = piece.roles.get("noun")
    return word is not None and word.act == "check" and "state" in word.says


def _lasts_until(before: Draft, clause: Clause) -> bool:
    """`lot 82 til oct 15`, after `lot 81 in the fridge til oct 1`: another that lasts to a day of its own."""
    told = [piece for piece in clause.pieces if piece.kind != "mark" and "filler" not in piece.roles]
    if len(told) != len(("lot", "til", "day")) or told[1].low not in UNTIL or before.act not in COUNTLESS:
        return False
    another = told[0].kind in SUBJECTS and before.held(told[0].kind) not in (None, told[0].value)
    lasts = any(piece.low in UNTIL for one in before.clauses for piece in one.pieces)
    return another and told[2].kind == "moment" and lasts


def _says_how(clause: Clause) -> bool:
    """`lot 11 heavily`, after `watered lot 10 lightly`."""
    told = [piece for piece in clause.pieces if piece.kind != "mark" and "filler" not in piece.roles]
    named = len(told) == len(("lot", "how")) and told[0].kind in ("lots", "trays")
    return named and told[1].kind == "word" and told[1].low.endswith("ly")


def _out_of_another(before: Slots, clause: Clause) -> bool:
    """`split 12 off lot 14, 20 off lot 15`: a count of its own out of another lot."""
    told = [piece for piece in clause.pieces if piece.kind != "mark"]
    counted = len(told) > 2 and told[0].kind == "number" and told[1].low in _OUT_OF and told[2].kind == "lots"
    return counted and before.values.get("count") is not None and told[2].value != before.values.get("lots")


def _counts_into(clause: Clause) -> bool:
    """`6 in bands`: a count of its own that went into other vessels."""
    told = [piece for piece in clause.pieces if piece.kind != "mark"]
    return len(told) > 2 and told[0].kind == "number" and told[1].low in ("in", "into") and is_vessel(told[2])


def _counts_source(before: Draft, clause: Clause) -> bool:
    """`sowed 90: 50 from dry fork, 40 from pine spur`: how many of them came from where; `took 20 from m2 mon and 15
    from m3 tues` tells of two days.
    """
    if before.held("source") and before.held("on") and "moment" in clause.kinds():
        return False
    told = [piece for piece in clause.pieces if piece.kind != "mark"]
    return (
        before.act in OPENING
        and before.held("count") is not None
        and len(told) > 2
        and told[0].kind == "number"
        and told[1].low in ("from", "fr", "frm")
    )


def _goes_elsewhere(act: str, clause: Clause) -> bool:
    """`moved lot 3 to the lath and lot 4 to the slab`: another subject with a place of its own."""
    if act not in ("move", "harden", "plant_out"):
        return False
    return any(
        (piece.kind in ("lots", "trays") or "plant" in piece.roles) and after.low in PLACE_LEADS[act]
        for piece, after in pairwise(clause.pieces)
    )
