"""Which bare numbers and letters name flats, as trays are named: `sowed in flats 3, 4 and 6`, `misted flat C`."""

from __future__ import annotations

from typing import Final

from core.notes.words.act_kinds import OPENING
from core.notes.words.pieces import Piece
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_TO_FLATS: Final = small_words("vessels", "before_numbered_flats")
_AFTER_FLATS: Final = small_words("vessels", "after_numbered_flats")
_ASKING: Final = frozenset({"is", "was", "are", "were"})
_LETTERS: Final = small_words("vessels", "flat_letters")
_INTO_FLATS: Final = OPENING | {"pot"}
_LISTING: Final = frozenset({"and", "&", ",", "+"})
_AFTER_NAMES: Final = frozenset({"break", "moment", "mark"})
_REMARKS: Final = frozenset({"remarks", "closes"})
_BEFORE_HEADS: Final = frozenset({"break", "moment", "person"})


@looks_for("flat", "flats")
def name_flats(pieces: list[Piece]) -> None:
    """`in flats 14-16`, `misted flat C`, `flat 4: 12 rooted`: the numbers of flats, no lots and no count, in place."""
    planted = any("act" in piece.roles and piece.roles["act"].act in _INTO_FLATS for piece in pieces)
    place = -1
    while place + 2 < len(pieces):
        place += 1
        piece = pieces[place]
        flats = piece.roles.get("container") == "flat" and piece.low in ("flat", "flats")
        if not flats or not _leads_to_flats(pieces, place) or not _names(pieces[place + 1]):
            continue
        end = _end_of_names(pieces, place + 1, in_a_row=piece.low == "flats")
        if end < len(pieces) and "plant" in pieces[end].roles:
            end = place + 2
        names = [name for one in pieces[place + 1 : end] for name in _names(one)]
        alone = len(names) == 1
        heads = piece.low == "flats" and alone and (not place or pieces[place - 1].kind in _BEFORE_HEADS)
        asked = place > 0 and pieces[place - 1].low.split(" ")[-1] in _ASKING
        if heads or not (asked or _ends_flats(pieces, end, alone=alone)):
            continue
        low = " ".join(("tray", *(one.low for one in pieces[place + 1 : end])))
        start = place + 1 if planted and pieces[place - 1].low not in ("from", "of", "off") else place
        first, last = pieces[start].first, pieces[end - 1].last
        pieces[start:end] = [Piece("trays", tuple(names), first, last, low)]


def _leads_to_flats(pieces: list[Piece], place: int) -> bool:
    """Whether no count and no article of flats stands before a place (`2 flats 40 each`, `half a flat 12 up`)."""
    before = pieces[place - 1] if place else None
    if before is None or before.kind in _BEFORE_HEADS:
        return True
    word = before.roles.get("act")
    deed = word is not None and not word.counts_before and word.act != "sanitize"
    deed = deed or ("plant" in before.roles and pieces[place].low == "flat")
    return deed or before.low.split(" ")[-1] in _TO_FLATS | _ASKING or (before.low in _LISTING and place > 1)


def _ends_flats(pieces: list[Piece], end: int, *, alone: bool) -> bool:
    """Whether what follows the numbers of flats counts none of them: a mark, a day, a remark, a deed of care, where
    they went.
    """
    if end >= len(pieces) or pieces[end].kind in _AFTER_NAMES or not _REMARKS.isdisjoint(pieces[end].roles):
        return True
    after = pieces[end]
    word = after.roles.get("act")
    cared = word is not None and not word.counts_before
    counted = pieces[end + 1].kind in ("number", "fraction") if end + 1 < len(pieces) else False
    if counted and ((alone and "plant" in after.roles) or (not alone and after.low == "not")):
        # "Up in flats 1-3 not 4 5".
        return True
    return cared or after.low in _AFTER_FLATS or (alone and after.kind in ("number", "fraction"))


def _end_of_names(pieces: list[Piece], first: int, *, in_a_row: bool) -> int:
    """Where the names that begin at a place end; `in_a_row` also those with no mark between (`flats 3 4 5`)."""
    end = first + 1
    while end < len(pieces):
        joined = end + 1 < len(pieces) and pieces[end].low in ("and", "&", ",") and _names(pieces[end + 1])
        if not joined and not (in_a_row and _names(pieces[end])):
            break
        end += 2 if joined else 1
    return end


def _names(piece: Piece) -> list[str]:
    """The flats that a number, a range or a letter names; none where it is another number or word."""
    if piece.low in _LETTERS:
        return [piece.low]
    if piece.kind != "number" or not piece.low[:1].isdigit() or piece.value.approx or piece.value.of is not None:
        return []
    first = piece.value.whole
    return [str(name) for name in range(first, int(piece.value.high or first) + 1)] if first else []
