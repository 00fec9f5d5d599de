"""Bare degrees told beside a deed, which name no lot and count nothing: `greenhouse was 94 at 9am opened the vents`."""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import Piece, is_act
from core.notes.words.said import comma_before, keep_words
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_range, small_words

_READ: Final = frozenset({"was", "is", "at", "it's", "its"})
_DEGREES: Final = small_range("temps", "bare_f")
_HOT: Final = small_range("temps", "bare_at_vents_f")
_HOUSES: Final = frozenset({"house", "houses"})
_WEATHER: Final = small_words("places", "weather") | frozenset({"foggy", "hot", "cold", "cool", "warm", "sunny"})


@looks_for("was", "is", "it's", "its", beside=("=number",))
def part_heat_read(pieces: list[Piece]) -> None:
    """`greenhouse was 94 at 9am | opened the vents`, `it was 28 last night | lost 4`: a comma after the reading, in
    place.
    """
    for at in range(len(pieces) - 2, 0, -1):
        if pieces[at - 1].low not in _READ or not _in_range(pieces[at], _DEGREES):
            continue
        end = at + 1 + (pieces[at + 1].kind == "moment")
        if end >= len(pieces) or pieces[end].kind == "break":
            continue
        outdoors = pieces[at - 1].low in ("it's", "its") or (at > 1 and pieces[at - 2].low == "it")
        placed = at > 1 and "place_word" in pieces[at - 2].roles
        vents = pieces[end].low in ("opened", "open", "shut", "closed") or "vent_noun" in pieces[end].roles
        lost = is_act(pieces[end]) and end + 1 < len(pieces) and pieces[end + 1].kind == "number"
        if (placed and vents) or (outdoors and end > at + 1 and (vents or lost)):
            if outdoors:
                keep_words(pieces[at])
            pieces.insert(end, comma_before(pieces[end]))


@looks_for("@vent_noun", beside=("=number",))
def keep_heat_at_vents(pieces: list[Piece]) -> None:
    """`opened vents, 88 in the house`, `85 at 9am vents open`, `foggy, 55, left vents shut`: how hot it was, and no lot
    whose vents they are, in place.
    """
    for at, piece in enumerate(pieces):
        if not _in_range(piece, _HOT if _at_hour(pieces, at) else _DEGREES):
            continue
        inside = [one for one in pieces[at + 1 : at + 4] if one.low != "the"][:2]
        if len(inside) == 2 and inside[0].low == "in" and inside[1].low in _HOUSES:
            inside[1].kind, inside[1].roles = "phrase", {"place_word": inside[1].low}
        elif _at_hour(pieces, at) or _after_weather(pieces, at):
            keep_words(piece)


def _in_range(piece: Piece, degrees: range) -> bool:
    return piece.kind == "number" and piece.low.isdigit() and piece.value.whole in degrees


def _at_hour(pieces: list[Piece], at: int) -> bool:
    """`| 85 at 9am | vents`: at the head of a statement, before its hour and what was done."""
    head = at == 0 or pieces[at - 1].kind == "break"
    timed = at + 1 < len(pieces) and pieces[at + 1].kind == "moment" and pieces[at + 1].low.startswith("at ")
    return head and timed and any("vent_noun" in one.roles for one in pieces[at + 2 : at + 4])


def _after_weather(pieces: list[Piece], at: int) -> bool:
    """`foggy, 55,`, `hot and 95,`: alone, right after what the weather was."""
    ends = at + 1 >= len(pieces) or pieces[at + 1].kind == "break"
    return ends and at > 1 and pieces[at - 1].low in (",", "and", "&") and pieces[at - 2].low in _WEATHER
