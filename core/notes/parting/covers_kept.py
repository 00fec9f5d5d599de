"""Which words of covers tell no deed, or another than they seem to.

`tray 5 recovered`, `lifted the lid on lot 14 to look`, `taped the dome on tray 3`.
"""

from __future__ import annotations

from typing import Final

from core.notes.names.people import may_be_name
from core.notes.words.pieces import Piece, is_act
from core.notes.words.said import begin_of_statement, end_of_statement, keep_words
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_AIR: Final = ActWord(act="air")
_UNCOVER: Final = ActWord(act="uncover")
ENDING: Final = small_words("covers", "ending")
"""Verbs that take a cover off for good."""
_VERBS_ON: Final = small_words("covers", "verbs_on")
_OPENING: Final = small_words("covers", "opening")
_LOOKING: Final = small_words("covers", "looking")
_THEM: Final = small_words("covers", "them")
_BEFORE: Final = small_words("covers", "before_noun")
_SUBJECTS: Final = ("lots", "trays", "number")
_PARTICLES: Final = small_words("covers", "particles")
_LOWERING: Final = small_words("covers", "lowering")
_WITHIN: Final = frozenset({"in", "into", "through", "inside"})
_TURNING: Final = small_words("covers", "turning")


@looks_for("recovered", "recovering")
def keep_recovered(pieces: list[Piece]) -> None:
    """`tray 5 recovered`, `misted and recovered`: the plants did; `recovered tray 5` is a cover, in place."""
    for place, piece in enumerate(pieces):
        if piece.low not in ("recovered", "recovering"):
            continue
        after = pieces[place + 1] if place + 1 < len(pieces) else None
        done_to = after is not None and (after.kind in ("lots", "trays") or after.low in _THEM or "all" in after.roles)
        if not done_to or any(one.kind in ("lots", "trays") for one in _statement(pieces, place)):
            keep_words(piece)
            _keep_from_what(pieces, place + 1)


def _keep_from_what(pieces: list[Piece], at: int) -> None:
    """`… from the wilt`, `… after mist`; not `… after i misted it`, which is a deed."""
    end = end_of_statement(pieces, at)
    if at >= len(pieces) or pieces[at].low not in ("from", "after") or any(map(is_act, pieces[at:end])):
        return
    while at < len(pieces) and pieces[at].kind != "break":
        keep_words(pieces[at])
        at += 1


def _statement(pieces: list[Piece], place: int) -> list[Piece]:
    """What stands before a place in its statement."""
    start = begin_of_statement(pieces, place)
    return pieces[start:place]


def done_to_cover(pieces: list[Piece], place: int) -> ActWord | bool:
    """What a deed right before a cover noun with its lot (`lifted the lid on lot 14`) tells: the cover came off; True
    for what is no deed of covers (`taped the dome on tray 3`); False where nothing of the kind is said.
    """
    at = place - 1
    while at >= 0 and pieces[at].low in _BEFORE:
        at -= 1
    if at < 0 or pieces[at].kind == "break":
        return False
    if pieces[at].low in _WITHIN and _leads_on(pieces, place + 1, pieces[at]):
        # "poked holes in the bag on lot 9".
        return True
    up = at > 0 and pieces[at].low in _PARTICLES
    verb, lead = pieces[at - up], place + 1
    if verb.low in _OPENING:
        lead += lead < len(pieces) and pieces[lead].low in _PARTICLES
        way = pieces[lead - 1].low if lead > place + 1 else ""
        if not _leads_on(pieces, lead, verb) or way == "back" or (way == "down" and verb.low in _LOWERING):
            return False
        near = pieces[lead + 2 : lead + 5]
        if any(one.low in _LOOKING for one in near):
            keep_words(verb)
            return True
        for piece in (verb, *pieces[at : at + up], *pieces[place + 1 : lead + 1]):
            piece.roles, piece.used = {"filler": True}, True
        return _UNCOVER if verb.low in ENDING else _AIR
    if not _leads_on(pieces, lead, verb) or pieces[lead + 1].kind not in _SUBJECTS:
        return False
    if verb.low in _VERBS_ON or "filler" in verb.roles or verb.kind not in ("word", "phrase"):
        return False
    return is_act(verb) or "vent_open" in verb.roles or (verb.kind == "word" and not may_be_name(verb))


def _leads_on(pieces: list[Piece], at: int, verb: Piece) -> bool:
    """`on | lot 14`, `on | the back row`, after a verb that rolls it up also `back on | lot 14`: where a cover is."""
    if at + 1 >= len(pieces) or pieces[at + 1].kind == "break":
        return False
    return pieces[at].low == "on" or (pieces[at].low == "back on" and verb.low in _TURNING)


def came_from(pieces: list[Piece], place: int) -> None:
    """`dome from tray 9 is on tray 2 now`: where the cover was before, in place."""
    opens = place == 0 or pieces[place - 1].kind == "break" or pieces[place - 1].low in _BEFORE
    if not opens or place + 4 >= len(pieces) or pieces[place + 1].low != "from":
        return
    origin = pieces[place + 2]
    if origin.kind in ("lots", "trays") and any(one.kind == origin.kind for one in pieces[place + 3 : place + 7]):
        keep_words(*pieces[place + 1 : place + 3])
