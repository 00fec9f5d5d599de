"""Words that are deeds of the bench only with plants: `doused lot 4`, not `doused the fire`; `3 slumped in lot 9`.

Rules
1. What is done to plants has them after it, or right before it where nothing more is said (`lot 4 doused`).
2. What is told of plants has them right before it (`lot 4 had a drink`), past small words, counts and times; or it
   begins with them and goes on after an "and" (`lot 4 went into pots and had a drink`). What follows a deed done to
   them is told of who did it (`potted lot 4 and had a drink`).
3. What is said of plants names them in the same sentence, or counts them right before.
4. Plants that were stood somewhere were put there.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from core.notes.words.pieces import COUNTS, Piece, names_plants
from core.notes.words.said import begin_of_statement, deed_of, is_end, keep, sentence_at, statement_at
from core.notes.words.steps import looks_for
from core.vocabulary import words

_PRONOUNS: Final = frozenset({"it", "them", "em", "'em", "those", "these"})
_WHOLES: Final = frozenset({"all", "both", "vague", "left", "fraction"})
_SMALL: Final = frozenset({"filler", "approx", "more"})
_BEING: Final = frozenset({"is", "are", "was", "were", "isn't", "has", "needs"})
"""What follows plants where something of theirs is told of (`overhead water on lot 4 is off`)."""
_OPENING: Final = frozenset({":", ","})
_AND: Final = frozenset({"and", "&", "then", "and then"})
_DOERS: Final = frozenset({"i", "we", "he", "she", "they", "you"})


@looks_for("?after", "?before", "?beside")
def keep_of_no_plants(pieces: list[Piece]) -> None:
    """Takes the meaning of a deed from such words where no plants are named for them, in place."""
    for at, piece in enumerate(pieces):
        word = deed_of(piece)
        needs = word.needs if word is not None else None
        if needs is None:
            continue
        if needs == "after":
            named = _done_to_plants(pieces, at + 1) or (_closes(pieces, at + 1) and _told_of_plants(pieces, at))
        else:
            named = _told_of_plants(pieces, at) or (needs == "beside" and _named_beside(pieces, at))
        if not named:
            keep(piece)


def _done_to_plants(pieces: list[Piece], at: int) -> bool:
    """Whether plants stand at a place, past small words and a colon (`lot 4`, `the whole of lot 49`, `them`)."""
    if at < len(pieces) and pieces[at].low in _OPENING:
        at += 1
    while at < len(pieces) and pieces[at].low not in _PRONOUNS and not _SMALL.isdisjoint(pieces[at].roles):
        at += 1
    if at >= len(pieces):
        return False
    piece = pieces[at]
    if piece.kind in COUNTS:
        after = pieces[at + 1] if at + 1 < len(pieces) else None
        named = any(map(names_plants, pieces[slice(*statement_at(pieces, at))]))
        return named or after is None or after.kind not in ("word", "phrase")
    told = any(one.low in _BEING for one in pieces[at + 1 : at + 2])
    return not told and (names_plants(piece) or piece.low in _PRONOUNS or not _WHOLES.isdisjoint(piece.roles))


def _closes(pieces: list[Piece], at: int) -> bool:
    return is_end(pieces, at) or pieces[at].kind == "moment" or "filler" in pieces[at].roles


def _told_of_plants(pieces: list[Piece], at: int) -> bool:
    """Whether plants stand right before a place, past small words, counts and times, or begin its statement."""
    start = begin_of_statement(pieces, at)
    if at > start and pieces[at - 1].low in _AND:
        return _begins_with_plants(pieces[start : at - 1])
    for piece in reversed(pieces[start:at]):
        if names_plants(piece):
            return True
        small = piece.kind == "moment" or not (_SMALL | _WHOLES).isdisjoint(piece.roles)
        if not small and piece.kind not in COUNTS:
            return False
    return start > 1 and pieces[start - 1].low in _OPENING and names_plants(pieces[start - 2])


def _begins_with_plants(told: list[Piece]) -> bool:
    """`lot 9 moved to bench 4 | and had a drink`; not `potted lot 9`, `lot 9 we moved`, of those who did it."""
    if any(piece.kind == "person" or piece.low in _DOERS for piece in told):
        return False
    for piece in told:
        small = piece.kind in COUNTS or piece.kind == "moment" or not (_SMALL | _WHOLES).isdisjoint(piece.roles)
        if names_plants(piece) or not small:
            return names_plants(piece)
    return False


def _named_beside(pieces: list[Piece], at: int) -> bool:
    """Whether the sentence names plants, or counts them right before a place."""
    return _counted_before(pieces, at) or any(map(names_plants, pieces[slice(*sentence_at(pieces, at))]))


def _counted_before(pieces: list[Piece], at: int) -> bool:
    """`3 | slumped`, `about 3 | slumped`, `all | slumped`; not `the mister on bench 3 | conked out`."""
    if not at or (pieces[at - 1].kind not in COUNTS and _WHOLES.isdisjoint(pieces[at - 1].roles)):
        return False
    lead = pieces[at - 2] if at > 1 else None
    return lead is None or lead.kind in ("break", "moment") or not _SMALL.isdisjoint(lead.roles)


@looks_for("stood", beside=("=lots", "=trays", "@plant"))
def read_stood(pieces: list[Piece]) -> None:
    """`stood tray 9 in half an inch of water`: put there, in place; not `tray 9 stood outside`."""
    for piece, after in pairwise(pieces):
        if piece.low == "stood" and names_plants(after):
            piece.kind, piece.roles = "phrase", words().phrases["set"]
