"""What a correction puts right: the keys and values it names (`no it was 18`, `i meant tray 5`)."""

from __future__ import annotations

from datetime import datetime
from typing import Any, Final

from core.entries import Amount
from core.notes.acts.slots import Slots
from core.notes.assembly.assemble import assemble
from core.notes.assembly.mixtures import join_mixtures
from core.notes.counts.shares import names_mother
from core.notes.days.moments import resolve_past
from core.notes.words.pieces import Piece
from core.notes.words.tokens import Token
from core.vocabulary import words
from core.vocabulary.loading import small_words

_OF_HORMONES: Final = {"hormone", "hormone_form", "hormone_name"}
_MEASURED: Final = frozenset({"ppm", "duration", "amount", "temp", "size"})
_WHOLE: Final = 100
"""All of it, in percent."""
_BY_HOW_MANY: Final = small_words("corrections", "by_how_many")


def correct(slots: Slots, pieces: list[Piece], now: datetime) -> None:
    """Any detail that a correction names; `2 gal of bleach` is how much, and no pot."""
    _join_media(pieces)
    liquid = any("solution" in piece.roles for piece in pieces)
    for place, piece in enumerate(pieces):
        roles = piece.roles
        if piece.kind in ("lots", "trays"):
            slots.put(piece.kind, piece.value, piece)
        elif piece.kind == "moment":
            found = resolve_past(piece.value, now)
            if found is not None:
                slots.put("on", found, piece)
            else:
                slots.asks.append("date")
        elif piece.kind == "number" and place and pieces[place - 1].low == "of":
            slots.put("of", piece.value.whole, piece)
        elif piece.kind == "number" and _tells_by_how_many(pieces, place):
            slots.asks.append("count")
        elif piece.kind == "number":
            _corrected_number(slots, piece)
        elif piece.kind == "fraction" and piece.value[0] <= piece.value[1]:
            slots.put("count", piece.value[0], piece)
            slots.put("of", piece.value[1], piece)
        elif piece.kind == "duration":
            slots.put("duration", piece.value[0], piece)
        elif piece.kind == "temp":
            slots.put("temp_c", piece.value, piece)
        elif piece.kind == "percent" and any(one.roles.keys() & _OF_HORMONES for one in pieces):
            slots.values.setdefault("hormone", {})["ppm"] = round(piece.value.value * 10_000)
            piece.used = True
        elif piece.kind == "percent" and piece.value.value <= _WHOLE:
            slots.put("share", round(piece.value.value / _WHOLE, 4), piece)
        elif piece.kind == "ppm":
            slots.values.setdefault("hormone", {})["ppm"] = piece.value
            piece.used = True
        elif piece.kind == "amount" and liquid and not any("container" in one.roles for one in pieces[place + 1 :]):
            slots.put("volume", Amount(value=piece.value[0], unit=piece.value[1]), piece)
        elif piece.kind == "size" or (piece.kind == "amount" and piece.value[1] == "gal"):
            size = piece.value if piece.kind == "size" else f"{piece.value[0]:g} gal"
            slots.put("container", {"kind": "pot", "size": size}, piece)
            if place + 1 < len(pieces) and "container" in pieces[place + 1].roles:
                pieces[place + 1].used = True
        elif names_mother(piece):
            slots.put("source", piece.low, piece)
        elif "plant" in roles:
            name = piece.low
            if place + 1 < len(pieces) and pieces[place + 1].kind == "quote":
                name += f" '{pieces[place + 1].value}'"
                pieces[place + 1].used = True
            slots.put("plant", name, piece)
        elif "act" in roles and roles["act"].act == "check" and roles["act"].says.get("state"):
            slots.put("state", roles["act"].says["state"], piece)
        elif "act" in roles and roles["act"].act == "lose" and roles["act"].says.get("cause"):
            slots.put("cause", roles["act"].says["cause"], piece)
        elif "act" in roles and roles["act"].says.get("method"):
            slots.put("method", roles["act"].says["method"], piece)
        else:
            for role in (
                "treatment",
                "cutting",
                "wood",
                "medium",
                "solution",
                "container",
                "pot_size",
                "cause",
                "hormone_form",
                "hormone_name",
            ):
                if role in roles:
                    _corrected_word(slots, piece, role)
                    break


def take_unit_of_wrong(told: list[Piece], stop: int, tokens: list[Token]) -> None:
    """`3000 not 1000 ppm`, `20 not 30 min`: the right number has the unit of the wrong one, in place."""
    right = next((piece for piece in told[:stop] if piece.kind not in ("break", "mark")), None)
    wrong = told[stop + 1] if stop + 1 < len(told) else None
    if right is None or wrong is None or right.kind != "number" or wrong.kind not in _MEASURED:
        return
    said = [*tokens[right.first : right.last], *tokens[wrong.first + 1 : wrong.last]]
    measured = assemble(said, words().tree)
    if len(measured) == 1 and measured[0].kind == wrong.kind:
        right.kind, right.value = wrong.kind, measured[0].value


def _tells_by_how_many(pieces: list[Piece], place: int) -> bool:
    """`2 more`, `12 too many`: how far off a count was, and no count."""
    after = [piece.low for piece in pieces[place + 1 : place + 3]]
    return bool(after) and (after[0] in _BY_HOW_MANY or " ".join(after) in _BY_HOW_MANY)


def _join_media(pieces: list[Piece]) -> None:
    """`coir/perlite 2:1` is one medium, in place; the words that it is made of are used."""
    if any("medium" in piece.roles for piece in pieces):
        before = list(pieces)
        join_mixtures(pieces)
        for piece in before:
            piece.used = piece.used or not any(piece is one for one in pieces)


def _corrected_number(slots: Slots, piece: Piece) -> None:
    number = piece.value
    if number.whole is None or slots.values.get("count") is not None:
        return
    slots.put("count", number.whole, piece)
    if number.of is not None:
        slots.values["of"] = number.of
    if number.approx:
        slots.values["approx"] = True
    if number.high is not None:
        slots.values["count_max"] = int(number.high)


def _corrected_word(slots: Slots, piece: Piece, role: str) -> None:
    value: Any = piece.roles[role]
    if role in ("hormone_form", "hormone_name"):
        slots.values.setdefault("hormone", {})[role.split("_")[1]] = value
        piece.used = True
    elif role in ("container", "pot_size"):
        slots.put("container", {"kind": "pot", "size": value} if role == "pot_size" else {"kind": value}, piece)
    else:
        slots.put(role, value, piece)
