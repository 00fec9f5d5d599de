"""Which words look like a deed and are none: `holding steady`, `gave lot 44 another week`, `lost the tag`.

Rules
1. Sayings of the bench are kept as they are; so is a verb whose object is no plant (`dropped their leaves`).
2. What only tells when, or which plants are meant, is no deed (`before they went in`, `that ruth brought`).
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from core.notes.parting.harm import HARM
from core.notes.parting.not_finished import NOT_FINISHED
from core.notes.words.pieces import Piece, is_act
from core.notes.words.runs import Runs
from core.notes.words.said import counted_before, deed_of, keep, said_in, statements
from core.notes.words.steps import InEach, looks_for
from core.vocabulary import ActWord
from core.vocabulary.everyday import is_given_name
from core.vocabulary.loading import read_toml, small_words

_SAID: Final = small_words("sayings", "sayings")
_SAYINGS: Final = Runs(_SAID)
_GIVING: Final = frozenset({"gave", "give", "giving", "given", "gives"})
_BEEN: Final = frozenset({"was", "were", "been", "got"})
_OF_DEEDS: Final = frozenset({"noun", "cover_noun", "vent_noun", "container"})
_THING: Final = small_words("sayings", "before_what_they_got")
_OF_PLANTS: Final = small_words("sayings", "of_the_plants")
_WHICH: Final = frozenset({"the", "our", "best", "last", "first"})
_TO: Final = small_words("sayings", "gone_to")
_GIVEN: Final = frozenset(read_toml("small_words.toml")["given"])
_NO_GIFTS: Final = Runs(small_words("sayings", "no_gifts"))
_NO_PLANTS: Final = small_words("sayings", "no_plants")
_BEFORE_THEM: Final = small_words("sayings", "before_them")
_HOLDERS: Final = small_words("sayings", "holders")
_LOOKING: Final = small_words("sayings", "looking")
_RELATIVE: Final = small_words("sayings", "relative")
_CAUSES: Final = {"wilt": "wilt"}
_BECOMING: Final = small_words("sayings", "becoming")
_TIMES: Final = small_words("sayings", "times")
_PRONOUNS: Final = frozenset({"they", "it", "we", "i", "these", "those", "he", "she"})
_A_BIT: Final = small_words("sayings", "a_bit")
_THOSE: Final = frozenset({"the", "of the", "our", "those", "of our", "of those"})
_PUTTING: Final = frozenset({"put", "set", "placed", "moved", "threw", "laid", "added"})
_SPREAD: Final = small_words("sayings", "spread")
_LISTS: Final = small_words("sayings", "lists")
_FOR: Final = frozenset({"for", "back", "aside", "as", "to", "by"})
_ELSEWHERE: Final = small_words("sayings", "elsewhere")
_HELD: Final = frozenset({"hold", "quarantine", "of quarantine", "isolation", "off hold", "out of quarantine"})
_KINDS: Final = ("lots", "trays", "number", "fraction", "percent")


@looks_for(any_of=_SAID)
def _keep_sayings(pieces: list[Piece]) -> None:
    """`hold the phone`, `holding steady`, in place."""
    at = 0
    while (found := _SAYINGS.first_from(pieces, at)) is not None:
        keep(*pieces[slice(*found)])
        at = found[1]


@looks_for(any_of=_GIVING)
def _keep_gifts(said: list[Piece]) -> None:
    """`gave lot 44 another week`, `gave up on lot 44`: nothing that was given away."""
    for at, piece in enumerate(said):
        if piece.low not in _GIVING or not is_act(piece):
            continue
        found = _NO_GIFTS.first_from(said, at + 1)
        length = next((one for one in said[at + 1 :] if one.kind == "duration"), None)
        given = length is None or any(one.low == "to" or one.low in _GIVEN for one in said[at + 1 :])
        if found is not None:
            keep(piece, *said[slice(*found)])
        elif at + 1 < len(said) and said[at + 1].low == "up":
            keep(piece, said[at + 1])
        elif _is_what_they_got(said, at):
            keep(piece, *(one for one in said[at + 1 :] if one.kind in ("word", "phrase") and "plant" not in one.roles))
        elif not given and any(one.kind in ("lots", "trays") for one in said[at + 1 :]):
            if any(_treats(one) for one in said[at + 1 :]):
                piece.roles, piece.used = {"filler": True}, True
            else:
                keep(piece)


def _is_what_they_got(said: list[Piece], at: int) -> bool:
    """`gave 10 of lot 4 | a good look`, `lot 4 was given | the heave ho`: what they got, and no gift."""
    thing = at + 1
    while thing < len(said) and _names_plants(said[thing]):
        thing += 1
    while thing > at + 1 and said[thing - 1].low in _WHICH:
        thing -= 1
    counted = any(one.kind not in ("lots", "trays") and one.low not in _OF_PLANTS for one in said[at + 1 : thing])
    named = counted or (at > 0 and said[at - 1].low in _BEEN)
    after = said[thing : thing + 2]
    if not named or len(after) <= 1 or after[0].low not in _THING or after[1].kind not in ("word", "phrase"):
        return False
    told = said[thing + 1 :]
    return after[1].low != "other" and not any(_tells_else(one) for one in told)


def _names_plants(piece: Piece) -> bool:
    """`10`, `of`, `lot 4`, `the`, `best`, `toyon`."""
    named = piece.kind in _KINDS or "plant" in piece.roles or "all" in piece.roles
    return named or piece.low in _OF_PLANTS


def _tells_else(piece: Piece) -> bool:
    """To whom they went, how many of them, or another deed."""
    gone = piece.low in _TO or piece.low in _GIVEN or piece.kind in (*_KINDS, "person") or "plant" in piece.roles
    return gone or is_act(piece) or not piece.roles.keys().isdisjoint(_OF_DEEDS)


def _treats(piece: Piece) -> bool:
    """The `hot water` of `gave lot 58 a hot water treatment`."""
    word = piece.roles.get("noun")
    return word is not None and bool(word.act == "treat")


@looks_for("!lose", beside=_NO_PLANTS | _HOLDERS)
def _keep_no_plants(said: list[Piece]) -> None:
    """`lost the tag on lot 13`, `10 dropped their leaves`, `tossed the trays lot 13 was in`."""
    for at, piece in enumerate(said[:-1]):
        word = deed_of(piece)
        if word is None or word.act != "lose" or counted_before(said, at):
            continue
        thing = at + 1
        while thing < len(said) - 1 and (said[thing].low in _BEFORE_THEM or _is_part_of_them(said[thing])):
            thing += 1
        counted = said[thing].kind == "number" and thing + 1 < len(said)
        if counted and said[thing + 1].low in _NO_PLANTS:
            keep(said[thing], said[thing + 1])
            if not any(one.kind == "number" for one in said[thing + 2 :]):
                keep(piece)
        elif said[thing].low in _NO_PLANTS:
            keep(piece, said[thing])
        elif _is_emptied(said, at, thing):
            keep(piece, *(one for one in said[at + 1 :] if one.kind in ("word", "phrase")))


def _is_part_of_them(piece: Piece) -> bool:
    """The `half` of `lost half its leaves`, the `most of` of `dropped most of its buds`."""
    return "fraction" in piece.roles or "vague" in piece.roles or piece.low == "of"


def _is_emptied(said: list[Piece], at: int, thing: int) -> bool:
    """`the trays lot 13 was in`, `lot 13's old flat`: a container thrown out, and not the plants of it."""
    after = said[thing + 1] if thing + 1 < len(said) else None
    if thing > at + 1 and said[thing].low in _HOLDERS:
        return after is None or after.low not in ("of", "from", "with", "in")
    owned = at + 2 < len(said) and said[at + 1].kind in ("lots", "trays") and said[at + 2].low == "'s"
    return owned and any(one.low in _HOLDERS for one in said[at + 3 : at + 6])


@looks_for(any_of=_RELATIVE, beside=("!lose",))
def _tell_why_lost(said: list[Piece]) -> None:
    """`threw out 5 that had rotted`, `tossed 4 that were moldy`: what those died of."""
    which = next((at for at, piece in enumerate(said) if piece.low in _RELATIVE), len(said))
    lost = next((one for one in reversed(said[:which]) if is_act(one)), None)
    if lost is None or (word := deed_of(lost)) is None or word.act != "lose" or word.counts_before:
        return
    how = which + 1
    while how < len(said) and said[how].low in _BECOMING:
        how += 1
    became = deed_of(said[how]) if how < len(said) else None
    cause = _CAUSES.get(became.act, became.says.get("cause")) if became is not None else None
    if cause is not None and "cause" not in word.says:
        for piece in said[which:how]:
            piece.roles, piece.used = {"filler": True}, True
        said[how].kind, said[how].roles = "phrase", {"cause": cause}


@looks_for(any_of=_TIMES | _RELATIVE)
def _keep_asides(said: list[Piece]) -> None:
    """`lost 4 before they went in`, `cuttings that ruth brought`: when it was, or which are meant."""
    main = next((at for at, piece in enumerate(said) if is_act(piece)), None)
    if main is None:
        return
    for at in range(main + 1, len(said) - 1):
        timed = said[at].low in _TIMES and said[at + 1].low in _PRONOUNS
        which = said[at].low in _RELATIVE and any(is_act(one) for one in said[at + 1 : at + 4])
        if not timed and not which:
            continue
        end = next((step for step in range(at + 1, len(said)) if said[step].kind in _KINDS), len(said))
        deeds = [step for step in range(at + 1, end) if is_act(said[step])]
        if not deeds:
            return
        if which and len(deeds) > 1:
            end = deeds[1]
        keep(*said[at:end])
        return


@looks_for("!lose")
def _keep_looks(said: list[Piece]) -> None:
    """`8 in lot 13 look dead but leaving them`, `dried out a bit`: how plants look, and no loss."""
    for place, piece in enumerate(said):
        word = deed_of(piece)
        if word is None or word.act != "lose" or not word.counts_before:
            continue
        if place and said[place - 1].low in _LOOKING:
            keep(said[place - 1], piece)
        elif said_in(said[place + 1 : place + 3]) in _A_BIT or said_in(said[place + 1 : place + 2]) in _A_BIT:
            keep(piece)


@looks_for("dropped", "dropped off")
def _drop_off(said: list[Piece]) -> None:
    """`dropped 12 of lot 9 off at the school`: brought somewhere, and not dropped."""
    at = next((at for at, piece in enumerate(said) if piece.low in ("dropped", "dropped off") and is_act(piece)), None)
    if at is None:
        return
    off = said[at].low == "dropped off" or any(piece.low == "off" for piece in said[at + 1 :])
    if off and any(piece.low in ("at", "to", "with") for piece in said[at + 1 :]):
        keep(said[at])
    elif any(_is_elsewhere(said, step) for step in range(at + 2, len(said))):
        # "dropped 12 of lot 9 at the school": brought there or let fall.
        keep(said[at], kind="word")


def _is_elsewhere(said: list[Piece], at: int) -> bool:
    """`at the school`, `with kim`: somewhere or somebody outside the nursery."""
    if said[at].low not in ("at", "to", "with"):
        return False
    told = [piece for piece in said[at + 1 :] if piece.low not in _BEFORE_THEM]
    if not told or told[0].kind not in ("word", "phrase", "person"):
        return False
    somebody = told[0].kind == "person" or is_given_name(told[0].low)
    return somebody or any(piece.low.split(" ")[-1] in _ELSEWHERE for piece in told)


@looks_for(any_of=_LISTS)
def _put_on_list(said: list[Piece]) -> None:
    """`put lot 9 on the list`: named for something, and not moved."""
    at = next((at for at, piece in enumerate(said) if piece.low in ("put", "added") and is_act(piece)), None)
    last = said[-1].low if said else ""
    lists = [step for step, piece in enumerate(said) if piece.low in _LISTS]
    if at is not None and lists and (last in _LISTS or any(piece.low == "on" for piece in said[at : lists[0]])):
        keep(said[at])


@looks_for(any_of=_PUTTING)
def _put_on_plants(said: list[Piece]) -> None:
    """`put compost on lot 9`, `laid netting over tray 4`: something was put on plants, and they went nowhere."""
    at = next((at for at, piece in enumerate(said) if piece.low in _PUTTING and is_act(piece)), None)
    named = next((step for step, piece in enumerate(said) if piece.kind in ("lots", "trays")), None)
    if at is None or named is None or named < at + 3 or said[named - 1].low not in ("on", "onto", "over", "around"):
        return
    thing = [piece for piece in said[at + 1 : named - 1] if piece.low not in _BEFORE_THEM]
    if thing and all(piece.kind == "word" or "medium" in piece.roles or piece.low in _SPREAD for piece in thing):
        keep(said[at])


@looks_for("or")
def _keep_either(said: list[Piece]) -> None:
    """`all sold or dead`: one of two, and which is not said."""
    for first, joint, second in zip(said, said[1:], said[2:], strict=False):
        if joint.low == "or" and is_act(first) and is_act(second):
            keep(first, joint, second)


@looks_for("!reserve", "name", "names")
def _keep_reserved(said: list[Piece]) -> None:
    """`12 of the reserved 15`, `put kit's name on 4`: of what was set aside before, or a name and no place."""
    for before, piece, after in zip(said, said[1:], said[2:], strict=False):
        word = deed_of(piece)
        if word is None or word.act != "reserve":
            continue
        if before.low in _THOSE and after.kind == "number":
            # "gave mia the reserved 10" counts them; "12 of the reserved 15" does not.
            counted = any(one.kind == "number" and one is not after for one in said)
            keep(piece, *([after] if counted else []))
        elif before.kind == "number" and "plant" in after.roles and sum(map(is_act, said)) > 1:
            # "joe picked up his 12 reserved yarrow".
            keep(piece)
    for at, piece in enumerate(said):
        # "promised kit to water tray 4".
        to_do = any(lead.low == "to" and "to_do" in deed.roles for lead, deed in pairwise(said[at + 1 :]))
        if piece.low == "promised" and is_act(piece) and to_do:
            keep(piece)
    put = next((at for at, piece in enumerate(said) if piece.low == "put" and is_act(piece)), None)
    if put is not None and any(piece.low in ("name", "names") for piece in said[put + 1 : put + 5]):
        keep(said[put])


@looks_for("saved", "kept")
def _keep_saved(said: list[Piece]) -> None:
    """`saved 20 lost 4`, `kept 6`: what was left, for nobody; `saved 20 for finn` is set aside."""
    for at, piece in enumerate(said):
        word = deed_of(piece)
        if piece.low not in ("saved", "kept") or word is None or word.act != "reserve":
            continue
        after = said[at + 1] if at + 1 < len(said) else None
        if piece.low == "saved" and after is not None and after.roles.get("what") == "seed":
            piece.roles = {"act": ActWord(act="collect")}
        of_lot = any(one.kind in ("lots", "trays") for one in said) and not any(one.low in _RELATIVE for one in said)
        ends = any(is_act(one) for one in said[:at])
        if (of_lot and not ends) or after is None or after.kind != "number":
            continue
        if not any(one.low in _FOR for one in said[at + 1 :]):
            keep(piece, after)


@looks_for("cleared", "cleared off", "cleared out")
def _clear_off(said: list[Piece]) -> None:
    """`cleared lot 9 off the bench to the lath`, `cleared off bench 3`: taken away, and no hold is over."""
    for at, piece in enumerate(said):
        word = deed_of(piece)
        if word is None or piece.low not in ("cleared", "cleared off", "cleared out") or word.act != "clear":
            continue
        off = next((step for step in range(at, len(said)) if said[step].low in ("off", "out", "cleared off")), None)
        held = any(one.low in _HELD for one in said[at + 1 :])
        if off is None or held or any(_is_loss(one) for one in said):
            continue
        if any(one.low in ("to", "into", "onto") for one in said[off:]):
            piece.kind, piece.roles = "phrase", {"act": ActWord(act="move")}
        else:
            keep(piece)


def _is_loss(piece: Piece) -> bool:
    word = deed_of(piece)
    return word is not None and word.act == "lose"


@looks_for("held", "held back", "kept", "kept back", "hold")
def _hold_back(said: list[Piece]) -> None:
    """`held lot 6 back from the move`, `hold weaning of lot 6`: left as it was, and not held for a doubt."""
    for at, piece in enumerate(said):
        put_off = said[at + 1] if piece.low == "hold" and is_act(piece) and at + 1 < len(said) else None
        if put_off is not None and is_act(put_off) and put_off.low.endswith("ing") and "cause" not in put_off.roles:
            keep(piece, put_off)
        held = piece.low in ("held", "held back", "kept", "kept back") and is_act(piece)
        back = piece.low.endswith("back") or any(one.low == "back" for one in said[at + 1 : at + 4])
        lead = next((step for step in range(at + 1, len(said) - 1) if said[step].low == "from"), None)
        if held and back and lead is not None and said[lead + 1].low in ("the", "our", "this", "todays", "moving"):
            keep(piece)


KEEP_SAYINGS: Final = (_keep_sayings, InEach(statements, _keep_no_plants))
"""Keeps sayings, and verbs whose object is no plant, as they are: before gear is told from plants."""
keep_idioms: Final = InEach(
    statements, _keep_gifts, _tell_why_lost, _keep_asides, _keep_looks, _drop_off, _put_on_list, _put_on_plants,
    _keep_either, _keep_reserved, _keep_saved, _clear_off, _hold_back, *NOT_FINISHED, *HARM,
)  # fmt: skip
"""Takes the meaning of a deed from words that are none here, in place."""
