"""How strong is the hormone: bare numbers beside a hormone's name or form (`iba 3000`, `0.8 talc`, `3k iba`).

Rules
1. From five hundred on a number beside a hormone is parts per million; a broken number up to two is per cent, as labels
   of powders say it.
2. `1/10 dip` is a dilution of no known strength, and no day.
3. A number that a medium, a plant or a unit follows is none; where a number stands on each side, the greater is taken.
"""

from __future__ import annotations

from typing import Final

from core.notes.words.numbers import SHARES, Number
from core.notes.words.pieces import NO_ROLES, Piece
from core.notes.words.steps import looks_for

_LEAST_PPM: Final = 500
_MOST_PERCENT: Final = 2
_BESIDE: Final = frozenset({"hormone_name", "hormone_form", "hormone"})
_LEADS: Final = frozenset({"in", "into", "w", "w/", "with", "at", "@"})
_LINKS: Final = frozenset({"@", "at", "=", "of", "with", ":"})


@looks_for("~dipped", "!treat", *(f"@{role}" for role in sorted(_BESIDE)), beside=("=number",))
def find_strengths(pieces: list[Piece]) -> None:
    """Makes numbers that say a strength to pieces of kind `ppm` or `percent`, in place."""
    for at, piece in enumerate(pieces):
        if piece.kind == "number" and (_dips_in_number(pieces, at) or _dips_headed(pieces, at)):
            _make(piece)
        if not _BESIDE & piece.roles.keys() or piece.roles.get("hormone_form") == "none":
            continue
        near = [one for one in (_number(pieces, at, -1), _number(pieces, at, 1)) if one is not None]
        if near:
            _make(max(near, key=lambda one: one.value.value))


@looks_for("~dipped", "!treat", *(f"@{role}" for role in sorted(_BESIDE)), beside=("=fraction",))
def keep_dilutions(pieces: list[Piece]) -> None:
    """Keeps one part in so many right beside a dip or a hormone, in place."""
    for at, piece in enumerate(pieces):
        if piece.kind != "fraction" or piece.value[0] != 1 or (1, piece.value[1]) in SHARES:
            continue
        around = pieces[max(0, at - 1) : at] + pieces[at + 1 : at + 2]
        stronger = any(one.kind in ("ppm", "percent") or _is_strong(one) for one in pieces)
        if not stronger and any(_BESIDE & one.roles.keys() or _dips(one) for one in around):
            piece.kind, piece.roles = "kept", NO_ROLES


@looks_for("=colon", beside=("@hormone",))
def keep_dilutions_apart(pieces: list[Piece]) -> None:
    """`dipped in dip n grow... 1:10`: a dilution after a mark behind the hormone, and no hour, in place."""
    for at, piece in enumerate(pieces):
        before = at - 1
        while before > 0 and pieces[before].kind == "break" and pieces[before].low in (".", ",", "-"):
            before -= 1
        if piece.kind == "colon" and piece.value[0] == 1 and 0 <= before < at - 1 and "hormone" in pieces[before].roles:
            del pieces[before + 1 : at]
            return


def _is_strong(piece: Piece) -> bool:
    return piece.kind == "number" and _bare_strength(piece)


def _dips_in_number(pieces: list[Piece], at: int) -> bool:
    """`dipped tips in 1500`, `wounded and dusted w 8000`: a bare number after a dip, and no lot."""
    if pieces[at].kind != "number" or not _bare_strength(pieces[at]) or pieces[at - 1].low not in _LEADS or at < 2:
        return False
    if at + 1 < len(pieces) and pieces[at + 1].kind != "break" and "filler" not in pieces[at + 1].roles:
        return False
    start = next((step + 1 for step in range(at - 1, -1, -1) if pieces[step].kind == "break"), 0)
    return any(_dips(piece) for piece in pieces[start:at])


def _dips_headed(pieces: list[Piece], at: int) -> bool:
    """`5 sec dip 3000: 24 toyon`: a bare number right after a dip, that heads what was dipped."""
    headed = 0 < at < len(pieces) - 1 and pieces[at + 1].low == ":"
    return headed and says_dip(pieces, at)


def says_dip(pieces: list[Piece], at: int) -> bool:
    """`dip | 3000`: a number that may be the strength of the dip right before it."""
    return at > 0 and pieces[at].kind == "number" and _bare_strength(pieces[at]) and _dips(pieces[at - 1])


def _bare_strength(piece: Piece) -> bool:
    number: Number = piece.value
    return number.high is None and number.of is None and number.value >= _LEAST_PPM


def _dips(piece: Piece) -> bool:
    word = piece.roles.get("act") or piece.roles.get("shared") or piece.roles.get("noun")
    return word is not None and (word.rule == "dipped" or word.says.get("treatment") == "hormone")


def _number(pieces: list[Piece], at: int, step: int) -> Piece | None:
    """The bare number that stands right beside a hormone on one side, over a small word or another word for it."""
    place = at + step
    while 0 <= place < len(pieces) and (pieces[place].low in _LINKS or _BESIDE & pieces[place].roles.keys()):
        place += step
    if not 0 <= place < len(pieces) or pieces[place].kind != "number":
        return None
    number: Number = pieces[place].value
    if number.high is not None or number.of is not None:
        return None
    return pieces[place] if _says_strength(number.value) else None


def _says_strength(value: float) -> bool:
    return value >= _LEAST_PPM or (0 < value <= _MOST_PERCENT and value != int(value))


def _make(piece: Piece) -> None:
    number: Number = piece.value
    if number.value >= _LEAST_PPM:
        piece.kind, piece.value = "ppm", number.value
    else:
        piece.kind = "percent"
