"""Is a deed's word said of something else than plants: `lost the tag for lot 22`, `my back is dead`, `made 200 labels`.

What is so said is no deed of the bench, and kept as a note.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from core.notes.counts.shares import names_mother
from core.notes.days.moments import Moment
from core.notes.days.who import day_named
from core.notes.deeds.ahead import UNTIL
from core.notes.parting.clauses import Clause
from core.notes.words.pieces import Piece, is_act
from core.notes.words.said import counted_before, said_in
from core.vocabulary.everyday import home_words
from core.vocabulary.loading import small_words

_THINGS: Final = small_words("no_plants", "things")
_ARTICLES: Final = small_words("no_plants", "before_things")
_MOTHERS: Final = small_words("sources", "mothers")
_BODY: Final = small_words("no_plants", "body")
_FOOD: Final = small_words("no_plants", "food") | home_words("food")
_MADE: Final = small_words("no_plants", "made")
_STIRRED: Final = small_words("no_plants", "stirred")
_AWAY: Final = small_words("no_plants", "away")
_MIXED: Final = ("solution", "hormone", "hormone_name", "humidity")
_MEASURED: Final = frozenset({"parts", "colon", "amount", "ppm", "percent"})
_SUBJECTS: Final = frozenset({"lots", "trays", "quote"})
_LEAVING: Final = frozenset({"lose", "move", "give", "sell", "plant_out"})
_EMPTY: Final = small_words("no_plants", "empty")
_ROOTING: Final = frozenset({"for", "through", "thru", "around"})
_WAYS: Final = small_words("no_plants", "lengths_of_ways")
_COVERED: Final = frozenset({"cover", "air", "uncover"})


def of_no_plants(clause: Clause) -> bool:
    """Whether a clause with a deed's word tells of a tag, a back, labels or lunch."""
    if clause.act in ("lose", "wilt") and _of_a_mother(clause.pieces):
        return True
    if clause.act in _LEAVING and _of_empty_vessels(clause):
        return True
    if clause.act == "lose":
        return _of_a_thing(clause.pieces) or _of_the_body(clause) or _is_away(clause) or _is_score(clause)
    if clause.act == "mix":
        return _makes_something(clause)
    if clause.act in ("stick", "cover", "sow") and _takes_time_or_way(clause.pieces):
        return True
    if clause.act == "check":
        return _cheers(clause) or _costs(clause)
    if clause.act == "treat":
        return _is_food(clause)
    if clause.act == "move":
        return _moves_a_thing(clause)
    if clause.act in ("divide", "split"):
        return clause.has("company") and not clause.kinds() & _SUBJECTS and not clause.has("plant")
    return clause.act in _COVERED and (
        _still_is(clause.pieces) or _covers_a_shift(clause) or _covers_solution(clause)
    )


def _of_a_thing(pieces: list[Piece]) -> bool:
    """`lost the tag for lot 22`, `tossed 10 labels`, `tags for lot 9 lost`: a thing right before or after the verb."""
    at = next((place for place, piece in enumerate(pieces) if is_act(piece)), None)
    if at is None:
        return False
    after = at + 1
    while after < len(pieces) and (pieces[after].low in _ARTICLES or pieces[after].kind == "number"):
        after += 1
    told = after < len(pieces) and pieces[after].low in _THINGS and pieces[after].kind != "saying"
    if told and not counted_before(pieces, at):
        return True
    first = next((piece for piece in pieces[:at] if piece.low not in _ARTICLES and piece.kind != "number"), None)
    return first is not None and first.low in _THINGS


def _of_empty_vessels(clause: Clause) -> bool:
    """`gave 12 empty six packs to dune school`: nothing grows in them, where no plants are named."""
    if clause.kinds() & _SUBJECTS or clause.has("plant"):
        return False
    vessels = ("container", "pot_size", "thing")
    apart = any(
        empty.low in _EMPTY and not vessel.roles.keys().isdisjoint(vessels) for empty, vessel in pairwise(clause.pieces)
    )
    gear = (piece.low.partition(" ") for piece in clause.pieces if piece.kind == "word")
    return apart or any(empty in _EMPTY and bool(vessel) for empty, _, vessel in gear)


def _of_a_mother(pieces: list[Piece]) -> bool:
    """`mother 7 half dead`, `mother 5 lost 3 branches`, `lost mother 3`: a mother plant stands in no lot."""
    if any(piece.kind in _SUBJECTS for piece in pieces):
        return False
    if any(names_mother(piece) for piece in pieces) and any(piece.kind == "number" for piece in pieces):
        # "m2 20 dead": so many of its cuttings.
        return False
    told = [piece for piece in pieces if piece.low not in _ARTICLES and piece.kind not in ("mark", "moment", "person")]
    at = next((place for place, piece in enumerate(told) if is_act(piece)), len(told))
    beside = [*told[:1], *told[at + 1 : at + 2]]
    return any(one.low.split(" ")[0] in _MOTHERS or one.low in _MOTHERS or names_mother(one) for one in beside)


def _of_the_body(clause: Clause) -> bool:
    """`my back is dead`, `dead tired`: whoever texts."""
    if clause.kinds() & (_SUBJECTS | {"number", "fraction"}) or clause.has("plant"):
        return False
    return any(piece.low in _BODY for piece in clause.pieces)


def _takes_time_or_way(pieces: list[Piece]) -> bool:
    """`stuck | 40 minutes behind a tractor`, `covered | 12 miles`: how long or far somebody went."""
    at = next((place for place, piece in enumerate(pieces) if is_act(piece)), len(pieces))
    after = pieces[at + 1 : at + 2]
    far = bool(after) and after[0].kind == "measure" and after[0].low.split(" ")[-1] in _WAYS
    long = bool(after) and after[0].kind == "duration" and not any(piece.kind in _SUBJECTS for piece in pieces)
    stuck = pieces[at].low == "stuck" if at < len(pieces) else False
    return far or (long and stuck and not any("plant" in piece.roles for piece in pieces))


def _cheers(clause: Clause) -> bool:
    """`rooted for the otters till my voice went`, `rooted around the shed`: people, and no plants."""
    if clause.says.get("state") != "rooted" or clause.kinds() & (_SUBJECTS | {"number"}) or clause.has("plant", "all"):
        return False
    at = next((place for place, piece in enumerate(clause.pieces) if is_act(piece)), 0)
    after = _told(clause.pieces[at + 1 :])
    return len(after) > 1 and after[0].low in _ROOTING and after[1].kind in ("word", "person", "phrase")


def _costs(clause: Clause) -> bool:
    """`perlite is up to 38 dollars a bag`: how much it costs now, and no seed."""
    named = clause.kinds() & _SUBJECTS or clause.has("plant", "what")
    ups = (up.low.split(" ")[-1] == "up" and is_act(up) and to.low == "to" for up, to in pairwise(clause.pieces))
    return not named and any(ups)


def _is_score(clause: Clause) -> bool:
    """`giants lost 4-2`: how a game ended; `lost 2-4` may be a range."""
    if clause.kinds() & _SUBJECTS or clause.has("plant", "cause"):
        return False
    runs = zip(clause.pieces, clause.pieces[1:], clause.pieces[2:], strict=False)
    scores = (run for run in runs if run[1].kind == "dash" or run[1].low == "to")
    return any(
        one.kind == other.kind == "number" and one.value.value > other.value.value for one, _, other in scores
    )


def _is_away(clause: Clause) -> bool:
    """`gone til mon`, `gone sat`: whoever texts."""
    told = [piece for piece in clause.pieces if "filler" not in piece.roles and piece.kind != "mark"]
    told = told[bool(told) and told[0].kind == "moment" :]
    away = len(told) > 1 and told[0].low in _AWAY and told[-1].kind == "moment"
    return away and all(piece.low in UNTIL or piece.kind == "moment" for piece in told[1:])


def _moves_a_thing(clause: Clause) -> bool:
    """`moved the bench`, `moved my car`, `took pots out of bleach`: no plants."""
    if clause.kinds() & (_SUBJECTS | {"number"}) or clause.has("plant", "all", "both", "vague"):
        return False
    if "temp" in clause.kinds():
        # "moved the fridge up to 40f": how cold it is set.
        return True
    at = next((place for place, piece in enumerate(clause.pieces) if is_act(piece)), len(clause.pieces))
    after = [piece for piece in clause.pieces[at + 1 :] if piece.low not in _ARTICLES]
    if any("medium" in piece.roles for piece in after[after[:1] != [] and after[0].kind == "amount" :][:1]):
        # "moved 3 bags of perlite to the shed".
        return True
    if after and (after[0].low in _MACHINES or said_in(after[:2]) in _SPREAD):
        return True
    if after and clause.has("solution") and not after[0].roles.keys().isdisjoint(("container", "thing")):
        return True
    if not after:
        return False
    led = clause.pieces[at + 1] != after[0]
    return after[0].low in _SPREAD or (led and (after[0].low in _THINGS or after[0].low in _FURNITURE))


_MACHINES: Final = small_words("no_plants", "machines")
_SPREAD: Final = small_words("no_plants", "spread")
_FURNITURE: Final = small_words("no_plants", "furniture")


def _makes_something(clause: Clause) -> bool:
    """`made 200 labels`, `mixed up lots 3 and 4`: an object, and nothing that a solution is made of; not `made a new
    batch`.
    """
    if clause.word is None or clause.has(*_MIXED) or clause.kinds() & _MEASURED:
        return False
    if clause.kinds() & {"lots", "trays"}:
        return True
    at = next((place for place, piece in enumerate(clause.pieces) if piece.roles.get("act") is clause.word), None)
    if at is None or not (clause.pieces[at].low in _MADE or _is_batch_of(clause.pieces, at)):
        return False
    told = [piece for piece in clause.pieces[at + 1 :] if piece.low not in _ARTICLES and piece.kind != "number"]
    last = next((piece for piece in reversed(told) if piece.kind != "moment"), None)
    another = last is not None and is_act(last) and last.low.endswith(" batch")
    return bool(told) and not another and not any(piece.low in _STIRRED for piece in told)


def _is_batch_of(pieces: list[Piece], at: int) -> bool:
    """`new batch of volunteers`: so many of something."""
    return pieces[at].low.split(" ")[-1] in ("batch", "of") and "batch" in said_in(pieces[at : at + 2])


def _is_food(clause: Clause) -> bool:
    """`sandwiches in the fridge for all`, `soaked beans for the chili`: nothing that is cold or wet for the bench."""
    treated = not clause.kinds() & (_SUBJECTS | {"number"})
    if treated and any(lead.low == "for" and food.low in _FOOD for lead, food in pairwise(_told(clause.pieces))):
        return True
    cold = clause.says.get("treatment") in ("cold_stratify", "warm_stratify")
    if not cold or clause.kinds() & (_SUBJECTS | {"duration"}) or clause.has("plant"):
        return False
    return any(piece.low in _FOOD for piece in clause.pieces)


def _told(pieces: list[Piece]) -> list[Piece]:
    """Some pieces without the articles among them."""
    return [piece for piece in pieces if piece.low not in _ARTICLES]


def _still_is(pieces: list[Piece]) -> bool:
    """`dome still on lot 14`, `domes on 3 and 4 still off`: how it is, and nothing that was done now."""
    return any(piece.low == "still" for piece in pieces) and not any(
        piece.kind in ("person", "duration", "moment") for piece in pieces
    )


def _covers_solution(clause: Clause) -> bool:
    """`bleach tub covered`, `lid on the bleach bucket`: no plants under it."""
    return clause.has("solution") and not clause.kinds() & (_SUBJECTS | {"number"}) and not clause.has("plant", "all")


def _covers_a_shift(clause: Clause) -> bool:
    """`sat is covered`: a day or a shift that somebody takes."""
    pieces = clause.pieces
    if clause.act != "cover" or clause.kinds() & _SUBJECTS or clause.has("plant", "cover_noun", "thing"):
        return False
    if any(piece.low == "back on" for piece in pieces):
        # "dome off tray 4 fri, back on sat".
        return False
    if not any(piece.low.startswith("cover") for piece in pieces):
        return False
    days = [piece for piece in pieces[:2] if piece.low in _SHIFT or day_named(piece) is not None]
    return bool(days) and all(piece in days or "filler" in piece.roles or is_act(piece) for piece in pieces)


_SHIFT: Final = small_words("rosters", "shift")


def moves_a_day(clause: Clause) -> bool:
    """`moved the sale to saturday`, `dell moved from tue to thu 9-12`: to another day, and no plants."""
    if clause.act != "move" or clause.kinds() & _SUBJECTS or clause.has("plant", "place_word", "both", "all"):
        return False
    for place, piece in enumerate(clause.pieces[1:], 1):
        if piece.kind == "moment" and clause.pieces[place - 1].low in ("to", "until", "till"):
            moment: Moment = piece.value
            return moment.names_day
    return False
