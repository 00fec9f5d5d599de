"""Which detail does one piece of a clause fill: its kind and meanings, in the order of what they tell most surely."""

from __future__ import annotations

from fractions import Fraction
from typing import Any, Final

from core.entries import Amount
from core.notes.acts.slots import Slots, use
from core.notes.deeds.ahead import UNTIL, lasts_to
from core.notes.deeds.either_or import KIND as EITHER
from core.notes.details.days_filled import hours, ratio, when
from core.notes.details.meanings import by_meaning, hormone
from core.notes.words.act_kinds import OPENING
from core.notes.words.numbers import Number
from core.notes.words.pieces import Piece
from core.vocabulary.loading import read_toml, small_words

_EXCEPTING: Final = small_words("wholes", "excepting")
JOINING: Final = small_words("beside", "joining")
"""Words beside a further lot that make it one of those before (`lot 10 too`)."""
_AND: Final = frozenset({"and", "&", "+", "plus", "also"})
_BIGGEST_STICKING_POT: Final = 6
_STRENGTHS: Final = read_toml("small_words.toml")["quantities"]
_MOST_PERCENT: Final[tuple[float, float]] = (_STRENGTHS["most_percent"], _STRENGTHS["most_percent_named"])
"""More than this is no strength of a hormone: where none is named, and where one is."""
RANKING: Final = small_words("numbers", "ranking") | UNTIL


def by_kind(slots: Slots, pieces: list[Piece], place: int, piece: Piece) -> None:
    """Takes a piece by its kind (number with a unit, moment, lots), before its meanings."""
    kind = piece.kind
    if kind in ("phrase", "word"):
        if piece.roles:
            by_meaning(slots, pieces, place, piece)
    elif kind in ("lots", "trays"):
        _subject(slots, pieces, place, piece)
    elif kind == EITHER:
        slots.asks.append("lot")
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
    elif kind == "ppm" and not (_of_other_solution(slots, pieces) or _strengths_of_parts(slots, pieces)):
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
    named = bool(near & {"hormone_name", "hormone", "hormone_form"})
    if of_hormone and (named or slots.act == "stick"):
        if number.value > _MOST_PERCENT[named] or _strengths_of_parts(slots, pieces):
            # "in 50% perlite", "50% shade".
            return
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


def _of_other_solution(slots: Slots, pieces: list[Piece]) -> bool:
    """`mixed fert 200 ppm`: how strong something else is."""
    return slots.act == "mix" and any(one.roles.get("solution", "hormone") != "hormone" for one in pieces)


def _strengths_of_parts(slots: Slots, pieces: list[Piece]) -> bool:
    """`stuck 40 sage, 20 at 0.3% 20 at 0.8%`: two strengths of a hormone, of which neither holds for all."""
    shares = [one.value.value for one in pieces if one.kind == "percent"]
    told = {round(share * 10000) for share in shares if share <= _MOST_PERCENT[True]}
    told.update(round(one.value) for one in pieces if one.kind == "ppm")
    names = {one.roles["hormone_name"] for one in pieces if "hormone_name" in one.roles}
    return slots.act == "stick" and len(told) > 1 and len(names) < len(told)


def _of_hormone(pieces: list[Piece]) -> bool:
    """`0.3% iba in talc`: a hormone by its name, and no other solution."""
    told = [one.roles.get("solution") for one in pieces if "solution" in one.roles]
    return all(one == "hormone" for one in told) and (
        bool(told) or any(one.roles.keys() & {"hormone", "hormone_name"} for one in pieces)
    )


def _use_nothing() -> None:
    return None


def _counted_before(pieces: list[Piece], place: int) -> bool:
    """`sowed 12 1 gals of oak`: so many pots."""
    return place > 0 and pieces[place - 1].kind == "number" and pieces[place].low.endswith(("gals", "gallons"))


def _measures_medium(pieces: list[Piece], place: int) -> bool:
    """`sowed 100 redbud, 2 gal | of mix`: how much medium, and no seed."""
    of = place + 1 < len(pieces) and pieces[place + 1].low == "of"
    after = pieces[place + 1 + of : place + 2 + of]
    return any(piece.kind == "medium" or "medium" in piece.roles or piece.value == "potting mix" for piece in after)


def _are_pots(slots: Slots, piece: Piece) -> bool:
    """The `3 gals` after a pot was told."""
    return piece.low.endswith("gals") and bool(slots.values.get("container"))


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
    if slots.takes("container") and ((unit in ("gal", "qt", "pt") and potted) or (unit in ("gal", "l") and potlike)):
        size = f"{value:g} {unit}"
        if place and pieces[place - 1].low == "of" and held.get("kind") == "pot" and "size" not in held:
            # "to pots of 1 gallon".
            held["size"] = size
            use(piece, pieces[place - 1])
            return
        used = [piece, following] if potlike and following is not None else [piece]
        slots.put("container", {"kind": "pot", "size": size}, *used)
    elif slots.takes("volume"):
        slots.put("volume", Amount(value=value, unit=unit), piece)
    elif slots.act == "sow" and unit == "cup" and led:
        slots.put("container", {"kind": "cup", "count": int(value)}, piece)
    elif slots.act == "sow" and (_measures_medium(pieces, place) or _are_pots(slots, piece)):
        return
    elif slots.takes("amount"):
        slots.put("amount", Amount(value=value, unit=unit), piece)
    elif unit == "bag" and slots.act in ("cover", "air") and number is not None:
        return


def _size(slots: Slots, pieces: list[Piece], place: int, piece: Piece) -> None:
    following = pieces[place + 1] if place + 1 < len(pieces) else None
    if slots.act == "water" and (following is None or "container" not in following.roles):
        slots.put("depth_in", _inches(piece), piece)
        slots.values.setdefault("method", "tray")
    elif _no_pot(following) and slots.act == "stick" and _inches(piece) > _BIGGEST_STICKING_POT:
        # How long the cuttings are ("33 dogwood hw 8 in").
        return
    elif _no_pot(following) and _inches(piece) < 1:
        # How thick something lies ("covered w 1/8 in sand").
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


def _inches(piece: Piece) -> float:
    """How many inches a size tells."""
    return float(sum(Fraction(part) for part in piece.value.removesuffix(" in").split()))
