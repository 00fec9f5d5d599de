"""How far are the vents open: an act said by the noun and a little word (`vents half`, `opened the vents a crack`)."""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import Piece
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_SHUTTING: Final = small_words("put_back", "shut") | small_words("put_back", "cracked")
_ARTICLES: Final = small_words("people", "articles")


@looks_for("@vent_noun")
def find_vents(pieces: list[Piece]) -> None:
    """Marks the vent noun as an act, and the words beside it as how far open."""
    for place, piece in enumerate(pieces):
        if "vent_noun" not in piece.roles or _looked_at(pieces, place):
            continue
        verb = None
        for step in (1, 2):
            if place - step >= 0 and pieces[place - step].low in (
                "opened",
                "closed",
                "shut",
                "cracked",
                "open",
                "close",
                "set",
                "propped",
                "put",
                "left",
                "widened",
                "opened up",
                "closed up",
                "crack",
            ):
                verb = pieces[place - step]
                break
        says: dict[str, float] = {}
        if verb is not None:
            if verb.low in ("closed", "shut", "closed up"):
                says = {"vent_open": 0.0}
            elif verb.low == "cracked":
                says = {"vent_open": 0.1}
            elif verb.low in ("open", "close", "crack"):
                verb.roles = {"filler": True}
                piece.roles = {"to_do": ActWord(act="vent", form="to_do")}
                continue
            verb.roles = {"filler": True}
            verb.used = True
        for other in pieces[place + 1 : place + 3]:
            if other.low in ("open", "opened", "are", "set"):
                other.used = True
                other.roles = {"filler": True}
        piece.roles = {"act": ActWord(act="vent", says=says), "vent_noun": True}


def _looked_at(pieces: list[Piece], place: int) -> bool:
    """`checked the vents`, `cleaned the vents`: nothing that was set."""
    before = place - 1 - (place > 0 and pieces[place - 1].low in _ARTICLES)
    word = pieces[before].roles.get("act") if before >= 0 else None
    return word is not None and word.act in ("check", "sanitize", "tend")


def shuts_another(pieces: list[Piece], place: int) -> bool:
    """`closed the greenhouse`, `cracked the door`: another thing than the vents."""
    after = pieces[place + 1 : place + 3]
    shuts = pieces[place].low in _SHUTTING and len(after) == 2 and after[0].low in _ARTICLES
    return shuts and "vent_noun" not in after[1].roles and after[1].kind in ("word", "phrase")
