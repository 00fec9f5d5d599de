"""Which deeds are only a way of speaking, done to no plants: `gave lot 30 some shade`, `covered for mei`.

Rules
1. What plants were given is no giving away, unless somebody is named who got them; nor is `gave up`, `giving me grief`.
2. Covering for somebody, venting to somebody, clearing a bench or weeds, going to a tray: people, not plants.
3. A pest or a trouble that is gone is no loss.
"""

from __future__ import annotations

from typing import Final

from core.notes.names.people import may_be_name
from core.notes.parting.clauses import Clause
from core.notes.words.pieces import COUNTS, SUBJECTS, Piece, names_plants
from core.notes.words.steps import Look
from core.vocabulary.everyday import is_everyday, is_given_name, is_plain_noun
from core.vocabulary.loading import small_words

_PRONOUNS: Final = small_words("idioms", "pronouns")
_GIVEN_AWAY: Final = small_words("idioms", "given_away")
_NO_GIFTS: Final = small_words("idioms", "no_gifts")
_PEOPLE: Final = small_words("idioms", "people")
_CLEARED: Final = small_words("idioms", "cleared")
_OVER: Final = small_words("idioms", "over")
_ARTICLES: Final = small_words("places", "articles")
_YIELDING: Final = small_words("idioms", "yielding")
_DELIVERED: Final = small_words("idioms", "delivered")
_CLUMPS: Final = small_words("vessels", "clumps") | small_words("sources", "mothers")
_BREAKING: Final = small_words("idioms", "breaking")
_FAILING: Final = small_words("idioms", "failing")
_PARTS: Final = small_words("idioms", "parts")
_OLD_BATCH: Final = small_words("solutions", "old_batch")
_BATCHES: Final = frozenset({"mix", "batch", "solution", "stuff", "bucket", "leftovers"})
_BEING_STUCK: Final = frozenset({"is", "are", "was", "were", "am", "im", "i'm", "got", "been"})
_SOILED: Final = small_words("idioms", "soiled")
_PERHAPS_PLANTS: Final = small_words("home", "perhaps_plants")
_STUCK_IN: Final = small_words("idioms", "stuck_in")
_OF_PLANTS: Final = frozenset({
    "lose", "sell", "give", "check", "hold", "cover", "air", "uncover", "clear", "split", "divide", "reserve",
    "merge", "pour_out",
})  # fmt: skip
_OF_CUTTINGS: Final = ("plant", "cutting", "wood", "medium", "hormone", "hormone_name", "what", "container")
_STUFF: Final = ("solution", "medium", "hormone", "hormone_name", "noun", "thing")


def is_idiom(clause: Clause) -> bool:
    """True for a clause whose deed is a way of speaking."""
    rule = _RULES.get(clause.act or "")
    unread = clause.act in _SETTLED and _UNREAD.finds_in(clause.marks)
    if rule is None and not unread:
        return False
    at = next((place for place, piece in enumerate(clause.pieces) if _is_deed(piece, clause)), None)
    if at is None:
        return False
    if unread and clause.act in _OF_CARE and _of_no_plant(clause, at):
        return True
    everyday = unread and clause.act in _OF_PLANTS and _everyday_object(clause, at)
    return everyday or (rule is not None and rule(clause, at))


_UNREAD: Final = Look({"=word"})
"""Of an everyday object the sentence holds a word that the vocabulary does not know."""
_OF_CARE: Final = frozenset({"tend", "treat", "pot", "plant_out"})
_SETTLED: Final = _OF_PLANTS | _OF_CARE
_SURELY: Final = frozenset({"wound", "scarify", "hormone", None})


def _of_no_plant(clause: Clause, at: int) -> bool:
    """`fed the visitors`, `scraped the windshield`: care for what grows nowhere."""
    told = [piece for piece in clause.pieces[at + 1 :] if piece.low not in _ARTICLES and piece.low not in _PARTICLES]
    if not told or told[0].kind != "word" or clause.says.get("treatment") not in _SURELY:
        return False
    if clause.says.get("care") == "weed":
        # "weeded the path": where, which is asked.
        return False
    named = clause.kinds() & (SUBJECTS | COUNTS) or clause.has("plant", "both", "all", "hormone", "medium", "container")
    after = told[1] if len(told) > 1 else None
    ends = after is None or after.kind != "word" or is_everyday(after.low)
    return not named and ends and is_plain_noun(told[0].low) and told[0].low not in _PERHAPS_PLANTS


_PARTICLES: Final = small_words("home", "particles")
_OTHERS: Final = frozenset({"other", "remaining", "last", "first"})


def _is_deed(piece: Piece, clause: Clause) -> bool:
    roles, word = piece.roles, clause.word
    return word is not None and bool(roles) and (roles.get("act") is word or roles.get("shared") is word)


def _everyday_object(clause: Clause, at: int) -> bool:
    """`lost a bet`, `gave a tour to 12 kids`, `checked the weather`, `hold the fort`: done to no plants."""
    after = at + 1
    pieces = clause.pieces
    while after < len(pieces) and (pieces[after].low in _ARTICLES or pieces[after].low in ("some", "any", "more")):
        after += 1
    if after >= len(pieces) or clause.kinds() & SUBJECTS or clause.has("plant", "both"):
        return False
    if clause.act == "pour_out" and clause.has("solution", "hormone", "thing", "container"):
        return False
    if clause.act == "pour_out" and pieces[after].low in _OLD_BATCH and pieces[-1].low in _BATCHES:
        # "poured out yesterday's mix".
        return False
    if pieces[after].low in _OTHERS and after + 1 < len(pieces) and pieces[after + 1].kind == "number":
        # "composted the other 6": plants of the lot told of before.
        return False
    return pieces[after].kind == "word" and is_everyday(pieces[after].low) and after > at + (clause.act == "check")


def _sticks(clause: Clause, at: int) -> bool:
    """`stuck in the mud`, `stuck at work`, `drawer stuck`: no cuttings."""
    pieces = clause.pieces
    on_road = [piece.kind for piece in pieces[at + 1 : at + 3]] == ["phrase", "number"] and pieces[at + 1].low == "on"
    if clause.kinds() & SUBJECTS or (clause.kinds() & COUNTS and not on_road) or clause.has(*_OF_CUTTINGS):
        return False
    before = [piece for piece in pieces[:at] if "filler" not in piece.roles and piece.kind not in ("moment", "person")]
    after = [piece for piece in pieces[at + 1 :] if piece.low not in _ARTICLES][:1]
    plain = bool(after) and after[0].kind == "word" and is_everyday(after[0].low)
    if plain and pieces[at + 1] is not after[0] and after[0].low not in _PERHAPS_PLANTS:
        # "stuck a note on the door".
        return True
    if at and pieces[at - 1].low in _BEING_STUCK and pieces[at].low == "stuck in" and at + 1 < len(pieces):
        return True
    led = bool(after) and (after[0].low in _STUCK_IN or (pieces[at].low == "stuck in" and is_everyday(after[0].low)))
    return led or (bool(before) and before[-1].kind == "word" and is_everyday(before[-1].low))


def sticks_fast(clause: Clause) -> bool:
    """`tray 4 wont come out, | stuck`: what nobody could move, and no cuttings."""
    return clause.act == "stick" and all(_is_deed(piece, clause) or "filler" in piece.roles for piece in clause.pieces)


def _gives(clause: Clause, at: int) -> bool:
    """`gave tray 4 a 1/4 turn`, `gave them room`, `lot 30 giving me grief`, `gave up on lot 30`, `traded places`."""
    pieces = clause.pieces
    after = at + 1
    if _yields(pieces, at) or _arrives(clause, at):
        return True
    while after < len(pieces) and pieces[after].low in _ARTICLES:
        after += 1
    if after >= len(pieces):
        return False
    if pieces[at].low.endswith("ed") and pieces[after].low == "by":
        # "seed donated by hal" was given to us.
        return True
    if pieces[after].low in _NO_GIFTS or pieces[after].low in ("me", "us") or _gives_back(pieces, at):
        return True
    if may_be_name(pieces[after]) and _is_everyday_thing(pieces[after + 1 :]):
        return True
    given_to = names_plants(pieces[after]) or pieces[after].low in _PRONOUNS
    rest = [piece for piece in pieces[after + 1 :] if piece.kind not in ("moment", "mark", "person")]
    if not given_to or not rest or clause.kinds() & {"quote"}:
        return False
    if any(piece.low in _GIVEN_AWAY for piece in pieces) or rest[0].kind in COUNTS or rest[0].kind in SUBJECTS:
        return False
    return not may_be_name(rest[0]) or len(rest) > 1


def _yields(pieces: list[Piece], at: int) -> bool:
    """`each iris clump gave 7`, `the toyon gave 12 cuttings`: what came of a plant."""
    if pieces[at].low not in _YIELDING or any(piece.low == "to" for piece in pieces[at:]):
        return False
    told = pieces[at + 1 : at + 3]
    cut = len(told) > 1 and not told[1].roles.keys().isdisjoint(("what", "cutting"))
    clump = any(piece.low in _CLUMPS or piece.low.split(" ")[0] in _CLUMPS for piece in pieces[:at])
    counted = bool(told) and told[0].kind in ("number", "amount")
    return counted and (clump or (cut and any("plant" in piece.roles for piece in pieces[:at])))


def _arrives(clause: Clause, at: int) -> bool:
    """`20 bags mix delivered`: what came for the bench, where nobody is named who got it."""
    came = clause.pieces[at].low in _DELIVERED and not any(piece.low in ("to", "for") for piece in clause.pieces[at:])
    return came and clause.has("medium", "container", "thing") and not _names_one(clause.pieces)


def _is_everyday_thing(said: list[Piece]) -> bool:
    """`gave bo | a ride`, `gave ana | the gate key`."""
    told = [piece for piece in said if piece.kind not in ("moment", "mark")]
    led = len(told) > 1 and told[0].low in _ARTICLES
    end = next((step for step, piece in enumerate(told[1:], 1) if piece.low in ("for", "of", "to", "from")), len(told))
    told = told[:end]
    return led and all(piece.kind == "word" for piece in told[1:]) and is_everyday(told[-1].low)


def _gives_back(pieces: list[Piece], at: int) -> bool:
    """`dune school gave back 6 yarrow`: they came home, where nobody is named to whom they went."""
    came = pieces[at + 1].low == "back" or pieces[-1].low == "back"
    return came and not any(piece.low == "to" for piece in pieces)


def _covers(clause: Clause, at: int) -> bool:
    """`covered for mei today`."""
    after = clause.pieces[at + 1 : at + 3]
    if len(after) > 1 and after[0].low in ("in", "with", "w", "w/", "by") and after[1].low in _SOILED:
        # "tray 4 covered in algae": how it is, and no cover.
        return True
    if len(after) < 2 or after[0].low != "for" or _names_plants(clause):
        return False
    return after[1].low in _PEOPLE or after[1].kind == "person" or may_be_name(after[1])


def _vents(clause: Clause, at: int) -> bool:
    """`venting to you guys`, `just venting about the gate`."""
    after = clause.pieces[at + 1 : at + 2]
    talks = clause.pieces[at].low in ("venting", "vented") and not _names_plants(clause)
    if clause.pieces[at].low == "burped" and not _names_plants(clause) and not clause.has("cover_noun", "vent_noun"):
        # "dev burped during the meeting".
        return any(piece.kind == "person" or piece.low in _PEOPLE for piece in clause.pieces[:at]) or bool(after)
    return talks and bool(after) and after[0].low in ("to", "about")


def _clears(clause: Clause, at: int) -> bool:
    """`cleared off bench c`, `cleared the weeds along the fence`, `cleared a spot for lot 9`."""
    pieces = clause.pieces
    if pieces[at].low not in _CLEARED:
        return False
    after = at + 1
    while after < len(pieces) and (pieces[after].low in _ARTICLES or pieces[after].low in ("off", "out", "up", "away")):
        after += 1
    if after >= len(pieces) or (_names_plants(clause) and clause.pieces[:at] and _names_one(clause.pieces[:at])):
        return False
    thing = pieces[after]
    return thing.kind == "word" or not thing.roles.keys().isdisjoint(("thing", "place_word", "container"))


def _moves(clause: Clause, at: int) -> bool:
    """`went to tray 3 first`: whoever texts, not the plants."""
    pieces = clause.pieces
    if _moves_cover(clause, at) or _moves_away(clause, at):
        return True
    if pieces[at].low not in ("went", "came", "got") or _names_one(pieces[:at]) or clause.kinds() & {"number"}:
        return False
    after = pieces[at + 1 : at + 4]
    leads = bool(after) and after[0].low in ("to", "over to", "by", "back to")
    # "went to the dentist", "went halves on a pizza" heads a note, so that no plants are meant.
    placed = clause.has("place_word", "both", "all", "container", "pot_size", "cover_noun", "standing")
    away = at == 0 and clause.first == 0 and pieces[0].low == "went" and not placed
    return (leads and _names_one(after)) or (away and (leads or (len(pieces) > 1 and not _names_plants(clause))))


def _moves_away(clause: Clause, at: int) -> bool:
    """`kit moved to portland`: somebody, to no place of the bench."""
    pieces = clause.pieces
    who = at > 0 and pieces[at - 1].kind == "person"
    told = pieces[at + 1 : at + 3]
    if not who or len(told) < 2 or told[0].low != "to" or _names_plants(clause) or clause.has("place_word", "vague"):
        return False
    return told[1].kind == "word" and not is_everyday(told[1].low) and len(pieces) == at + 3


def _moves_cover(clause: Clause, at: int) -> bool:
    """`put the lid under the bench`."""
    told = [piece for piece in clause.pieces[at + 1 :] if piece.low not in _ARTICLES][:1]
    return bool(told) and "cover_noun" in told[0].roles and not _names_plants(clause)


def _loses(clause: Clause, at: int) -> bool:
    """`tray 5 wilt is gone`, `the gnats are all gone`; `spilled bleach by tray 2`."""
    if clause.pieces[at].low == "spilled":
        told = [piece for piece in clause.pieces[at + 1 :] if piece.low not in _ARTICLES]
        return bool(told) and (told[0].kind == "word" or not told[0].roles.keys().isdisjoint(_STUFF))
    if _loses_nothing(clause, at):
        return True
    if clause.pieces[at].low in ("lost", "losing") and not _names_plants(clause):
        told = [piece for piece in clause.pieces[at + 1 :] if piece.low not in _ARTICLES][:1]
        return bool(told) and told[0].low in _FAILING
    if clause.pieces[at].low == "wiped out" and at == 0 and clause.first <= 1 and not _names_plants(clause):
        # "so wiped out today": whoever texts.
        return True
    if clause.word is not None and not clause.word.counts_before and _tosses_pests(clause.pieces[at + 1 :]):
        return True
    if clause.pieces[at].low in _BREAKING:
        told = [piece for piece in clause.pieces[at + 1 :] if piece.low not in _ARTICLES and piece.kind != "number"]
        return bool(told) and told[0].low in _PARTS
    before = [piece for piece in clause.pieces[:at] if "filler" not in piece.roles and "all" not in piece.roles]
    if clause.pieces[at].low != "gone" or not before or clause.kinds() & COUNTS:
        return False
    return "cause" in before[-1].roles or "noun" in before[-1].roles


def _loses_nothing(clause: Clause, at: int) -> bool:
    """`snapped at dev`, `lost an hour in traffic`, `lost 6 pounds`, `burnt out, need a week off`: people."""
    low = clause.pieces[at].low
    after = clause.pieces[at + 1 : at + 3]
    if not after or _names_plants(clause):
        return False
    if low == "snapped" and after[0].low == "at":
        return len(after) > 1 and _is_who(after[1])
    if low == "lost":
        return after[0].kind == "duration" or (after[0].kind == "amount" and after[0].value[1] in ("lb", "kg"))
    return clause.first == 0 and (low, after[0].low) in (("burned", "out"), ("burnt", "out"), ("crushed", "it"))


def _chills(clause: Clause, at: int) -> bool:
    """`chilled w bram meanwhile`: people."""
    after = clause.pieces[at + 1 : at + 3]
    with_whom = len(after) == 2 and after[0].low in ("w", "with", "w/") and _is_who(after[1])
    return with_whom and clause.pieces[at].low in ("chilled", "chilling") and not _names_plants(clause)


def _is_who(piece: Piece) -> bool:
    return piece.kind == "person" or piece.low in _PEOPLE or is_given_name(piece.low)


def _tosses_pests(told: list[Piece]) -> bool:
    """`tossed 3 snails from tray 4`."""
    thrown = [piece for piece in told if piece.low not in _ARTICLES and piece.kind != "number"][:1]
    return bool(thrown) and thrown[0].roles.get("cause") in ("pest", "animal")


def _checks(clause: Clause, at: int) -> bool:
    """`water pooled in tray 8, tipped it out`."""
    if clause.pieces[at].low.startswith("hanging") and not _names_plants(clause):
        # "hanging in there": whoever texts.
        return True
    poured = clause.pieces[at].low in ("tipped", "tipped out", "tipped it out")
    if clause.has("vent_noun") and not _names_plants(clause):
        return True
    it = any(piece.low == "it" for piece in clause.pieces)
    return poured and it and not _names_plants(clause)


def _pours(clause: Clause, at: int) -> bool:
    """`poured off the extra water from tray 8`: no solution; `its pouring out here`: rain."""
    if clause.pieces[at].low == "pouring out" and not clause.has("solution", "hormone", "thing"):
        return True
    waters = any(piece.low == "water" for piece in clause.pieces) and not clause.has("solution", "hormone")
    return waters and clause.pieces[at].low == "poured off"


def _saves(clause: Clause, at: int) -> bool:
    """`saved 20 percent on soil`: money."""
    after = clause.pieces[at + 1 : at + 2]
    saved = clause.pieces[at].low == "saved" and bool(after) and after[0].kind == "percent"
    return saved and not clause.kinds() & SUBJECTS


def _sells(clause: Clause, at: int) -> bool:
    """`sold on the new misters`: whoever texts likes them."""
    after = clause.pieces[at + 1 : at + 3]
    on = clause.pieces[at].low == "sold on" or (bool(after) and after[0].low == "on")
    return on and not _names_plants(clause) and "moment" not in clause.kinds() and not clause.has("vague")


def _sews(clause: Clause, at: int) -> bool:
    """`sewed a patch on`: no seed."""
    led = [piece.low for piece in clause.pieces[at + 1 : at + 2]] in (["a"], ["the"], ["my"])
    return clause.pieces[at].low in ("sewed", "sewn") and led and _everyday_object(clause, at)


def _hardens(clause: Clause, at: int) -> bool:
    """`finished hardening off lots 40-42`: over, and not gone on with."""
    return any(piece.low in _OVER for piece in clause.pieces)


def _names_plants(clause: Clause) -> bool:
    return bool(clause.kinds() & (SUBJECTS | COUNTS)) or clause.has("plant", "both", "all")


def _names_one(pieces: list[Piece]) -> bool:
    return any(map(names_plants, pieces))


_RULES: Final = {
    "give": _gives, "cover": _covers, "vent": _vents, "clear": _clears, "move": _moves, "lose": _loses,
    "check": _checks, "stick": _sticks, "pour_out": _pours, "harden": _hardens,
    "sell": _sells, "sow": _sews, "reserve": _saves, "treat": _chills,
}  # fmt: skip
