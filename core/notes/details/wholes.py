"""Out of how many: fractions, "all but", and what is not, each as a count with its whole, a share, or a day."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise
from typing import Final

from core.notes.acts.slots import Slots, joined, use
from core.notes.counts.parts import of_a_part
from core.notes.days.moments import Moment, resolve_past
from core.notes.details.days_filled import when
from core.notes.words.act_kinds import COUNTLESS
from core.notes.words.numbers import SHARES
from core.notes.words.pieces import SUBJECTS, Piece, is_act
from core.notes.words.said import is_end
from core.vocabulary.loading import small_words

_ARTICLES: Final = frozenset({"the", "those", "these", "my", "our", "a"})
_SHARED: Final = small_words("wholes", "shared")
_BEFORE_SHARES: Final = small_words("wholes", "before_shares")
_LATE: Final = 45
"""A day so many days ago may stand behind a deed without "on"."""
_COUNTED: Final = frozenset({"sell", "give", "pot"})
_SOME: Final = _COUNTED | {"plant_out"}
_NOW: Final = small_words("old_and_new", "now") - {"today"}
_LESSENING: Final = frozenset({"lose", "tend", "sell", "give", "pot", "plant_out"})
_BEING: Final = frozenset({"at", "is", "are", "have", "has", "its", "it's", "theres", "there's"})


def left(slots: Slots, pieces: list[Piece], place: int, piece: Piece) -> None:
    """`all but 3`, `all but the 3 best`: how many an act left."""
    after = pieces[place + 1 :]
    following = after[1] if len(after) > 1 and after[0].low in _ARTICLES else after[0] if after else None
    if (
        following is not None
        and following.kind == "number"
        and not following.used
        and following.value.whole is not None
    ):
        if not slots.takes("left"):
            following.kind = "exception"
        else:
            if following.value.of is not None:
                slots.values.setdefault("lots", (str(following.value.of),))
            slots.put("left", following.value.whole, piece, following)


def down_to(slots: Slots, pieces: list[Piece]) -> None:
    """`culled lot 58 down to 30`, `pulled the dead, now 41`: how many a loss left; beside another count the number is
    kept.
    """
    if slots.act not in _LESSENING:
        return
    numbers = [piece for piece in pieces if piece.kind == "number" and not piece.used]
    counted = any(slots.values.get(name) is not None for name in ("count", "share", "all_of"))
    for place, number in enumerate(pieces):
        led = _lead_of_left(slots, pieces, place) if number.kind == "number" else None
        if led is None:
            continue
        if slots.takes("left") and number.value.whole is not None and not counted and numbers == [number]:
            slots.put("left", number.value.whole, *led, number)
        elif led or numbers == [number]:
            number.kind = "exception"


def _lead_of_left(slots: Slots, pieces: list[Piece], place: int) -> list[Piece] | None:
    """The words that make a number what is left (`down to`, the `to` of `culled lot 31 to 41`), or no words where
    `now` beside it does; None for any other number.
    """
    lead = [piece.low for piece in pieces[max(0, place - 2) : place]]
    if lead == ["down", "to"]:
        return pieces[place - 2 : place]
    if lead[1:] == ["to"] and slots.act == "lose" and is_end(pieces, place + 1):
        before = pieces[place - 2]
        told = before.kind in SUBJECTS or before.low == "back" or is_act(before)
        return pieces[place - 1 : place] if told and pieces[place].value.high is None else None
    some = slots.act == "lose" or slots.clause.has("vague")
    return [] if some and slots.act != "tend" and _is_of_now(pieces, place) else None


def _is_of_now(pieces: list[Piece], place: int) -> bool:
    """The 41 of `lost some, 41 now`; not that of `lost 5 now`, `now 5 dead`, which counts what became of them."""
    start, end = place - 1, place + 1
    while start >= 0 and pieces[start].low in _BEING:
        start -= 1
    led = start >= 0 and pieces[start].low in _NOW
    closed = not led and end < len(pieces) and pieces[end].low in _NOW
    of_deed = start >= led and is_act(pieces[start - led])
    after = pieces[end + closed] if end + closed < len(pieces) else None
    return (led or closed) and not of_deed and not (after is not None and _counts_before(after))


def _counts_before(piece: Piece) -> bool:
    word = piece.roles.get("act") or piece.roles.get("noun")
    return word is not None and word.counts_before


def not_so_many(slots: Slots, pieces: list[Piece], place: int, piece: Piece) -> None:
    """`31 rooted 41 not`: the whole is both together; `not rooted` is nought; of a part (`other half not`) neither."""
    if of_a_part(pieces, place) or slots.values.get("share") is not None:
        return
    before = pieces[place - 1] if place else None
    if (
        before is not None
        and before.kind == "number"
        and not before.used
        and before.value.whole is not None
        and "count" in slots.values
    ):
        slots.put("of", slots.values["count"] + before.value.whole, before, piece)
    elif "count" not in slots.values and not any(one.kind in ("number", "fraction") and not one.used for one in pieces):
        slots.put("count", 0, piece)


def _leads(slots: Slots, pieces: list[Piece], place: int) -> bool:
    """Whether a piece stands before the act: on its own, or right before the word for it."""
    if pieces[place].first < slots.clause.first:
        return True
    return place == 0 and len(pieces) > 1 and "act" in pieces[1].roles


def _is_of_another_whole(pieces: list[Piece], place: int) -> bool:
    """`lost 1/2 a tray of lot 6`, `1/3 lost 4 in lot 6`: no share of the plants, or beside their count a day."""
    after = pieces[place + 1] if place + 1 < len(pieces) else None
    part = after is not None and (after.low in ("a", "an", "dozen") or "container" in after.roles)
    return part or any(piece.kind == "number" and not piece.used for piece in pieces)


def _is_day(slots: Slots, pieces: list[Piece], place: int) -> bool:
    """Whether `1/4` beside a deed of care is a day of late, and no share (`fed at 1/4 strength`, `1/2 of tray 4`)."""
    if place and pieces[place - 1].low == "on":
        return True
    after = pieces[place + 1] if place + 1 < len(pieces) else None
    if (place and pieces[place - 1].low in _BEFORE_SHARES) or (after is not None and after.low in _SHARED):
        return False
    month, day, _ = pieces[place].value
    found = resolve_past(Moment(month=month, day=day), slots.now)
    return found is not None and date(found.year, found.month, found.day) >= slots.now.date() - timedelta(days=_LATE)


def _is_of_those(pieces: list[Piece], place: int) -> bool:
    """`potted 12/20 of lot 5`: so many of them, and no day."""
    after = pieces[place + 1 : place + 3]
    return len(after) > 1 and after[0].low in ("of", "from") and after[1].kind in SUBJECTS


def _is_of_plants(pieces: list[Piece], place: int) -> bool:
    """`collected 4/12 of the milkweed`: a part of them, perhaps, and no day; `on 4/12 of this year` is one."""
    led = place > 0 and pieces[place - 1].low == "on"
    after = [piece for piece in pieces[place + 1 : place + 4] if piece.low not in _ARTICLES]
    return not led and len(after) > 1 and after[0].low == "of" and "plant" in after[1].roles


def _may_count(slots: Slots, pieces: list[Piece], place: int) -> bool:
    """`tray 2 potted 12/16`: no day of late, and perhaps twelve of sixteen where nothing else counts; it is asked."""
    above, below, _ = pieces[place].value
    others = [piece for piece in pieces if piece.kind == "number" or "all" in piece.roles]
    apart = slots.act in _SOME and above <= below and not others and "count" not in slots.values
    return apart and not _is_of_those(pieces, place) and not _is_day(slots, pieces, place)


def _counts_itself(slots: Slots, pieces: list[Piece], place: int) -> bool:
    """`12/40 lost 4`: a deed that has its count after it, so that a whole before it is told of something else."""
    word = slots.clause.word
    if word is None or word.counts_before:
        return False
    told = pairwise(pieces[place + 1 :])
    return any(deed.roles.get("act") is word and after.kind == "number" for deed, after in told)


def out_of(slots: Slots, pieces: list[Piece], place: int, piece: Piece) -> None:
    """What `12/40`, `1/2` or `3/5` says of an act: a count out of a whole, a share, or a day."""
    above, below, approx = piece.value
    if place and pieces[place - 1].low in ("lot", "lots", "tray", "trays"):
        slots.asks.append("number")
        return
    if slots.act == "vent" and below and above <= below:
        slots.put("vent_open", above / below, piece)
        return
    if (slots.act == "mix" and not _leads(slots, pieces, place)) or _may_count(slots, pieces, place):
        return
    if below > 31 and _led_by_on(pieces, place) and any(one.kind == "number" for one in pieces):
        _ask_day(slots, piece)
        return
    if slots.act in COUNTLESS or slots.act in ("move", "temp", "sell", "give", "pot"):
        if (above, below) in SHARES and not _is_day(slots, pieces, place):
            return
        if above <= below and _is_of_those(pieces, place):
            if slots.act in _COUNTED and "count" not in slots.values:
                slots.put("count", above, piece)
            return
        if "on" not in slots.values and below <= 31 and 1 <= above <= 12:
            piece.value = Moment(month=above, day=below)
            piece.kind = "moment"
            when(slots, piece)
            if "date" in slots.asks:
                piece.used = False
        elif (slots.act in COUNTLESS and 1 <= above <= 12) or _led_by_on(pieces, place):
            _ask_day(slots, piece)
        return
    if slots.act == "check" and (above, below) in SHARES and "count" not in slots.values:
        slots.put("share", round(above / below, 4), piece)
        if approx:
            slots.values["approx"] = True
    elif slots.act == "check" and above <= below:
        if "count" not in slots.values:
            slots.values["count"] = above
            slots.values["of"] = below
            if approx:
                slots.values["approx"] = True
            use(piece)
    elif slots.act == "lose" and above <= below and "count" not in slots.values:
        if _counts_itself(slots, pieces, place):
            return
        if (above, below) in SHARES:
            if not _is_of_another_whole(pieces, place):
                slots.put("share", round(above / below, 4), piece)
        else:
            slots.put("count", above, piece)
    elif (above, below) in SHARES and not _led_by_on(pieces, place):
        return
    elif above <= below and _is_of_plants(pieces, place):
        slots.asks.append("number")
    elif "on" not in slots.values and below <= 31 and 1 <= above <= 12:
        piece.value = Moment(month=above, day=below)
        piece.kind = "moment"
        when(slots, piece)
    elif "on" not in slots.values and _led_by_on(pieces, place):
        _ask_day(slots, piece)


def _led_by_on(pieces: list[Piece], place: int) -> bool:
    """`stuck 30 toyon on 13/45`: a day, though there is none of that name."""
    return place > 0 and pieces[place - 1].low == "on"


def _ask_day(slots: Slots, piece: Piece) -> None:
    slots.doubtful.append(piece)
    slots.asks.append("date")


def nought_of(slots: Slots, numbers: list[Piece]) -> None:
    """`lot 22 didn't root, 0 of 20`: out of how many none is."""
    for piece in numbers:
        nought = not piece.used and slots.values.get("count") == piece.value.value == 0
        if slots.act == "check" and nought and piece.value.of is not None:
            slots.put("of", piece.value.of, piece)


def keep_whole(slots: Slots, pieces: list[Piece], piece: Piece) -> None:
    """`lost 4 of 30`: out of how many, which only a check has, is kept for the rest."""
    inside = range(piece.first + 1, piece.last)
    first = next((at for at in inside if slots.tokens[at].low in ("of", "out")), None)
    if first is not None:
        whole = Piece("whole", piece.value.of, first, piece.last, joined(slots.tokens, first, piece.last))
        pieces.insert(pieces.index(piece) + 1, whole)
        piece.last = first


def whole_after(slots: Slots, pieces: list[Piece], place: int) -> None:
    """`41 alive of 48`, `7 dead of 48`: out of how many, where the state stands between; a loss only keeps it."""
    at = place + 1
    if at + 1 < len(pieces) and pieces[at].low in ("its", "the", "those", "these"):
        at += 1
    following = pieces[at] if at < len(pieces) else None
    if following is None or following.kind != "number" or following.used:
        return
    if following.value.whole is None or following.value.of is not None:
        return
    others = [one for one in pieces if one.kind == "number" and one is not following]
    later = not others and slots.values.get("count") is not None and pieces is not slots.clause.pieces
    if len(others) != 1 and not later:
        return
    many = others[0].value.value if others else slots.values["count"]
    before = not others or pieces.index(others[0]) > place
    if before and many > following.value.value:
        # "Out of 4 in pots, 12 left".
        return
    if slots.act == "check" and "of" not in slots.values:
        if others and others[0].value.each:
            each = tuple({"of": following.value.whole, **one} for one in others[0].value.each)
            others[0].value = replace(others[0].value, each=each)
        slots.put("of", following.value.whole, pieces[place], following)
    elif slots.act == "lose" and others and place and pieces.index(others[0]) < place - 1:
        following.kind = "whole"
