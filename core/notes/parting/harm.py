"""What became of plants that no word of a loss says by itself: `rabbits nipped 14`, `gave lot 44 to the compost`.

Rules
1. What a pest or the frost did is no care (`rabbits nipped 14`), and what was eaten in part is no loss; hosing a pest
   off is care.
2. Plants that went to the compost are lost, however they went there.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Any, Final

from core.notes.parting.eaten import lose_eaten
from core.notes.words.pieces import COUNTS, NO_ROLES, Piece, is_act
from core.notes.words.runs import Runs
from core.notes.words.said import begin_of_statement, comma_before, deed_of, is_end, keep, said_in
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_NO_PLANTS: Final = small_words("sayings", "no_plants")
_BEFORE_THEM: Final = small_words("sayings", "before_them")
_WASHING: Final = small_words("sayings", "washing")
_WASTE: Final = Runs(small_words("sayings", "waste"))
_TO_WASTE: Final = small_words("sayings", "to_waste")
_THROWING: Final = small_words("sayings", "throwing")
_NIPPING: Final = small_words("sayings", "nipping")
_OTHER_HARM: Final = small_words("sayings", "other_harm")
_HURT: Final = small_words("sayings", "hurt")
_BEDS: Final = small_words("other_senses", "beds")
_GROUND: Final = frozenset({"in the ground", "into the ground"})
_CUTTING: Final = small_words("sayings", "cutting_away")
_BAD: Final = small_words("sayings", "bad")
_EATING: Final = small_words("acts", "causing")
_ONE_CAUSE: Final = small_words("sayings", "one_cause")
_WHERE: Final = frozenset({"in", "on", "by", "near", "under", "at", "with"})
_TAKEN: Final = frozenset({"number", "fraction", "percent", "lots"})
_PARTS: Final = small_words("sayings", "parts") | _NO_PLANTS
_TO_A_CAUSE: Final = frozenset({"to", "from", "("})
_COMERS: Final = small_words("places", "ends") | small_words("groups", "groups")
_NAMING: Final = frozenset({"word", "phrase", "number"})
_JOINTS: Final = frozenset({"and", "&", "+"})


@looks_for(any_of=_WASHING)
def _wash_off(said: list[Piece]) -> None:
    """`hosed the aphids off lot 30`, `washed the scale off lot 9`."""
    for at, piece in enumerate(said):
        if piece.low not in _WASHING or not is_act(piece):
            continue
        pest = next((one for one in said[at + 1 : at + 4] if one.roles.get("cause") == "pest"), None)
        off = next((one for one in said[at + 1 : at + 6] if one.low in ("off", "off of", "out of", "from")), None)
        if pest is not None and off is not None:
            piece.kind, piece.roles = "phrase", {"act": ActWord(act="tend", says={"care": "pest_control"})}
            off.roles = {"filler": True}
            keep(pest)


@looks_for("dead", "died", "killed", beside=("@cause",))
def _keep_dead_pests(said: list[Piece]) -> None:
    """`3 dead slugs in tray 4`, `14 aphids dead`: what died were no plants."""
    for at, piece in enumerate(said):
        if piece.low == "killed" and _counts_next(said, at):
            if at > 1 and said[at + 1].kind == "lots" and _is_pest(said, at - 1) and said[at - 2].kind == "number":
                # "3 mice killed lot 5": so many mice.
                keep(said[at - 2])
            continue
        if piece.low not in ("dead", "died", "killed"):
            continue
        beside = at + 1 if piece.low == "dead" and _is_pest(said, at + 1) else at - 1
        if beside < 0 or not _is_pest(said, beside) or said[beside].low in _ONE_CAUSE:
            continue
        first, last = min(at, beside), max(at, beside) + 1
        counted = first > 0 and (said[first - 1].kind == "number" or "all" in said[first - 1].roles)
        taken = last < len(said) and said[last].low in _EATING
        alone = piece.low != "killed" and not any(one.kind in ("number", "fraction") for one in said)
        if (counted or alone or beside > at) and not taken:
            keep(*said[first - counted : last])


def _counts_next(said: list[Piece], at: int) -> bool:
    """`slugs killed | 4`, `mice killed | all of lot 5`: what they took."""
    after = said[at + 1] if at + 1 < len(said) else None
    told = after is not None and after.low not in _WHERE
    return after is not None and told and (after.kind in _TAKEN or bool(after.roles))


def _is_pest(said: list[Piece], at: int) -> bool:
    return 0 <= at < len(said) and said[at].roles.get("cause") in ("pest", "animal")


@looks_for(any_of=_CUTTING)
def _cut_away(said: list[Piece]) -> None:
    """`cut off the bad leaves`, `snipped the dead tips off lot 12`: care, and nothing gathered or lost."""
    for at, piece in enumerate(said):
        if piece.low not in _CUTTING:
            continue
        bad = next((step for step in range(at + 1, min(len(said), at + 5)) if said[step].low in _BAD), None)
        between = said[at + 1 : bad] if bad is not None else ()
        if bad is None or bad + 1 >= len(said) or not all(map(_leads_to_bad, between)):
            continue
        if said[bad + 1].low in _PARTS:
            piece.kind, piece.roles = "phrase", {"act": ActWord(act="tend", says={"care": "prune"})}
            keep(*(one for one in between if one.kind == "number"), said[bad], said[bad + 1])
            for one in (*between, *said[bad + 2 : bad + 3]):
                one.used = one.used or one.low == "off"


def _leads_to_bad(piece: Piece) -> bool:
    return piece.low in _BEFORE_THEM or piece.low == "off" or piece.kind == "number"


@looks_for(any_of=_NIPPING)
def _nip(said: list[Piece]) -> None:
    """`rabbits nipped 14 of the lupine`, `the frost killed 5 and nipped the rest`: harm, and no care."""
    for at, piece in enumerate(said):
        word = deed_of(piece)
        if piece.low not in _NIPPING or word is None or word.act != "tend":
            continue
        if at + 2 < len(said) and said[at + 1].low == "by" and _harms(said[at + 2]):
            # "10 lupine nipped by slugs": harm, and whether they are lost is asked.
            keep(piece, said[at + 2])
            continue
        harm = next((one for one in said[:at] if one.roles.get("cause") in ("animal", "pest", "cold", "heat")), None)
        if harm is None:
            continue
        nearest = said[at - 1]
        counted = at + 1 < len(said) and said[at + 1].kind == "number"
        if nearest is harm and counted:
            piece.roles = {"act": ActWord(act="lose", says={"cause": harm.roles["cause"]})}
            harm.used = True
        else:
            keep(piece)
            if nearest is harm:
                keep(harm)


def _harms(piece: Piece) -> bool:
    return piece.roles.get("cause") in ("animal", "pest", "cold", "heat") or piece.low in _OTHER_HARM


@looks_for("@cause")
def _nibble(said: list[Piece]) -> None:
    """`deer ate the tops off 10`: plants that were eaten in part, and not lost."""
    for at, piece in enumerate(said):
        if piece.roles.get("cause") not in ("animal", "pest") or at + 2 >= len(said) or said[at + 1].low not in _EATING:
            continue
        part = at + 2
        while part < len(said) - 1 and (said[part].low in _BEFORE_THEM or said[part].kind == "number"):
            part += 1
        if said[part].low in _PARTS:
            keep(piece, said[at + 1], said[part])


@looks_for("!lose", "killed", "broke")
def _handled(said: list[Piece]) -> None:
    """`killed 2 potting lot 13`, `broke 3 moving lot 9`: what was done when they were lost."""
    for at, piece in enumerate(said[:-1]):
        word = deed_of(piece)
        killed = piece.low == "killed" and at + 1 < len(said) and said[at + 1].kind == "number"
        if not killed and (word is None or word.act != "lose" or word.counts_before) and piece.low != "broke":
            continue
        later = _doing_then(said, at + 1)
        if killed:
            piece.kind, piece.roles = "phrase", {"act": ActWord(act="lose")}
        told = deed_of(later) if later is not None else None
        if later is None or not later.low.endswith("ing") or said[at + 1].kind != "number":
            continue
        if told is not None and told.act in ("wilt", "lose", "check"):
            continue
        piece.kind, piece.roles = "phrase", {"act": ActWord(act="lose", says={"cause": "handling"})}
        keep(later)


def _doing_then(said: list[Piece], at: int) -> Piece | None:
    """The deed after a loss; none where the loss has its cause already (`lost 8 to gnats and hardening lot 9`)."""
    later = next((place for place in range(at, len(said)) if is_act(said[place])), at)
    caused = any("cause" in one.roles or one.low in _JOINTS for one in said[at:later])
    return None if caused or later == len(said) or not is_act(said[later]) else said[later]


@looks_for("collected", "picked up")
def _collected_from_lot(said: list[Piece]) -> None:
    """`dune school collected 15 of lot 12`: those who came for plants of a lot were given them."""
    at = next((at for at, piece in enumerate(said) if piece.low in ("collected", "picked up") and is_act(piece)), None)
    if not at or at + 3 >= len(said) or said[at + 1].kind not in ("number", "phrase"):
        return
    of_lot = said[at + 2].low in ("of", "from") and said[at + 3].kind == "lots"
    who = said[:at]
    named = all(one.kind in ("word", "person") or "place_word" in one.roles for one in who)
    if of_lot and said[at + 1].kind == "number" and named and who[-1].low.split(" ")[-1] in _COMERS:
        said[at].kind, said[at].roles = "phrase", {"act": ActWord(act="give", says={"to": said_in(who)})}
        for one in who:
            one.kind, one.roles, one.used = "mark", NO_ROLES, True


@looks_for("down")
def _down_to(said: list[Piece]) -> None:
    """`culled lot 58 down to 30`: how many are left."""
    word = next((word for piece in said if (word := deed_of(piece)) is not None), None)
    if word is None or word.act != "lose":
        return
    for down, to, number in zip(said, said[1:], said[2:], strict=False):
        if down.low == "down" and to.low == "to" and number.kind == "number" and number.value.whole is not None:
            to.kind, to.roles = "phrase", {"left": "after"}
            down.roles, down.used = {"filler": True}, True


@looks_for(any_of=_THROWING)
def _throw_away(said: list[Piece]) -> None:
    """`gave lot 44 to the compost`, `threw the last 3 on the compost`, `moved 8 dead to the compost`: plants lost."""
    for at, piece in enumerate(said):
        if piece.low not in _THROWING:
            continue
        plants = any(one.kind in ("lots", "trays") or "plant" in one.roles for one in said)
        waste = _waste_in(said, at + 1)
        if waste is not None and not plants and said[0].low == "rest":
            keep(piece)
        after = said[waste[1]] if waste is not None and waste[1] < len(said) else None
        named = after is not None and (after.kind == "word" or "filler" not in after.roles) and after.kind in _NAMING
        if not plants or waste is None or named:
            continue
        roles: dict[str, Any] = {"act": ActWord(act="lose")}
        piece.kind, piece.roles = "phrase", roles
        for one in said[at + 1 :]:
            dead = deed_of(one)
            if dead is not None and dead.act == "lose":
                piece.roles = {"act": dead}
                one.roles, one.used = {"filler": True}, True
        for one in said[slice(*waste)]:
            one.kind, one.roles, one.used = "mark", NO_ROLES, True


def _waste_in(said: list[Piece], start: int) -> tuple[int, int] | None:
    """Where words stand that say that plants went to the compost (`on the compost`), from the word that leads there."""
    found = _WASTE.first_from(said, start)
    if found is None:
        return None
    lead = found[0] - 1
    lead -= said[lead].low in ("the", "our", "my", "a")
    if lead < start or said[lead].low not in _TO_WASTE:
        return None
    return lead, found[1]


@looks_for("@cause", beside=_EATING)
def name_agents(pieces: list[Piece]) -> None:
    """`damping off got 4`: a loss that took so many is their cause, and counts nothing before it, in place."""
    for agent, verb, number in zip(pieces, pieces[1:], pieces[2:], strict=False):
        if is_act(agent) and "cause" in agent.roles and verb.low in _EATING and number.kind in COUNTS:
            agent.roles = {"cause": agent.roles["cause"]}


@looks_for("@cause", any_of=_OTHER_HARM, beside=("!lose", *_NIPPING))
def tell_what_harmed(pieces: list[Piece]) -> None:
    """`slugs nipped 4`, `frost burned 4`, `hail broke 4`: what did it, where another cause is in the verb, in place."""
    for at, (agent, piece) in enumerate(pairwise(pieces), 1):
        word = deed_of(piece)
        if word is None or (word.act != "lose" and piece.low not in _NIPPING):
            continue
        cause = agent.roles.get("cause")
        nipped = word.act == "tend" and at + 1 < len(pieces) and pieces[at + 1].kind == "number"
        burned = word.says.get("cause") in ("heat", "handling") and piece.low != "spilled"
        if agent.low in _OTHER_HARM and (word.act == "tend" or burned):
            if burned:
                piece.roles = {"act": ActWord(act="lose", counts_before=word.counts_before)}
            else:
                keep(piece, kind="word")
            keep(agent, kind="word")
        elif (cause == "cold" and burned) or (cause in ("animal", "pest", "cold") and nipped):
            piece.roles = {"act": ActWord(act="lose", says={"cause": cause})}
            agent.used = True


@looks_for(any_of=_GROUND, beside=("!lose", "@cause"))
def _keep_ground(said: list[Piece]) -> None:
    """`gopher got 2 in the ground bed`: where they stood, and nothing planted out."""
    for at, piece in enumerate(said):
        if piece.low not in _GROUND or not is_act(piece):
            continue
        deed = next((step for step in range(at - 1, -1, -1) if is_act(said[step]) or said[step].low in _EATING), None)
        if deed is None or not (_does_harm(said[deed]) or (deed and "cause" in said[deed - 1].roles)):
            continue
        if sum(one.kind == "number" for one in said[deed + 1 : at]) < 2:
            keep(piece, *(one for one in said[at + 1 : at + 2] if one.low in _BEDS))


def _does_harm(piece: Piece) -> bool:
    word = deed_of(piece)
    return word is not None and word.act == "lose"


@looks_for(any_of=_HURT)
def _keep_hurt(said: list[Piece]) -> None:
    """`lot 6 frosted last night`: hurt, and nothing lost yet where nothing is counted."""
    counted = any(one.kind in COUNTS or one.roles.keys() & {"all", "vague", "left", "both", "fraction"} for one in said)
    for piece in said:
        word = deed_of(piece)
        if word is not None and word.act == "lose" and piece.low in _HURT and not counted:
            keep(piece)


@looks_for("rot", beside=("=number",))
def count_rot(pieces: list[Piece]) -> None:
    """`31 rooted 4 rot`, `lot 14 4 rot`: how many rotted, at the end of a statement or before a deed, in place."""
    if any((word := deed_of(piece)) is not None and word.act == "lose" for piece in pieces):
        return
    for at in range(len(pieces) - 1, 0, -1):
        number, rot = pieces[at - 1 : at + 1]
        ends = is_end(pieces, at + 1) or pieces[at + 1].kind in ("lots", "trays") or is_act(pieces[at + 1])
        if rot.low != "rot" or number.kind != "number" or not ends:
            continue
        rot.roles = {"act": ActWord(act="lose", says={"cause": "rot"}, counts_before=True)}
        if any(map(is_act, pieces[begin_of_statement(pieces, at) : at])):
            pieces.insert(at - 1, comma_before(number))


@looks_for("wilt", "wilting", beside=("!lose",))
def lose_to_wilt(pieces: list[Piece]) -> None:
    """`lost 10 in tray 4 to heat, 8 in tray 10 to wilt`: a cause, told as the one before it, in place."""
    lost = False
    for at, piece in enumerate(pieces):
        word = deed_of(piece)
        lost = lost or (word is not None and word.act == "lose" and not word.counts_before)
        if lost and piece.low in ("wilt", "wilting") and at > 1 and pieces[at - 1].low in _TO_A_CAUSE:
            numbered = pieces[at - 2].kind in ("lots", "trays", "number")
            ends = is_end(pieces, at + 1) or pieces[at + 1].kind in ("lots", "trays") or pieces[at + 1].low == "in"
            if numbered and ends:
                piece.roles = {"cause": "wilt"}


@looks_for("bagged")
def bag_and_bin(pieces: list[Piece]) -> None:
    """`bagged and binned`, `bagged and tagged`: thrown out in a bag, or got ready, and nothing covered."""
    for bagged, joint, piece in zip(pieces, pieces[1:], pieces[2:], strict=False):
        word = deed_of(piece)
        told = word is not None and (word.act == "lose" or piece.low == "tagged")
        if bagged.low == "bagged" and joint.low in ("and", "&", "+") and told:
            keep(bagged)


HARM: Final = (
    _keep_dead_pests, _wash_off, _cut_away, _nip, _nibble, _handled, _collected_from_lot, _down_to, _throw_away,
    _keep_ground, _keep_hurt, lose_eaten,
)  # fmt: skip
"""What harmed plants, or was washed or thrown away, told from care and from giving."""
