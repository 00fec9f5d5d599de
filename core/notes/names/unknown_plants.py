"""Which unknown words after a count name a plant beside known ones: `sowed 40 toyon, 30 zorkia in tray 3`, `sold 6
zagwort and 4 toyon`.
"""

from __future__ import annotations

from typing import Final

from core.notes.words.act_kinds import OPENING
from core.notes.words.pieces import SUBJECTS, Piece
from core.notes.words.steps import looks_for
from core.vocabulary.everyday import is_everyday, is_given_name
from core.vocabulary.loading import small_words

_COUNTS: Final = frozenset({"number", "amount"})
_AFTER: Final = small_words("names", "after_unknown")
_COLOURS: Final = small_words("names", "colours")
_NEVER: Final = small_words("names", "never")
_ENDINGS: Final = small_words("names", "endings")
_JOINS: Final = frozenset({",", "and", "&", "+", "\n", "-", "*"})
_OF_LISTS: Final = OPENING | {"pot", "sell", "give", "plant_out", "reserve", "lose"}
_AFTER_KINDS: Final = SUBJECTS | _COUNTS | {"size", "moment", "break"}
_SHORTEST: Final = 4
_SHORTEST_LISTED: Final = 3
_LONGEST: Final = 3


def unknown_plant(pieces: list[Piece]) -> tuple[int, int] | None:
    """Where the unknown words begin and end that follow the count which opens a statement; None where they may be
    something else: plain English, a person, or words that more is told of.
    """
    told = [place for place, piece in enumerate(pieces) if piece.kind != "mark"]
    if len(told) < 2 or pieces[told[0]].kind not in _COUNTS:
        return None
    start = end = told[0] + 1
    while end < len(pieces) and end - start < _LONGEST and _may_name(pieces[end]):
        end += 1
    if end == start or not _is_strange(pieces[end - 1]):
        return None
    after = pieces[end] if end < len(pieces) else None
    ends = after is None or after.kind in SUBJECTS or after.kind in ("size", "moment") or after.low in _AFTER
    return (start, end) if ends or (after is not None and "container" in after.roles) else None


def name_unknown(pieces: list[Piece]) -> None:
    """Makes one piece of a plant of such words, in place."""
    found = unknown_plant(pieces)
    if found is not None:
        _make_plant(pieces, *found)


def _may_name(piece: Piece) -> bool:
    return piece.kind == "word" or piece.low in _COLOURS


def _is_strange(piece: Piece) -> bool:
    low = piece.low
    known = is_everyday(low) or is_given_name(low)
    return piece.kind == "word" and low.isalpha() and len(low) >= _SHORTEST and not known


@looks_for("=counts", beside=("@plant",))
def name_listed(pieces: list[Piece]) -> None:
    """`sold 6 zagwort and 4 toyon`, `potted 30 sage, 5 snake root`: unknown words that stand in a list of counted
    plants as the known ones do are plants too, in place.
    """
    deed = False
    at = 0
    while at < len(pieces):
        deed = deed or _tells_of_list(pieces[at])
        items = _items_from(pieces, at) if deed and pieces[at].kind in _COUNTS else []
        strange = [item for item in items if not _is_plant(pieces, item)]
        if strange and len(strange) < len(items):
            for start, end in reversed(strange):
                _make_plant(pieces, start, end)
        at = items[-1][0] + 1 if items else at + 1


def _tells_of_list(piece: Piece) -> bool:
    word = piece.roles.get("act") or piece.roles.get("shared")
    return word is not None and word.act in _OF_LISTS


def _items_from(pieces: list[Piece], at: int) -> list[tuple[int, int]]:
    """Where the names begin and end of a list of counted plants that begins at a place."""
    items: list[tuple[int, int]] = []
    while at < len(pieces) and pieces[at].kind in _COUNTS:
        end = _end_of_known(pieces, at + 1) or _end_of_strange(pieces, at + 1)
        if end is None:
            break
        items.append((at + 1, end))
        at = end
        while at < len(pieces) and pieces[at].low in _JOINS:
            at += 1
    return items


def _is_plant(pieces: list[Piece], item: tuple[int, int]) -> bool:
    return "plant" in pieces[item[1] - 1].roles


def _end_of_known(pieces: list[Piece], start: int) -> int | None:
    """Where a known plant's name ends, perhaps with an unknown word before it (`30 elbow sage`)."""
    start += start < len(pieces) and pieces[start].kind == "word"
    return start + 1 if start < len(pieces) and "plant" in pieces[start].roles else None


def _end_of_strange(pieces: list[Piece], start: int) -> int | None:
    """Where unknown words end that may be a plant's name in a list; None where they are something else."""
    end = start
    while end < len(pieces) and end - start < _LONGEST and _may_name(pieces[end]) and pieces[end].low not in _NEVER:
        end += 1
    if end < len(pieces) and start < end < start + _LONGEST and pieces[end].low in _ENDINGS:
        end += 1
    if end == start:
        return None
    last = pieces[end - 1]
    known = is_everyday(last.low) or is_given_name(last.low)
    strange = last.kind == "word" and last.low.isalpha() and len(last.low) >= _SHORTEST_LISTED and not known
    if not (strange or (end - start > 1 and last.low in _ENDINGS)):
        return None
    after = pieces[end] if end < len(pieces) else None
    ends = after is None or after.kind in _AFTER_KINDS or after.low in _AFTER or after.low in _JOINS
    return end if ends or (after is not None and "container" in after.roles) else None


def _make_plant(pieces: list[Piece], start: int, end: int) -> None:
    run = pieces[start:end]
    low = " ".join(piece.low for piece in run)
    pieces[start:end] = [Piece("phrase", None, run[0].first, run[-1].last, low, {"plant": low})]
