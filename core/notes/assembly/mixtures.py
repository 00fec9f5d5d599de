"""Which media stand together, and in what parts.

`perlite/coir 3:1`, `2 parts perlite 1 part peat`, `1 part bleach 9 parts water`.
"""

from __future__ import annotations

import re
from typing import Any, Final

from core.notes.words.pieces import Piece
from core.notes.words.steps import looks_for

_RATIO: Final = re.compile(r"\d+(?::\d+)+")
"""`3:1`, which may be read as an hour; `7:15am` is one."""
_LIQUID: Final = frozenset({"ml", "l", "cup", "pt", "qt", "gal"})
_BETWEEN: Final = frozenset({"/", "+", "&", "and", "with", "-", "n", "mix", ":", "to"})
_HORMONES: Final = frozenset({"hormone", "hormone_form", "hormone_name"})


@looks_for("@medium", "part", "parts", "=amount")
def join_mixtures(pieces: list[Piece]) -> None:
    """Joins runs of media to one piece of kind `medium`, and parts of a solution to one of kind `parts`, in place."""
    told = any(piece.kind in ("number", "amount") for piece in pieces)
    if not told and not any(piece.roles.keys() & {"medium", "solution"} for piece in pieces):
        return
    at = 0
    while at < len(pieces):
        if "medium" in pieces[at].roles and not (
            "plant" in pieces[at].roles and at and "plant" in pieces[at - 1].roles
        ):
            _plainly(pieces, at)
            if not _only_leads(pieces, at):
                _join_media(pieces, at)
        elif pieces[at].kind == "number" and at + 2 < len(pieces) and pieces[at + 1].low in ("part", "parts"):
            _join_parts(pieces, at)
        elif pieces[at].kind == "amount" and _join_volumes(pieces, at):
            continue
        at += 1


def _only_leads(pieces: list[Piece], at: int) -> bool:
    """`in a mix of perlite and peat`, `seed mix is peat and sand`: the mix is what the words after it say."""
    told = pieces[at + 1 : at + 3]
    mix = pieces[at].low.rpartition(" ")[2] == "mix" and len(told) == 2
    leads = mix and told[0].low in ("of", "is", "was") and "medium" in told[1].roles
    if leads:
        pieces[at].roles, pieces[at].used = {"filler": True}, True
    return leads


def _plainly(pieces: list[Piece], at: int) -> None:
    """`fresh perlite`, `straight pumice`: how a medium is, which is no act and no cutting."""
    if at and "medium_is" in pieces[at - 1].roles:
        pieces[at - 1].roles = {"medium_is": True}
        pieces[at - 1].used = pieces[at - 1].low in ("straight", "pure", "plain", "just", "only")


def _join_media(pieces: list[Piece], at: int) -> None:
    if _has_recipe(pieces, at):
        pieces[at].kind, pieces[at].roles = "kept", {}
        return
    counted = _counted_media(pieces, at)
    if counted is not None:
        start, end, named, parts = counted
        _replace(pieces, start, end, "medium", f"{'+'.join(named)} {written_ratio(parts)}")
        return
    named = [pieces[at].roles["medium"]]
    end = at + 1
    while end < len(pieces):
        step = end
        while step < len(pieces) and step - end < 3 and _parts_media(pieces, step, step - end):
            step += 1
        if step < len(pieces) and "medium" in pieces[step].roles and pieces[step].roles["medium"] not in named:
            if pieces[step].roles["medium"] == "potting mix" and pieces[step].low == "mix":
                end = step + 1
                break
            named.append(pieces[step].roles["medium"])
            end = step + 1
        else:
            break
    if end < len(pieces) and pieces[end].low == "mix" and named != ["potting mix"]:
        end += 1
    value = "+".join(named)
    start = at
    if len(named) > 1:
        ratio, start, end = _ratio_beside(pieces, at, end, len(named))
        if ratio:
            value = f"{value} {ratio}"
    if named == ["potting mix"] and pieces[at].low == "mix" and _mixes_solution(pieces, at):
        return
    _replace(pieces, start, end, "medium", value)


def _has_recipe(pieces: list[Piece], at: int) -> bool:
    """`in gritty mix, sand/perlite/peat 1:1:1`: a mix, and after the comma what it is made of."""
    if pieces[at].low.rpartition(" ")[2] != "mix" or at + 4 >= len(pieces):
        return False
    if pieces[at + 1].low not in (":", "(") and (pieces[at].low != "mix" or pieces[at + 1].low not in (",", "-")):
        return False
    named = [place for place in range(at + 2, min(len(pieces), at + 8)) if "medium" in pieces[place].roles]
    return len(named) > 1 and named[0] == at + 2


def _parts_media(pieces: list[Piece], at: int, seen: int) -> bool:
    """Whether a piece only stands between two media of one mix; a comma does where a medium follows it at once."""
    piece = pieces[at]
    if piece.low == ",":
        follows = pieces[at + 1 : at + 3]
        return seen == 0 and bool(follows) and ("medium" in follows[0].roles or follows[0].low in ("and", "&"))
    return piece.low in _BETWEEN or piece.kind == "dash"


def _counted_media(pieces: list[Piece], at: int) -> tuple[int, int, list[str], list[float]] | None:
    """`2 perlite 1 peat`, `80% perlite 20% peat`, `half perlite half sand`: a number before each medium of a mix."""
    named: list[str] = []
    parts: list[float] = []
    start = end = at - 1
    while end + 1 < len(pieces) and "medium" in pieces[end + 1].roles and end >= 0:
        part = _part_of(pieces[end])
        if part is None:
            break
        parts.append(part)
        named.append(pieces[end + 1].roles["medium"])
        last = end + 2
        step = last
        while step < len(pieces) and step - last < 2 and (pieces[step].low in _BETWEEN or pieces[step].low == ","):
            step += 1
        end = step
        if end >= len(pieces):
            break
    if len(named) < 2 or len(set(named)) < len(named):
        return None
    return start, last, named, parts


def _part_of(piece: Piece) -> float | None:
    if piece.kind in ("number", "percent"):
        value: float = piece.value.value
        return value if piece.kind == "percent" or 0 < value <= 20 else None
    if piece.kind == "fraction":
        above, below, approx = piece.value
        return above / below if not approx and above < below else None
    half = piece.roles.get("fraction")
    return float(half) if half is not None else None


def written_ratio(parts: list[float]) -> str:
    """The parts as a ratio: `3:1`; parts of a hundred or of one are made small (`80`, `20` is `4:1`)."""
    if sum(parts) == 100 or round(sum(parts), 3) == 1:
        least = min(parts)
        if all(abs(part / least - round(part / least)) < 0.001 for part in parts):
            parts = [round(part / least) for part in parts]
    return ":".join(f"{part:g}" for part in parts)


def _mixes_solution(pieces: list[Piece], at: int) -> bool:
    return any("solution" in piece.roles for piece in pieces[max(0, at - 2) : at + 3])


def _ratio_beside(pieces: list[Piece], start: int, end: int, count: int) -> tuple[str, int, int]:
    after = end + (end < len(pieces) and pieces[end].kind == "break" and pieces[end].low in (",", "("))
    found = _ratio_at(pieces, after, count)
    if found is not None and not _dilutes(pieces, found[1]):
        return found[0], start, found[1]
    for before in range(max(0, start - 5), start):
        found = _ratio_at(pieces, before, count)
        if found is not None and found[1] == start:
            return found[0], before, end
    return "", start, end


def _dilutes(pieces: list[Piece], end: int) -> bool:
    """`1:10 | dip`: the ratio before a dip or a hormone is its own."""
    after = pieces[end].roles if end < len(pieces) else {}
    dip = after.get("noun")
    return not _HORMONES.isdisjoint(after) or (dip is not None and dip.says.get("treatment") == "hormone")


def _ratio_at(pieces: list[Piece], at: int, count: int) -> tuple[str, int] | None:
    """The ratio of so many media that stands at a place (`3:1`, `1:1:1`, `80/20`, `3 to 1`, `equal parts`), its end."""
    if at >= len(pieces):
        return None
    piece = pieces[at]
    parts: list[float] = []
    end = at + 1
    if "equal_parts" in piece.roles:
        return ":".join(["1"] * count), end
    if piece.kind in ("colon", "fraction") or (piece.kind == "moment" and _RATIO.fullmatch(piece.low)):
        if piece.kind == "fraction" and sum(piece.value[:2]) != 100:
            return None
        parts = [float(part) for part in piece.low.replace("/", ":").split(":")]
        while end + 1 < len(pieces) and pieces[end].low == ":" and pieces[end + 1].kind == "number":
            parts.append(pieces[end + 1].value.value)
            end += 2
    elif piece.kind == "number" and piece.value.high is not None and not piece.value.dashed:
        parts = [piece.value.value, piece.value.high]
    elif piece.kind == "number" and [one.low for one in pieces[end : end + 1]] == ["to"] and pieces[end + 1 :]:
        if pieces[end + 1].kind != "number":
            return None
        parts = [piece.value.value, pieces[end + 1].value.value]
        end += 2
    return (written_ratio(parts), end) if len(parts) == count else None


def _join_volumes(pieces: list[Piece], at: int) -> bool:
    """`1 cup bleach to 9 cups water` is parts where the units are one; `2 tsp per gal` is a rate and no volume."""
    value, unit, _ = pieces[at].value
    step = at + 1
    solution = step if step < len(pieces) and "solution" in pieces[step].roles else None
    step += solution is not None
    if _put_in_beside(pieces, at, step):
        return False
    if step >= len(pieces) or pieces[step].low not in ("per", "/", "to", "a", "in", "+", "and", "&", "with"):
        return False
    joint = pieces[step].low
    step += 1
    if step < len(pieces) and pieces[step].low in ("a", "each"):
        step += 1
    if step >= len(pieces):
        return False
    other = pieces[step]
    rate = joint in ("per", "/", "a") and "amount" in other.roles
    if not rate and other.kind != "amount":
        return False
    of_water = any(piece.low == "water" for piece in pieces[step + 1 : step + 3])
    if not rate and not of_water:
        return _put_in(pieces, at, step)
    last = step if rate else next(place for place in (step + 1, step + 2) if pieces[place].low == "water")
    if not rate and other.value[1] == unit:
        parts = tuple(int(one) if one == int(one) else one for one in (value, other.value[0]))
        kept = [pieces[solution]] if solution is not None else []
        pieces[at : last + 1] = [Piece("parts", parts, pieces[at].first, pieces[last].last, "parts"), *kept]
        return True
    if not rate and joint == "in":
        return _put_in(pieces, at, step)
    kept = [pieces[solution]] if solution is not None else []
    pieces[at : last + 1] = [Piece("rate", None, pieces[at].first, pieces[last].last, "rate"), *kept]
    return True


def _put_in_beside(pieces: list[Piece], at: int, step: int) -> bool:
    """`mixed quat 2 oz 1 gal`: a little of it, and at once the volume that it was put in."""
    step += step < len(pieces) and pieces[step].low == ","
    other = pieces[step] if step < len(pieces) and pieces[step].kind == "amount" else None
    little = other is not None and pieces[at].value[1] in _LITTLE and other.value[1] in _WHOLE_JUGS
    if little and any("solution" in piece.roles for piece in pieces[:at]):
        pieces[at].kind = "kept"
        return True
    return False


_LITTLE: Final = frozenset({"oz", "ml", "tsp", "tbsp", "g"})
_WHOLE_JUGS: Final = frozenset({"gal", "l", "qt"})


def _put_in(pieces: list[Piece], at: int, step: int) -> bool:
    """`2 oz in 2 gal`, `3 tbsp bleach in a gal of water`: what was put in is kept, what it was put in is the volume."""
    held, unit = pieces[step].value[1], pieces[at].value[1]
    if pieces[step - 1].low != "in" or held == unit or held not in _LIQUID:
        return False
    pieces[at].kind = "kept"
    for piece in pieces[step + 1 : step + 3]:
        if piece.low not in ("of", "water"):
            break
        piece.used, piece.roles = True, {"filler": True}
    return False


def _join_parts(pieces: list[Piece], at: int) -> None:
    """`N part(s) X (to) M part(s) Y`."""
    names: list[Any] = []
    parts: list[float] = []
    end = at
    while end + 2 < len(pieces) and pieces[end].kind == "number" and pieces[end + 1].low in ("part", "parts"):
        name_at = end + 2
        if pieces[name_at].low == "of":
            name_at += 1
        if name_at >= len(pieces):
            break
        parts.append(pieces[end].value.value)
        names.append(pieces[name_at])
        end = name_at + 1
        while (
            end < len(pieces)
            and pieces[end].low in ("to", "and", "&", "+", ",", "in", "with")
            and end + 1 < len(pieces)
            and pieces[end + 1].kind == "number"
        ):
            end += 1
    if len(parts) < 2:
        _part_to(pieces, at)
        return
    whole = [int(part) if part == int(part) else part for part in parts]
    if all("medium" in name.roles for name in names):
        value = "+".join(name.roles["medium"] for name in names) + " " + ":".join(f"{part:g}" for part in parts)
        _replace(pieces, at, end, "medium", value)
        return
    solution = next((name for name in names if "solution" in name.roles), None)
    if solution is None and names[0].kind == "word":
        solution = names[0]
    if solution is not None and len(whole) == 2 and names[1] is solution:
        whole.reverse()
    others = [Piece("parts", tuple(whole), pieces[at].first, pieces[end - 1].last, "parts")]
    if solution is not None:
        others.append(solution)
    pieces[at:end] = others


def _part_to(pieces: list[Piece], at: int) -> None:
    """`1 part to 9`, `1 part bleach to 9 water`: parts of which the second is only a number."""
    told = pieces[at + 2 : at + 6]
    lows = [piece.low for piece in told]
    if len(told) == 4 and "solution" in told[0].roles and lows[1] in ("to", "in") and lows[3] == "water":
        first, second = pieces[at].value.whole, told[2].value.whole if told[2].kind == "number" else None
        if first is not None and second is not None:
            told[3].used, told[3].roles = True, {"filler": True}
            parts = Piece("parts", (first, second), told[2].first, told[3].last, "parts")
            pieces[at : at + 6] = [told[0], parts]
            return
    if at + 3 < len(pieces) and pieces[at + 2].low in ("to", "in") and pieces[at + 3].kind == "number":
        first, second = pieces[at].value.whole, pieces[at + 3].value.whole
        if first is not None and second is not None:
            pieces[at : at + 4] = [Piece("parts", (first, second), pieces[at].first, pieces[at + 3].last, "parts")]


def _replace(pieces: list[Piece], start: int, end: int, kind: str, value: Any) -> None:
    first = pieces[start]
    alone = end - start == 1
    kept = ("plant", "noun", "to_do", "filler")
    roles = {role: meaning for role, meaning in first.roles.items() if role in kept} if alone else {}
    low = first.low if alone else value
    made = Piece(first.kind if alone else kind, value, first.first, pieces[end - 1].last, low)
    made.roles = {**roles, "medium": value}
    pieces[start:end] = [made]


__all__ = ["join_mixtures"]
