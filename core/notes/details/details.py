"""Which detail does one piece of a clause fill: its kind and meanings, in the order of what they tell most surely."""

from __future__ import annotations

from fractions import Fraction
from typing import Any, Final

from core.entries import Amount
from core.notes.acts.slots import Slots, joined, use
from core.notes.counts.parts import of_a_part
from core.notes.deeds.ahead import UNTIL, lasts_to
from core.notes.details.days_filled import hours, ratio, when
from core.notes.details.things import container, thing
from core.notes.parting.vents import shuts_another
from core.notes.words.act_kinds import OPENING
from core.notes.words.numbers import Number
from core.notes.words.pieces import Piece
from core.vocabulary.loading import small_words

_WHOLLY: Final = small_words("covers", "wholly")
_EXCEPTING: Final = small_words("wholes", "excepting")
JOINING: Final = small_words("beside", "joining")
"""Words beside a further lot that make it one of those before (`lot 10 too`)."""
_AND: Final = frozenset({"and", "&", "+", "plus", "also"})
_TELLING: Final = frozenset({
    "act", "shared", "noun", "to_do", "plant", "medium", "container", "pot_size", "cutting", "wood", "filler", "what",
    "all", "vague", "none", "more", "hormone", "hormone_form", "hormone_name", "cause", "negation", "left", "both",
})  # fmt: skip
_BIGGEST_STICKING_POT: Final = 6
RANKING: Final = small_words("numbers", "ranking") | UNTIL
TAKES_ALL: Final = frozenset({"lose", "pot", "split", "sell", "give", "plant_out", "move"})


def by_kind(slots: Slots, pieces: list[Piece], place: int, piece: Piece) -> None:
    """Takes a piece by its kind (number with a unit, moment, lots), before its meanings."""
    kind = piece.kind
    if kind in ("lots", "trays"):
        _subject(slots, pieces, place, piece)
    elif kind == "shares" and slots.takes("source"):
        slots.values.setdefault("shares", []).extend((*share, (piece,)) for share in piece.value)
        use(piece)
    elif kind == "moment":
        if not lasts_to(pieces, place, apart=slots.clause.word is not None and piece not in slots.clause.pieces):
            when(slots, piece)
    elif kind == "hours":
        hours(slots, piece)
    elif kind == "duration":
        _length(slots, pieces, place, piece)
    elif kind == "times" and slots.takes("times"):
        slots.put("times", piece.value, piece)
    elif kind == "temp" and slots.takes("temp_c"):
        slots.put("temp_c", piece.value, piece)
    elif kind == "unitless" or (kind == "degrees" and slots.takes("temp_c")):
        slots.doubtful.append(piece)
        slots.asks.append("unit")
    elif kind == "ppm":
        hormone(slots, piece, ppm=piece.value)
    elif kind == "percent":
        _percent(slots, pieces, place, piece)
    elif kind == "amount":
        _amount(slots, pieces, place, piece)
    elif kind == "depth":
        if slots.act == "water":
            slots.put("depth_in", piece.value, piece)
            slots.values.setdefault("method", "tray")
    elif kind == "size":
        _size(slots, pieces, place, piece)
    elif kind == "colon":
        ratio(slots, pieces, piece)
    elif kind == "medium":
        if slots.takes("medium"):
            slots.put("medium", piece.value, piece)
    elif kind == "parts":
        if slots.takes("parts"):
            slots.put("parts", piece.value, piece)
    elif kind == "quote":
        if "plant" in slots.values and slots.act not in OPENING and "'" not in slots.values["plant"]:
            slots.values["plant"] += f" '{piece.value}'"
            use(piece)
        elif slots.act not in OPENING:
            slots.put("plant", f"'{piece.value}'", piece)
    elif kind in ("phrase", "word"):
        _phrase(slots, pieces, place, piece)


def _subject(slots: Slots, pieces: list[Piece], place: int, piece: Piece) -> None:
    counts = place > 1 and pieces[place - 2].kind == "number"
    if place and not counts and (pieces[place - 1].low in _EXCEPTING or "left" in pieces[place - 1].roles):
        return
    held = slots.values.get(piece.kind)
    if held is None:
        slots.put(piece.kind, piece.value, piece)
    elif held == piece.value:
        use(piece)
    elif slots.act == "merge" or _joins_before(pieces, place):
        slots.values[piece.kind] = tuple(dict.fromkeys((*held, *piece.value)))
        use(piece)


def _joins_before(pieces: list[Piece], place: int) -> bool:
    """`watered lot 9 then lot 10`; not the second lot of `lot 9 got more light than lot 10`."""
    before = next((at for at in range(place - 1, -1, -1) if pieces[at].kind == pieces[place].kind), None)
    if before is None or all(_only_joins(piece) for piece in pieces[before + 1 : place]):
        return True
    return pieces[place - 1].low in _AND and all(_only_joins(piece) for piece in pieces[place + 1 : place + 2])


def _only_joins(piece: Piece) -> bool:
    return piece.low in JOINING or piece.kind in ("break", "mark")


def _length(slots: Slots, pieces: list[Piece], place: int, piece: Piece) -> None:
    least, most = piece.value
    if (
        slots.takes("hormone")
        and least.seconds
        and least.seconds <= 60
        and (slots.act == "stick" or slots.values.get("treatment") == "hormone")
    ):
        hormone(slots, piece, seconds=least.seconds)
    elif slots.act == "air" and slots.values.get("duration") == least and not piece.used:
        # "20 min am and 20 min pm": twice that day.
        slots.values["times"] = (slots.values.get("times") or 1) + 1
        use(piece)
    elif slots.takes("duration") and slots.put("duration", least, piece) and most is not None:
        slots.values["duration_max"] = most


def hormone(slots: Slots, piece: Piece, **known: Any) -> None:
    """Takes what is known of a hormone; a second, different value is left over."""
    if not slots.takes("hormone"):
        return
    held: dict[str, Any] = slots.values.setdefault("hormone", {})
    for key, value in known.items():
        if held.setdefault(key, value) == value:
            use(piece)


def _percent(slots: Slots, pieces: list[Piece], place: int, piece: Piece) -> None:
    number: Number = piece.value
    near = {role for other in pieces[max(0, place - 3) : place + 4] for role in other.roles}
    if "stock" in near:
        return
    if slots.act == "mix" and _of_hormone(pieces):
        slots.values.setdefault("solution", "hormone")
    if slots.act == "temp" or ("humidity" in near and slots.takes("humidity")):
        if number.value <= 100:
            slots.put("humidity", round(number.value / 100, 4), piece)
        return
    of_hormone = (slots.takes("hormone") and slots.act != "mix") or slots.values.get("solution") == "hormone"
    if of_hormone and (near & {"hormone_name", "hormone", "hormone_form"} or slots.act == "stick"):
        hormone(slots, piece, ppm=round(number.value * 10000, 4))
        return
    if slots.act == "vent" and number.value <= 100:
        slots.put("vent_open", number.value / 100, piece)
    elif slots.takes("share") and number.value <= 100:
        slots.put("share", round(number.value / 100, 4), piece)
        if number.approx:
            slots.values["approx"] = True
    elif slots.takes("solution") and "solution" in near and slots.act == "sanitize":
        _use_nothing()


def _of_hormone(pieces: list[Piece]) -> bool:
    """`0.3% iba in talc`: a hormone by its name, and no other solution."""
    told = [one.roles.get("solution") for one in pieces if "solution" in one.roles]
    return all(one == "hormone" for one in told) and (
        bool(told) or any(one.roles.keys() & {"hormone", "hormone_name"} for one in pieces)
    )


def _use_nothing() -> None:
    return None


def _sized(slots: Slots, pieces: list[Piece], place: int, size: str) -> None:
    """`in rose pots`, `in 20 rose pots`: pots of a size that goes by a name, and how many."""
    held: dict[str, Any] = {"kind": "pot", "size": size}
    number = pieces[place - 1] if place > 1 and pieces[place - 2].low in ("in", "into") else None
    if number is None or number.kind != "number" or number.used or not number.value.whole:
        slots.put("container", held, pieces[place])
        return
    slots.put("container", {**held, "count": number.value.whole}, pieces[place], number)


def _counted_before(pieces: list[Piece], place: int) -> bool:
    """`sowed 12 1 gals of oak`: so many pots."""
    return place > 0 and pieces[place - 1].kind == "number" and pieces[place].low.endswith(("gals", "gallons"))


def _amount(slots: Slots, pieces: list[Piece], place: int, piece: Piece) -> None:
    value, unit, number = piece.value
    following = pieces[place + 1] if place + 1 < len(pieces) else None
    potlike = (
        following is not None
        and "container" in following.roles
        and following.roles["container"] in ("pot", "liner", "tube")
    )
    held = slots.values.get("container") or {}
    if unit == "packet" and held.get("kind") in ("six-pack", "four-pack") and value == int(value):
        if held.setdefault("count", int(value)) == value:
            use(piece)
        return
    if unit == "gal" and slots.values.get("per") and value == int(value):
        slots.put("container", {"kind": "pot", "size": "1 gal", "count": int(value)}, piece)
        slots.put("count", slots.values["per"] * int(value))
        return
    if unit == "g" and slots.act in ("pot", "divide", "stick") and piece.low in ("1g", "2g", "3g", "5g", "15g"):
        unit = "gal"
    led = place > 0 and pieces[place - 1].low in ("in", "into")
    gallons = slots.act == "sow" and unit == "gal" and (led or _counted_before(pieces, place))
    potted = slots.act in ("pot", "divide", "stick") or gallons
    if slots.takes("container") and ((unit in ("gal", "qt", "pt") and potted) or (unit == "gal" and potlike)):
        size = f"{value:g} {unit}"
        used = [piece, following] if potlike and following is not None else [piece]
        slots.put("container", {"kind": "pot", "size": size}, *used)
    elif slots.takes("volume"):
        slots.put("volume", Amount(value=value, unit=unit), piece)
    elif slots.act == "sow" and unit == "cup" and led:
        slots.put("container", {"kind": "cup", "count": int(value)}, piece)
    elif slots.act == "sow" and piece.low.endswith("gals") and slots.values.get("container"):
        return
    elif slots.takes("amount"):
        slots.put("amount", Amount(value=value, unit=unit), piece)
    elif unit == "bag" and slots.act in ("cover", "air") and number is not None:
        return


def _size(slots: Slots, pieces: list[Piece], place: int, piece: Piece) -> None:
    following = pieces[place + 1] if place + 1 < len(pieces) else None
    if slots.act == "water" and (following is None or "container" not in following.roles):
        slots.put("depth_in", float(sum(Fraction(part) for part in piece.value.removesuffix(" in").split())), piece)
        slots.values.setdefault("method", "tray")
    elif slots.act == "stick" and _no_pot(following) and _is_long(piece):
        return
    elif slots.takes("container"):
        used = [piece]
        kind = "pot"
        if following is not None and "container" in following.roles:
            used.append(following)
            kind = following.roles["container"] if following.roles["container"] in ("liner", "band", "tube") else "pot"
        held: dict[str, Any] | None = slots.values.get("container")
        if held is not None and held["kind"] == "pot" and "size" not in held and pieces[place - 1].low == "of":
            slots.values["container"] = {**held, "size": piece.value}
            use(piece, pieces[place - 1])
            return
        slots.put("container", {"kind": kind, "size": piece.value}, *used)
    elif slots.takes("things") and following is not None and "thing" in following.roles:
        following.first = piece.first
        use(piece)


def _no_pot(following: Piece | None) -> bool:
    return following is None or "container" not in following.roles


def _is_long(piece: Piece) -> bool:
    """`stuck 33 dogwood hw 8 in`: how long the cuttings are, where no cutting is stuck in a pot so big."""
    return float(sum(Fraction(part) for part in piece.value.removesuffix(" in").split())) > _BIGGEST_STICKING_POT


def _phrase(slots: Slots, pieces: list[Piece], place: int, piece: Piece) -> None:
    roles = piece.roles
    if "for_good" in roles and slots.act in ("air", "uncover", "cover"):
        if slots.act == "air":
            slots.act = "uncover"
        use(piece)
    elif "vent_open" in roles and slots.takes("vent_open"):
        if not shuts_another(pieces, place):
            slots.put("vent_open", roles["vent_open"], piece)
        if "apiece" in roles:
            slots.values["apiece"] = roles["apiece"]
    elif "medium" in roles and slots.takes("medium"):
        slots.put("medium", roles["medium"], piece)
    elif "solution" in roles and slots.takes("solution"):
        slots.put("solution", roles["solution"], piece)
    elif (
        "hormone_form" in roles
        and slots.takes("hormone")
        and slots.values.get("treatment") in (None, "hormone")
        and (slots.act != "mix" or (slots.values.get("solution") == "hormone" and piece.low != "solution"))
    ):
        hormone(slots, piece, form=roles["hormone_form"])
    elif slots.act == "mix" and piece.low == "solution":
        use(piece)
    elif "hormone_name" in roles and slots.takes("hormone"):
        hormone(slots, piece, name=roles["hormone_name"])
        if slots.act == "mix":
            slots.values.setdefault("solution", "hormone")
        elif slots.act == "treat":
            slots.values.setdefault("treatment", "hormone")
    elif ("hormone" in roles and slots.act == "mix") or ("hormone_name" in roles and slots.act == "pour_out"):
        slots.put("solution", "hormone", piece)
    elif "hormone" in roles and (slots.takes("hormone") or slots.act == "pour_out"):
        if slots.act == "pour_out":
            slots.put("solution", "hormone", piece)
        else:
            use(piece)
    elif ("pot_size" in roles or "container" in roles) and slots.takes("things"):
        thing(slots, pieces, place, piece)
    elif "pot_size" in roles and slots.takes("container"):
        _sized(slots, pieces, place, roles["pot_size"])
    elif "thing" in roles and slots.takes("things"):
        thing(slots, pieces, place, piece)
    elif "container" in roles and slots.takes("container"):
        container(slots, pieces, place, piece)
    elif "wood" in roles and slots.takes("wood"):
        slots.put("wood", roles["wood"], piece)
    elif "what" in roles and slots.takes("what"):
        slots.put("what", roles["what"], piece)
    elif roles.get("what") == "divisions" and slots.act == "divide":
        use(piece)
    elif "cutting" in roles and slots.act == "collect":
        slots.put("what", "cuttings", piece)
    elif "cutting" in roles and slots.takes("cutting"):
        slots.put("cutting", roles["cutting"], piece)
    elif "method" in roles and slots.act == "water" and slots.values.get("method", roles["method"]) == roles["method"]:
        slots.put("method", roles["method"], piece)
    elif "cause" in roles and slots.takes("cause"):
        slots.put("cause", roles["cause"], piece)
    elif "times" in roles and slots.takes("times") and piece.low != "once":
        slots.put("times", int(roles["times"]), piece)
    elif ("humidity" in roles and slots.act == "temp") or ("temp_word" in roles and slots.act == "temp"):
        use(piece)
    elif "plant" in roles and slots.act not in OPENING and "plant" not in slots.values:
        _plant(slots, pieces, place, piece)
    elif "all" in roles and not of_a_part(pieces, place):
        _all(slots, piece)


def _plant(slots: Slots, pieces: list[Piece], place: int, piece: Piece) -> None:
    used = [piece]
    start = place
    while start and place - start < 3 and _may_qualify(pieces[start - 1]):
        start -= 1
    if start and _counts(pieces[start - 1]):
        used = pieces[start : place + 1]
    name = joined(slots.tokens, used[0].first, piece.last)
    following = pieces[place + 1] if place + 1 < len(pieces) else None
    if following is not None and following.kind == "quote":
        name += f" '{following.value}'"
        used.append(following)
    slots.put("plant", name, *used)


def _may_qualify(piece: Piece) -> bool:
    """`hot rock penstemon`, `bog rosemary`: words that may be part of the name of the plant after them."""
    return not piece.used and (piece.kind == "word" or (piece.kind == "phrase" and _TELLING.isdisjoint(piece.roles)))


def _counts(piece: Piece) -> bool:
    """Between a count and a known plant the words are part of the plant's name."""
    return piece.kind in ("number", "fraction") or "vague" in piece.roles or "all" in piece.roles


def _all(slots: Slots, piece: Piece) -> None:
    if slots.act in TAKES_ALL:
        if not any(slots.values.get(name) is not None for name in ("count", "share")):
            slots.put("all_of", True, piece)
    elif slots.act == "check":
        if slots.values.get("state") and "count" not in slots.values:
            slots.put("share", 1.0, piece)
    elif slots.act == "vent":
        return
    else:
        if slots.act == "air" and piece.low in _WHOLLY:
            slots.act = "uncover"
        use(piece)
