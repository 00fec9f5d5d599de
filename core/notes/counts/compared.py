"""Which lots and plants are only named beside those that are told of: `like lot 10 did`, `next to lot 10`, `3 ok`.

Their words are one unread piece, no subject and no count; a move may take it as its place.
"""

from __future__ import annotations

from typing import Final

from core.notes.words.act_kinds import OPENING
from core.notes.words.pieces import COUNTS, NO_ROLES, SUBJECTS, Piece, is_act
from core.notes.words.runs import Runs
from core.notes.words.said import is_end, said_in
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_STANDING: Final = Runs(small_words("compared", "beside"))
_LEADING: Final = small_words("compared", "leading") | small_words("compared", "beside")
_LEADS: Final = Runs(_LEADING)
"""The words that lead to the lot compared (`better than`, `next to`, `like`)."""
_TRAILING: Final = small_words("compared", "trailing")
OTHERS: Final = small_words("compared", "others")
_LEFT: Final = small_words("compared", "left_alone")
_PLACES: Final = small_words("compared", "places")
_WAS: Final = small_words("compared", "was")
_OLD: Final = small_words("compared", "old")
_COUNTING: Final = frozenset({"pot", "move", "sell", "give", "lose", "check", "plant_out", "split", "reserve", "wilt"})
_NOT: Final = frozenset({"not", "and not", "but not", "not yet"})
_STORED: Final = small_words("compared", "stored")
_NOT_DONE: Final = _NOT | {"left"}
_AFTER_NUMBERS: Final = Runs(OTHERS | _LEFT | _STORED)
_LONGEST: Final = 4
_SMALL: Final = frozenset({"the", "of", "in", "on", "from", "what", "to", "did", "is"})


@looks_for("'s", "left", any_of=_LEADING | OTHERS | _LEFT | _STORED | _WAS | _NOT)
def _join_others(pieces: list[Piece]) -> None:
    """Makes each comparison with a lot or tray of a telling one unread piece, in place."""
    telling = False
    for place, piece in enumerate(pieces):
        end = 0
        if piece.kind in SUBJECTS or piece.low in _LEADS.heads:
            end = _compared_until(pieces, place)
        if not end and (piece.kind == "number" or piece.low in _NOT_DONE):
            end = _others_until(pieces, place)
        if end:
            telling = telling or _tells(pieces)
            if not telling:
                return
            _join(pieces, place, end)


@looks_for("=moment", beside=("=number",))
def _join_coming(pieces: list[Piece]) -> None:
    """`lot 12 potted, 13 tomorrow`, `misted tray 3, 5 and 6 tomorrow`: numbers of a day to come, in place."""
    if not any(piece.kind == "moment" and piece.value.is_to_come for piece in pieces):
        return
    if not _tells(pieces):
        return
    place = 0
    while place < len(pieces):
        end = _coming_until(pieces, place) if pieces[place].kind == "number" else 0
        if end:
            _join(pieces, place, end)
        place += 1


def _tells(pieces: list[Piece]) -> bool:
    return any(is_act(piece) or "noun" in piece.roles for piece in pieces)


def _join(pieces: list[Piece], place: int, end: int) -> None:
    run = pieces[place:end]
    roles = {"standing": True} if _STANDING.end_at(pieces, place) else NO_ROLES
    pieces[place:end] = [Piece("compared", None, run[0].first, run[-1].last, said_in(run), roles)]


def _compared_until(pieces: list[Piece], place: int) -> int:
    """Where the comparison that begins at a piece ends; 0 where none begins."""
    lead = _LEADS.end_at(pieces, place)
    if not lead:
        return _old_place_until(pieces, place)
    at = lead
    while at < len(pieces) and pieces[at].low in _SMALL:
        at += 1
    than = pieces[lead - 1].low.endswith(("than", "as"))
    if at >= len(pieces) or not (pieces[at].kind in ("lots", "trays") or (than and pieces[at].kind == "moment")):
        return 0
    at += 1
    while at < len(pieces) and pieces[at].low in _TRAILING:
        at += 1
    counted = at < len(pieces) and pieces[at].kind in COUNTS
    return 0 if counted else at


def _old_place_until(pieces: list[Piece], place: int) -> int:
    """`lot 5 was in` of `the tray lot 5 was in`, `lot 5's old tray`: where another lot was; 0 where none is told."""
    said = pieces[place : place + _LONGEST]
    if len(said) < 3 or said[0].kind not in SUBJECTS or (said[1].low != "'s" and said[1].low not in _WAS):
        return 0
    if any("act" in piece.roles and piece.roles["act"].act == "lose" for piece in pieces[:place]):
        return 0
    before = pieces[place - 1] if place else None
    held = before is not None and before.low.rpartition(" ")[2] in _PLACES
    if held and said[1].low in _WAS and said[2].low in ("in", "on", "at") and _ends(pieces, place + 3):
        return place + 3
    if said[1].low == "'s" and said[2].low in _OLD and len(said) > 3 and said[3].kind in ("phrase", "word"):
        return place + 4
    return 0


def _others_until(pieces: list[Piece], place: int) -> int:
    """Where `21 fine`, `12 to go` or `left 22 where it was` ends: what the deed left alone; 0 where none begins."""
    first = pieces[place]
    if first.low in _NOT:
        return _denied_until(pieces, place)
    number = place + (pieces[place].low == "left")
    if number + 1 >= len(pieces) or pieces[number].kind != "number":
        return 0
    if pieces[number + 1].low not in _AFTER_NUMBERS.heads:
        return 0
    leads = _LEFT if number > place else OTHERS | (_STORED if _opened_before(pieces, place) else frozenset())
    for size in range(_LONGEST, 0, -1):
        end = number + 1 + size
        counts_on = len(pieces) > end and pieces[end].kind == "number" and number == place
        if said_in(pieces[number + 1 : end]) in leads and len(pieces) >= end and (counts_on or _ends(pieces, end)):
            return end if number > place or _opens(pieces, place) else 0
    return 0


def _several_until(pieces: list[Piece], place: int) -> int:
    """Where the numbers end that `5 and 6 tomorrow` begins with; the place itself where it is one number or none."""
    end = place + 1
    while end + 1 < len(pieces) and pieces[end].low in ("and", "&", ",") and pieces[end + 1].kind == "number":
        end += 2
    return end if end > place + 1 and pieces[place].kind == "number" else place


def _coming_until(pieces: list[Piece], place: int) -> int:
    """Where `13 tomorrow` or `5 and 6 tomorrow` ends, no count and nothing that was done; 0 where none begins."""
    several = _several_until(pieces, place)
    at = max(several, place + 1)
    day = pieces[at] if at < len(pieces) else None
    if day is None or day.kind != "moment" or not day.value.is_to_come or not _opens(pieces, place):
        return 0
    if several > place:
        told = any(piece.kind in SUBJECTS for piece in pieces[:place])
    else:
        told = _ends(pieces, at + 1) and any(map(_counts_plants, pieces[:place]))
    return at + 1 if told else 0


def _denied_until(pieces: list[Piece], place: int) -> int:
    """Where the `not 13` of `potted lot 12, not 13` ends; 0 where it does not begin at a place."""
    end = place + 2
    denied = end <= len(pieces) and pieces[place + 1].kind == "number" and _ends(pieces, end)
    return end if denied and any(map(_counts_plants, pieces[:place])) else 0


def _counts_plants(piece: Piece) -> bool:
    """Whether a deed may be told with a count of plants."""
    deed = piece.roles.get("act") or piece.roles.get("shared")
    return deed is not None and bool(deed.rule or deed.act in _COUNTING)


def _opened_before(pieces: list[Piece], place: int) -> bool:
    """`stuck 40 snowberry, 15 in the fridge`: what was not stuck."""
    deeds = [piece.roles["act"] for piece in pieces[:place] if "act" in piece.roles]
    return bool(deeds) and all(deed.act in OPENING for deed in deeds)


def _opens(pieces: list[Piece], place: int) -> bool:
    """Whether a number begins a statement: not `potted 12 good`, where it is of the deed."""
    before = pieces[place - 1] if place else None
    if before is None or before.kind in ("break", "lots", "trays") or before.low in ("and", "&", "but"):
        return True
    roles = before.roles
    if before.kind == "compared":
        return True
    word = roles.get("act") or roles.get("noun")
    counted = place > 1 and pieces[place - 2].kind == "number"
    return word is not None and (word.counts_before or word.form == "noun") and counted


def _ends(pieces: list[Piece], at: int) -> bool:
    return is_end(pieces, at) or pieces[at].low in ("and", "&", "but", "so")


JOIN_COMPARED: Final = (_join_coming, _join_others)
"""Make what is only named beside those that are told of one unread piece, in place."""
