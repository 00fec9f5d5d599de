"""Which of its acts does a shared word mean here.

One rule a word, named in shared.toml, decided by what stands beside it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise
from typing import Any, Final

from core.notes.clauses import Clause
from core.notes.diseases import disease_at
from core.notes.pieces import NO_ROLES
from core.notes.who import may_be_who
from core.vocabulary import ActWord
from core.vocabulary.everyday import is_everyday, is_given_name
from core.vocabulary.loading import small_words


def decide(clause: Clause, before: Sequence[Clause] = ()) -> None:
    """Settles the act of a clause whose word is shared; an undecided one has no act and `act` is asked."""
    if clause.act == "hold" and clause.word is not None and clause.word.rule is None and _receiver_of(clause):
        clause.act = "reserve"
    if clause.word is None or clause.word.rule is None:
        return
    word = next((piece.low for piece in clause.pieces if piece.roles.get("shared") is clause.word), "")
    act, says = _RULES[clause.word.rule](clause, word)
    if act is None and clause.word.rule == "wiped" and before and _words(clause) & _PRONOUNS and _of_pests(before[-1]):
        act, says = "tend", {"care": "pest_control"}
    if clause.word.rule == "drained" and act == "treat" and _of_tray_before(clause, before):
        act, says = _untold(clause)
    if _soaks_tray(clause, before):
        act, says = "water", {"method": "soak"}
    clause.act = act
    clause.says = {**says, **{key: value for key, value in clause.says.items() if value is not None}}


def _untold(clause: Clause) -> Decision:
    """No deed, also for the question whether one was meant."""
    for piece in clause.pieces:
        if piece.roles.get("shared") is clause.word:
            piece.roles = NO_ROLES
    clause.word = None
    return None, {}


def _of_pests(clause: Clause) -> bool:
    """`tray 9 has aphids, wiped them off`: what was wiped off are pests."""
    return any(piece.roles.get("cause") in ("pest", "mold") for piece in clause.pieces)


def _of_tray_before(clause: Clause, before: Sequence[Clause]) -> bool:
    """`tray 8 is sitting in water, drained it`: no seed that soaked."""
    named = next((one for one in reversed(before) if one.kinds() & {"lots", "trays"} or one.has("plant")), None)
    if named is None or "trays" not in named.kinds() or clause.kinds() & {"lots", "trays"}:
        return False
    return not _has_seed(named) and named.act != "treat" and bool(_words(clause) & _PRONOUNS)


def _soaks_tray(clause: Clause, before: Sequence[Clause]) -> bool:
    """`tray 9 was bone dry so i soaked it 20 min in the sink`: a tray of plants is watered."""
    if clause.word is None or clause.word.rule not in ("soaked", "dipped") or clause.kinds() & {"lots", "trays"}:
        return False
    named = next((one for one in reversed(before) if one.kinds() & {"lots", "trays"} or one.has("plant")), None)
    if named is None or "trays" not in named.kinds() or not _words(clause) & _PRONOUNS or _done_to_thing(clause):
        return False
    return not _soaks_long(clause) and not clause.has("solution", "hormone", "hormone_name", "what", "plant", "noun")


def _soaks_long(clause: Clause) -> bool:
    return any(
        piece.kind == "duration" and (piece.value[0].days or piece.value[0].seconds >= 3600) for piece in clause.pieces
    )


def _noun(clause: Clause, act: str) -> ActWord | None:
    for piece in clause.pieces:
        word = piece.roles.get("noun")
        if word is not None and word.act == act:
            return word  # type: ignore[no-any-return]
    return None


def _words(clause: Clause) -> set[str]:
    return {piece.low for piece in clause.pieces}


_LIQUIDS: Final = small_words("solutions", "liquids")
_PRONOUNS: Final = frozenset({"it", "them", "em", "those", "that"})
Decision = tuple[str | None, dict[str, Any]]


def _rooted(clause: Clause) -> bool:
    """`28 of the 36 took in lot 31`: cuttings that took have roots."""
    pieces = clause.pieces
    at = next(place for place, piece in enumerate(pieces) if piece.roles.get("shared") is clause.word)
    after = pieces[at + 1] if at + 1 < len(pieces) else None
    counted = at > 0 and (pieces[at - 1].kind in ("number", "fraction") or "all" in pieces[at - 1].roles)
    return counted and (after is None or after.kind in ("lots", "trays", "moment") or after.low in ("in", "so far"))


def _took(clause: Clause, word: str) -> Decision:
    words = _words(clause)
    if word == "took" and _rooted(clause):
        return "check", {"state": "rooted"}
    if sum(piece.kind == "lots" for piece in clause.pieces) == 2 and words & {
        "make",
        "as",
        "new",
        "called",
        "start",
        "into",
    }:
        return "split", {}
    check = _noun(clause, "check")
    if check is not None and check.says.get("sample"):
        return "check", {"sample": True}
    if clause.has("cover_noun") and "off" in words:
        return "air", {}
    treat = _noun(clause, "treat")
    if word == "got" and treat is not None and (clause.kinds() & {"lots", "trays"} or clause.has("plant")):
        weather = any(piece.low in ("cold", "warm") for piece in clause.pieces) and "duration" not in clause.kinds()
        return (None, {}) if weather else ("treat", dict(treat.says))
    lost = any(piece.roles.get("act") and piece.roles["act"].act == "lose" for piece in clause.pieces)
    if lost:
        return "lose", {}
    if "home" in words:
        return "give", {}
    if clause.has("of_cuttings") or _gets_cuttings(clause):
        return "collect", {"what": "cuttings"}
    if (clause.has("what", "cutting") and word not in ("got", "pulled")) or clause.has("what"):
        return "collect", {}
    if word in ("took", "picked up") and _is_received(clause):
        return "give", {}
    if word == "picked up":
        return None, {}
    if word in ("took", "cut", "picked", "dug") and clause.has("plant") and (clause.kinds() & {"number", "amount"}):
        return "collect", {}
    if word in ("brought in", "took", "taken") and ("to" in words or "into" in words or "out" in words):
        return (None, {}) if _for_a_purpose(clause) else ("move", {})
    if words & {"inside", "outside", "indoors", "outdoors"} and word in ("took", "brought in", "taken"):
        return "move", {}
    if word == "brought in":
        return "move", {"to": "inside"}
    if word == "pulled" and clause.has("cause"):
        return "lose", {}
    return None, {}


def _is_received(clause: Clause) -> bool:
    """`finn picked up his 12 toyon`, `mill pond took 30 deergrass`: plants went to whom the words before name."""
    at = next((place for place, piece in enumerate(clause.pieces) if piece.roles.get("shared") is clause.word), 0)
    before = [piece for piece in clause.pieces[:at] if piece.kind != "moment" and "filler" not in piece.roles]
    if not before or not (clause.has("plant") or clause.kinds() & {"lots", "trays"}):
        return False
    their = at + 1 < len(clause.pieces) and clause.pieces[at + 1].low in _THEIR
    named = before[-1].low in _PLACE_ENDS or before[-1].kind == "person"
    picked = clause.pieces[at].low == "picked up"
    return all(piece.kind in ("word", "person") or piece.low in _PLACE_ENDS for piece in before) and (
        their or before[-1].low in _PLACE_ENDS or (picked and named)
    )


_THEIR: Final = small_words("people", "their")


def _gets_cuttings(clause: Clause) -> bool:
    """`got 50 honeysuckle nodal cuttings from wendell's fence`."""
    named = any("cutting" in piece.roles and piece.low.endswith("cuttings") for piece in clause.pieces)
    return named and clause.has("plant") and "number" in clause.kinds() and bool(_words(clause) & {"from", "off"})


def _for_a_purpose(clause: Clause) -> bool:
    """`took lot 52 out to sow`: what for, and not where to."""
    after = next((piece for lead, piece in pairwise(clause.pieces) if lead.low == "to"), None)
    return after is not None and "to_do" in after.roles and not clause.has("place_word")


def _soaked(clause: Clause, word: str) -> Decision:
    treat = _noun(clause, "treat")
    if treat is not None and treat.says.get("treatment") != "soak":
        return "treat", dict(treat.says)
    if clause.has("solution") or (clause.has("thing") and not clause.kinds() & {"lots", "trays"}):
        return (None, {}) if _soaked_by_weather(clause) else ("sanitize", {})
    hours = _soaks_long(clause)
    if clause.has("what") or hours or _has_seed(clause) or ("lots" in clause.kinds() and not clause.has("method")):
        return "treat", {"treatment": "soak"}
    if "trays" in clause.kinds() or (clause.has("all") and not clause.has("plant")):
        return "water", {"method": "soak"}
    if "plant" in {role for piece in clause.pieces for role in piece.roles} or "duration" in clause.kinds():
        return "treat", {"treatment": "soak"}
    return "treat", {"treatment": "soak"}


def _soaked_by_weather(clause: Clause) -> bool:
    """`irrigation leak soaked bench c`: what soaked it stands before the verb, and no solution is told."""
    first = next((piece for piece in clause.pieces if "filler" not in piece.roles), None)
    return first is not None and first.kind == "word" and is_everyday(first.low) and not clause.has("solution")


def _has_seed(clause: Clause) -> bool:
    return any(piece.low in ("seed", "seeds") for piece in clause.pieces)


def _dipped(clause: Clause, word: str) -> Decision:
    treat = _noun(clause, "treat")
    if clause.has("hormone", "hormone_name", "hormone_form") or "ppm" in clause.kinds():
        return "treat", {"treatment": "hormone"}
    if clause.has("solution") or (clause.has("thing") and not clause.kinds() & {"lots", "trays"}):
        return "sanitize", {}
    if treat is not None:
        return "treat", dict(treat.says)
    if "trays" in clause.kinds() or word in ("dunked", "submerged"):
        return "water", {"method": "soak"}
    return "treat", {"treatment": "hormone"}


def _rinsed(clause: Clause, word: str) -> Decision:
    if word == "swept" and not clause.has("thing"):
        return None, {}
    if _done_to_thing(clause):
        return "sanitize", {}
    watered = word == "flushed" or _words(clause) & {"leaves", "foliage", "tops"}
    if watered and clause.kinds() & {"lots", "trays"} and not _has_seed(clause):
        return "water", {}
    if clause.has("thing", "solution", "pot_size", "container") and not (clause.kinds() & {"lots", "trays"}):
        return "sanitize", {}
    if word in ("rinsed", "washed", "flushed") and (
        clause.kinds() & {"lots", "trays"} or clause.has("plant") or _has_seed(clause)
    ):
        return "treat", {"treatment": "rinse"}
    if any(piece.kind == "word" for piece in clause.pieces):
        return "sanitize", {}
    return "treat", {"treatment": "rinse"}


def _done_to_thing(clause: Clause) -> bool:
    """`washed the dome on tray 3`: a thing right after the verb, past its article."""
    at = next((place for place, piece in enumerate(clause.pieces) if piece.roles.get("shared") is clause.word), -1) + 1
    while at < len(clause.pieces) and clause.pieces[at].low in ("the", "a", "all", "my", "our", "some", "old"):
        at += 1
    return at < len(clause.pieces) and not clause.pieces[at].roles.keys().isdisjoint(("thing", "cover_noun"))


def _seed_named(clause: Clause) -> bool:
    """`planted 30 acorns in tubes`."""
    return any(piece.roles.get("what") == "seed" for piece in clause.pieces)


def _planted(clause: Clause, word: str) -> Decision:
    words = _words(clause)
    if any(piece.roles.get("what") == "divisions" for piece in clause.pieces):
        return "divide", {}
    if any(low.startswith("cutting") for low in words) or clause.has("cutting", "wood", "hormone", "hormone_name"):
        return "stick", {}
    if words & {"seed", "seeds"} or "amount" in clause.kinds() or _seed_named(clause):
        return "sow", {}
    if words & {"out", "at", "in the ground"} or (
        "in" in words and any(piece.kind == "word" for piece in clause.pieces)
    ):
        return "plant_out", {}
    if any(lead.low == "in" and piece.roles.get("container") == "bed" for lead, piece in pairwise(clause.pieces)):
        return "plant_out", {}
    if clause.has("container", "pot_size") or "size" in clause.kinds():
        return "pot", {}
    return None, {}


def _wiped(clause: Clause, word: str) -> Decision:
    if clause.has("solution", "thing", "container", "place_word"):
        return "sanitize", {}
    if clause.has("cause") or clause.kinds() & {"lots", "trays"}:
        return "tend", {"care": "pest_control"}
    thing = any(piece.kind == "word" for piece in clause.pieces) and not _words(clause) & {"it", "them", "em"}
    return ("sanitize", {}) if thing else (None, {})


def _dumped(clause: Clause, word: str) -> Decision:
    if clause.has("solution", "hormone", "hormone_name") or _words(clause) & _LIQUIDS:
        return "pour_out", {}
    if _words(clause) & {"mix", "soil", "potting mix", "media"}:
        return None, {}
    if clause.kinds() & {"lots", "trays", "number"} or clause.has("plant", "all"):
        return "lose", {}
    return "pour_out", {}


def _changed(clause: Clause, word: str) -> Decision:
    return ("mix", {}) if clause.has("solution") else (None, {})


def _put(clause: Clause, word: str) -> Decision:
    words = _words(clause)
    if word == "took in" and _rooted(clause):
        return "check", {"state": "rooted"}
    if word == "took out" and not words & {"to", "into", "at", "onto", "outside", "in", "on", "under"}:
        return None, {}
    by = next((place for place, piece in enumerate(clause.pieces[:-1]) if piece.low == "by"), None)
    if word == "set" and by is not None and clause.pieces[by + 1].low == "for":
        clause.pieces[by].used = True
        return "reserve", {}
    if word == "sent":
        return ("move", {}) if clause.has("place_word") else (None, {})
    treat = _noun(clause, "treat")
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
    if word == "left" and at and clause.pieces[at - 1].kind == "number":
        return "check", {}
    if treat is not None:
        return "treat", dict(treat.says)
    if "water" in words and clause.kinds() & {"size", "depth"} and clause.kinds() & {"trays", "lots"}:
        return "water", {"method": "tray"}
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


def _cuttings_into_tray(clause: Clause) -> bool:
    """`set 50 ceanothus cuttings in tray 15`."""
    words = _words(clause)
    told = clause.has("plant") and {"number", "trays"} <= clause.kinds() and "lots" not in clause.kinds()
    return told and bool(words & {"cuttings", "cutting", "cuts"}) and not words & {"from", "back", "on", "to"}


def _new_cuttings(clause: Clause) -> bool:
    """`put 34 osobery cuttings in perlite`: counted cuttings that come from no lot or tray, of an unknown plant."""
    words = _words(clause)
    counted = "number" in clause.kinds() and "lots" not in clause.kinds() and not words & {"from", "back"}
    return counted and clause.has("medium") and (clause.has("cutting") or not words.isdisjoint(("cuttings", "cutting")))


def _sprayed(clause: Clause, word: str) -> Decision:
    if (
        all(
            piece.roles.get("shared") is clause.word
            or "filler" in piece.roles
            or piece.kind in ("lots", "trays", "moment", "person")
            for piece in clause.pieces
        )
        and word == "sprayed"
    ):
        return "tend", {"care": "pest_control"}
    soaps = bool(_words(clause) & {"soap", "neem", "oil", "insecticidal"}) and bool(clause.kinds() & {"lots", "trays"})
    if clause.has("solution") and not soaps:
        return "sanitize", {}
    treat = _noun(clause, "treat")
    if treat is not None:
        return "treat", dict(treat.says)
    causes = {piece.roles.get("cause") for piece in clause.pieces}
    if causes & {"pest", "animal", "mold"} or _words(clause) & {
        "soap",
        "neem",
        "oil",
        "insecticidal",
        "spinosad",
        "bt",
        "copper",
        "sulfur",
    }:
        return "tend", {"care": "pest_control"}
    return None, {}


def _hold(clause: Clause, word: str) -> Decision:
    words = _words(clause)
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
    return (None, {}) if word == "save" else ("hold", {})


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
        if len(told) == 1 and may_be_who(told[0]):
            return is_given_name(told[0].low)
    return None


_PLACE_ENDS: Final = small_words("places", "ends")


def _bagged(clause: Clause, word: str) -> Decision:
    words = _words(clause)
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
    return "cover", {}


def _drained(clause: Clause, word: str) -> Decision:
    if clause.has("solution", "thing") or _words(clause) & _LIQUIDS:
        return "pour_out", {}
    if "trays" in clause.kinds() and not _has_seed(clause) and "soak" not in _words(clause):
        return None, {}
    return "treat", {"treatment": "soak", "ends": True}


_RULES: Final[dict[str, Callable[[Clause, str], Decision]]] = {
    "took": _took, "soaked": _soaked, "dipped": _dipped, "rinsed": _rinsed, "planted": _planted, "dumped": _dumped,
    "changed": _changed, "wiped": _wiped,
    "put": _put, "sprayed": _sprayed, "hold": _hold, "bagged": _bagged, "drained": _drained,
}  # fmt: skip
RULE_NAMES: Final = frozenset(_RULES)
