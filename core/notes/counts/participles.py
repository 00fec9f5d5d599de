"""Which words of deeds only tell which plants are meant: `4 of the planted out toyon`.

Nothing was done with them now; the words are kept.
"""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import COUNTS, SUBJECTS, Piece, is_act
from core.notes.words.said import deed_of, is_end, keep_words, statement_at
from core.notes.words.steps import looks_for

_MADE_OF: Final = frozenset({"pot", "plant_out", "sell", "give", "stick", "sow", "divide"})
_ALL_OR_THE: Final = frozenset({"all", "all the", "every", "the", "all of the"})
_WENT: Final = frozenset({"lose", "sell", "give", "plant_out"})
_TAKEN: Final = frozenset({"pot", "plant_out", "sell", "give"})
_FROM: Final = frozenset({"of", "from", "out of", "in"})
_ONES: Final = frozenset({"ones", "plants"})
_SEEDLINGS: Final = frozenset({"seedlings", "seedling", "sprouts"})
_INTO: Final = frozenset({"in", "into", "to", "up to", "up into"})
_PLANTS: Final = frozenset({"plant", "plants"})
_ONE: Final = frozenset({"a", "an", "the", "that", "this"})
_OF_THEM: Final = frozenset({"of", "the", "of the", "those", "our", "my"})


@looks_for(
    "!pot", "!plant_out", "!sell", "!give", "!stick", "!sow", "!divide", "!rooted", "!callused",
    "!ready", "!lose", beside=("of", "the", "those", "our", "my", "seeding", "all", "every", "everything"),
)  # fmt: skip
def keep_participles(pieces: list[Piece]) -> None:
    """`deer got 4 of the planted out toyon`, `17 rooted of the 25 stuck in lot 12`, `12 flowering 6 seeding`: which
    plants are meant, and nothing that was done with them now, in place.
    """
    for place, piece in enumerate(pieces):
        if "act" not in piece.roles:
            continue
        word = piece.roles["act"]
        if word.form != "done" or not place:
            continue
        if word.counts_before and _is_quality(pieces, place):
            keep_words(*pieces[place - 1 : place + 1])
            continue
        if word.act == "check" and _is_object(pieces, place):
            keep_words(pieces[place - 1])
            _keep(pieces, place)
        elif word.act not in _MADE_OF:
            if word.act == "check" and _tells_which(pieces, place) and _other_deed(pieces, place):
                _keep(pieces, place)
        elif piece.low == "seeding" and _seeds(pieces, place):
            keep_words(*pieces[place - 1 : place + 1])
        elif _tells_which(pieces, place) or _out_of_those(pieces, place):
            _keep(pieces, place)


@looks_for("sprouts")
def keep_sprouts(pieces: list[Piece]) -> None:
    """`watered the sprouts in tray 3`, `12 of the lot 51 sprouts potted`: what it was done to, in place."""
    for place, piece in enumerate(pieces):
        if piece.low != "sprouts" or not is_act(piece) or not place or pieces[place - 1].kind in COUNTS:
            continue
        start, end = statement_at(pieces, place)
        deeds = [one for one in pieces[start:end] if one is not piece and is_act(one)]
        if deeds and (pieces[place - 1].kind in SUBJECTS or pieces[place - 1].low in _OF_THEM):
            keep_words(piece)


@looks_for("seedlings", "sprouts", "seedling", beside=("!pot",))
def count_potted_seedlings(pieces: list[Piece]) -> None:
    """`pricked out tray 33, | 50 seedlings | into cells`: how many were, and none that came up, in place."""
    for place, piece in enumerate(pieces):
        if piece.low not in _SEEDLINGS or place < 2 or pieces[place - 1].kind != "number":
            continue
        start, end = statement_at(pieces, place)
        before, told = statement_at(pieces, start - 1)[0] if start else 0, pieces[start:end]
        deeds = [one for one in pieces[before:start] if is_act(one)]
        potted = [deed_of(one) for one in deeds[-1:] if not any(two.kind in COUNTS for two in pieces[before:start])]
        goes_on = not is_end(pieces, place + 1) and pieces[place + 1].low not in _INTO
        if goes_on or any(map(is_act, told)) or any(one.kind in SUBJECTS for one in pieces[start:place]):
            continue
        if potted and potted[0] is not None and potted[0].act == "pot":
            piece.roles = {"filler": True}


def _is_quality(pieces: list[Piece], place: int) -> bool:
    """`potted all | rooted | toyon`, `all | rooted | toyon potted`: those of a plant that are so, and no others."""
    if pieces[place - 1].low not in _ALL_OR_THE or not _of_plant(pieces, place + 1):
        return False
    begins = place == 1 or pieces[place - 2].kind == "break"
    deed = pieces[place + 2 : place + 3] if begins else pieces[place - 2 : place - 1]
    word = deed[0].roles.get("act") if deed else None
    return word is not None and not word.counts_before


@looks_for("!pot", beside=("!lose", "!sell", "!give", "!plant_out"))
def keep_potted_ones(pieces: list[Piece]) -> None:
    """`lost 2 potted in lot 4`, `2 potted died`: those that stand in pots, and no potting, in place."""
    for place, piece in enumerate(pieces):
        word = piece.roles.get("act")
        if word is None or (word.act, word.form) != ("pot", "done") or place < 1 or pieces[place - 1].kind != "number":
            continue
        after = place + 1 + (place + 1 < len(pieces) and pieces[place + 1].low in _ONES)
        went_before = place > 1 and _went(pieces[place - 2]) and _ends_there(pieces, after)
        went_after = after < len(pieces) and _went(pieces[after])
        # "2 lost 3 potted", "3 potted lost 2" are two deeds, each with its count.
        uncounted = pieces[place - 3 : place - 2] if went_before else pieces[after + 1 : after + 2]
        if (went_before or went_after) and not any(one.kind in COUNTS for one in uncounted):
            keep_words(*pieces[place:after])


@looks_for("!pot", beside=_PLANTS | _ONE)
def keep_potted_plants(pieces: list[Piece]) -> None:
    """`sold a potted plant`, `the potted plants look good`, `potted plant for my mom`: those in pots, in place."""
    for place, piece in enumerate(pieces[:-1]):
        if piece.low != "potted" or not (pieces[place + 1].low in _PLANTS or _of_plant(pieces, place + 1)):
            continue
        start, end = statement_at(pieces, place)
        told = any(one.kind in SUBJECTS or one.kind in COUNTS for one in pieces[start:end])
        alone = pieces[place + 1].low == "plant" and not told
        if alone or (place and pieces[place - 1].low.split(" ")[-1] in _ONE):
            keep_words(*pieces[place : place + 1 + (pieces[place + 1].low in _PLANTS)])


def _went(piece: Piece) -> bool:
    word = piece.roles.get("act")
    return word is not None and word.act in _WENT and word.form == "done"


def _ends_there(pieces: list[Piece], at: int) -> bool:
    """Whether nothing but the lot or the plant follows, or plain words after the plant: what is potted into something,
    or counted, is a deed.
    """
    _, end = statement_at(pieces, at - 1)
    plain = _of_plant(pieces, at)
    return all(
        one.kind in SUBJECTS or one.roles.keys() & {"filler", "plant"} or (plain and one.kind == "word")
        for one in pieces[at:end]
    )


def _keep(pieces: list[Piece], place: int) -> None:
    """Keeps a deed's word, without the small words around it."""
    piece = pieces[place]
    keep_words(piece)
    for lead in pieces[max(0, place - 2) : place] if _of_plant(pieces, place + 1) else ():
        lead.used = lead.used or lead.low in _OF_THEM
    if piece.low.endswith(" in"):
        piece.last, piece.low = piece.last - 1, piece.low.removesuffix(" in")


def _seeds(pieces: list[Piece], place: int) -> bool:
    """`6 seeding`, `4 lots seeding`: plants that go to seed."""
    counts = pieces[place - 1].kind == "number" or (place > 1 and pieces[place - 2].kind == "number")
    after = pieces[place + 1] if place + 1 < len(pieces) else None
    sown = after is not None and ("plant" in after.roles or after.kind in ("number", "amount"))
    return counts and not sown


def _is_object(pieces: list[Piece], place: int) -> bool:
    """`potted all the | rooted |`: those that went, by their state; all is of them, and not of the lot."""
    lead, deed = pieces[place - 1], deed_of(pieces[place - 2]) if place > 1 else None
    whole = lead.low in _ALL_OR_THE or lead.low == "everything"
    if not whole or deed is None or deed.act not in _TAKEN or deed.form != "done":
        return False
    after = pieces[place + 1] if not is_end(pieces, place + 1) else None
    there = pieces[place].low.endswith(" in") and after is not None and after.kind in SUBJECTS
    return after is None or there or after.low in _FROM or after.low in _INTO


def _other_deed(pieces: list[Piece], place: int) -> bool:
    start, end = statement_at(pieces, place)
    return any(map(is_act, (*pieces[start:place], *pieces[place + 1 : end])))


def _of_plant(pieces: list[Piece], at: int) -> bool:
    return at < len(pieces) and "plant" in pieces[at].roles


def _tells_which(pieces: list[Piece], place: int) -> bool:
    """`of the | potted | sage`, `all the | potted | sage`: a part of plants by what became of them."""
    lead = pieces[place - 1]
    of_them = lead.low.endswith(("of the", "of", "all the")) or (
        lead.low in ("the", "those", "our", "my") and place > 1 and pieces[place - 2].low.endswith(("of", "all"))
    )
    counted = any(one.kind in COUNTS or one.roles.keys() & {"all", "vague", "fraction"} for one in pieces[:place])
    return of_them and counted and _of_plant(pieces, place + 1)


def _out_of_those(pieces: list[Piece], place: int) -> bool:
    """`of 25 | stuck |`, `of the 25 | stuck in |`: out of how many, where another deed tells of some of those."""
    start = place - 2
    if [one.kind for one in pieces[place + 1 : place + 2]] == ["number"] and _into_vessels(pieces, place + 2):
        # "22 rooted out of thirty potted twenty in four inch pots".
        return False
    if pieces[place - 1].kind == "number" and pieces[place - 1].value.of is not None:
        return _other_deed(pieces, place)
    if pieces[place - 1].kind != "number" or start < 0:
        return False
    start -= start > 0 and pieces[start].low in ("the", "those")
    begin, end = statement_at(pieces, place)
    said = (*pieces[begin:start], *pieces[place + 1 : end])
    counted = any(one.kind in COUNTS for one in said)
    deeds = [one for one in said if is_act(one) or _states(one)]
    return pieces[start].low in ("of", "of the", "out of", "out of the") and counted and bool(deeds)


def _into_vessels(pieces: list[Piece], at: int) -> bool:
    """`in four inch pots`, `up to gallons`: what so many were put into."""
    at += at < len(pieces) and pieces[at].low in ("in", "into", "to", "up to", "up into")
    sized = at < len(pieces) and pieces[at].kind in ("size", "amount")
    return sized or (at < len(pieces) and not pieces[at].roles.keys().isdisjoint(("container", "pot_size")))


def _states(piece: Piece) -> bool:
    word = piece.roles.get("noun")
    return word is not None and bool(word.act == "check")
