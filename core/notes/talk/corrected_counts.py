"""Which numbers does a correction put right: a count, a share, or none, as another number counts or more is told."""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import SUBJECTS, Piece
from core.notes.words.said import state_of
from core.vocabulary.loading import small_words

_THERE_IS: Final = small_words("corrections", "there_is")
_BEFORE_COUNT: Final = small_words("corrections", "before_count")
_OF_THOSE: Final = small_words("corrections", "of_those")
_NOT: Final = small_words("corrections", "denying")
_FROM: Final = small_words("corrections", "from_lot")
_OF_SHARES: Final = ("solution", "hormone_form", "hormone_name", "medium")


def is_bare_number(piece: Piece) -> bool:
    """`14`: a whole number, and nothing else."""
    return piece.kind == "number" and piece.value.whole is not None and not piece.value.high and piece.low.isdecimal()


def counts_both(told: list[Piece]) -> bool:
    """`48, its 46 in tray 3`: how many there ought to be, and then how many there are."""
    begins = next((place + 1 for place, piece in enumerate(told) if piece.low in (",", ";", ".", "but")), len(told))
    at = begins
    while at < len(told) and told[at].low in _THERE_IS:
        at += 1
    led = begins < at < len(told) and told[at].kind == "number"
    return led and any(piece.kind == "number" for piece in told[:begins])


def count_put_right(told: list[Piece]) -> bool:
    """`actually it was | 5 that died not 4`: a count, what was counted, and the count that was wrong."""
    solid = [piece for piece in told if piece.kind not in ("break", "mark")]
    denied = next((place for place, piece in enumerate(solid) if piece.low in _NOT), 0)
    counts = denied and denied + 1 < len(solid) and all(map(is_bare_number, (solid[0], solid[denied + 1])))
    others = [piece for place, piece in enumerate(solid) if place not in (0, denied, denied + 1)]
    deeds = [piece for piece in others if "act" in piece.roles]
    plain = all(piece in deeds or piece.low in _OF_THOSE for piece in others)
    return bool(counts) and len(deeds) == 1 and plain


def numbers_lot(told: list[Piece]) -> bool:
    """`no. 9 3 rooted`, `no 9: 3 rooted`: "no" is short for number, as another number counts."""
    if len(told) < 3 or told[0].kind != "number":
        return False
    after = told[2] if told[1].low in _BEFORE_COUNT else told[1]
    return after.kind == "number"


def ends_after_share(told: list[Piece]) -> bool:
    """`60%`, `10% bleach`, `40% in lot 3`: nothing else than the share of what was told; not `50% off`, `60% done`."""
    solid = [piece for piece in told if piece.kind not in ("break", "mark") and piece.low not in _FROM]
    after = next((solid[at + 1 : at + 2] for at, piece in enumerate(solid) if piece.kind == "percent"), [])
    named = any(piece.kind in SUBJECTS or not piece.roles.keys().isdisjoint(_OF_SHARES) for piece in after)
    return not after or named or after[0].low in _NOT or state_of(after[0]) != ""
