"""Does a deed lie ahead: words in "-ing" or of going beside a day that is to come (`moving lot 26 tomorrow`)."""

from __future__ import annotations

from typing import Final

from core.notes.moments import Moment
from core.notes.pieces import Piece, is_act
from core.vocabulary.loading import small_words

_GETTING: Final = small_words("cues", "getting")
UNTIL: Final = small_words("dates", "until")
_STARTING: Final = small_words("cues", "starting")
_BEGUN: Final = small_words("cues", "begun")
_ONWARD: Final = small_words("cues", "onward")
_GOING: Final = small_words("cues", "going_to_be")
_SINCE: Final = small_words("cues", "since")


def lies_ahead(pieces: list[Piece]) -> bool:
    """`moving lot 26 tomorrow`, `weaning lot 19 starts monday`, `starting to wean tray 6 next week`: not done yet."""
    if _goes_on_later(pieces):
        return True
    for place, piece in enumerate(pieces):
        if is_act(piece) and _goes_on(pieces, place):
            if any(one.low in _STARTING and one.kind != "moment" for one in pieces[place + 1 :]):
                return True
            begun = any(one.low in _BEGUN for one in pieces[:place])
            return _names_coming(pieces, weekdays=not begun and _is_planned(pieces, place))
        if "to_do" in piece.roles and place and pieces[place - 1].low in ("to", "will"):
            return _names_coming(pieces, weekdays=False)
    return False


def _goes_on(pieces: list[Piece], place: int) -> bool:
    """`potting`, `getting potted`: a deed that goes on, or is planned."""
    first = pieces[place].low.split(" ")[0]
    return first.endswith("ing") or (place > 0 and pieces[place - 1].low in _GETTING)


def _is_planned(pieces: list[Piece], place: int) -> bool:
    """Whether a deed can be planned: no `wilting`, and no time that it took (`weaning tray 3 tue, 15 min`)."""
    word = pieces[place].roles.get("act") or pieces[place].roles["shared"]
    seen = word.act in ("wilt", "lose") or "state" in word.says
    return not seen and not any(piece.kind == "duration" for piece in pieces)


def lasts_to(pieces: list[Piece], place: int, *, apart: bool) -> bool:
    """`moved lot 14 out til friday`: a day or an hour that is not the deed's; nor is it after "since" in words `apart`
    from the deed (`watered lot 3, dry since mon`).
    """
    before = pieces[place - 1].low if place else ""
    if before in UNTIL or pieces[place].low.split(" ")[0] in UNTIL:
        return True
    return before == "since" and apart


def _goes_on_later(pieces: list[Piece]) -> bool:
    """`lids going on trays 4-6 at 5`, `dome comes off tray 3 friday`: a cover or plants that go somewhere, not gone."""
    covered = False
    for piece in pieces:
        covered = covered or "cover_noun" in piece.roles
        if covered and piece.low in _GOING:
            return True
    return False


def _names_coming(pieces: list[Piece], *, weekdays: bool) -> bool:
    """Whether a day that is to come is named; beside a deed in "-ing" a bare weekday is one."""
    if any(piece.low in _ONWARD for piece in pieces):
        return True
    return any(
        _is_coming(piece.value, weekdays and not _heads_log(pieces, place))
        for place, piece in enumerate(pieces)
        if piece.kind == "moment"
    )


def _heads_log(pieces: list[Piece], place: int) -> bool:
    """`fri: weaning tray 7` (the mark is no piece any more), `weaning tray 7 since fri`: a day that is over."""
    if place:
        return pieces[place - 1].low in _SINCE
    return len(pieces) > 1 and pieces[1].first > pieces[0].last


def _is_coming(moment: Moment, weekdays: bool) -> bool:
    if moment.ahead is not None or moment.which in ("next", "coming", "this") or (moment.days or 0) > 0:
        return True
    bare = moment.weekday is not None and not moment.which and moment.day is None and moment.weeks is None
    return weekdays and (bare or (moment.days == 0 and moment.part == "pm"))
