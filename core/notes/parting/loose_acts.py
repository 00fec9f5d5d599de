"""Which words apart from each other say one act together: `gave lot 12 water`, `mice got 5`, `lot 9 to shade house`."""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from core.notes.parting.given_things import gave_water, hit_with_water
from core.notes.parting.into_pots import TELL_POTTING
from core.notes.parting.stuck_unsaid import FIND_STUCK
from core.notes.words.pieces import NO_ROLES, SUBJECTS, Piece, is_act, names_plants
from core.notes.words.said import end_of_sentence, end_of_statement, keep_words
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord
from core.vocabulary.everyday import is_given_name
from core.vocabulary.loading import small_words

_CAUSING: Final = small_words("acts", "causing")
_COMING_IN: Final = small_words("acts", "coming_in")
_INTO: Final = small_words("acts", "into")
_LET_GO: Final = small_words("acts", "let_go")
_SALES: Final = small_words("acts", "sales")
_KEEPING: Final = small_words("acts", "keeping")
_GROUPS: Final = small_words("groups", "groups") | small_words("places", "ends")
_SHARES: Final = frozenset({"the", "of", "rest", "half", "most", "all of", "the rest", "rest of"})
_AMOUNTS: Final = frozenset({"plant", "vague", "all", "fraction", "both"})
_OPENING: Final = frozenset(
    {"seedlings up", "gone", "gone to", "all gone", "did", "->", "gave", "give", "got", "hit", *_LET_GO, *_KEEPING}
)



@looks_for("@cause")
def find_causes(pieces: list[Piece]) -> None:
    """`mice got 5`, `heat killed about 20`: a cause and a verb of harm make a loss."""
    for place, piece in enumerate(pieces[:-1]):
        cause = piece.roles.get("cause")
        if cause is None:
            continue
        verb = pieces[place + 1]
        if _only_came(pieces, place + 1):
            verb = _harm_after(pieces, place + 2) or verb
            _tell_cause_of_loss(pieces, place)
        if verb.low in _CAUSING and verb.kind in ("phrase", "word") and "plant" not in piece.roles:
            says = {"cause": cause}
            verb.roles = {"act": ActWord(act="lose", says=says)}
            piece.roles = {"cause": cause}
            piece.used = True


def _only_came(pieces: list[Piece], at: int) -> bool:
    """`deer got in`, `squirrels dug in tray 4`: there, and no loss yet; the words are kept."""
    after = pieces[at + 1] if at + 1 < len(pieces) else None
    if after is None or pieces[at].low not in _COMING_IN or after.low not in _INTO:
        return False
    keep_words(*pieces[at : at + 2])
    return True


def _tell_cause_of_loss(pieces: list[Piece], at: int) -> None:
    """`rats got into the acorn flat, tray 16, | lost 22`: what they died of, where it is the first deed told after."""
    loss = next((piece for piece in pieces[at + 1 : end_of_sentence(pieces, at)] if is_act(piece)), None)
    if loss is not None and loss.low == "lost" and not any("cause" in piece.roles for piece in pieces[at + 1 :]):
        loss.roles = {"act": ActWord(act="lose", says={"cause": pieces[at].roles["cause"]})}


def _harm_after(pieces: list[Piece], at: int) -> Piece | None:
    """`deer got in, ate 12 of lot 9`: the harm told next."""
    for piece in pieces[at : at + 4]:
        if is_act(piece) or piece.low in _CAUSING:
            return piece if piece.low in _CAUSING else None
    return None


def _to_place(near: list[Piece]) -> bool:
    """`to the shade house`, `back to the mist bench`: a way and a known place, with nothing but small words between."""
    lows = [piece.low for piece in near]
    place = next((step for step, piece in enumerate(near) if "place_word" in piece.roles), None)
    return (
        place is not None
        and bool({"to", "into", "back to", "over to"} & set(lows[:place]))
        and all("filler" in piece.roles for piece in near[:place])
    )


def _is_sticking(near: list[Piece]) -> bool:
    """`did 30 coyote brush heels`: a count of cuttings by their form."""
    return (
        bool(near)
        and near[0].kind == "number"
        and any("plant" in piece.roles or piece.kind == "word" for piece in near)
        and any(role in piece.roles for piece in near for role in ("cutting", "wood"))
        and not any(is_act(piece) for piece in near)
    )


def _into_solution(near: list[Piece]) -> bool:
    """`clippers into the bleach`: a thing and the solution that it lies in, with nothing but small words between."""
    step = next((step for step, piece in enumerate(near) if "solution" in piece.roles), None)
    return (
        step is not None
        and step > 0
        and near[0].low in ("in", "into", "to", "soaking in", "in to")
        and all("filler" in piece.roles for piece in near[:step])
        and not any(is_act(piece) for piece in near)
    )


@looks_for(any_of=_OPENING)
def _tell_loose_acts(pieces: list[Piece]) -> None:
    """`gave lot 12 water`, `threw out the fert`, `lot 22 -> lath`: a word that says an act with those after it."""
    for place, piece in enumerate(pieces):
        if piece.low in _OPENING:
            near = _near(pieces, place)
            any(says_act(pieces, place, piece, near) for says_act in _LOOSE)


def _near(pieces: list[Piece], place: int) -> list[Piece]:
    """The pieces right after one, up to the next mark."""
    near = pieces[place + 1 : place + 6]
    return near[: next((step for step, other in enumerate(near) if other.kind == "break"), len(near))]


@looks_for("off", beside=("=duration",))
def _tell_airing(pieces: list[Piece]) -> None:
    """`lot 3 off 20 min`, `tray 11 off for an hour`, `tray 5 15 mins off`."""
    for place, (piece, after) in enumerate(pairwise([*pieces, Piece("break", ".", 0, 0, ".")])):
        named = place > 0 and pieces[place - 1].kind in ("lots", "trays", "number")
        named = named and _heads(pieces, place - 1, ("moment",))
        if after.low == "for" and place + 2 < len(pieces):
            after = pieces[place + 2]
        lasted = place > 1 and pieces[place - 1].kind == "duration" and pieces[place - 2].kind in ("lots", "trays")
        ends = after.kind in ("break", "moment") and lasted and _heads(pieces, place - 2, ("moment",))
        if piece.low == "off" and ((named and after.kind == "duration") or ends):
            piece.roles = {"act": ActWord(act="air")}


def _keeping_for(pieces: list[Piece], place: int, piece: Piece, near: list[Piece]) -> bool:
    """`keeping 8 of lot 29 for kit`, `keep some of lot 14 for ines`."""
    if piece.low not in _KEEPING or not near:
        return False
    counted = near[0].kind == "number" and any(one.low == "for" for one in near)
    if not counted and not _for_somebody(pieces[place + 1 : end_of_statement(pieces, place)]):
        return False
    piece.kind, piece.roles = "phrase", {"act": ActWord(act="reserve")}
    return True


def _for_somebody(said: list[Piece]) -> bool:
    """`some of lot 14 for ines`, `the rest of lot 9 for the dune school`; not `some of lot 14 for later`."""
    lead = next((at for at, piece in enumerate(said) if piece.low == "for"), len(said))
    who = [piece for piece in said[lead + 1 :] if piece.low != "the"]
    named = any(map(names_plants, said[:lead])) and all(
        piece.kind in SUBJECTS or piece.low in _SHARES or not piece.roles.keys().isdisjoint(_AMOUNTS)
        for piece in said[:lead]
    )
    alone = len(who) == 1 and (who[0].kind == "person" or (who[0].kind == "word" and is_given_name(who[0].low)))
    return named and bool(who) and (alone or who[-1].low in _GROUPS)


def _seedlings_up_to(_: list[Piece], __: int, piece: Piece, near: list[Piece]) -> bool:
    """`moved lot 22 seedlings up to 4 inch`: what went up into pots, nothing that came up."""
    if piece.low != "seedlings up" or not near or near[0].low not in ("to", "into"):
        return False
    piece.roles = {"filler": True}
    return True


def _gone_to(pieces: list[Piece], place: int, piece: Piece, near: list[Piece]) -> bool:
    """`20 of lot 14 gone to the native garden`, `sat sale: 12 sage gone`: gone somewhere, and not dead; how they left
    is not said.
    """
    if piece.low not in ("gone", "gone to", "all gone"):
        return False
    if any(one.low.split(" ")[-1] in _SALES for one in (*pieces[:place], *near)):
        piece.kind, piece.roles = "word", NO_ROLES
        return True
    if not near:
        return False
    to = 0 if piece.low == "gone to" else 1
    led = (to == 0 or near[0].low == "to") and len(near) > to
    if not led or any("cause" in one.roles or one.low in ("pot", "shit", "hell", "mush") for one in near):
        return False
    piece.kind, piece.roles = "word", NO_ROLES
    return True


def _did_cuttings(pieces: list[Piece], place: int, piece: Piece, near: list[Piece]) -> bool:
    """`did 30 coyote brush heels`."""
    if piece.low != "did" or not _is_sticking(near) or not _heads(pieces, place, also=("person", "moment")):
        return False
    piece.roles = {"act": ActWord(act="stick")}
    return True


@looks_for("@place_word", beside=("to", "into"))
def _tell_moves(pieces: list[Piece]) -> None:
    """`lot 9 to the shade house`, `lot 9 from the slab to the lath`, `both to the slab`, `gave 5 to jo, 15 to lath`."""
    for place, piece in enumerate(pieces):
        if piece.kind in ("lots", "trays", "number") or "both" in piece.roles:
            _move_to_place(pieces, place, piece, _near(pieces, place))


def _move_to_place(pieces: list[Piece], place: int, piece: Piece, near: list[Piece]) -> None:
    start = _end_of_origin(near)
    if start:
        near = _near(pieces, place + start)
    together = place > 0 and "both" in piece.roles
    some = _some_of_those(pieces, place)
    if not (piece.kind in ("lots", "trays") or together or some) or len(near) < 2 or any(map(is_act, near)):
        return
    if not _to_place(near) or not (some or _heads(pieces, place, also=("moment",))):
        return
    target = next(step for step, other in enumerate(near) if "place_word" in other.roles)
    end = _lettered_end(near, target + 1)
    to = " ".join(other.low for other in near[target:end])
    near[0].roles = {"act": ActWord(act="move", says={"to": to})}
    for other in near[:end]:
        other.used = True


def _end_of_origin(near: list[Piece]) -> int:
    """Where `from the slab` ends, which `to` follows at once; nought where none is told."""
    at = 1 + (len(near) > 1 and near[1].low in ("the", "our"))
    told = near[:1] and near[0].low == "from" and len(near) > at + 1 and near[at + 1].low in ("to", "into")
    return at + 1 if told and ("place_word" in near[at].roles or near[at].kind == "word") else 0


def _some_of_those(pieces: list[Piece], place: int) -> bool:
    """Whether a bare count after a mark tells where some of those went that a deed before is told of."""
    number = pieces[place]
    if number.kind != "number" or number.value.whole is None or number.value.of is not None or not place:
        return False
    before = next((one for one in reversed(pieces[:place]) if is_act(one)), None)
    # "Potted 24, all 24 to the lath".
    lead = pieces[max(0, place - 1 - ("all" in pieces[place - 1].roles))]
    if not (lead.kind == "break" or lead.low in ("and", "then")) or lead.low == ":" or before is None:
        return False
    word = before.roles.get("act")
    stop = end_of_statement(pieces, place)
    at = next((at for at in range(place, stop) if "place_word" in pieces[at].roles), stop)
    ends = _lettered_end(pieces, at + 1)
    closed = ends >= len(pieces) or pieces[ends].kind in ("break", "moment") or pieces[ends].low in ("and", "then")
    return closed and (word is None or word.act not in ("move", "harden"))


def _lettered_end(pieces: list[Piece], at: int) -> int:
    """The place after the letter or number of a bench (`bench d`, `table 4`), where one stands at a place."""
    if at >= len(pieces):
        return at
    piece = pieces[at]
    after = pieces[at + 1] if at + 1 < len(pieces) else None
    ends = after is None or after.kind in ("break", "moment") or after.low in ("and", "then", "now", "this", "too")
    return at + ((len(piece.low) == 1 and piece.low.isalpha()) or (piece.low.isdigit() and ends))


def _arrow_to_place(pieces: list[Piece], place: int, piece: Piece, _: list[Piece]) -> bool:
    """`lot 22 -> lath`."""
    target = pieces[place + 1] if place + 1 < len(pieces) else None
    if piece.low != "->" or target is None or "place_word" not in target.roles:
        return False
    end = place + 2
    while end < len(pieces) and pieces[end].kind in ("word", "number") and not is_act(pieces[end]):
        end += 1
    end = _lettered_end(pieces, end)
    lot = pieces[place - 1] if place else piece
    heads = place < 2 or (pieces[place - 2].kind in ("moment", "break") and _heads(pieces, place - 2, ("break",)))
    if lot.kind == "number" and lot.low.isdigit() and heads:
        lot.kind, lot.value = "lots", (lot.low,)
    to = " ".join(one.low for one in pieces[place + 1 : end])
    piece.kind, piece.roles = "phrase", {"act": ActWord(act="move", says={"to": to})}
    for one in pieces[place + 1 : end]:
        one.used = True
    return True


@looks_for("@solution", beside=("@thing",))
def _tell_soaking(pieces: list[Piece]) -> None:
    """`clippers into the bleach`."""
    for place, piece in enumerate(pieces):
        heads = "thing" in piece.roles and all("filler" in one.roles or one.kind == "moment" for one in pieces[:place])
        near = _near(pieces, place) if heads else []
        if near and _into_solution(near):
            near[0].roles = {**near[0].roles, "act": ActWord(act="sanitize")}
            near[0].used = True


@looks_for("harden", "ho", beside=("=numbered", "=kept"))
def _tell_day_of_hardening(pieces: list[Piece]) -> None:
    """`harden day 3 for lot 16`: which day of it this is."""
    for place, (piece, after) in enumerate(pairwise(pieces)):
        ranked = after.kind in ("numbered", "kept") and after.low.startswith("day ")
        if piece.low in ("harden", "harden off", "ho") and ranked and _heads(pieces, place, also=("moment", "lots")):
            piece.roles = {"act": ActWord(act="harden")}


def _let_go(_: list[Piece], __: int, piece: Piece, near: list[Piece]) -> bool:
    """`threw out the fert`: a solution, no plants."""
    if piece.low not in _LET_GO:
        return False
    solution = any(other.roles.keys() & {"solution", "hormone", "hormone_name"} for other in near)
    plants = any(other.kind in ("lots", "trays", "number") or "plant" in other.roles for other in near)
    if not solution or plants:
        return False
    piece.roles = {"act": ActWord(act="pour_out")}
    return True


@looks_for(":", beside=("@to_do",))
def _tell_headings(pieces: list[Piece]) -> None:
    """`water: lots 3, 4`: a bare verb that heads what it was done to."""
    for place, piece in enumerate(pieces):
        if "to_do" not in piece.roles or not _heads(pieces, place, also=("moment",)):
            continue
        at = place + 1
        while at < len(pieces) and (pieces[at].low.startswith("day") or pieces[at - 1].low == "day"):
            at += 1
        if at < len(pieces) and pieces[at].low == ":":
            piece.roles = {"act": ActWord(act=piece.roles["to_do"].act, says=piece.roles["to_do"].says)}


def _heads(pieces: list[Piece], place: int, also: tuple[str, ...] = ()) -> bool:
    return place == 0 or pieces[place - 1].kind in ("break", *also)


_LOOSE: Final = (
    _keeping_for, _seedlings_up_to, _gone_to, _did_cuttings, gave_water, hit_with_water, _arrow_to_place, _let_go,
)  # fmt: skip
FIND_LOOSE_ACTS: Final = (
    _tell_loose_acts, _tell_airing, _tell_moves, *TELL_POTTING, *FIND_STUCK, _tell_soaking, _tell_day_of_hardening,
    _tell_headings,
)  # fmt: skip
"""Find the acts that words apart from each other say together, in place."""
