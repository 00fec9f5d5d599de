"""A plant that was divided, told by other words: `broke up the yerba mansa into 18`, `made 16 divisions of yarrow`,
`20 plants out of the sage by division`.

Rules
1. What breaks or cuts a plant in so many plants divides it; not what cuts it in cuttings, and not a lot.
2. So does what breaks or cuts it, where so many pieces are told right after (`chopped up the juncus, got 24 bits into
   liners`); they went nowhere, or into pots.
3. Divisions that were made, so many of them, are of a plant that was divided.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from core.notes.names.people import may_be_name
from core.notes.words.pieces import NO_ROLES, Piece, is_act
from core.notes.words.said import (
    begin_of_statement,
    end_of_sentence,
    end_of_statement,
    is_end,
    keep_words,
    pass_over,
    statements,
)
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_BREAKING: Final = small_words("broken_up", "breaking")
_WITH_PARTICLE: Final = small_words("broken_up", "breaking_with_particle")
_NOT_BREAKING: Final = small_words("broken_up", "not_breaking")
_BEING: Final = frozenset({"was", "were", "got", "has", "have", "been", "is", "are", "just", "now"})
_PARTICLES: Final = frozenset({"up", "apart", "asunder"})
_TEASING: Final = small_words("broken_up", "teasing")
_CLUMPS: Final = small_words("broken_up", "clumps")
_COUNTED_PARTS: Final = small_words("broken_up", "counted_parts")
_GETTING: Final = small_words("broken_up", "getting")
_BEFORE_PARTS: Final = frozenset({",", ";", ":", "-", ".", "and", "&", "\n"})
_INTO_POTS: Final = small_words("broken_up", "into_pots")
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
        if verb.low in _TEASING and "container" in pieces[min(into + 2, len(pieces) - 1)].roles:
            continue
        parted = any(piece.low.split(" ")[-1] in _PARTICLES for piece in pieces[at:into])
        if not (parted or verb.low not in _WITH_PARTICLE or verb.low in _TEASING):
            continue
        if not (_is_plant_broken(pieces, at + 1, into) or _is_plant_before(pieces, at, into)):
            continue
        verb.kind, verb.roles = "phrase", {"act": _DIVIDED}
        for piece in pieces[at + 1 : into]:
            if piece.low in _PARTICLES:
                pass_over(piece)
        keep_words(*(piece for piece in (*pieces[at + 1 : into], *pieces[into + 2 : into + 4]) if _is_part(piece)))


@looks_for(any_of=_COUNTED_PARTS, beside=("=number",))
def break_in_pieces(pieces: list[Piece]) -> None:
    """`wild ginger clump cut up, 22 pieces into 4 in`, `pulled a clump apart, 12 pieces`: divided, in place."""
    for start, end in reversed(statements(pieces)):
        said, mark = pieces[start:end], pieces[end : end + 1]
        verb = next((piece for piece in said if _breaks(piece)), None)
        if verb is None or not mark or mark[0].low not in _BEFORE_PARTS:
            continue
        lead = end + 1
        while lead < len(pieces) and pieces[lead].low in _GETTING:
            lead += 1
        clump = any(piece.low in _CLUMPS for piece in said)
        apart = any(piece.low.split(" ")[-1] in ("apart", "asunder") for piece in said)
        potted = _counts_parts(pieces, lead)
        if potted is None or not (clump or apart or potted) or not _is_only_broken(said, verb):
            continue
        keep_words(*(piece for piece in said if _is_part(piece)))
        pass_over(*(piece for piece in said if piece.low in _PARTICLES | _CLUMPS), *pieces[end + 1 : lead])
        pass_over(*(piece for piece in pieces[lead + 1 : lead + 2] if "what" not in piece.roles))
        verb.kind, verb.roles, verb.used = "phrase", {"act": _DIVIDED}, False


@looks_for("by", beside=("!divide",))
def keep_torn_apart(pieces: list[Piece]) -> None:
    """`deergrass pulled apart by gophers`: harm, and nobody's deed, in place."""
    for at, by in enumerate(pieces[:-1]):
        doer = pieces[at + 1 + (pieces[at + 1].low == "the")] if at + 2 < len(pieces) else pieces[-1]
        if by.low == "by" and doer.roles.get("cause") in ("animal", "pest"):
            told = pieces[begin_of_statement(pieces, at) : at]
            keep_words(*(piece for piece in told if "act" in piece.roles and piece.roles["act"].act == "divide"))


def _breaks(piece: Piece) -> bool:
    """`chopped`, `pulled`, `pulled apart`."""
    return piece.low.split(" ")[0] in _BREAKING | _WITH_PARTICLE and piece.kind in ("word", "phrase")


def _counts_parts(pieces: list[Piece], at: int) -> bool | None:
    """`22 pieces`, `22 pieces into 4 in`, where something may be told of their pots; whether it is, None for no such
    parts.
    """
    stop = end_of_statement(pieces, at) if at < len(pieces) else at
    if stop - at < 2 or pieces[at].kind != "number" or pieces[at].value.whole is None:
        return None
    after = [piece for piece in pieces[at + 2 : stop] if piece.low not in _INTO_POTS and piece.kind != "moment"]
    potted = all(piece.kind in ("size", "amount") or piece.roles.keys() & {"container", "pot_size"} for piece in after)
    return bool(after) if pieces[at + 1].low in _COUNTED_PARTS and potted else None


def _is_only_broken(said: list[Piece], verb: Piece) -> bool:
    """Whether nothing but a plant or a clump of no lot and who broke it is told beside a verb."""
    plain = _ARTICLES | _PARTICLES | _PARTS | _BEING | {"of"}
    others = [piece for piece in said if piece is not verb and piece.low not in plain and piece.kind != "moment"]
    named = [piece for piece in others if "plant" in piece.roles or piece.kind == "quote"]
    people = [piece for piece in others if piece not in named]
    heads = next(piece for piece in said if piece.kind != "moment")
    doer = people == [] or (len(people) == 1 and people[0] is heads and _may_do(heads))
    parted = verb.low not in _WITH_PARTICLE or any(piece.low in _PARTICLES for piece in said)
    return doer and parted and (named != [] or any(piece.low in _CLUMPS for piece in said))


def _may_do(piece: Piece) -> bool:
    return piece.kind == "person" or may_be_name(piece) or piece.low in ("i", "we", "she", "he", "they")


def _is_part(piece: Piece) -> bool:
    """`pieces`, `small ones`, `clump`; not the `divisions` and vessels that have a meaning."""
    return piece.low in _PARTS and not piece.roles.keys() - {"fullness"}


def _may_break(verb: Piece) -> bool:
    """A verb of breaking or cutting, or one that is not known (`whacked`)."""
    known = verb.low in _BREAKING or verb.low in _WITH_PARTICLE or verb.low in _TEASING
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
