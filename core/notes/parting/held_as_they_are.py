"""Are plants put apart, or only held as they are: `hold tray 4 at 70f`, `lot 9 holding water`.

Rules
1. What is held at a temperature or at a vent, and what holds water, is not put apart.
2. Plants saved from a pest or the frost are kept for nobody, and are not ill.
3. `put 6 of lot 6 by for kim` keeps them for somebody.
4. `already wet so i left it`: nothing was done to it, and it was put nowhere.
"""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import COUNTS, SUBJECTS, Piece, is_act
from core.notes.words.said import deed_of, keep, statements
from core.notes.words.steps import InEach, looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_ARTICLES: Final = small_words("places", "articles")
_WHOSE: Final = _ARTICLES | {"its", "their", "that", "this"}
_IT: Final = frozenset({"it", "them", "em", "'em"})
_ALONE: Final = "alone"
_LEFT_IT: Final = 2
_PUTTING: Final = frozenset({"put", "placed", "laid", "set"})
_HARM: Final = small_words("sayings", "other_harm") | {"squirrels", "heap", "pile", "compost", "trash", "bin"}


@looks_for("~hold")
def _keep_held(said: list[Piece]) -> None:
    """`held tray 4 at 65`, `vents held at half`, `lot 9 holding water`, in place."""
    for at, piece in enumerate(said):
        if not _holds(piece):
            continue
        water = at + 1 < len(said) and said[at + 1].low == "water"
        if water or any(_is_level(said, step) for step in range(at + 1, len(said))):
            keep(piece)


def _holds(piece: Piece) -> bool:
    word = piece.roles.get("shared")
    return word is not None and word.rule == "hold"


def _is_level(said: list[Piece], at: int) -> bool:
    """`at 70f`, `at 65`, `at half`."""
    if at + 1 >= len(said) or said[at].low not in ("at", "@"):
        return False
    level = said[at + 1]
    return level.kind in ("temp", "number", "percent", "fraction") or "vent_open" in level.roles


@looks_for("off", beside=("~hold", "!hold"))
def _clear_hold(said: list[Piece]) -> None:
    """`lot 39 is off its rot hold`, `off the quarantine`: it is held no longer, in place."""
    for at, piece in enumerate(said[:-1]):
        end = at + 1
        while end < len(said) - 1 and (said[end].low in _WHOSE or "cause" in said[end].roles):
            end += 1
        word = deed_of(said[end])
        held = _holds(said[end]) or (word is not None and word.act == "hold")
        if piece.low == "off" and held and end > at + 1 and not any(map(is_act, said[:at])):
            piece.kind, piece.roles = "phrase", {"act": ActWord(act="clear")}
            said[end].roles, said[end].used = {"filler": True}, True


@looks_for("saved", "kept")
def _keep_saved(said: list[Piece]) -> None:
    """`saved 10 of lot 6 from the snails`, in place."""
    for at, piece in enumerate(said):
        word = deed_of(piece)
        if word is None or word.act != "reserve" or piece.low not in ("saved", "kept"):
            continue
        lead = next((step for step in range(at + 1, len(said) - 1) if said[step].low == "from"), None)
        if lead is None:
            continue
        harm = next((one for one in said[lead + 1 :] if one.low not in _ARTICLES), None)
        if harm is not None and ("cause" in harm.roles or harm.low in _HARM):
            keep(piece, harm, *(one for one in said[at + 1 : lead] if one.kind in COUNTS))


@looks_for("left", beside=_IT | {_ALONE})
def _keep_left(said: list[Piece]) -> None:
    """`already wet so i left it`, `left tray 11 alone`, in place."""
    end = len(said) - (bool(said) and said[-1].low in (_ALONE, "be"))
    if end < _LEFT_IT or said[end - 2].low != "left" or any(map(is_act, said[: end - 2])):
        return
    if said[end - 1].low in _IT or (end < len(said) and said[end - 1].kind in SUBJECTS):
        keep(said[end - 2], *said[end:])


keep_held: Final = InEach(statements, _clear_hold, _keep_held, _keep_saved, _keep_left)
"""Takes the meaning of a hold from what is only held as it is, in place."""


@looks_for("by", beside=_PUTTING)
def put_by(pieces: list[Piece]) -> None:
    """`put 10 of lot 6 by for the club`: kept for somebody, and done by nobody, in place."""
    for at in range(1, len(pieces) - 2):
        if (pieces[at].low, pieces[at + 1].low) != ("by", "for") or pieces[at].kind == "break":
            continue
        start = at
        while start and pieces[start - 1].kind != "break" and pieces[start].low not in _PUTTING:
            start -= 1
        if pieces[start].low in _PUTTING:
            pieces[start].kind, pieces[start].roles = "phrase", {"act": ActWord(act="reserve")}
            pieces[at].kind, pieces[at].roles, pieces[at].used = "mark", {"filler": True}, True
