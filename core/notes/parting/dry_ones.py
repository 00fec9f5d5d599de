"""Which of those named got water: the dry ones, where others are told to be fine, or were watered, before them.

Rules
1. `trays 1-4 were fine, 5 and 6 dry so I watered them`: the fine ones got none.
2. `trays 1-6 misted, 7 & 8 dry so watered those`: bare numbers that are trays as those before are.
"""

from __future__ import annotations

from typing import Final

from core.notes.parting.as_before import is_bare, kind_before, list_end, name_as
from core.notes.words.pieces import SENTENCE_ENDS, SUBJECTS, Piece
from core.notes.words.said import deed_of, keep_words
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_FINE: Final = small_words("dry_ones", "fine")
_DRY: Final = small_words("dry_ones", "dry")
_BEING: Final = small_words("dry_ones", "being")
_EVERY: Final = small_words("dry_ones", "every")
_BUT: Final = small_words("dry_ones", "but")
_WATERED: Final = frozenset({"misted", "watered", "soaked", "sprayed"})


@looks_for(any_of=_DRY, beside=("!water",))
def water_dry_ones(pieces: list[Piece]) -> None:
    """`trays 1-4 were fine, 5 and 6 dry so I watered them`: only the dry ones got water, in place."""
    at = 0
    while at < len(pieces):
        named = pieces[at]
        fine = _after(pieces, at + 1, _BEING)
        if named.kind in SUBJECTS and fine < len(pieces) and pieces[fine].low in _FINE:
            others = _after(pieces, fine + 1, _BUT)
            if others > fine + 1 and _are_watered(pieces, others):
                if is_bare(pieces[others]):
                    name_as(pieces, others, list_end(pieces, others), named.kind)
                keep_words(*pieces[at : fine + 1])
        at += 1


def _after(pieces: list[Piece], at: int, small: frozenset[str]) -> int:
    """The place after the small words that stand at a place."""
    while at < len(pieces) and pieces[at].low in small:
        at += 1
    return at


def _are_watered(pieces: list[Piece], at: int) -> bool:
    """`5 and 6 | dry so I watered them`: whether those named at a place are dry, and are watered then."""
    if at >= len(pieces) or not (is_bare(pieces[at]) or pieces[at].kind in SUBJECTS):
        return False
    end = list_end(pieces, at) if is_bare(pieces[at]) else at + 1
    dry = _after(pieces, end, _BEING)
    if dry >= len(pieces) or pieces[dry].low not in _DRY:
        return False
    for piece in pieces[dry + 1 :]:
        word = deed_of(piece)
        if word is not None or piece.kind in SUBJECTS or piece.low in SENTENCE_ENDS:
            every = any("all" in one.roles or one.low in _EVERY for one in pieces[dry:])
            return word is not None and word.act == "water" and not every
    return False


@looks_for("dry", beside=("=trays", "=lots"))
def name_dry_so_watered(pieces: list[Piece]) -> None:
    """Names them as those before were named, where these were watered and what followed was too, in place."""
    for at in range(2, len(pieces) - 3):
        if pieces[at - 1].kind != "break" or pieces[at - 2].low not in _WATERED or not is_bare(pieces[at]):
            continue
        end, kind = list_end(pieces, at), kind_before(pieces, at)
        after = [piece.low for piece in pieces[end : end + 3]]
        if kind is not None and after[:2] == ["dry", "so"] and after[2:] and after[2] in _WATERED:
            name_as(pieces, at, end, kind)
            pieces[at + 1].kind = "kept"
            # What follows "so" was done to them.
            del pieces[at + 2]
            return
