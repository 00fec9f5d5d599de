"""Bare degrees, which name no lot and count nothing: `greenhouse was 94 at 9am opened the vents`, `high of 101 on the
slab`.
"""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import SUBJECTS, Piece, is_act
from core.notes.words.said import comma_before, keep_words, statements
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import small_range, small_words

_READ: Final = frozenset({"was", "is", "at", "it's", "its"})
_DEGREES: Final = small_range("temps", "bare_f")
_HOT: Final = small_range("temps", "bare_at_vents_f")
_PEAKS: Final = frozenset({"high", "low"})
_AFTER_PEAKS: Final = frozenset({"on", "in", "at", "and", "&", *_PEAKS})
_FORETOLD: Final = small_words("temps", "foretold")
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


@looks_for(any_of=_PEAKS, beside=("=number",))
def find_peaks(pieces: list[Piece]) -> None:
    """`high of 101 yesterday on the slab`: how warm it was, where the unit is asked, in place."""
    for start, end in statements(pieces):
        said = pieces[start:end]
        if any(one.kind in SUBJECTS or is_act(one) or "plant" in one.roles or one.low in _FORETOLD for one in said):
            continue
        for at, piece in enumerate(said[:-1]):
            number = at + 1 + (said[at + 1].low == "of")
            if piece.low in _PEAKS and _is_read(said, number):
                piece.kind, piece.roles = "phrase", {**piece.roles, "act": ActWord(act="temp")}
                break


def _is_read(said: list[Piece], at: int) -> bool:
    """`101 | yesterday`, `101 | on the slab`; not `20 rooted`."""
    if at >= len(said) or not _in_range(said[at], _DEGREES):
        return False
    if at + 1 == len(said):
        return any("place_word" in one.roles or one.kind == "word" for one in said[:at])
    after = said[at + 1]
    if after.kind == "moment":
        # "high of 101 today" may be foretold.
        return after.value.days is not None and after.value.days < 0
    return after.low in _AFTER_PEAKS or "place_word" in after.roles
