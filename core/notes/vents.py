"""How far are the vents open: an act said by the noun and a little word, or by the verb alone once vents were named.

`vents half`, `opened the vents a crack`, `vented 4 and 5 a crack, shut them again`.
"""

from __future__ import annotations

from typing import Final

from core.notes.pieces import Piece, is_act
from core.vocabulary import ActWord
from core.vocabulary.loading import read_toml, small_words

_VERBS: Final[dict[str, float]] = read_toml("small_words.toml")["vents"]["verbs"]
_OPENED: Final = small_words("vents", "opened")
_THEM: Final = small_words("vents", "them")
_ARTICLES: Final = small_words("people", "articles")
_MARKS: Final = frozenset({"and", "then", "but", "so", "i", "we", "had", "just", "to"})


def find_vents(pieces: list[Piece]) -> None:
    """Marks the vent noun as an act, and the words beside it as how far open."""
    for place, piece in enumerate(pieces):
        if "vent_noun" not in piece.roles:
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


def find_vents_again(pieces: list[Piece]) -> None:
    """`…, i shut them again`, `…, opened tray 7 halfway`, `…, reopened full`: the vents named before, in place."""
    for place, piece in enumerate(pieces):
        if piece.low not in _VERBS and piece.low not in _OPENED:
            continue
        if not place or is_act(piece) or not _heads(pieces, place) or not _speaks_of_vents(pieces[:place]):
            continue
        at = place + 1
        while at < len(pieces) and (pieces[at].low in _THEM or pieces[at].kind in ("lots", "trays")):
            at += 1
        how_far = at < len(pieces) and "vent_open" in pieces[at].roles
        if at == place + 1 and not how_far:
            continue
        says = {"vent_open": _VERBS[piece.low]} if piece.low in _VERBS and not how_far else {}
        piece.kind, piece.roles = "phrase", {"act": ActWord(act="vent", says=says)}
        for told in pieces[place + 1 : at]:
            told.used = told.used or told.low in _THEM


def _heads(pieces: list[Piece], place: int) -> bool:
    before = pieces[place - 1]
    return before.kind in ("break", "person", "moment") or before.low in _MARKS


def _speaks_of_vents(before: list[Piece]) -> bool:
    """Whether the deed told last is of vents."""
    for piece in reversed(before):
        word = piece.roles.get("act") or piece.roles.get("shared")
        if "vent_noun" in piece.roles or piece.low in ("vent", "vents"):
            return True
        if word is not None or "cover_noun" in piece.roles:
            return word is not None and word.act == "vent"
    return False


def shuts_another(pieces: list[Piece], place: int) -> bool:
    """`closed the greenhouse`, `cracked the door`: another thing than the vents."""
    after = pieces[place + 1 : place + 3]
    shuts = pieces[place].low in _VERBS and len(after) == 2 and after[0].low in _ARTICLES
    return shuts and "vent_noun" not in after[1].roles and after[1].kind in ("word", "phrase")
