"""Do lids stand ajar, which tells how far the air comes in and takes none off: `opened the lids a crack on tray 3`."""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import Piece
from core.notes.words.said import begin_of_statement, end_of_statement
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_VENT: Final = ActWord(act="vent")
_BEFORE: Final = small_words("covers", "before_noun")
_OPENED: Final = small_words("vents", "open")
_PROPPED: Final = small_words("covers", "propped")
_WAYS: Final = small_words("covers", "off") | small_words("covers", "off_after") | {"back on"}


@looks_for("@cover_noun", any_of=_OPENED | _PROPPED)
def open_with_lids(pieces: list[Piece]) -> None:
    """`opened the lids | a crack`, `domes open | half`, `propped the lid`: reads the lids as vents, in place; lids that
    were opened and not told how far came off.
    """
    for place, piece in enumerate(pieces):
        if "cover_noun" not in piece.roles or "act" in piece.roles:
            continue
        end = end_of_statement(pieces, place)
        verbs = [one.low.split(" ")[0] for one in (*_before(pieces, place), *pieces[place + 1 : min(place + 2, end)])]
        after = pieces[place + 1 : min(place + 4, end)]
        propped = not _PROPPED.isdisjoint(verbs)
        ajar = not _OPENED.isdisjoint(verbs) and any(_is_part(one) for one in after)
        if (ajar or propped) and not any(one.low in _WAYS for one in pieces[place + 1 : end] if one.low != "on"):
            for one in (*_before(pieces, place), *after):
                if one.low in _PROPPED | _OPENED:
                    one.roles, one.used = {"filler": True}, True
            piece.roles = {"act": _VENT, "vent_noun": True}


def _before(pieces: list[Piece], place: int) -> list[Piece]:
    """`propped open | all the | lids`: what stands right before a lid and what it is called by."""
    at, start = place, begin_of_statement(pieces, place)
    while at > start and pieces[at - 1].low in _BEFORE:
        at -= 1
    return pieces[max(start, at - 2) : at]


def _is_part(piece: Piece) -> bool:
    """`a crack`, `open half`, `1/4`: neither shut nor wide open."""
    part = piece.kind == "fraction" and piece.value[0] < piece.value[1]
    return part or 0 < float(piece.roles.get("vent_open", 0)) < 1
