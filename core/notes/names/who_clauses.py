"""Who gets plants, told by what they did or what they are like: `volunteers who helped us wash pots` is one name.

Rules
1. Only after a common noun: who somebody with a name is (`to hal who plays the organ`) is told beside it.
2. The words go on to the next mark, to why it was done, or to what else was given or done to plants.
"""

from __future__ import annotations

from typing import Final

from core.notes.names.groups import NAMELIKE
from core.notes.names.place_leads import PLACE_LEADS
from core.notes.words.pieces import NO_ROLES, SUBJECTS, Piece, is_act, names_plants
from core.notes.words.said import end_of_statement
from core.notes.words.steps import looks_for
from core.vocabulary.everyday import is_everyday, is_given_name
from core.vocabulary.loading import small_words

_WHO: Final = small_words("who_clauses", "who")
_WHERE: Final = small_words("who_clauses", "where")
_WHOEVER: Final = small_words("who_clauses", "whoever")
_SOMEBODY: Final = small_words("who_clauses", "somebody")
_DETERMINERS: Final = small_words("places", "articles") | small_words("who_clauses", "determiners")
_TITLES: Final = small_words("people", "titles")
_ENDS: Final = small_words("places", "ends") | small_words("groups", "groups") | small_words("groups", "gatherings")
_WANTED: Final = small_words("acts", "keeping") | small_words("targets", "wanting")
_REASONS: Final = small_words("cues", "reasons")
_SPEAKERS: Final = small_words("relative", "who")
_LEADS: Final = frozenset().union(*(PLACE_LEADS[act] for act in ("give", "sell", "reserve", "plant_out")))
_LEAVING: Final = frozenset({"give", "sell", "reserve", "plant_out", "hold"})
_AND: Final = frozenset({"and", "&", "+"})
_OF: Final = frozenset({"of", "from"})
_TO: Final = frozenset({"to", "for"})
_NAME: Final = frozenset({"word", "phrase"})
_FAR: Final = 4
"""So many words may stand between the little word and what the name ends with (`for the mill lane school that`)."""


@looks_for(any_of=_WHO | _WHERE | _WHOEVER)
def join_who_clauses(pieces: list[Piece]) -> None:
    """Makes a common noun and the clause that tells who or which is meant one word, in place."""
    for place in range(len(pieces) - 2, 1, -1):
        if place + 1 >= len(pieces):
            continue
        low = pieces[place].low
        start = place if low in _WHOEVER else place - 1
        if low not in _WHO | _WHERE | _WHOEVER or not _is_led_to(pieces, start):
            continue
        if low not in _WHOEVER and not (_is_common(pieces, start) and _tells_which(pieces, place)):
            continue
        # "to two ladies who drove down".
        start -= pieces[start - 1].kind == "number" and pieces[start - 2].low in _LEADS
        run = pieces[start : _end_of_clause(pieces, place)]
        low = " ".join(piece.low for piece in run)
        # The article of "a couple" is part of its number.
        first = run[0].first + low.startswith("a ")
        pieces[start : start + len(run)] = [Piece("word", None, first, run[-1].last, low.removeprefix("a "), NO_ROLES)]


def _is_led_to(pieces: list[Piece], at: int) -> bool:
    """Whether a deed of giving or planting, and a little word that leads to whom or where, stand before a place."""
    lead = at - 1 - (pieces[at - 1].kind == "number")
    while lead > 0 and at - lead <= _FAR and pieces[lead].kind in _NAME and pieces[lead].low not in _LEADS:
        lead -= 1
    if lead < 1 or pieces[lead].low not in _LEADS:
        return False
    start = lead
    while start and pieces[start - 1].low not in (".", "\n", ";", "?", "!"):
        start -= 1
    return any(map(_gives, pieces[start:lead]))


def _gives(piece: Piece) -> bool:
    word = piece.roles.get("act") or piece.roles.get("shared") or piece.roles.get("to_do")
    return piece.low in _WANTED or (word is not None and word.act in _LEAVING)


def _is_common(pieces: list[Piece], at: int) -> bool:
    """Whether a noun names nobody by a name: `families`, `the lady`, `bank`; not `hal`, `mrs lind`."""
    piece, before = pieces[at], pieces[at - 1].low
    if piece.low.removeprefix("a ") in _SOMEBODY or piece.low.removesuffix("s") in _SOMEBODY:
        return True
    if piece.kind not in _NAME or before in _TITLES:
        return False
    if before in _DETERMINERS:
        return True
    named = before not in _LEADS and not any(one.low in _DETERMINERS for one in pieces[max(0, at - _FAR) : at])
    if is_given_name(piece.low) or piece.low in NAMELIKE or (named and piece.low in _ENDS):
        # "hal who plays the organ", "gull point where the fence is down".
        return False
    return piece.low in _ENDS or is_everyday(piece.low) or "place_word" in piece.roles


def _tells_which(pieces: list[Piece], place: int) -> bool:
    """Whether words after `who` or `that` tell which is meant (`that we met`); `that we potted` tells of the plants."""
    after = pieces[place + 1 : place + 3]
    done = pieces[place].low in ("that", "which") and after[0].low in _SPEAKERS and any(map(is_act, after))
    return after[0].kind != "break" and not done


def _end_of_clause(pieces: list[Piece], place: int) -> int:
    """Where a clause ends that opens at a place."""
    stop = end_of_statement(pieces, place)
    named = any(map(names_plants, pieces[:place]))
    for at in range(place + 1, stop):
        piece = pieces[at]
        if piece.kind == "mark" or piece.roles.keys() & {"closes", "remarks"}:
            return at
        if piece.low in _REASONS and at + 1 < stop and (piece.low != "since" or pieces[at + 1].low in _SPEAKERS):
            return at
        if piece.kind in SUBJECTS and not named:
            return at
        if piece.low == "by" and at + 1 < stop and pieces[at + 1].kind in ("moment", "fraction"):
            # "for families who lost their gardens | by april 4".
            return at
        if piece.kind == "number" and _counts_of_lot(pieces, at, stop):
            return at
        if piece.low in _AND and _goes_on(pieces[at + 1 : stop]):
            return at
    return stop


def _counts_of_lot(pieces: list[Piece], at: int, stop: int) -> bool:
    after = pieces[at + 1 : min(at + 3, stop)]
    return len(after) > 1 and after[0].low in _OF and after[1].kind in SUBJECTS


def _goes_on(told: list[Piece]) -> bool:
    """`and | 4 of lot 41 for greta`, `and | misted tray 3`: what else was given, or done to plants; not `and fed the
    sage`, which they did too.
    """
    numbered = any(piece.kind in SUBJECTS for piece in told)
    if told and told[0].kind == "number":
        return numbered or any("plant" in piece.roles or piece.low in _TO for piece in told)
    counted = any(piece.kind == "number" for piece in told) and any("plant" in piece.roles for piece in told)
    return (numbered or counted) and any(map(is_act, told))
