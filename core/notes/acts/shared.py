"""Which of its acts does a shared word mean here.

One rule a word, named in shared.toml, decided by what stands beside it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise
from typing import Final

from core.notes.acts.beside import Decision, noun_of, words_of
from core.notes.acts.diseases import disease_at
from core.notes.acts.taken import took, took_root
from core.notes.acts.wetted import (
    PRONOUNS,
    WASHED,
    changed,
    dipped,
    drained,
    dumped,
    is_soaked,
    of_pests,
    of_tray_before,
    rinsed,
    seed_named,
    soaked,
    soaks_tray,
    sprayed,
    washes_off,
    wiped,
)  # fmt: skip
from core.notes.days.who import may_be_who
from core.notes.parting.clauses import Clause
from core.notes.words.pieces import NO_ROLES
from core.notes.words.said import keep_words
from core.vocabulary.everyday import is_given_name
from core.vocabulary.loading import small_words


def decide(clause: Clause, before: Sequence[Clause] = ()) -> None:
    """Settles the act of a clause whose word is shared; an undecided one has no act and `act` is asked."""
    if clause.act == "hold" and clause.word is not None and clause.word.rule is None and _receiver_of(clause):
        clause.act = "reserve"
    if before and WASHED.finds_in(clause.marks) and washes_off(clause) and of_pests(before[-1]):
        clause.act, clause.says = "tend", {"care": "pest_control"}
        # "slugs in tray 9, picked off 12".
        keep_words(*(piece for piece in clause.pieces if piece.kind == "number"))
        return
    if clause.word is None or clause.word.rule is None:
        return
    word = next((piece.low for piece in clause.pieces if piece.roles.get("shared") is clause.word), "")
    act, says = _RULES[clause.word.rule](clause, word)
    if act is None and clause.word.rule == "wiped" and before and words_of(clause) & PRONOUNS and of_pests(before[-1]):
        act, says = "tend", {"care": "pest_control"}
    if act is None and clause.word.rule == "bagged" and before and _gathers_on(clause, before[-1]):
        act, says = "collect", {"bagged": True, "what": "seed"}
    emptied = clause.word.rule in ("drained", "rinsed") and act == "treat" and of_tray_before(clause, before)
    if emptied or (clause.word.rule == "soaked" and act in ("treat", "water") and is_soaked(clause)):
        act, says = _untold(clause)
    if soaks_tray(clause, before):
        act, says = "water", {"method": "soak"}
    clause.act = act
    clause.says = {**says, **{key: value for key, value in clause.says.items() if value is not None}}


def _gathers_on(clause: Clause, before: Clause) -> bool:
    """`gathered 2 lb acorns, bagged 6 milkweed`: after seed was gathered, more seed, and no cover over pots."""
    return before.act == "collect" and clause.has("plant") and not clause.has("container", "medium", "cutting")


def _untold(clause: Clause) -> Decision:
    """No deed, also for the question whether one was meant."""
    for piece in clause.pieces:
        if piece.roles.get("shared") is clause.word:
            piece.roles = NO_ROLES
    clause.word = None
    return None, {}


def _planted(clause: Clause, word: str) -> Decision:
    words = words_of(clause)
    if any(piece.roles.get("what") == "divisions" for piece in clause.pieces):
        return "divide", {}
    if any(low.startswith("cutting") for low in words) or clause.has("cutting", "wood", "hormone", "hormone_name"):
        return "stick", {}
    if words & {"seed", "seeds"} or "amount" in clause.kinds() or seed_named(clause):
        return "sow", {}
    if words & {"out", "at", "in the ground"} or _stands_along(clause) or (
        "in" in words and any(piece.kind == "word" for piece in clause.pieces)
    ):
        return "plant_out", {}
    if any(lead.low == "in" and piece.roles.get("container") == "bed" for lead, piece in pairwise(clause.pieces)):
        return "plant_out", {}
    if clause.has("container", "pot_size") or "size" in clause.kinds():
        return "pot", {}
    return None, {}


def _stands_along(clause: Clause) -> bool:
    """`planted 12 coyote brush along the creek`; not `along with 6 sage`, `beside lot 9`."""
    for lead, after in pairwise(clause.pieces):
        if lead.low in _ALONG:
            return after.kind in ("word", "phrase") and after.low not in ("with", "w", "w/")
    return False


def _went_to_cause(clause: Clause) -> bool:
    """`4 went to mold`, `6 of lot 3 went to rot`: what took so many, and no place."""
    pairs = pairwise(clause.pieces)
    return any(lead.low.split(" ")[-1] == "to" and "cause" in after.roles for lead, after in pairs)


def _put(clause: Clause, word: str) -> Decision:
    words = words_of(clause)
    if word in ("went", "gone") and _went_to_cause(clause):
        return "lose", {}
    if word == "took in" and took_root(clause):
        return "check", {"state": "rooted"}
    if word == "took out" and not words & {"to", "into", "at", "onto", "outside", "in", "on", "under"}:
        return None, {}
    by = next((place for place, piece in enumerate(clause.pieces[:-1]) if piece.low == "by"), None)
    if word == "set" and by is not None and clause.pieces[by + 1].low == "for":
        clause.pieces[by].used = True
        return "reserve", {}
    if word == "sent":
        return ("move", {}) if clause.has("place_word") else (None, {})
    treat = noun_of(clause, "treat")
    at = next((place for place, piece in enumerate(clause.pieces) if piece.roles.get("shared") is clause.word), 0)
    if clause.has("solution") and clause.has("thing", "container") and not clause.kinds() & {"lots"}:
        return "sanitize", {}
    if "temp" in clause.kinds() and not (clause.kinds() & {"lots", "trays"} or clause.has("plant")):
        return None, {}
    if word == "left" and clause.pieces[-1].low in ("in", "out") and clause.kinds() & {"lots", "trays"}:
        return None, {}
    if "aside" in words and word in ("set", "put", "placed"):
        for piece in clause.pieces:
            piece.used = piece.used or piece.low == "aside"
        return "reserve", {}
    beside = clause.pieces[at + 1].low if at + 1 < len(clause.pieces) else ""
    covered = clause.has("cover_noun", "cover") or bool(words & {"dome", "domes", "lid", "lids", "cover", "covers"})
    if word == "left" and (beside == "over" or covered or "under the dome" in words):
        return None, {}
    if word == "left" and _still_there(clause, at):
        return "check", {}
    if word == "left" and _left_in_lot(clause, at):
        return None, {}
    if treat is not None:
        return "treat", dict(treat.says)
    if "water" in words and clause.kinds() & {"size", "depth"} and clause.kinds() & {"trays", "lots"}:
        return "water", {"method": "tray"}
    if words & _SEEDS and clause.has("plant") and clause.has("medium", "container"):
        return "sow", {}
    if _cuttings_into_tray(clause):
        return "stick", {}
    if clause.has("medium", "cutting", "hormone_name", "wood") and (clause.has("plant") or _new_cuttings(clause)):
        return "stick", {}
    if "water" in words and clause.kinds() & {"trays", "lots"}:
        return "water", {}
    if words & {
        "in",
        "into",
        "on",
        "onto",
        "under",
        "at",
        "to",
        "by",
        "outside",
        "inside",
        "out",
        "on the",
        "in the",
    } or word in ("took in", "took out", "put out", "set out"):
        return "move", {}
    return ("move", {}) if clause.has("standing") else (None, {})


def _left_in_lot(clause: Clause, at: int) -> bool:
    """`left 12 in lot 5 to root`: how many stayed there, and none that went anywhere."""
    told = clause.pieces[at + 1 : at + 4]
    kinds = [piece.kind for piece in told]
    return kinds[:1] == ["number"] and kinds[2:] == ["lots"] and told[1].low == "in"


def _still_there(clause: Clause, at: int) -> bool:
    """`12 left`, `12 toyon left in tray 3`: how many are still in it, and none that were put somewhere."""
    counted = at
    while counted and clause.pieces[counted - 1].roles.keys() & {"plant", "what", "cutting"}:
        counted -= 1
    if not counted or clause.pieces[counted - 1].kind != "number":
        return False
    after = clause.pieces[at + 1 :]
    held = len(after) > 1 and after[0].low in ("in", "of") and after[1].kind in ("lots", "trays")
    return counted == at or not after or held


def _cuttings_into_tray(clause: Clause) -> bool:
    """`set 50 ceanothus cuttings in tray 15`, `put 25 toyon cuttings in liners`."""
    words = words_of(clause)
    kinds = clause.kinds()
    if not words & {"cuttings", "cutting", "cuts"} or "number" not in kinds or "lots" in kinds:
        return False
    into = "trays" in kinds or (clause.has("container") and not words & {"rooted", "bag", "bags", "bucket", "water"})
    return into and clause.has("plant") and not words & {"from", "back", "on", "to"}


def _new_cuttings(clause: Clause) -> bool:
    """`put 34 osobery cuttings in perlite`: counted cuttings that come from no lot or tray, of an unknown plant."""
    words = words_of(clause)
    counted = "number" in clause.kinds() and "lots" not in clause.kinds() and not words & {"from", "back"}
    into_tray = "trays" in clause.kinds() and "in" in words
    told = into_tray or clause.has("medium", "hormone", "hormone_name", "hormone_form")
    return counted and told and (clause.has("cutting") or not words.isdisjoint(("cuttings", "cutting")))


def _hold(clause: Clause, word: str) -> Decision:
    words = words_of(clause)
    at = next((place for place, piece in enumerate(clause.pieces) if piece.roles.get("shared") is clause.word), 0)
    if at and (clause.pieces[at - 1].kind in ("number", "fraction") or clause.has("none") or clause.word is None):
        return "check", {"state": "rooted"}
    if {"back", "from"} <= words and "for" not in words:
        return None, {}
    if "for" in words and not clause.has("cause") and (clause.kinds() & {"number", "amount", "size"}):
        return "reserve", {}
    receiver = _receiver_of(clause)
    if receiver is not None and (clause.kinds() & {"lots", "trays"} or clause.has("plant")):
        return ("reserve", {}) if receiver else (None, {})
    stands = word == "holding" and 0 < at == len(clause.pieces) - 1 and clause.pieces[at - 1].kind in ("lots", "trays")
    # "tray 4 holding": put apart, or doing well.
    return (None, {}) if word == "save" or stands else ("hold", {})


def _receiver_of(clause: Clause) -> bool | None:
    """Whether `for ruthanne`, `for the dune school` names who gets plants; None where it names a reason or a time."""
    for at, piece in enumerate(clause.pieces):
        told = clause.pieces[at + 1 :]
        if piece.low != "for" or not told:
            continue
        told = told[1:] if told[0].low == "the" else told
        if told and disease_at(told, 0) is not None:
            return None
        if told and (told[0].kind == "word" or told[0].low in _PLACE_ENDS) and told[-1].low in _PLACE_ENDS:
            return True
        if len(told) == 1 and (may_be_who(told[0]) or "month" in told[0].roles) and is_given_name(told[0].low):
            return True
        if len(told) == 1 and may_be_who(told[0]):
            return False
    return None


_SEEDS: Final = small_words("names", "seeds")
_STALKS: Final = small_words("names", "stalks")
_PLACE_ENDS: Final = small_words("places", "ends")
_ALONG: Final = frozenset({"along", "beside", "near"})
_AT: Final = frozenset({"at", "along", "near", "by", "@"})


def _bagged(clause: Clause, word: str) -> Decision:
    words = words_of(clause)
    if words & {"seed", "seeds"} and words & {"stems", "stalks", "heads"} and clause.has("plant"):
        return "collect", {"bagged": True, "what": "seed"}
    if clause.has("cutting") or any(piece.roles.get("what") == "cuttings" for piece in clause.pieces):
        return "collect", {"what": "cuttings"}
    if words & {
        "heads",
        "seed heads",
        "seedheads",
        "seed",
        "seeds",
        "head",
        "pods",
        "flowers",
        "capsules",
    } or clause.has("what"):
        return "collect", {"bagged": True, "what": "seed"}
    if clause.has("medium") or clause.kinds() & {"medium", "amount"}:
        return None, {}
    if word == "bagged up" and "number" in clause.kinds():
        return None, {}
    if words & _STALKS and clause.has("plant"):
        return "collect", {"bagged": True, "what": "seed"}
    if "number" in clause.kinds() and clause.has("plant") and not clause.kinds() & {"lots", "trays"}:
        # Seed heads, or pots under bags.
        return None, {}
    if clause.has("plant") and not clause.kinds() & {"lots", "trays"} and _tells_where(clause):
        # "bagged deerbrush at hatchery road": wild seed heads, and no plants of the bench under a bag.
        return "collect", {"bagged": True, "what": "seed"}
    return "cover", {}


def _tells_where(clause: Clause) -> bool:
    """Whether a little word leads to a place outside the nursery."""
    leads = (after for piece, after in pairwise(clause.pieces) if piece.low in _AT)
    return any(after.kind == "word" or after.low in _PLACE_ENDS for after in leads)


_RULES: Final[dict[str, Callable[[Clause, str], Decision]]] = {
    "took": took, "soaked": soaked, "dipped": dipped, "rinsed": rinsed, "planted": _planted, "dumped": dumped,
    "changed": changed, "wiped": wiped,
    "put": _put, "sprayed": sprayed, "hold": _hold, "bagged": _bagged, "drained": drained,
}  # fmt: skip
RULE_NAMES: Final = frozenset(_RULES)
