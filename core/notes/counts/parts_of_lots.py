"""Which bare numbers are lots because a part of them is told of: `most of 16 rooted`, `a couple of 15 died`, or all:
`potted all the rooted ones from 21 and 23`.

So many of a lot are no number of plants: "most of 16" never counts 16.
"""

from __future__ import annotations

from typing import Final

from core.notes.words.numbers import Number
from core.notes.words.pieces import COUNTS, SENTENCE_ENDS, SUBJECTS, Piece, is_act
from core.notes.words.said import begin_of_sentence, begin_of_statement, said_in, statement_at
from core.notes.words.steps import looks_for

_PARTS: Final = frozenset({"vague", "fraction"})
_AFTER: Final = frozenset({"filler", "noun", "negation", "cause"})
_JOINTS: Final = frozenset({"and", "&"})
_IT: Final = frozenset({"it", "them", "em", "those"})
_OF_IT: Final = _IT | {f"of {it}" for it in _IT}
_INTO_TRAYS: Final = frozenset({"sow", "pot"})
_TAKEN_FROM: Final = frozenset({"from", "of", "in"})


@looks_for("@vague", "@fraction", "couple", beside=("=number",))
def name_parts_of_lots(pieces: list[Piece]) -> None:
    """Makes lots of the bare numbers after `most of`, `half of`, `a couple of`, in place, where their statement names
    none.
    """
    for place in range(len(pieces) - 1, 0, -1):
        if not _names_part(pieces, place) or _has_subject(pieces, place):
            continue
        end = _end_of_list(pieces, place)
        if _nothing_counted(pieces, end):
            run = pieces[place:end]
            names = tuple(piece.low for piece in run if piece.kind == "number")
            low = " ".join(piece.low for piece in run)
            pieces[place:end] = [Piece("lots", names, run[0].first, run[-1].last, low)]


@looks_for("@all", "ones", "roots", beside=("from", "of", "in"))
def name_lots_taken_from(pieces: list[Piece]) -> None:
    """Makes lots of the bare numbers in a row that all plants, or those of a kind, were taken from, in place."""
    for place in range(len(pieces) - 2, 0, -1):
        led = pieces[place].low.split(" ")[-1] in _TAKEN_FROM and _may_be_lot(pieces[place + 1])
        start = begin_of_statement(pieces, place)
        if not led or not _tells_which(pieces[start:place]) or _has_subject(pieces, place):
            continue
        end = _end_of_list(pieces, place + 1)
        if end > place + 2 and _nothing_counted(pieces, end):
            run = pieces[place + 1 : end]
            names = tuple(piece.low for piece in run if piece.kind == "number")
            pieces[place + 1 : end] = [Piece("lots", names, run[0].first, run[-1].last, said_in(run))]


def _tells_which(said: list[Piece]) -> bool:
    """Whether some words are a deed and all plants, or those of a kind, and count none."""
    which = any("all" in piece.roles or "of_a_part" in piece.roles for piece in said)
    return which and any(map(is_act, said)) and not any(piece.kind in COUNTS for piece in said)


def _end_of_list(pieces: list[Piece], at: int) -> int:
    """Where the bare numbers joined to the one at a place end."""
    end = at + 1
    while end + 1 < len(pieces) and pieces[end].low in _JOINTS and _may_be_lot(pieces[end + 1]):
        end += 2
    return end


def _names_part(pieces: list[Piece], place: int) -> bool:
    """Whether the number at a place comes after a part of something, and "of"."""
    if not _may_be_lot(pieces[place]):
        return False
    before = pieces[place - 1]
    part = pieces[place - 2] if before.low == "of" and place > 1 else before
    if before.low.split(" ")[-1] != "of":
        return False
    return not part.roles.keys().isdisjoint(_PARTS) or "couple" in part.low.split(" ")


def _may_be_lot(piece: Piece) -> bool:
    if piece.kind != "number" or not piece.low.isdigit():
        return False
    number: Number = piece.value
    return number.high is None and number.of is None and not number.approx and not number.each


def _has_subject(pieces: list[Piece], place: int) -> bool:
    """Whether a lot or tray is told of in the same statement."""
    start = next((at + 1 for at in range(place - 1, -1, -1) if _parts_from(pieces, at)), 0)
    end = next((at for at in range(place, len(pieces)) if pieces[at].kind == "break"), len(pieces))
    told = next((at for at in range(place, end) if pieces[at].low in _JOINTS and is_act(pieces[at - 1])), end)
    return any(piece.kind in SUBJECTS for piece in pieces[start:told])


def _parts_from(pieces: list[Piece], at: int) -> bool:
    """Whether a new statement begins after a place: a sentence, or what is joined to a deed."""
    piece = pieces[at]
    return piece.low in SENTENCE_ENDS or ((piece.low in _JOINTS or piece.low == ",") and is_act(pieces[at - 1]))


def _nothing_counted(pieces: list[Piece], at: int) -> bool:
    """Whether nothing that the number before a place could count follows it."""
    if at >= len(pieces) or pieces[at].kind == "break" or is_act(pieces[at]):
        return True
    return not pieces[at].roles.keys().isdisjoint(_AFTER) and pieces[at].low not in ("of", "out of")


@looks_for(any_of=_OF_IT, beside=("=trays",))
def name_lots_of_it(pieces: list[Piece]) -> None:
    """`pulled lot 31 out of the cold, sowed 120 of it in tray 7`: of which lot, beside the tray, in place."""
    for at in range(len(pieces) - 1, 1, -1):
        own = pieces[at].low in _OF_IT and " " in pieces[at].low
        number = pieces[at - 1] if own else pieces[at - 2]
        it = own or (pieces[at].low in _IT and pieces[at - 1].low == "of")
        if not it or number.kind != "number" or not _follows_sowing(pieces, at):
            continue
        start, end = statement_at(pieces, at)
        before = reversed(pieces[begin_of_sentence(pieces, at) : at])
        named = next((piece for piece in before if piece.kind in SUBJECTS), None)
        kinds = [piece.kind for piece in pieces[start:end] if piece.kind in SUBJECTS]
        if named is not None and named.kind == "lots" and len(named.value) == 1 and kinds == ["trays"]:
            pieces[at] = Piece("lots", named.value, pieces[at].first, pieces[at].last, named.low)


def _follows_sowing(pieces: list[Piece], at: int) -> bool:
    """Whether a word of sowing or potting stands before a place in its statement."""
    told = (piece.roles.get("act") for piece in pieces[begin_of_statement(pieces, at) : at])
    return any(word is not None and word.act in _INTO_TRAYS for word in told)
