"""Which words look like a deed and are none: `holding steady`, `gave lot 44 another week`, `lost the tag`.

Rules
1. Sayings of the bench are kept as they are; so is a verb whose object is no plant (`dropped their leaves`).
2. What only tells when, or which plants are meant, is no deed (`before they went in`, `that ruth brought`).
3. What a pest or the frost did is no care (`rabbits nipped 14`); hosing a pest off is.
"""

from __future__ import annotations

from typing import Any, Final

from core.notes.pieces import NO_ROLES, Piece, is_act
from core.vocabulary import ActWord
from core.vocabulary.loading import read_toml, small_words

_SAYINGS: Final = small_words("sayings", "sayings")
_GIVING: Final = frozenset({"gave", "give", "giving", "given", "gives"})
_GIVEN: Final = frozenset(read_toml("small_words.toml")["given"])
_NO_GIFTS: Final = small_words("sayings", "no_gifts")
_NO_PLANTS: Final = small_words("sayings", "no_plants")
_BEFORE_THEM: Final = small_words("sayings", "before_them")
_HOLDERS: Final = small_words("sayings", "holders")
_WASHING: Final = small_words("sayings", "washing")
_WASTE: Final = small_words("sayings", "waste")
_THROWING: Final = small_words("sayings", "throwing")
_NIPPING: Final = small_words("sayings", "nipping")
_LOOKING: Final = small_words("sayings", "looking")
_RELATIVE: Final = small_words("sayings", "relative")
_TIMES: Final = small_words("sayings", "times")
_PRONOUNS: Final = frozenset({"they", "it", "we", "i", "these", "those", "he", "she"})
_EATING: Final = small_words("acts", "causing")
_PARTS: Final = small_words("sayings", "parts") | _NO_PLANTS
_COMERS: Final = small_words("places", "ends") | small_words("groups", "groups")
_A_BIT: Final = small_words("sayings", "a_bit")
_THOSE: Final = frozenset({"the", "of the", "our", "those", "of our", "of those"})
_LISTS: Final = small_words("sayings", "lists")
_FOR: Final = frozenset({"for", "back", "aside", "as", "to", "by"})
_NAMING: Final = frozenset({"word", "phrase", "number"})
_HELD: Final = frozenset({"hold", "quarantine", "of quarantine", "isolation", "off hold", "out of quarantine"})
_LONGEST: Final = 5
_KINDS: Final = ("lots", "trays", "number", "fraction", "percent")


def keep_idioms(pieces: list[Piece]) -> None:
    """Takes the meaning of a deed from words that are none here, in place."""
    for start, end in _clauses(pieces):
        said = pieces[start:end]
        _keep_gifts(said)
        _keep_asides(said)
        _keep_looks(said)
        _drop_off(said)
        _put_on_list(said)
        _keep_either(said)
        _keep_reserved(said)
        _keep_saved(said)
        _clear_off(said)
        _hold_back(said)
        _wash_off(said)
        _nip(said)
        _nibble(said)
        _handled(said)
        _collected_from_lot(said)
        _down_to(said)
        _throw_away(said)
    _bag_and_bin(pieces)


def keep_sayings(pieces: list[Piece]) -> None:
    """Keeps sayings, and verbs whose object is no plant, as they are, in place: before gear is told from plants."""
    _keep_sayings(pieces)
    for start, end in _clauses(pieces):
        _keep_no_plants(pieces[start:end])


def _clauses(pieces: list[Piece]) -> list[tuple[int, int]]:
    spans, start = [], 0
    for place, piece in enumerate(pieces):
        if piece.kind == "break" and piece.low not in ("&", "+"):
            spans.append((start, place))
            start = place + 1
    return [*spans, (start, len(pieces))]


def _said(run: list[Piece]) -> str:
    return " ".join(piece.low for piece in run)


def _keep(*pieces: Piece) -> None:
    for piece in pieces:
        piece.kind, piece.roles = "saying", NO_ROLES


def _run_in(said: list[Piece], start: int, phrases: frozenset[str]) -> tuple[int, int] | None:
    """Where the first of some phrases stands from a place on."""
    for at in range(start, len(said)):
        for end in range(min(len(said), at + _LONGEST), at, -1):
            if _said(said[at:end]) in phrases:
                return at, end
    return None


def _keep_sayings(pieces: list[Piece]) -> None:
    """`hold the phone`, `holding steady`."""
    at = 0
    while (found := _run_in(pieces, at, _SAYINGS)) is not None:
        _keep(*pieces[slice(*found)])
        at = found[1]


def _keep_gifts(said: list[Piece]) -> None:
    """`gave lot 44 another week`, `gave up on lot 44`: nothing that was given away."""
    for at, piece in enumerate(said):
        if piece.low not in _GIVING or not is_act(piece):
            continue
        found = _run_in(said, at + 1, _NO_GIFTS)
        length = next((one for one in said[at + 1 :] if one.kind == "duration"), None)
        given = length is None or any(one.low == "to" or one.low in _GIVEN for one in said[at + 1 :])
        if found is not None:
            _keep(piece, *said[slice(*found)])
        elif at + 1 < len(said) and said[at + 1].low == "up":
            _keep(piece, said[at + 1])
        elif not given and any(one.kind in ("lots", "trays") for one in said[at + 1 :]):
            _keep(piece)


def _word(piece: Piece) -> ActWord | None:
    word: ActWord | None = piece.roles.get("act")
    return word


def _keep_no_plants(said: list[Piece]) -> None:
    """`lost the tag on lot 13`, `10 dropped their leaves`, `tossed the trays lot 13 was in`."""
    for at, piece in enumerate(said[:-1]):
        word = _word(piece)
        if word is None or word.act != "lose":
            continue
        thing = at + 1
        while thing < len(said) - 1 and said[thing].low in _BEFORE_THEM:
            thing += 1
        counted = said[thing].kind == "number" and thing + 1 < len(said)
        if counted and said[thing + 1].low in _NO_PLANTS:
            _keep(said[thing], said[thing + 1])
            if not any(one.kind == "number" for one in said[thing + 2 :]):
                _keep(piece)
        elif said[thing].low in _NO_PLANTS:
            _keep(piece, said[thing])
        elif _is_emptied(said, at, thing):
            _keep(piece, *(one for one in said[at + 1 :] if one.kind in ("word", "phrase")))


def _is_emptied(said: list[Piece], at: int, thing: int) -> bool:
    """`the trays lot 13 was in`, `lot 13's old flat`: a container thrown out, and not the plants of it."""
    after = said[thing + 1] if thing + 1 < len(said) else None
    if thing > at + 1 and said[thing].low in _HOLDERS:
        return after is None or after.low not in ("of", "from", "with", "in")
    owned = at + 2 < len(said) and said[at + 1].kind in ("lots", "trays") and said[at + 2].low == "'s"
    return owned and any(one.low in _HOLDERS for one in said[at + 3 : at + 6])


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
        _keep(*said[at:end])
        return


def _keep_looks(said: list[Piece]) -> None:
    """`8 in lot 13 look dead but leaving them`, `dried out a bit`: how plants look, and no loss."""
    for place, piece in enumerate(said):
        word = _word(piece)
        if word is None or word.act != "lose" or not word.counts_before:
            continue
        if place and said[place - 1].low in _LOOKING:
            _keep(said[place - 1], piece)
        elif _said(said[place + 1 : place + 3]) in _A_BIT or _said(said[place + 1 : place + 2]) in _A_BIT:
            _keep(piece)


def _drop_off(said: list[Piece]) -> None:
    """`dropped 12 of lot 9 off at the school`: brought somewhere, and not dropped."""
    at = next((at for at, piece in enumerate(said) if piece.low in ("dropped", "dropped off") and is_act(piece)), None)
    if at is not None and (said[at].low == "dropped off" or any(piece.low == "off" for piece in said[at + 1 :])):
        if any(piece.low in ("at", "to", "with") for piece in said[at + 1 :]):
            _keep(said[at])


def _put_on_list(said: list[Piece]) -> None:
    """`put lot 9 on the list`: named for something, and not moved."""
    at = next((at for at, piece in enumerate(said) if piece.low in ("put", "added") and is_act(piece)), None)
    last = said[-1].low if said else ""
    lists = [step for step, piece in enumerate(said) if piece.low in _LISTS]
    if at is not None and lists and (last in _LISTS or any(piece.low == "on" for piece in said[at : lists[0]])):
        _keep(said[at])


def _keep_either(said: list[Piece]) -> None:
    """`all sold or dead`: one of two, and which is not said."""
    for first, joint, second in zip(said, said[1:], said[2:], strict=False):
        if joint.low == "or" and is_act(first) and is_act(second):
            _keep(first, joint, second)


def _keep_reserved(said: list[Piece]) -> None:
    """`12 of the reserved 15`, `put kit's name on 4`: of what was set aside before, or a name and no place."""
    for before, piece, after in zip(said, said[1:], said[2:], strict=False):
        word = _word(piece)
        if word is not None and word.act == "reserve" and before.low in _THOSE and after.kind == "number":
            _keep(piece, after)
    put = next((at for at, piece in enumerate(said) if piece.low == "put" and is_act(piece)), None)
    if put is not None and any(piece.low in ("name", "names") for piece in said[put + 1 : put + 5]):
        _keep(said[put])


def _keep_saved(said: list[Piece]) -> None:
    """`saved 20 lost 4`, `kept 6`: what was left, for nobody; `saved 20 for finn` is set aside."""
    for at, piece in enumerate(said):
        word = _word(piece)
        if piece.low not in ("saved", "kept") or word is None or word.act != "reserve":
            continue
        after = said[at + 1] if at + 1 < len(said) else None
        if piece.low == "saved" and after is not None and after.roles.get("what") == "seed":
            piece.roles = {"act": ActWord(act="collect")}
        of_lot = any(one.kind in ("lots", "trays") for one in said) and not any(one.low in _RELATIVE for one in said)
        if of_lot or after is None or after.kind != "number":
            continue
        if not any(one.low in _FOR for one in said[at + 1 :]):
            _keep(piece, after)


def _clear_off(said: list[Piece]) -> None:
    """`cleared lot 9 off the bench to the lath`, `cleared off bench 3`: taken away, and no hold is over."""
    for at, piece in enumerate(said):
        word = _word(piece)
        if word is None or piece.low not in ("cleared", "cleared off", "cleared out") or word.act != "clear":
            continue
        off = next((step for step in range(at, len(said)) if said[step].low in ("off", "out", "cleared off")), None)
        held = any(one.low in _HELD for one in said[at + 1 :])
        if off is None or held or any(_is_loss(one) for one in said):
            continue
        if any(one.low in ("to", "into", "onto") for one in said[off:]):
            piece.kind, piece.roles = "phrase", {"act": ActWord(act="move")}
        else:
            _keep(piece)


def _is_loss(piece: Piece) -> bool:
    word = _word(piece)
    return word is not None and word.act == "lose"


def _hold_back(said: list[Piece]) -> None:
    """`held lot 6 back from the move`: left where it was, and not held for a doubt."""
    for at, piece in enumerate(said):
        held = piece.low in ("held", "held back", "kept", "kept back") and is_act(piece)
        back = piece.low.endswith("back") or any(one.low == "back" for one in said[at + 1 : at + 4])
        lead = next((step for step in range(at + 1, len(said) - 1) if said[step].low == "from"), None)
        if held and back and lead is not None and said[lead + 1].low in ("the", "our", "this", "todays", "moving"):
            _keep(piece)


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
            _keep(pest)


def _nip(said: list[Piece]) -> None:
    """`rabbits nipped 14 of the lupine`, `the frost killed 5 and nipped the rest`: harm, and no care."""
    for at, piece in enumerate(said):
        word = _word(piece)
        if piece.low not in _NIPPING or word is None or word.act != "tend":
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
            _keep(piece)
            if nearest is harm:
                _keep(harm)


def _nibble(said: list[Piece]) -> None:
    """`deer ate the tops off 10`: plants that were eaten in part, and not lost."""
    for at, piece in enumerate(said):
        if piece.roles.get("cause") not in ("animal", "pest") or at + 2 >= len(said) or said[at + 1].low not in _EATING:
            continue
        part = at + 2
        while part < len(said) - 1 and (said[part].low in _BEFORE_THEM or said[part].kind == "number"):
            part += 1
        if said[part].low in _PARTS:
            _keep(piece, said[at + 1], said[part])


def _handled(said: list[Piece]) -> None:
    """`killed 2 potting lot 13`, `broke 3 moving lot 9`: what was done when they were lost."""
    for at, piece in enumerate(said[:-1]):
        word = _word(piece)
        killed = piece.low == "killed" and at + 1 < len(said) and said[at + 1].kind == "number"
        if not killed and (word is None or word.act != "lose" or word.counts_before) and piece.low != "broke":
            continue
        later = next((one for one in said[at + 1 :] if is_act(one)), None)
        if killed:
            piece.kind, piece.roles = "phrase", {"act": ActWord(act="lose")}
        told = _word(later) if later is not None else None
        if later is None or not later.low.endswith("ing") or said[at + 1].kind != "number":
            continue
        if told is not None and told.act in ("wilt", "lose", "check"):
            continue
        piece.kind, piece.roles = "phrase", {"act": ActWord(act="lose", says={"cause": "handling"})}
        _keep(later)


def _collected_from_lot(said: list[Piece]) -> None:
    """`dune school collected 15 of lot 12`: those who came for plants of a lot were given them."""
    at = next((at for at, piece in enumerate(said) if piece.low in ("collected", "picked up") and is_act(piece)), None)
    if not at or at + 3 >= len(said) or said[at + 1].kind not in ("number", "phrase"):
        return
    of_lot = said[at + 2].low in ("of", "from") and said[at + 3].kind == "lots"
    who = said[:at]
    named = all(one.kind in ("word", "person") or "place_word" in one.roles for one in who)
    if of_lot and said[at + 1].kind == "number" and named and who[-1].low.split(" ")[-1] in _COMERS:
        said[at].kind, said[at].roles = "phrase", {"act": ActWord(act="give", says={"to": _said(who)})}
        for one in who:
            one.kind, one.roles, one.used = "mark", NO_ROLES, True


def _down_to(said: list[Piece]) -> None:
    """`culled lot 58 down to 30`: how many are left."""
    word = next((word for piece in said if (word := _word(piece)) is not None), None)
    if word is None or word.act != "lose":
        return
    for down, to, number in zip(said, said[1:], said[2:], strict=False):
        if down.low == "down" and to.low == "to" and number.kind == "number" and number.value.whole is not None:
            to.kind, to.roles = "phrase", {"left": "after"}
            down.roles, down.used = {"filler": True}, True


def _throw_away(said: list[Piece]) -> None:
    """`gave lot 44 to the compost`, `threw the last 3 on the compost`, `moved 8 dead to the compost`: plants lost."""
    for at, piece in enumerate(said):
        if piece.low not in _THROWING:
            continue
        plants = any(one.kind in ("lots", "trays") or "plant" in one.roles for one in said)
        waste = _run_in(said, at + 1, _WASTE)
        if waste is not None and not plants and said[0].low == "rest":
            _keep(piece)
        after = said[waste[1]] if waste is not None and waste[1] < len(said) else None
        named = after is not None and (after.kind == "word" or "filler" not in after.roles) and after.kind in _NAMING
        if not plants or waste is None or named:
            continue
        roles: dict[str, Any] = {"act": ActWord(act="lose")}
        piece.kind, piece.roles = "phrase", roles
        for one in said[at + 1 :]:
            dead = _word(one)
            if dead is not None and dead.act == "lose":
                piece.roles = {"act": dead}
                one.roles, one.used = {"filler": True}, True
        for one in said[slice(*waste)]:
            one.kind, one.roles, one.used = "mark", NO_ROLES, True


def _bag_and_bin(pieces: list[Piece]) -> None:
    """`bagged and binned`: thrown out in a bag, and nothing covered."""
    for bagged, joint, piece in zip(pieces, pieces[1:], pieces[2:], strict=False):
        word = _word(piece)
        if bagged.low == "bagged" and joint.low in ("and", "&", "+") and word is not None and word.act == "lose":
            _keep(bagged)
