"""How many, out of how many: the numbers of a clause that nothing else used.

Rules
1. One bare number is the count of an act that counts, and the lot of one that does not.
2. Two bare numbers without a subject are a question; neither is taken.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from core.notes.acts.slots import Slots, use
from core.notes.counts.listed_counts import EACH
from core.notes.counts.parts import of_a_part
from core.notes.details.apiece import says_each
from core.notes.details.bare_numbers import LEAST_STRENGTH, is_bare, stands_alone
from core.notes.details.lots_after import lot_after_preposition
from core.notes.details.meanings import hormone
from core.notes.details.no_counts import is_no_count
from core.notes.details.numbers_of_care import numbers_as_lots
from core.notes.details.numbers_of_no_plants import BESIDE_NO_PLANTS
from core.notes.details.place_names import numbers_place
from core.notes.details.vessels import is_vessel
from core.notes.details.wholes import down_to, keep_whole, left, not_so_many, nought_of, out_of, whole_after
from core.notes.words.act_kinds import COUNTLESS, OPENING
from core.notes.words.numbers import Number
from core.notes.words.pieces import Piece
from core.notes.words.steps import Look
from core.vocabulary.loading import small_words

_LEAVING: Final = frozenset({"pot", "sell", "give", "plant_out", "move", "lose"})
_WHOLES: Final = small_words("counting", "wholes")
_KINDS: Final = small_words("counting", "kinds")
_LINKS: Final = small_words("denied", "links")
_OUT_OF: Final = frozenset({"of", "from", "out of"})
_OF: Final = frozenset({"of", "out of"})
_COUNTING: Final = frozenset({"either", "tally", "fraction", "number"})
_COUNTS: Final = Look({
    "=number", "=fraction", "=either", "=tally", "@left", "@none", "@negation", "@fraction", "@more", "@approx_after",
    "per", *EACH, *_OF,
})  # fmt: skip
"""Marks of a sentence that may count something."""
_TEN: Final = 10
_CALLED: Final = frozenset({"lot", "tray"})
_PAIR: Final = 2
_LOTLESS: Final = frozenset({"mix", "pour_out", "sanitize", "temp"})


def counts(slots: Slots, pieces: list[Piece]) -> None:
    """The count, its range and its whole, from the numbers that nothing else used."""
    if not _COUNTS.finds_in(slots.clause.marks):
        return
    if slots.act not in _LOTLESS:
        lot_after_preposition(slots, pieces)
    _how_often(slots, pieces)
    down_to(slots, pieces)
    for place, piece in enumerate(pieces):
        if piece.used or not (piece.roles or piece.kind in _COUNTING or piece.low in _OF):
            continue
        if piece.kind == "either" or (piece.kind == "tally" and slots.act in ("check", "lose")):
            slots.asks.append("number")
        elif piece.kind == "fraction":
            out_of(slots, pieces, place, piece)
        elif piece.kind == "number" and 0 < piece.value.value < 1:
            name = "vent_open" if slots.act == "vent" else "share"
            if slots.takes(name) and slots.values.get("count") is None and slots.act != "mix":
                slots.put(name, round(piece.value.value, 4), piece)
        elif "left" in piece.roles:
            left(slots, pieces, place, piece)
        elif "none" in piece.roles and slots.act == "check":
            counted = place + 1 < len(pieces) and pieces[place + 1].kind == "fraction"
            counted = counted or _counts_without(pieces, place)
            if not counted and not _none_of_another(slots, pieces, place) and not of_a_part(pieces, place):
                slots.put("count", 0, piece)
        elif "negation" in piece.roles and slots.act == "check":
            not_so_many(slots, pieces, place, piece)
        elif "fraction" in piece.roles and slots.takes("share") and "vent_open" not in slots.values:
            # Half of a solution is no strength ("mixed half a bucket of bleach").
            if "count" not in slots.values and slots.act != "mix":
                slots.put("share", round(piece.roles["fraction"], 4), piece)
                if place and "approx" in pieces[place - 1].roles:
                    slots.values["approx"] = True
                    use(pieces[place - 1])
        elif (piece.low in _OF and slots.act in ("check", "lose")) or _from_whole(slots, pieces, place):
            whole_after(slots, pieces, place)
        elif "more" in piece.roles and slots.act in ("check", "lose") and _beside_number(pieces, place):
            if slots.act == "check" and slots.values.get("count") is None:
                slots.values["more"] = True
            use(piece)
    numbers = [
        piece
        for place, piece in enumerate(pieces)
        if piece.kind == "number"
        and not piece.used
        and not (slots.act not in _LOTLESS and numbers_place(pieces, place))
    ]
    if pieces is not slots.clause.pieces and not numbers and _subject_came(slots):
        slots.asks.remove("number")
        pieces = slots.clause.pieces
        numbers = [piece for piece in pieces if piece.kind == "number" and not piece.used]
    if slots.act in COUNTLESS:
        numbers_as_lots(slots, pieces, numbers)
        return
    _number_counts(slots, pieces, _parted(slots, pieces, numbers))
    _about_after(slots, pieces)
    says_each(slots, pieces)
    for place, piece in enumerate(pieces):
        if "negation" in piece.roles and not piece.used and slots.act == "check":
            not_so_many(slots, pieces, place, piece)


def _counts_without(pieces: list[Piece], place: int) -> bool:
    """The 4 of `12 roots 4 no roots`: so many have none, and others some."""
    kinds = [piece.kind for piece in pieces[:place]]
    return pieces[place].low == "no" and kinds.count("number") > 1 and kinds[-1] == "number"


def _from_whole(slots: Slots, pieces: list[Piece], place: int) -> bool:
    """The "from" of `lot 23: 17 rooted from 40`: out of how many, where the lot is named."""
    named = "lots" in slots.values or "trays" in slots.values
    if pieces[place].low != "from" or slots.act != "check" or not named or place + 1 >= len(pieces):
        return False
    whole, counted = pieces[place + 1], [one for one in pieces[:place] if one.kind == "number"]
    return whole.kind == "number" and len(counted) == 1 and counted[0].value.value <= whole.value.value


def _subject_came(slots: Slots) -> bool:
    """Whether a range that could have been a lot and its count (`30-35 rooted, lot 16`), or a count out of a whole
    (`2 of 6 dead`), now has its lot or tray.
    """
    asked = [piece for piece in slots.clause.pieces if piece.kind == "number" and not piece.used]
    named = "lots" in slots.values or "trays" in slots.values
    alone = "number" in slots.asks and named and len(asked) == 1
    return alone and (asked[0].value.dashed or asked[0].value.of is not None)


def _about_after(slots: Slots, pieces: list[Piece]) -> None:
    """`30 rooted or so`: "about" said after the act whose count it is."""
    if not any(slots.values.get(name) is not None for name in ("count", "share")):
        return
    for piece in pieces:
        if "approx_after" in piece.roles and not piece.used:
            slots.values["approx"] = True
            use(piece)


def _parted(slots: Slots, pieces: list[Piece], numbers: list[Piece]) -> list[Piece]:
    """The numbers that may count: not several that stand side by side (`1 200`, `5 4 6 6 3 rooted`), of which any could
    be meant; `2 x 24` is their product.
    """
    kept = list(numbers)
    if len(kept) < _PAIR and slots.act not in OPENING:
        return kept
    for place, piece in enumerate(pieces[:-1]):
        following = pieces[place + 1]
        if piece in numbers and following in numbers and _stands_beside(piece, following):
            if any(slots.values.get(name) is not None for name in ("lots", "trays", "plant", "count")):
                slots.asks.append("number")
                kept = [one for one in kept if one not in (piece, following)]
        elif piece.kind == "times" and not piece.used and following in kept and slots.act in OPENING:
            product = piece.value * (following.value.whole or 0)
            if product and "count" not in slots.values:
                slots.put("count", product, piece, following)
    return kept


def _stands_beside(piece: Piece, following: Piece) -> bool:
    """Two numbers in figures, or the `one forty four` that somebody dictated for a hundred and as many."""
    if not (is_bare(piece) and is_bare(following)):
        return False
    return piece.low.isdigit() or (0 < piece.value.value < _TEN <= following.value.value and following.low[0].isalpha())


def _none_of_another(slots: Slots, pieces: list[Piece], place: int) -> bool:
    """`no mold`, `no gnats` after a check: none of something that is no state of the plants."""
    following = pieces[place + 1] if place + 1 < len(pieces) else None
    if following is None or pieces[place].low not in ("no", "zero", "no sign of", "no signs of"):
        return False
    noun = following.roles.get("noun")
    if noun is not None and noun.says.get("state") not in (None, slots.values.get("state")):
        return True
    return "cause" in following.roles or (following.kind == "word" and slots.values.get("state") is None)


def _beside_number(pieces: list[Piece], place: int) -> bool:
    first = next((piece for piece in pieces if piece.kind == "number" and not piece.used), None)
    beside = [pieces[step] for step in (place - 1, place + 1) if 0 <= step < len(pieces)]
    return any(piece.kind == "number" and (piece is first or piece.used) for piece in beside)


def _after_deed_first(pieces: list[Piece], numbers: list[Piece]) -> list[Piece]:
    """`tray 3 started at 24 lost 6`: the count right after a deed before one that stands before it."""
    for place, (deed, after) in enumerate(pairwise(pieces if len(numbers) > 1 else ())):
        word = deed.roles.get("act")
        of_plant = any("plant" in piece.roles for piece in pieces[place + 2 : place + 3])
        if word is not None and not word.counts_before and not of_plant and any(after is one for one in numbers):
            return [after, *(one for one in numbers if one is not after)]
    return numbers


def _before_deed_first(slots: Slots, pieces: list[Piece], numbers: list[Piece]) -> list[Piece]:
    """`4 yellow 2 dead`, `10 small 6 potted`, `40 plants 12 rooted`: the count right before the deed before those that
    tell of others; the whole that a check is of is read too.
    """
    counted = numbers[-1] if len(numbers) > 1 and _right_before_deed(slots, pieces, numbers[-1]) else None
    if counted is None or counted.value.whole is None:
        return numbers
    whole = next((piece for piece in numbers[:-1] if _is_whole(pieces, piece, counted)), None)
    if whole is not None and slots.act == "check" and counted.value.of is None and "of" not in slots.values:
        slots.put("of", whole.value.whole, whole)
    return [counted, *(piece for piece in numbers[:-1] if not piece.used)]


def _counts_kinds(slots: Slots, pieces: list[Piece], numbers: list[Piece]) -> bool:
    """`8 tall 6 short potted`, `potted 12 big 5 small`: two kinds of plants, and no count of them all."""
    if slots.act not in _LEAVING or len(numbers) < 2:
        return False
    after = [pieces[place : place + 2] for place in (pieces.index(piece) + 1 for piece in numbers)]
    return all(told and told[0].low in _KINDS for told in after)


def _is_whole(pieces: list[Piece], piece: Piece, counted: Piece) -> bool:
    """`40 plants`, `from 40`: out of how many, before so many of them."""
    place = pieces.index(piece)
    told = pieces[place + 1].low in _WHOLES or (place > 0 and pieces[place - 1].low in _OUT_OF)
    return told and is_bare(piece) and is_bare(counted) and piece.value.whole >= counted.value.whole


def _right_before_deed(slots: Slots, pieces: list[Piece], piece: Piece) -> bool:
    after = [one for one in pieces[pieces.index(piece) + 1 :] if one.low not in _LINKS]
    return bool(after) and any(slots.clause.word is after[0].roles.get(role) for role in ("act", "shared", "noun"))


def _counts_vessels(pieces: list[Piece], piece: Piece) -> bool:
    """`lot 22: 36 sixpacks 12 4in 4 tossed`: the numbers of the packs and pots, where those lost are counted apart."""
    place = pieces.index(piece) + 1
    return place < len(pieces) and is_vessel(pieces[place])


def _of_all(pieces: list[Piece], piece: Piece) -> bool:
    """`dumped all 20`: how many all of them were, no lot."""
    place = pieces.index(piece)
    return place > 0 and "all" in pieces[place - 1].roles


def _count_of_all(slots: Slots, pieces: list[Piece], numbers: list[Piece]) -> Piece | None:
    """The number of `potted all 24 of lot 3`: how many all of them were."""
    leaves = slots.act in _LEAVING and "all_of" in slots.values and "count" not in slots.values
    if not leaves or any(piece.low.split(" ")[0] in ("that", "but", "except") for piece in pieces):
        return None
    return next((piece for piece in numbers if _of_all(pieces, piece) and piece.value.whole is not None), None)


def _number_counts(slots: Slots, pieces: list[Piece], numbers: list[Piece]) -> None:
    """The numbers of an act that counts: its count with its range and whole, else a lot, else they are asked."""
    of_others = BESIDE_NO_PLANTS.get(slots.act)
    if of_others is not None:
        of_others(slots, pieces, numbers)
        return
    values = slots.values
    if slots.takes("hormone") and values.get("hormone"):
        numbers = _without_strength(slots, numbers)
    counted = any(name in values for name in ("count", "share", "all_of", "left"))
    subject = any(name in values for name in ("lots", "trays", "plant"))
    if not counted and not subject and _could_be_lots(slots, pieces, numbers):
        slots.asks.append("number")
        return
    if "number" in slots.asks and not counted and not subject and pieces is not slots.clause.pieces:
        # "63 lost 2. tue 3.": which of them counts is asked already.
        return
    if counted and not subject and pieces is slots.clause.pieces and _is_lone_lot(pieces, numbers):
        slots.put("lots", (numbers[0].low,), numbers[0])
        return
    numbers = [piece for piece in numbers if not is_no_count(slots, pieces, piece)]
    if slots.act == "lose" and len(numbers) > 1 and _right_before_deed(slots, pieces, numbers[-1]):
        numbers = [piece for piece in numbers if not _counts_vessels(pieces, piece)]
    if not counted:
        numbers = _before_deed_first(slots, pieces, numbers)
    whole = (piece for piece in _after_deed_first(pieces, numbers) if piece.value.whole is not None)
    first = next(whole, None) if not counted else _count_of_all(slots, pieces, numbers)
    if first is not None and not _counts_kinds(slots, pieces, numbers):
        _put_count(slots, pieces, first)
    nought_of(slots, numbers)
    _whole_of_sample(slots, numbers)


def _without_strength(slots: Slots, numbers: list[Piece]) -> list[Piece]:
    """`40 in 3000`: the numbers without the one that is the strength of a hormone."""
    kept = list(numbers)
    for piece in numbers:
        if piece.value.value >= LEAST_STRENGTH and len(kept) > 1 and "ppm" not in slots.values["hormone"]:
            hormone(slots, piece, ppm=piece.value.value)
            kept.remove(piece)
    return kept


def _could_be_lots(slots: Slots, pieces: list[Piece], numbers: list[Piece]) -> bool:
    """Whether either of several bare numbers, or the first of `30-35`, could be the lot."""
    if len(numbers) > 1 and all(map(is_bare, numbers)):
        return not _explained(slots, pieces, numbers)
    alone = len(numbers) == 1 and numbers[0].value.dashed and slots.act not in OPENING
    return alone and not _follows_named(slots)


def _follows_named(slots: Slots) -> bool:
    """`lot 22: 40 germinated, | 9-12 damped off`: told after a comma of a lot or a tray that is called so."""
    before = slots.tokens[: slots.clause.first]
    called = any(token.kind == "lot" or token.low in _CALLED for token in before)
    return called and slots.clause.after in (",", ";", "and", "&")


def _is_lone_lot(pieces: list[Piece], numbers: list[Piece]) -> bool:
    """`all rooted, 14`: the one bare number beside a count that is told otherwise."""
    if len(numbers) != 1 or not is_bare(numbers[0]) or not numbers[0].low.isdigit():
        return False
    return stands_alone(pieces, numbers[0]) and not _of_all(pieces, numbers[0])


def _put_count(slots: Slots, pieces: list[Piece], piece: Piece) -> None:
    number: Number = piece.value
    slots.put("count", number.whole, piece)
    if number.each:
        slots.values["apiece"] = number.each
    if number.approx:
        slots.values["approx"] = True
    if number.high is not None and number.high == int(number.high):
        slots.values["count_max"] = int(number.high)
    if number.of is not None:
        _of(slots, pieces, piece, number)


def _whole_of_sample(slots: Slots, numbers: list[Piece]) -> None:
    """`tugged 12, 4 rooted`: of as many as were looked at."""
    values = slots.values
    if not (values.get("sample") and "state" in values and "count" in values) or "of" in values:
        return
    rest = [piece for piece in numbers if not piece.used and piece.value.whole is not None]
    if rest and rest[0].value.whole <= values["count"]:
        values["of"], values["count"] = values["count"], rest[0].value.whole
        use(rest[0])


def _of(slots: Slots, pieces: list[Piece], piece: Piece, number: Number) -> None:
    if slots.act == "check":
        slots.values["of"] = number.of
    elif "lots" not in slots.values and "trays" not in slots.values and "plant" not in slots.values:
        slots.values.pop("count", None)
        slots.values.pop("approx", None)
        piece.used = False
        slots.asks.append("number")
    else:
        keep_whole(slots, pieces, piece)


def _how_often(slots: Slots, pieces: list[Piece]) -> None:
    """`x2`: how many times it was done that day."""
    if not slots.takes("times"):
        return
    for mark, piece in pairwise(pieces):
        counts = piece.kind == "number" and not piece.used and is_bare(piece)
        if counts and mark.low in ("x", "×") and "times" not in slots.values:
            slots.put("times", piece.value.whole, mark, piece)


def _explained(slots: Slots, pieces: list[Piece], numbers: list[Piece]) -> bool:
    """Whether a word beside one of two numbers says what it is: a sample, or those that are not (`27 rooted 9 not`)."""
    if slots.act != "check":
        return False
    second = pieces.index(numbers[1])
    denied = second + 1 < len(pieces) and "negation" in pieces[second + 1].roles
    return denied or bool(slots.values.get("sample"))
