"""Which bare numbers name flats, as trays are named: `sowed yarrow in flats 3, 4 and 6`, `misted flat 4`."""

from __future__ import annotations

from typing import Final

from core.notes.words.act_kinds import OPENING
from core.notes.words.pieces import Piece
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_TO_FLATS: Final = small_words("vessels", "before_numbered_flats")
_AFTER_FLATS: Final = small_words("vessels", "after_numbered_flats")
_INTO_FLATS: Final = OPENING | {"pot"}
_LISTING: Final = frozenset({"and", "&", ",", "+"})
_BEFORE_HEADS: Final = frozenset({"break", "moment", "person"})


@looks_for("flat", "flats")
def name_flats(pieces: list[Piece]) -> None:
    """`in flats 14-16`, `misted flat 4`, `flat 4: 12 rooted`: the numbers of flats, no lots and no count, in place."""
    planted = any("act" in piece.roles and piece.roles["act"].act in _INTO_FLATS for piece in pieces)
    place = -1
    while place + 2 < len(pieces):
        place += 1
        piece = pieces[place]
        flats = piece.roles.get("container") == "flat" and piece.low in ("flat", "flats")
        if not flats or not _leads_to_flats(pieces, place) or not _numbers_flat(pieces[place + 1]):
            continue
        end = place + 2
        while end + 1 < len(pieces) and pieces[end].low in ("and", "&", ",") and _numbers_flat(pieces[end + 1]):
            end += 2
        if end < len(pieces) and "plant" in pieces[end].roles:
            end = place + 2
        alone = end == place + 2 and not pieces[place + 1].value.high
        heads = piece.low == "flats" and alone and (not place or pieces[place - 1].kind in _BEFORE_HEADS)
        if heads or not _ends_flats(pieces, end, alone=alone):
            continue
        numbers = [one.value for one in pieces[place + 1 : end] if one.kind == "number"]
        names = [name for one in numbers for name in range(one.whole, int(one.high or one.whole) + 1)]
        low = " ".join(one.low for one in pieces[place + 1 : end])
        start = place + 1 if planted and pieces[place - 1].low not in ("from", "of", "off") else place
        first, last = pieces[start].first, pieces[end - 1].last
        pieces[start:end] = [Piece("trays", tuple(map(str, names)), first, last, low)]


def _leads_to_flats(pieces: list[Piece], place: int) -> bool:
    """Whether no count and no article of flats stands before a place (`2 flats 40 each`, `half a flat 12 up`)."""
    before = pieces[place - 1] if place else None
    if before is None or before.kind in _BEFORE_HEADS:
        return True
    word = before.roles.get("act")
    deed = word is not None and not word.counts_before and word.act != "sanitize"
    deed = deed or ("plant" in before.roles and pieces[place].low == "flat")
    return deed or before.low.split(" ")[-1] in _TO_FLATS or (before.low in _LISTING and place > 1)


def _ends_flats(pieces: list[Piece], end: int, *, alone: bool) -> bool:
    """Whether what follows the numbers of flats counts none of them: a mark, a day, a deed of care, where they went."""
    if end >= len(pieces) or pieces[end].kind in ("break", "moment"):
        return True
    after = pieces[end]
    word = after.roles.get("act")
    cared = word is not None and not word.counts_before
    counted = pieces[end + 1].kind in ("number", "fraction") if end + 1 < len(pieces) else False
    if counted and ((alone and "plant" in after.roles) or (not alone and after.low == "not")):
        # "Up in flats 1-3 not 4 5".
        return True
    return cared or after.low in _AFTER_FLATS or (alone and after.kind in ("number", "fraction"))


def _numbers_flat(piece: Piece) -> bool:
    number = piece.kind == "number" and piece.low[:1].isdigit()
    return number and bool(piece.value.whole) and not piece.value.approx and piece.value.of is None
