"""Were plants without their cover, told by how they were: `tray 7 spent half an hour without its dome`.

Rules
1. With a length of time, or a verb that tells a deed by itself (`lot 30 went lidless`), the cover came off for a while;
   with words of `for good` it came off for good. How they stand tells no deed (`tray 6 has no lid`).
2. What lets them breathe (`let tray 11 breathe`) needs plants that do so: nobody's breather is an airing.
3. Nothing else may be told of them before: not what is planned or asked, and no other deed.
"""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import SUBJECTS, Piece, is_act, names_plants
from core.notes.words.said import pass_over, statement_at
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_AIR: Final = ActWord(act="air")
_UNCOVER: Final = ActWord(act="uncover")
_SPENDING: Final = small_words("covers", "spending")
_BREATHING: Final = small_words("covers", "breathing")
_GOING: Final = small_words("covers", "going_bare")
_BREAKS: Final = small_words("covers", "breaks")
_OPEN: Final = small_words("covers", "open")
_TO: Final = frozenset({"to", "in", "on", "at"})
_FOR: Final = frozenset({"for", "in", "on"})
_ASKING: Final = frozenset({"did", "has", "have", "was", "were", "is", "are"})
_WHEN: Final = frozenset({"moment", "duration", "times", "person", "colon", "times_a_day"})
_UNSURE: Final = ("plan", "negation", "hearsay", "condition", "to_do", "none")


@looks_for(any_of=_OPEN, beside=("=duration",))
def tell_open(pieces: list[Piece]) -> None:
    """`tray 13 sat | open | for 20 minutes`, `exposed | tray 4 for 25 min`: as long as nothing is told of vents or of
    where they were exposed to, in place.
    """
    for place, piece in enumerate(pieces):
        start, end = statement_at(pieces, place)
        told = (*pieces[start:place], *pieces[place + 1 : end])
        named = any(one.kind in SUBJECTS for one in told) and any(one.kind == "duration" for one in told)
        plain = all(_may_stand_before(one) and one.low not in _TO for one in told)
        if piece.low in _OPEN and named and plain and not any("vent_noun" in one.roles for one in pieces):
            piece.kind, piece.roles = "phrase", {"bare": True}


@looks_for("@bare", "@breath", any_of=_BREATHING | _OPEN)
def tell_bare(pieces: list[Piece]) -> None:
    """`lot 22 did 20 min with no lid`, `let tray 11 breathe`, `permanently lidless: tray 9`: marks how they were as the
    deed, in place.
    """
    for place, piece in enumerate(pieces):
        breathes = "breath" in piece.roles or piece.low in _BREATHING
        if not (breathes or "bare" in piece.roles) or is_act(piece):
            continue
        start, end = statement_at(pieces, place)
        _count_breaks(pieces, start, place)
        before, after = pieces[start:place], pieces[place + 1 : end]
        if not all(map(_may_stand_before, before)) or any(map(_tells_more, after)) or _asks(before):
            continue
        told = (*before, *after)
        good = any("for_good" in one.roles for one in told)
        lasts = any(one.kind == "duration" for one in (*told, *_next_statement(pieces, end)))
        goes = any(one.low in _GOING for one in before) or piece.low.split(" ")[0] in _GOING
        if not (good or lasts or goes) or (breathes and not _is_of_plants(before, after)):
            continue
        piece.kind, piece.roles = "phrase", {"act": _UNCOVER if good else _AIR}
        for one in told:
            spent = one.low in _SPENDING and one.kind not in ("number", "moment")
            if spent or "for_good" in one.roles or "bare" in one.roles:
                pass_over(one)


def _count_breaks(pieces: list[Piece], start: int, place: int) -> None:
    """`two | 20 min | breaks from its dome`: how many times, in place."""
    at = place - 1 - (place > start and pieces[place - 1].kind == "duration")
    several = pieces[place].low.split(" ")[0] in _BREAKS
    if several and at >= start and pieces[at].kind == "number" and pieces[at].value.whole is not None:
        pieces[at].kind, pieces[at].value = "times", pieces[at].value.whole


def _asks(before: list[Piece]) -> bool:
    """`did | tray 5 breathe for 20 min`, `was | tray 5 lidless for an hour`: asked, and told by nobody."""
    return len(before) > 1 and before[0].low in _ASKING and before[1].kind in SUBJECTS


def _may_stand_before(piece: Piece) -> bool:
    """Whether a piece may stand before how plants were: they, when, how long, who let them, and small words."""
    if piece.kind in SUBJECTS or piece.kind in _WHEN or piece.low in _SPENDING:
        return True
    known = not piece.roles.keys().isdisjoint(("plant", "filler", "for_good", "all", "both", "times", "bare"))
    return known and not is_act(piece)


def _tells_more(piece: Piece) -> bool:
    return is_act(piece) or not piece.roles.keys().isdisjoint(_UNSURE)


def _next_statement(pieces: list[Piece], mark: int) -> list[Piece]:
    """`tray 7 went lidless | , half an hour`: what stands after the mark, where it is nothing but a length of time."""
    start, end = statement_at(pieces, mark + 1) if mark + 1 < len(pieces) else (mark, mark)
    said = pieces[start:end]
    return said if mark < len(pieces) and all(one.kind in _WHEN or "filler" in one.roles for one in said) else []


def _is_of_plants(before: list[Piece], after: list[Piece]) -> bool:
    """`let | tray 11 | breathe`, `first breather | for tray 13`."""
    for_them = len(after) > 1 and after[0].low in _FOR and names_plants(after[1])
    return for_them or any(map(names_plants, before))
