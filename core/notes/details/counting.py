"""How many, out of how many: the numbers of a clause that nothing else used.

Rules
1. One bare number is the count of an act that counts, and the lot of one that does not.
2. Two bare numbers without a subject are a question; neither is taken.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from core.notes.acts.slots import Slots, use
from core.notes.counts.parts import of_a_part
from core.notes.details.apiece import says_each
from core.notes.details.details import RANKING
from core.notes.details.lots_after import lot_after_preposition
from core.notes.details.meanings import hormone
from core.notes.details.no_counts import is_no_count
from core.notes.details.place_names import list_start, numbers_place
from core.notes.details.things import count_things
from core.notes.details.vessels import is_vessel
from core.notes.details.wholes import down_to, keep_whole, left, not_so_many, nought_of, out_of, whole_after
from core.notes.words.act_kinds import COUNTLESS, OPENING
from core.notes.words.numbers import Number
from core.notes.words.pieces import Piece
from core.vocabulary.loading import small_words

_LASTING: Final = frozenset({"soak", "smoke", "acid", "cold_stratify", "warm_stratify"})
_LINKS: Final = small_words("counting", "links")
_HEATED: Final = frozenset({"at", "@"})
_LOTLESS: Final = frozenset({"mix", "pour_out", "sanitize", "temp"})


def counts(slots: Slots, pieces: list[Piece]) -> None:
    """The count, its range and its whole, from the numbers that nothing else used."""
    if slots.act not in _LOTLESS:
        lot_after_preposition(slots, pieces)
    _how_often(slots, pieces)
    down_to(slots, pieces)
    for place, piece in enumerate(pieces):
        if piece.used:
            continue
        if piece.kind == "either" or (piece.kind == "tally" and slots.act in ("check", "lose")):
            slots.asks.append("number")
        elif piece.kind == "fraction":
            out_of(slots, pieces, place, piece)
        elif piece.kind == "number" and 0 < piece.value.value < 1:
            name = "vent_open" if slots.act == "vent" else "share"
            if slots.takes(name) and slots.values.get("count") is None:
                slots.put(name, round(piece.value.value, 4), piece)
        elif "left" in piece.roles:
            left(slots, pieces, place, piece)
        elif "none" in piece.roles and slots.act == "check":
            counted = place + 1 < len(pieces) and pieces[place + 1].kind == "fraction"
            if not counted and not _none_of_another(slots, pieces, place) and not of_a_part(pieces, place):
                slots.put("count", 0, piece)
        elif "negation" in piece.roles and slots.act == "check":
            not_so_many(slots, pieces, place, piece)
        elif "fraction" in piece.roles and slots.takes("share") and "vent_open" not in slots.values:
            if "count" not in slots.values:
                slots.put("share", round(piece.roles["fraction"], 4), piece)
                if place and "approx" in pieces[place - 1].roles:
                    slots.values["approx"] = True
                    use(pieces[place - 1])
        elif piece.low in ("of", "out of") and slots.act in ("check", "lose"):
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
        _numbers_as_lots(slots, pieces, numbers)
        return
    _number_counts(slots, pieces, _parted(slots, pieces, numbers))
    _about_after(slots, pieces)
    says_each(slots, pieces)
    for place, piece in enumerate(pieces):
        if "negation" in piece.roles and not piece.used and slots.act == "check":
            not_so_many(slots, pieces, place, piece)


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
    """The numbers that may count: not two that stand side by side (`1 200`), of which either could be meant; `2 x 24`
    is their product.
    """
    kept = list(numbers)
    for place, piece in enumerate(pieces[:-1]):
        following = pieces[place + 1]
        if piece in kept and following in kept and _bare(piece) and _bare(following) and piece.low.isdigit():
            if any(slots.values.get(name) is not None for name in ("lots", "trays", "plant", "count")):
                slots.asks.append("number")
                kept = [one for one in kept if one not in (piece, following)]
        elif piece.kind == "times" and not piece.used and following in kept and slots.act in OPENING:
            product = piece.value * (following.value.whole or 0)
            if product and "count" not in slots.values:
                slots.put("count", product, piece, following)
    return kept


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


def _numbers_as_lots(slots: Slots, pieces: list[Piece], numbers: list[Piece]) -> None:
    named = any(slots.values.get(name) for name in ("lots", "trays", "plant"))
    if not named and len(numbers) > 1 and sum(_bare(piece) for piece in numbers) == len(numbers):
        slots.asks.append("number")
        return
    for piece in numbers:
        place = pieces.index(piece)
        before = pieces[place - 1].low if place else ""
        number: Number = piece.value
        if (before in ("for", "about") and slots.takes("duration")) or (
            number.whole is None or number.of is not None or number.approx
        ):
            if slots.takes("duration"):
                slots.asks.append("unit")
            continue
        led = pieces[list_start(pieces, place) - 1] if list_start(pieces, place) else None
        if led is not None and led.kind == "word" and not led.used:
            continue
        if before in _HEATED and slots.takes("temp_c") and number.value > 30:
            slots.asks.append("unit")
            continue
        if before in ("x", "since", "til", "till", "until") or slots.act == "wilt" or before in RANKING:
            continue
        after = pieces[place + 1] if place + 1 < len(pieces) else None
        if after is not None and after.kind == "compared":
            continue
        counts_seed = after is not None and bool(after.roles.keys() & {"plant", "what", "source_name"})
        if (
            slots.takes("temp_c")
            and number.value >= 100
            and slots.values.get("treatment") == "hot_water"
            and not counts_seed
        ):
            slots.asks.append("unit")
            continue
        if slots.takes("hormone") and number.value >= 500 and slots.values.get("hormone"):
            hormone(slots, piece, ppm=number.value)
            continue
        if is_no_count(slots, pieces, piece):
            continue
        of_them = after is not None and after.low in ("of them", "of em", "of those", "of these")
        if of_them and slots.act in ("tend", "hold", "treat", "harden") and "count" not in slots.values:
            slots.put("count", number.whole, piece)
            continue
        if "lots" in slots.values or "trays" in slots.values or "plant" in slots.values:
            last = slots.act != "treat" or (after is None and slots.values.get("treatment") in _LASTING)
            if slots.takes("duration") and "duration" not in slots.values and last:
                slots.asks.append("unit")
            elif (
                "count" not in slots.values
                and slots.act in ("tend", "hold", "treat", "harden")
                and place + 1 < len(pieces)
            ):
                slots.put("count", number.whole, piece)
            continue
        if number.high is not None:
            low, high = int(number.value), int(number.high)
            if high - low < 60:
                slots.values["lots"] = tuple(str(one) for one in range(low, high + 1))
                use(piece)
            continue
        if not piece.low.isdigit() or (
            place + 1 < len(pieces)
            and not pieces[place + 1].used
            and pieces[place + 1].kind in ("word", "phrase")
            and not _is_link(pieces[place + 1])
        ):
            continue
        slots.values["lots"] = (piece.low,)
        slots.values["loose"] = True
        use(piece)


def _after_deed_first(pieces: list[Piece], numbers: list[Piece]) -> list[Piece]:
    """`tray 3 started at 24 lost 6`: the count right after a deed before one that stands before it."""
    for place, (deed, after) in enumerate(pairwise(pieces)):
        word = deed.roles.get("act")
        of_plant = any("plant" in piece.roles for piece in pieces[place + 2 : place + 3])
        if word is not None and not word.counts_before and not of_plant and any(after is one for one in numbers):
            return [after, *(one for one in numbers if one is not after)]
    return numbers


def _right_before_deed(slots: Slots, pieces: list[Piece], piece: Piece) -> bool:
    after = pieces[pieces.index(piece) + 1 :]
    return bool(after) and slots.clause.word in (after[0].roles.get("act"), after[0].roles.get("shared"))


def _counts_vessels(pieces: list[Piece], piece: Piece) -> bool:
    """`lot 22: 36 sixpacks 12 4in 4 tossed`: the numbers of the packs and pots, where those lost are counted apart."""
    place = pieces.index(piece) + 1
    return place < len(pieces) and is_vessel(pieces[place])


def _is_link(piece: Piece) -> bool:
    return piece.low in _LINKS


def _stands_alone(pieces: list[Piece], piece: Piece) -> bool:
    """Whether nothing unread that it might count follows a number."""
    place = pieces.index(piece)
    if place + 1 >= len(pieces):
        return True
    following = pieces[place + 1]
    return following.used or following.kind not in ("word", "phrase") or _is_link(following)


def _of_all(pieces: list[Piece], piece: Piece) -> bool:
    """`dumped all 20`: how many all of them were, no lot."""
    place = pieces.index(piece)
    return place > 0 and "all" in pieces[place - 1].roles


def _number_counts(slots: Slots, pieces: list[Piece], numbers: list[Piece]) -> None:
    values = slots.values
    if slots.act == "sanitize":
        count_things(slots, pieces, numbers)
        return
    if slots.act == "mix":
        for piece in numbers:
            if piece.value.high is not None and not piece.value.dashed and piece.value.whole is not None:
                slots.put("parts", (piece.value.whole, int(piece.value.high)), piece)
        _turned_parts(slots, pieces)
        return
    if slots.act == "merge":
        if "lots" not in values and "trays" not in values:
            named = [piece for piece in numbers if piece.low.isdigit()]
            if named:
                slots.put("lots", tuple(piece.low for piece in named), *named)
        return
    if slots.act in ("pour_out", "roster", "note"):
        return
    if slots.act == "temp":
        if numbers and "temp_c" not in values and "humidity" not in values:
            slots.asks.append("unit")
        return
    if slots.takes("hormone") and values.get("hormone"):
        for piece in list(numbers):
            if piece.value.value >= 500 and len(numbers) > 1 and "ppm" not in values["hormone"]:
                hormone(slots, piece, ppm=piece.value.value)
                numbers.remove(piece)
    counted = "count" in values or "share" in values or "all_of" in values or "left" in values
    subject = "lots" in values or "trays" in values or "plant" in values
    if not counted and not subject:
        if len(numbers) > 1 and all(_bare(piece) for piece in numbers) and not _explained(slots, pieces, numbers):
            slots.asks.append("number")
            return
        if len(numbers) == 1 and numbers[0].value.dashed and slots.act not in OPENING:
            slots.asks.append("number")
            return
    if (
        counted
        and not subject
        and pieces is slots.clause.pieces
        and len(numbers) == 1
        and _bare(numbers[0])
        and numbers[0].low.isdigit()
        and _stands_alone(pieces, numbers[0])
        and not _of_all(pieces, numbers[0])
    ):
        slots.put("lots", (numbers[0].low,), numbers[0])
        return
    numbers = [piece for piece in numbers if not is_no_count(slots, pieces, piece)]
    if slots.act == "lose" and len(numbers) > 1 and _right_before_deed(slots, pieces, numbers[-1]):
        numbers = [piece for piece in numbers if not _counts_vessels(pieces, piece)]
    for piece in _after_deed_first(pieces, numbers):
        if counted:
            break
        number: Number = piece.value
        if number.whole is None:
            continue
        counted = True
        slots.put("count", number.whole, piece)
        if number.each:
            values["apiece"] = number.each
        if number.approx:
            values["approx"] = True
        if number.high is not None and number.high == int(number.high):
            values["count_max"] = int(number.high)
        if number.of is not None:
            _of(slots, pieces, piece, number)
    nought_of(slots, numbers)
    if values.get("sample") and "state" in values and "count" in values and "of" not in values:
        rest = [piece for piece in numbers if not piece.used and piece.value.whole is not None]
        if rest and rest[0].value.whole <= values["count"]:
            values["of"], values["count"] = values["count"], rest[0].value.whole
            use(rest[0])


def _turned_parts(slots: Slots, pieces: list[Piece]) -> None:
    """`9 to 1`, said of a solution: nine of water to one of it."""
    for place in range(len(pieces) - 2):
        water, joint, stuff = pieces[place : place + 3]
        if water.kind != "number" or stuff.kind != "number" or joint.low != "to":
            continue
        if stuff.value.whole == 1 and water.value.whole is not None and "parts" not in slots.values:
            slots.put("parts", (1, water.value.whole), water, joint, stuff)


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
    for mark, piece in pairwise(pieces):
        counts = piece.kind == "number" and not piece.used and _bare(piece)
        if counts and mark.low in ("x", "×") and slots.takes("times") and "times" not in slots.values:
            slots.put("times", piece.value.whole, mark, piece)


def _explained(slots: Slots, pieces: list[Piece], numbers: list[Piece]) -> bool:
    """Whether a word beside one of two numbers says what it is: a sample, or those that are not (`27 rooted 9 not`)."""
    if slots.act != "check":
        return False
    second = pieces.index(numbers[1])
    denied = second + 1 < len(pieces) and "negation" in pieces[second + 1].roles
    return denied or bool(slots.values.get("sample"))


def _bare(piece: Piece) -> bool:
    number: Number = piece.value
    plain = number.high is None and number.of is None and not number.approx and not number.each
    return number.whole is not None and plain
