"""What was done to things of everyday life, not to plants: `fed the cat`, `split my lip`, `my boots are soaked`.

Rules
1. A deed whose object is such a thing tells of no plants, unless some are named beside it (`covered the desk and lot
   9`).
2. So does a deed or a state whose subject is one, where it opens its statement (`pizza is ready`, `power is up again`).
3. What is of the bench too (`shelf`) is one only where no plants on it may be meant.
"""

from __future__ import annotations

from typing import Final

from core.notes.deeds.equipment import KIND
from core.notes.words.act_kinds import COUNTLESS
from core.notes.words.pieces import COUNTS, NO_ROLES, SUBJECTS, Piece, is_act
from core.notes.words.runs import Runs
from core.notes.words.said import counted_before, end_of_statement, keep_words, places_up_to
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord
from core.vocabulary.everyday import home_words, is_everyday
from core.vocabulary.loading import small_words

_THINGS: Final = home_words(
    "clothes", "bodies", "food", "papers", "money", "vehicles", "household", "animals", "matters",
)  # fmt: skip
_OWN: Final = home_words("of_somebody")
_ONE_OF: Final = home_words("one_of")
_PEOPLE: Final = home_words("people")
_SUBJECTS: Final = home_words("subjects")
_OWNERS: Final = small_words("home", "all_owners")
_OBJECTS: Final = Runs(_THINGS)
_ALL_OBJECTS: Final = Runs(_THINGS | _PEOPLE)
_OWNED: Final = Runs(_OWN)
_FOOD: Final = home_words("food")
_MONEY: Final = home_words("money")
_SOME_OBJECTS: Final = Runs(_FOOD | _MONEY | _PEOPLE | home_words("clothes"))
_OPENERS: Final = Runs(_THINGS | _PEOPLE | _SUBJECTS)
_WORDS: Final = _THINGS | _OWN | _ONE_OF | _PEOPLE | _SUBJECTS
_PARTICLES: Final = small_words("home", "particles")
_SOME_PARTICLES: Final = small_words("home", "particles_with_some")
_PORTIONS: Final = small_words("home", "portions")
_WHOSE: Final = small_words("home", "owners")
_PERHAPS_PLANTS: Final = small_words("home", "perhaps_plants")
_BRINGING: Final = small_words("home", "bringing")
_MEDIA: Final = small_words("home", "media")
_FIXTURES: Final = small_words("home", "fixtures")
_HUNG: Final = small_words("home", "hung")
_TO_ROOMS: Final = small_words("home", "to_rooms")
_PLANTS_OF: Final = small_words("home", "plants_of")
_ROOMS: Final = small_words("home", "rooms")
_NO_LEADS: Final = small_words("home", "ends")
_JOINTS: Final = frozenset({"and", "&", ",", "+"})
_OF_PLANTS: Final = frozenset({
    "what", "plant", "container", "thing", "cover_noun", "medium", "cutting", "wood", "of_cuttings", "pot_size",
    "amount",
})  # fmt: skip
_OF_BENCH: Final = _OF_PLANTS | {"all", "both", "vague", "solution", "place_word"}
_BEING: Final = small_words("covers", "being") | small_words("home", "being")
_LEADS: Final = small_words("home", "leads")
_GETTING: Final = frozenset({"give", "sell", "reserve"})
_NEVER_TO_PLACES: Final = frozenset({"plant_out", "lose", "sell", "give", "pot", "split", "stick"})
_PLANTING: Final = frozenset({"stick", "sow", "divide", "pot", "plant_out", "collect"})
_LONGEST: Final = 6
_LONGEST_PLACE: Final = 4


_SIGNS: Final = _WORDS | _MEDIA | _WHOSE | _FIXTURES | {"bring"}
_LOOKED_FOR: Final = Runs(_SIGNS)
_SUMS: Final = frozenset({"measure", "numbered"})
"""The kinds of pieces that may tell of money (`20 bucks`)."""


@looks_for(any_of=_SIGNS)
def find_home_things(pieces: list[Piece]) -> None:
    """Marks what was done to such things, in place; the subjects beside it are kept as such."""
    signs = (
        at
        for at, sign in enumerate(pieces)
        if sign.kind in _SUMS or (sign.low in _LOOKED_FOR.heads and _LOOKED_FOR.end_at(pieces, at))
    )
    for place in places_up_to(pieces, signs):
        _find_at(pieces, place)


def _find_at(pieces: list[Piece], place: int) -> None:
    """Marks what was done to a thing where the deed, or the thing itself at the head of a statement, is at a place."""
    piece = pieces[place]
    if piece.kind in (KIND, "break"):
        return
    verbal = is_act(piece) or "to_do" in piece.roles
    if verbal and (_done_to_thing(pieces, place) or _names_people_in_photo(pieces, place)):
        _keep(pieces, place)
    elif piece.low in _HUNG and _hangs(pieces, place):
        keep_words(*pieces[place : end_of_statement(pieces, place)])
    elif _opens(pieces, place) and (deed := _state_of_thing(pieces, place)):
        _keep(pieces, place, deed)


def _hangs(pieces: list[Piece], place: int) -> bool:
    """`bags are on the hook`, `tags are on the truck`: on no plants."""
    said = [piece.low for piece in pieces[place + 1 : end_of_statement(pieces, place)]]
    while said and (said[0] in _BEING or said[0] in _OWNERS or said[0] == "the"):
        del said[0]
    where = [low for low in said[1:] if low != "the"]
    plants = len(where) > 1 and where[1] in _PERHAPS_PLANTS
    return said[:1] in (["on"], ["in"]) and bool(where) and where[0] in _FIXTURES and not plants


def _names_people_in_photo(pieces: list[Piece], place: int) -> bool:
    """`tagged you in the tray 4 pic`."""
    if pieces[place].low not in ("tagged", "labeled"):
        return False
    said = pieces[place + 1 : end_of_statement(pieces, place)]
    return any(one.low in ("in", "in the", "on") for one in said) and any(one.low in _MEDIA for one in said)


def _is_deed(piece: Piece) -> bool:
    return is_act(piece) or "to_do" in piece.roles or "noun" in piece.roles


def _word_of(piece: Piece) -> ActWord | None:
    word: ActWord | None = next(
        (piece.roles[role] for role in ("act", "shared", "to_do", "noun") if role in piece.roles), None
    )
    return word


def _done_to_thing(pieces: list[Piece], place: int) -> bool:
    """`sold my old truck`, `pot of coffee`, `weeded thru the old emails`, `dipped into petty cash`, `gave 20 bucks`."""
    word = _word_of(pieces[place])
    if word is None or (counted_before(pieces, place) and pieces[place - 1].kind == "number"):
        return False
    at = place + 1
    some = at < len(pieces) and pieces[at].low in _SOME_PARTICLES
    while at < len(pieces) and (pieces[at].low in _PARTICLES or (some and at == place + 1)):
        at += 1
    if word.act in _PLANTING and _counts_plants(pieces, place + 1, word.act):
        return False
    if word.act == "lose" and _counts_cause(pieces, place + 1):
        return False
    if not some and (_is_somebodys(pieces, at) or _brings_own(pieces, place)):
        return True
    objects = _SOME_OBJECTS if some else _OBJECTS if word.act in _GETTING | _PLANTING else _ALL_OBJECTS
    end = _end_of_thing(pieces, at, objects)
    if end is None or (end < len(pieces) and pieces[end].low.startswith("worth")):
        return False
    return not _of_the_bench(pieces, place, end, word) and not _plants_after(pieces, end)


def _counts_cause(pieces: list[Piece], at: int) -> bool:
    """`lost 5 | heat`: how many the heat took."""
    return at + 1 < len(pieces) and pieces[at].kind in COUNTS and "cause" in pieces[at + 1].roles


def _counts_plants(pieces: list[Piece], at: int, act: str) -> bool:
    """`sowed 40 | watermelon`, `potted 12 | chili`: what people eat, and plants; nothing else is sown by its number."""
    counted = at + 1 < len(pieces) and pieces[at].kind in COUNTS
    return counted and (
        act == "sow" or (_OBJECTS.end_at(pieces, at + 1) > 0 and pieces[at + 1].low.split(" ")[0] in _FOOD)
    )


def _is_somebodys(pieces: list[Piece], at: int) -> bool:
    """`my bangs`, `his old couch`: a plain word that is somebody's, where no plants are named with it."""
    if at + 1 >= len(pieces) or pieces[at].low not in _WHOSE:
        return False
    end = at + 1
    while end < len(pieces) and pieces[end].kind == "word" and is_everyday(pieces[end].low):
        if pieces[end].low in _PERHAPS_PLANTS:
            return False
        end += 1
    named = end > at + 1 and _names_it(pieces, end - 1, end)
    said = pieces[end : end_of_statement(pieces, end)]
    return (
        named
        and not _plants_after(pieces, end)
        and not any(one.kind in SUBJECTS | COUNTS or "plant" in one.roles for one in said)
    )


def _brings_own(pieces: list[Piece], place: int) -> bool:
    """`bring a broom`, `bring your own mug`: asked of people, and no plants are to be moved."""
    if pieces[place].low != "bring" or place + 2 >= len(pieces) or pieces[place + 1].low not in _BRINGING:
        return False
    said = pieces[place + 2 : end_of_statement(pieces, place)]
    plain = all(one.kind not in SUBJECTS and "plant" not in one.roles and "container" not in one.roles for one in said)
    return plain and said[0].kind == "word" and not any(map(is_act, pieces[place + 2 :]))


def _of_the_bench(pieces: list[Piece], place: int, end: int, word: ActWord) -> bool:
    """Whether what was done to a thing tells of plants there, or may be planned (`weeded the lower shelf`)."""
    last = pieces[end - 1]
    if last.low in _THINGS and last.roles.keys() & {"thing", "place_word"} and word.act not in _NEVER_TO_PLACES:
        return True
    if last.low in _ROOMS and word.act in COUNTLESS and pieces[place].low not in _TO_ROOMS:
        return True
    if word.act == "move" and any(piece.kind == "moment" for piece in pieces[end:]):
        return True
    # "bring a jacket sat, were potting lot 12": what is told after it is planned too.
    return "to_do" in pieces[place].roles and any(map(is_act, pieces[end:]))


def _end_of_thing(pieces: list[Piece], start: int, objects: Runs) -> int | None:
    """Where the words of a thing end that begin at a place (`my old truck`, `the lot 14 paperwork`, `ngozis pie`)."""
    found = None
    owned = counted = False
    for at in range(start, min(start + _LONGEST, len(pieces))):
        piece = pieces[at]
        end = objects.end_at(pieces, at) or (_OWNED.end_at(pieces, at) if owned else 0)
        end = end or (at + 1 if counted and piece.low in _ONE_OF else 0) or _end_of_sum(pieces, start, at)
        if end and _names_it(pieces, at, end):
            found = end
        owned = owned or piece.low in _OWNERS or piece.low == "'s" or _is_owner(piece)
        counted = piece.low in ("a", "an") or piece.kind == "number"
        if not (at == start and piece.low == "that") and not _may_stand_before(pieces, at):
            break
    return found


def _end_of_sum(pieces: list[Piece], start: int, at: int) -> int:
    """`20 bucks` right after the deed; 0 where no money is."""
    piece = pieces[at]
    money = piece.kind in _SUMS and piece.low.split(" ")[-1] in _MONEY | _PEOPLE
    return at + 1 if money and all("filler" in one.roles or one.kind == "word" for one in pieces[start:at]) else 0


def _is_owner(piece: Piece) -> bool:
    """`kits`, `ngozis`: of somebody."""
    return (
        piece.kind in ("word", "person")
        and piece.low.endswith("s")
        and not is_everyday(piece.low)
        and len(piece.low) > 2
    )


def _may_stand_before(pieces: list[Piece], at: int) -> bool:
    """Whether a piece may stand between a deed and the thing it was done to."""
    piece = pieces[at]
    if piece.kind in SUBJECTS:
        return True
    if piece.low == "and" and 0 < at < len(pieces) - 1:
        return pieces[at - 1].kind in SUBJECTS and pieces[at + 1].kind in SUBJECTS
    if piece.low == "of" and at and (pieces[at - 1].kind == "amount" or pieces[at - 1].low in _PORTIONS):
        return True
    if piece.kind == "break" or piece.low in _NO_LEADS or _is_told(piece):
        return False
    return piece.kind in ("word", "phrase", "number", "mark", "person", "measure", "kept", "amount")


def _is_told(piece: Piece) -> bool:
    return is_act(piece) and piece.low not in ("fresh", "green", "live", "frozen", "burned", "dead", "broken", "left")


def _names_it(pieces: list[Piece], at: int, end: int) -> bool:
    """Whether the words are the thing itself, and no part of the name of something of the bench (`coffee cups`)."""
    if any(
        piece.kind not in ("word", "phrase", "saying", "person", "kept", "measure", "numbered")
        for piece in pieces[at:end]
    ):
        return False
    if end >= len(pieces):
        return True
    after = pieces[end]
    if after.low in _PLANTS_OF:
        return after.low in _NO_LEADS or is_act(after)
    if after.roles.keys() & _OF_PLANTS and after.low not in ("can", "cover"):
        return False
    return after.kind in ("break", "moment", "duration", "person", "mark") or _closes(after)


def _closes(after: Piece) -> bool:
    return (
        after.kind in SUBJECTS
        or "filler" in after.roles
        or after.low in _NO_LEADS
        or is_everyday(after.low)
        or is_act(after)
        or after.kind in COUNTS
        or after.kind == "phrase"
    )


def _plants_after(pieces: list[Piece], end: int) -> bool:
    """`covered the desk and lot 9`, `gave the office 4 sage`: plants beside the thing."""
    at = end
    while at < len(pieces) and (pieces[at].low in _JOINTS or pieces[at].low in ("the", "also", "then", "my", "our")):
        at += 1
    if at >= len(pieces):
        return False
    first = pieces[at]
    joined = at > end
    named = first.kind in SUBJECTS or not first.roles.keys().isdisjoint(("plant", "all", "thing", "cover_noun"))
    after = pieces[at + 1] if at + 1 < len(pieces) else None
    counted = first.kind in COUNTS and after is not None and "plant" in after.roles
    plain = after is not None and (is_everyday(after.low) or after.low in _OWN)
    of_things = after is not None and after.kind == "word" and plain
    return (joined and (named or (first.kind in COUNTS and not of_things))) or counted


def _opens(pieces: list[Piece], place: int) -> bool:
    before = pieces[place - 1] if place else None
    return before is None or before.kind in ("break", "moment") or before.low in _LEADS


def _state_of_thing(pieces: list[Piece], place: int) -> int | None:
    """Where the deed stands that a thing at the head of a statement did or suffered (`my boots are | soaked`)."""
    end = _end_of_thing(pieces, place, _OPENERS)
    if end is None:
        return None
    at = _end_of_place(pieces, end)
    being = at
    while at < len(pieces) and (pieces[at].low in _BEING or ("filler" in pieces[at].roles and not is_act(pieces[at]))):
        at += 1
    if at >= len(pieces) or not _is_deed(pieces[at]):
        return _deed_of_own(pieces, place, end)
    word = _word_of(pieces[at])
    if word is None:
        return None
    if at + 1 < len(pieces) and pieces[at + 1].kind in COUNTS | SUBJECTS:
        # "sun fried 4 in lot 9": what it did to plants.
        return None
    people = any(one.low in _PEOPLE or "cause" in one.roles for one in pieces[place:end])
    suffered = (not people or pieces[at].low in _DYING) and (
        word.act in _SUFFERED or word.counts_before or pieces[at].low == "left"
    )
    being_told = at > being or pieces[at].low.split(" ")[0] in _BEING
    if not people and not being_told and not suffered:
        suffered = _is_lone(pieces, place, end, at)
    return at if being_told or suffered else _deed_of_own(pieces, place, end)


def _is_lone(pieces: list[Piece], place: int, end: int, at: int) -> bool:
    """`my truck sold`, `the website moved`: what a thing did, where nothing of the bench is named after it."""
    things = any(_OBJECTS.end_at(pieces, one) == end for one in range(place, end))
    said = pieces[at + 1 : end_of_statement(pieces, at)]
    return things and not any(one.kind in SUBJECTS | COUNTS or one.roles.keys() & _OF_BENCH for one in said)


def _deed_of_own(pieces: list[Piece], place: int, end: int) -> int | None:
    """`my phone fell in tray 6 and | died`: what came of what is somebody's, where nothing is counted."""
    if pieces[place].low not in _OWNERS:
        return None
    for at in range(end, end_of_statement(pieces, end)):
        if pieces[at].kind in COUNTS or pieces[at].roles.keys() & {"plant", "all"}:
            return None
        word = pieces[at].roles.get("act")
        if word is not None:
            return at if word.counts_before and word.act in ("lose", "wilt") else None
    return None


_DYING: Final = frozenset({"died", "dead", "dying"})
_SUFFERED: Final = frozenset({"lose", "wilt", "check", "hold", "clear", "vent", "cover"})


def _end_of_place(pieces: list[Piece], at: int) -> int:
    """Where the words end that tell where a thing is (`shelf | over tray 2 | is sagging`)."""
    if at >= len(pieces) or pieces[at].low not in _NO_LEADS or pieces[at].low in _BEING:
        return at
    for end in range(at + 1, min(at + 1 + _LONGEST_PLACE, len(pieces))):
        if pieces[end].low in _BEING or pieces[end].kind == "break" or is_act(pieces[end]):
            return end
    return at


def _keep(pieces: list[Piece], place: int, deed: int | None = None) -> None:
    """Takes all meaning but the subjects' from the words of a statement, up to the next mark or deed joined to it."""
    pieces[place].kind, pieces[place].roles = KIND, NO_ROLES
    for at in range(place + 1, len(pieces)):
        piece = pieces[at]
        if piece.kind == "break" or (at > (deed or place) and piece.low in _LEADS and _tells_more(pieces, at + 1)):
            return
        if piece.kind not in ("lots", "trays", "moment", "person"):
            keep_words(piece)


def _tells_more(pieces: list[Piece], at: int) -> bool:
    return any(is_act(one) for one in pieces[at : at + 3])
