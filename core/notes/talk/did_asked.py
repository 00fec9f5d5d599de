"""Which act a question asks about: `did anyone mist tray 3`, `when was lot 9 potted`."""

from __future__ import annotations

import re
from typing import Any, Final

from core.notes.acts.shared import decide
from core.notes.parting.clauses import Clause
from core.notes.parting.covers import find_covers
from core.notes.parting.vents import find_vents
from core.notes.words.pieces import Piece
from core.vocabulary import ActWord
from core.vocabulary.loading import read_toml

_GIVEN: Final[dict[str, dict[str, str]]] = read_toml("small_words.toml")["given"]
_LOOKS_BACK: Final = re.compile(r"\b(did|has|have|was|were|when|got)\b")


def act_asked(pieces: list[Piece], about: str, words: str, values: dict[str, Any]) -> int | None:
    """Puts the act that a question asks about, and its way, into `values`; the place of its word."""
    if about not in ("history", "due"):
        return None
    if about == "due" and not re.search(r"\bwhen (is|are|do|does|should)\b", words):
        return None
    if _LOOKS_BACK.search(words):
        find_covers(pieces)
        find_vents(pieces)
        if (bare := _came_off(pieces, values)) is not None:
            return bare
    spelled = any("act" in piece.roles for piece in pieces)
    for place, piece in enumerate(pieces):
        for role in ("act", "to_do", "shared", "noun"):
            word = piece.roles.get(role) if role != "shared" or not spelled else None
            if word is None or (word.says.get("state") and role in ("act", "noun")):
                continue
            if role == "noun" and piece.low in ("warm", "cold"):
                continue
            if role == "noun" and (about == "due" or "plant" in piece.roles or "medium" in piece.roles):
                continue
            if about == "due":
                return None
            act = _meant(pieces, word)
            if act is None:
                return None
            given = next((says for one in pieces if (says := _GIVEN.get(one.low))), None) if act == "give" else None
            if given is not None:
                # "has anyone given tray 4 a drink"
                values["did"] = given["act"]
                values.update({"method": given["method"]} if "method" in given else {})
                return place
            values["did"] = act
            if _offers_another(pieces[place + 1 :], word):
                return None
            if "method" in word.says:
                values["method"] = word.says["method"]
            return place
    return None


def _came_off(pieces: list[Piece], values: dict[str, Any]) -> int | None:
    """`has tray 9 had any time | out of its dome`, `did lot 3 go | without a lid`: asks whether the cover was off."""
    place = next((at for at, piece in enumerate(pieces) if "bare" in piece.roles), None)
    if place is None or any("act" in piece.roles for piece in pieces):
        return None
    values["did"] = "uncover" if any("for_good" in piece.roles for piece in pieces) else "air"
    return place


def _meant(pieces: list[Piece], word: ActWord) -> str | None:
    """The act that a word asks about: of a word that several acts share, what it means beside the others."""
    if word.rule is None:
        return word.act
    clause = Clause("", pieces)
    clause.take(word)
    decide(clause)
    return clause.act


def _offers_another(after: list[Piece], word: ActWord) -> bool:
    """`did lot 30 get misted or bottom watered`: which of two ways is asked, so that neither is told."""
    ways = [piece.roles["act"] for piece in after if "act" in piece.roles]
    return any(piece.low == "or" for piece in after) and any(
        way.act == word.act and way.says != word.says for way in ways
    )
