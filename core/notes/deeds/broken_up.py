"""A plant that was divided, told by other words: `broke up the yerba mansa into 18`, `made 16 divisions of yarrow`,
`20 plants out of the sage by division`.

Rules
1. What breaks or cuts a plant in so many plants divides it; not what cuts it in cuttings, and not a lot.
2. Divisions that were made, so many of them, are of a plant that was divided.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from core.notes.words.pieces import NO_ROLES, Piece, is_act
from core.notes.words.said import begin_of_statement, end_of_sentence, end_of_statement, is_end, keep_words, pass_over
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_BREAKING: Final = small_words("broken_up", "breaking")
_WITH_PARTICLE: Final = small_words("broken_up", "breaking_with_particle")
_NOT_BREAKING: Final = small_words("broken_up", "not_breaking")
_BEING: Final = frozenset({"was", "were", "got", "has", "have", "been", "is", "are", "just", "now"})
_PARTICLES: Final = frozenset({"up", "apart", "asunder"})
_INTO: Final = frozenset({"into", "in", "to make", "to get", "for", "to"})
_PARTS: Final = small_words("broken_up", "parts")
_MADE: Final = small_words("broken_up", "made")
_CUT_FROM: Final = small_words("broken_up", "by_division")
_ARTICLES: Final = small_words("places", "articles")
_DIVIDED: Final = ActWord(act="divide")
_NAMES_LOTS: Final = frozenset({"lots", "trays"})
_SAID: Final = {"filler": True}


@looks_for("into", "to make", beside=("@plant",))
def break_up(pieces: list[Piece]) -> None:
    """`broke up the yerba mansa into 18`, `chopped the iris into 25, flats`: divided, in place."""
    for at in range(len(pieces) - 3, -1, -1):
        verb = pieces[at]
        if not _may_break(verb):
            continue
        stop = end_of_statement(pieces, at)
        into = next((one for one in range(at + 1, stop - 1) if pieces[one].low in ("into", "to make")), None)
        if into is None or not _counts_plants(pieces, into + 1) or any(map(is_act, pieces[at + 1 : into])):
            continue
        parted = any(piece.low.split(" ")[-1] in _PARTICLES for piece in pieces[at:into])
        if not (parted or verb.low not in _WITH_PARTICLE):
            continue
        if not (_is_plant_broken(pieces, at + 1, into) or _is_plant_before(pieces, at, into)):
            continue
        verb.kind, verb.roles = "phrase", {"act": _DIVIDED}
        for piece in pieces[at + 1 : into]:
            if piece.low in _PARTICLES:
                pass_over(piece)
        keep_words(*(piece for piece in (*pieces[at + 1 : into], *pieces[into + 2 : into + 4]) if _is_part(piece)))


def _is_part(piece: Piece) -> bool:
    """`pieces`, `small ones`, `clump`; not the `divisions` and vessels that have a meaning."""
    return piece.low in _PARTS and not piece.roles.keys() - {"fullness"}


def _may_break(verb: Piece) -> bool:
    """A verb of breaking or cutting, or one that is not known (`whacked`)."""
    known = verb.low in _BREAKING or verb.low in _WITH_PARTICLE
    return known or (verb.kind == "word" and verb.low.endswith("ed") and verb.low not in _NOT_BREAKING)


def _is_plant_before(pieces: list[Piece], at: int, into: int) -> bool:
    """`the yerba mansa was | chopped up | into 18`, `the iris came apart into 9`."""
    first = begin_of_statement(pieces, at)
    first += pieces[first].kind == "moment"
    subject = at
    while subject > first and pieces[subject - 1].low in _BEING:
        subject -= 1
    told = pieces[at + 1 : into]
    only = all(piece.low in _PARTICLES or piece.kind == "moment" for piece in told)
    return only and _is_plant_broken(pieces, first, subject)


def _is_plant_broken(pieces: list[Piece], start: int, end: int) -> bool:
    """`up the yerba mansa`, `the big clump of yarrow up`: a plant of no lot, and nothing else."""
    told = [piece for piece in pieces[start:end] if piece.low not in _ARTICLES and piece.low not in _PARTS]
    named = [piece for piece in told if piece.low not in _PARTICLES]
    plant = any("plant" in piece.roles for piece in named)
    plain = all("plant" in piece.roles or piece.kind == "quote" or piece.low in ("of", "old") for piece in named)
    return plant and plain


def _counts_plants(pieces: list[Piece], at: int) -> bool:
    """`into 18`, `into 12 pieces`, `into 25 plugs`; not `into 40 cuttings`, `into 6 in lengths`."""
    if at >= len(pieces) or pieces[at].kind != "number" or pieces[at].value.whole is None:
        return False
    after = pieces[at + 1] if at + 1 < len(pieces) else None
    if after is None or is_end(pieces, at + 1) or after.kind in ("moment", "size"):
        return True
    return after.low in _PARTS or "container" in after.roles or after.roles.get("what") == "divisions" or is_act(after)


@looks_for("split up", "broke up", beside=("@plant",))
def leave_size_of_clump(pieces: list[Piece]) -> None:
    """`split up the | big | deergrass`: how it was is kept, in place."""
    for at, piece in enumerate(pieces):
        if piece.low not in ("split up", "broke up"):
            continue
        place = at + 1
        while place + 1 < len(pieces) and (pieces[place].low in _ARTICLES or pieces[place].low in _PARTS):
            if pieces[place].low in _PARTS:
                keep_words(pieces[place])
            place += 1


@looks_for(any_of=_MADE, beside=("@what",))
def make_divisions(pieces: list[Piece]) -> None:
    """`made 16 divisions of yarrow`, `did 20 divisions of iris`: divided, in place."""
    for at, piece in enumerate(pieces):
        if piece.low not in _MADE or any(map(is_act, pieces[at + 1 : end_of_statement(pieces, at)])):
            continue
        first, stop = begin_of_statement(pieces, at), end_of_statement(pieces, at)
        told = pieces[first:stop]
        counted = any(one.kind == "number" for one in told) and any(_of_divisions(one) for one in told)
        plant = any("plant" in one.roles for one in pieces[first : end_of_sentence(pieces, at)])
        if counted and plant and not any(one.kind in _NAMES_LOTS or "to_do" in one.roles for one in told):
            piece.kind, piece.roles = "phrase", {"act": _DIVIDED}


def _of_divisions(piece: Piece) -> bool:
    return piece.roles.get("what") == "divisions"


@looks_for(any_of=_CUT_FROM, beside=("@plant",))
def divide_by_division(pieces: list[Piece]) -> None:
    """`we got 20 plants out of the hummingbird sage by division`: divided, in place."""
    for by, division in pairwise(list(pieces)):
        if by.low not in ("by", "from", "through") or division.low not in _CUT_FROM:
            continue
        at = next(place for place, piece in enumerate(pieces) if piece is division)
        told = pieces[begin_of_statement(pieces, at) : end_of_statement(pieces, at)]
        plant = any("plant" in piece.roles for piece in told)
        if not plant or not any(piece.kind == "number" for piece in told) or any(p.kind == "lots" for p in told):
            continue
        deeds = [piece for piece in told if is_act(piece)]
        if any("shared" not in piece.roles and piece.low not in _MADE for piece in deeds):
            continue
        for piece in deeds:
            piece.roles, piece.used = _SAID, True
        division.kind, division.roles = "phrase", {"act": _DIVIDED}
        by.used = True
        out = next((place for place, piece in enumerate(told[:-1]) if piece.low == "out"), None)
        if out is not None:
            told[out].roles = NO_ROLES if told[out + 1].low != "of" else _SAID
