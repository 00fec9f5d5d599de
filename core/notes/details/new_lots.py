"""Which lot is new after a split, and which one stays after a merge."""

from __future__ import annotations

from typing import Final

from core.notes.acts.slots import Slots
from core.notes.words.pieces import SUBJECTS, Piece
from core.vocabulary.loading import small_words

_FEW: Final = 6
"""Up to so many a lot may be split into, so that the number names none (`split lot 12 into 3`)."""
_BECOMING: Final = frozenset(word for words in small_words("split", "becoming") for word in words.split(" "))
_SPLIT_FROM: Final = small_words("split", "out_of")


def new_lot(slots: Slots, pieces: list[Piece]) -> None:
    """The new lot of a split: the one not split from, the one after `as`, `into`, `now`, else the second named."""
    named = [place for place, piece in enumerate(pieces) if piece.kind == "lots" and not piece.used]
    made = [place for place in named if not place or pieces[place - 1].low not in _SPLIT_FROM]
    if len(named) == 2 and len(made) == 1 and len(pieces[made[0]].value) == 1:
        slots.put("to", pieces[made[0]].value[0], pieces[made[0]])
        return
    for place in named:
        before = [piece.low for piece in pieces[max(0, place - 3) : place]]
        if len(pieces[place].value) == 1 and (
            set(before)
            & {
                "as",
                "into",
                "are",
                "is",
                "now",
                "to",
                "make",
                "became",
                "become",
                "called",
                "new",
                "=",
                "->",
                "made",
                "be",
            }
        ):
            slots.put("to", pieces[place].value[0], pieces[place], *_links_before(pieces, place))
            return
    if len(named) == 2 and len(pieces[named[1]].value) == 1:
        slots.put("to", pieces[named[1]].value[0], pieces[named[1]])
        return
    for place, piece in enumerate(pieces[:-1]):
        following = pieces[place + 1]
        if (
            piece.low in ("as", "into", "to")
            and following.kind == "number"
            and not following.used
            and following.value.whole is not None
            and not following.value.each
            and not (piece.low == "into" and following.value.whole <= _FEW)
            and not (place + 2 < len(pieces) and pieces[place + 2].roles.keys() & {"container", "pot_size", "amount"})
        ):
            slots.put("to", following.low, piece, following)
            return


def _links_before(pieces: list[Piece], place: int) -> list[Piece]:
    """The `become` of `14 become lot 94`."""
    start = place
    while start and pieces[start - 1].low in _BECOMING:
        start -= 1
    return pieces[start:place]


def kept_lot(slots: Slots, pieces: list[Piece]) -> None:
    """The lot that stays of a merge: the one after `into`, `as`, or the one that `stays`."""
    for place, piece in enumerate(pieces[:-1]):
        following = pieces[place + 1]
        named = (slots.values.keys() & SUBJECTS) | {one.kind for one in pieces[:place] if one.kind in SUBJECTS}
        if piece.low in ("into", "to", "as", "in"):
            if (
                following.kind in SUBJECTS
                and len(following.value) == 1
                and (following.kind in named or (named and piece.low == "into"))
            ):
                slots.put("to", _of_its_kind(following, named), piece, following)
                return
            if following.kind == "number" and following.low.isdigit():
                slots.put("to", following.low, piece, following)
                return
        joins = _is_merging(piece) and (piece.low.endswith(" into") or piece.low == "joined")
        joined = following.kind == "lots" and len(following.value) == 1
        if joins and joined and any(one.kind == "lots" for one in pieces[:place]):
            slots.put("to", following.value[0], following)
            return
    for place, piece in enumerate(pieces):
        if (
            piece.low in ("stays", "remains", "stay", "keeps", "kept", "lives on", "now")
            and place
            and pieces[place - 1].kind in ("lots", "number")
        ):
            before = pieces[place - 1]
            if before.kind == "lots" and len(before.value) > 1:
                slots.put("lots", before.value, before)
            slots.put("to", before.value[-1] if before.kind == "lots" else before.low, before, piece)
            return
        if (
            piece.low in ("keep", "keeping", "kept as", "now")
            and place + 1 < len(pieces)
            and pieces[place + 1].kind in ("lots", "number")
            and slots.values.get("lots")
        ):
            kept = pieces[place + 1]
            if piece.low == "now" and kept.kind == "number" and kept.low not in slots.values["lots"]:
                # "combined lots 9 and 10, now 44": so many of them.
                continue
            slots.put("to", kept.value[0] if kept.kind == "lots" else kept.low, piece, kept)
            return


def _of_its_kind(piece: Piece, named: set[str]) -> str:
    """`15`, or `tray 15` where lots went into it: the number of a tray is never a lot's."""
    number = str(piece.value[0])
    same = named == {piece.kind} or (piece.kind == "lots" and "lots" in named)
    return number if same else f"{piece.kind.removesuffix('s')} {number}"


def _is_merging(piece: Piece) -> bool:
    word = piece.roles.get("act")
    return word is not None and bool(word.act == "merge")
