"""Which numbers beside a deed count no plants: how many hands did it, what the plants stand in, how warm a mat is.

Rules
1. `crew of 5 potted 180 sage`: how many people there were.
2. `the 4 in sages are ready`: the pots that plants stand in.
3. `heat mat on 70, door locked`: how warm it is, and no lot.
4. `9 dead total, 3 today`: what it comes to with those of before.
5. `only 5 took out of 48`: so many rooted; `12 to 4 in 8 to gal`: two counts and their sizes.
6. `44 is looking rooted`: one lot, for several plants are not said to be one; `44 rooted: 31`: either may be the lot.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from core.notes.counts.forms_below import join_forms_below
from core.notes.counts.lettered_lots import name_lettered_lots
from core.notes.counts.told_in_turn import name_next_in_turn
from core.notes.days.hours_in_turn import find_hours_in_turn
from core.notes.words.pieces import SENTENCE_ENDS, SUBJECTS, Piece, names_plants
from core.notes.words.said import comma_before, deed_of, is_end, keep_words, said_in, statement_at
from core.notes.words.steps import looks_for
from core.vocabulary import words
from core.vocabulary.loading import small_range, small_words

_CREWS: Final = small_words("numbers_beside", "crews")
_THE: Final = small_words("numbers_beside", "the")
_POTS: Final = small_words("numbers_beside", "pots")
_SUMS: Final = small_words("numbers_beside", "sums")
_MATS: Final = small_words("numbers_beside", "mats")
_INTO: Final = frozenset({"to", "into"})
_SIZES: Final = frozenset({"number", "size", "amount"})
_SEEN: Final = frozenset({"check", "lose", "wilt"})
_WARM: Final = small_range("temps", "bare_of_mats_f")


@looks_for(any_of=_CREWS, beside=("of",))
def keep_crews(pieces: list[Piece]) -> None:
    """`crew of 5 potted 180 sage`: how many people there were, in place."""
    for at, crew in enumerate(pieces[:-2]):
        of, number = pieces[at + 1 : at + 3]
        if crew.low in _CREWS and of.low == "of" and number.kind == "number" and number.low.isdigit():
            keep_words(crew, of, number)


@looks_for("in", '"', beside=("@plant",))
def keep_pots_of_plants(pieces: list[Piece]) -> None:
    """`the 4 in sages are ready`: the pots that plants stand in, in place."""
    for at in range(len(pieces) - 4, -1, -1):
        the, number, inch, plant = pieces[at : at + 4]
        sized = number.kind == "number" and number.low in _POTS and inch.low == "in"
        if the.low in _THE and sized and "plant" in plant.roles:
            pieces[at + 1 : at + 3] = [Piece("kept", None, number.first, inch.last, said_in([number, inch]))]


@looks_for(any_of=_MATS, beside=("=number",))
def keep_heat_of_mats(pieces: list[Piece]) -> None:
    """`heat mat on 70, door locked`: how warm a mat is, and no lot, in place."""
    for at, (mat, number) in enumerate(pairwise(pieces)):
        warm = number.kind == "number" and number.low.isdigit() and int(number.low) in _WARM
        if warm and mat.low in _MATS and is_end(pieces, at + 2) and not _goes_on(pieces, at + 3):
            keep_words(number)


def _goes_on(pieces: list[Piece], at: int) -> bool:
    """`heat mat on 70, | 71`: whether a list of numbers goes on at a place."""
    return at < len(pieces) and pieces[at].kind == "number"


@looks_for(any_of=_SUMS, beside=("!lose",))
def keep_totals_of_before(pieces: list[Piece]) -> None:
    """`9 dead total, 3 today`: what it comes to with those of before, in place; the losses of the day are told."""
    for at in range(len(pieces) - 6, -1, -1):
        number, deed, total, mark, now, day = pieces[at : at + 6]
        numbers = number.kind == now.kind == "number" and number.low.isdigit() and now.low.isdigit()
        word = deed_of(deed)
        if not numbers or word is None or word.act != "lose" or total.low not in _SUMS or mark.low not in (",", "("):
            continue
        if (day.kind == "moment" or day.low in ("more", "new")) and int(now.low) <= int(number.low):
            keep_words(number, total)
            pieces[at + 3 : at + 4] = []


@looks_for("took out", beside=("=counts",))
def keep_took_out_of(pieces: list[Piece]) -> None:
    """`only 5 took out of 48`: those that rooted, out of so many, in place."""
    for at in range(len(pieces) - 4, -1, -1):
        number, took, of, whole = pieces[at : at + 4]
        if number.kind == whole.kind == "number" and (took.low, of.low) == ("took out", "of"):
            out = Piece("phrase", None, took.last - 1, took.last, "out", {"filler": True})
            rooted = Piece("phrase", None, took.first, took.last - 1, "took", words().phrases["rooted"])
            pieces[at + 1 : at + 2] = [rooted, out]


@looks_for("to", "into", beside=("!pot",))
def part_sizes_in_row(pieces: list[Piece]) -> None:
    """`potted 12 to 4 in 8 to gal`: a mark before the next count, in place."""
    for at in range(len(pieces) - 3, 3, -1):
        number, to = pieces[at : at + 2]
        sizes = _ends_size(pieces, at) and ("pot_size" in pieces[at + 2].roles or pieces[at + 2].kind in _SIZES)
        if number.kind == "number" and to.low in _INTO and sizes:
            pieces.insert(at, comma_before(number))
            if pieces[at - 1].low == "in":
                pot, inch = pieces[at - 2 : at]
                pieces[at - 2 : at] = [Piece("size", f"{pot.low} in", pot.first, inch.last, said_in([pot, inch]))]


def _ends_size(pieces: list[Piece], at: int) -> bool:
    """`12 to 4 in | 8`: whether a count and the size that it went into end before a place."""
    start = at - 1 - (pieces[at - 1].low == "in" and pieces[at - 2].kind == "number")
    sized = start < at - 1 or "pot_size" in pieces[start].roles or pieces[start].kind == "size"
    return sized and start > 1 and pieces[start - 1].low in _INTO and pieces[start - 2].kind == "number"


@looks_for("is", "was", beside=("=number",))
def name_single(pieces: list[Piece]) -> None:
    """`44 is looking rooted`, `14 is 30 of 72 and 15 is 12 of 48 rooted`: a lot that opens its statement, or
    stands after the "and" that joins it to one, in place.
    """
    for at, (number, verb) in enumerate(pairwise(pieces)):
        if verb.low not in ("is", "was") or number.kind != "number" or not number.low.isdigit() or number.value.of:
            continue
        start, end = statement_at(pieces, at)
        joined = at > start + 1 and pieces[at - 1].low in ("and", "&")
        joined = joined and any(piece.kind == "lots" for piece in pieces[start:at])
        start = at if joined else start
        opens = all("filler" in piece.roles or piece.kind == "moment" for piece in pieces[start:at])
        told = pieces[at + 2 : end]
        word = next((word for piece in told if (word := deed_of(piece)) is not None), None)
        others = any(map(names_plants, pieces[start:end]))
        seen = word is not None and word.act in _SEEN
        alike = joined and [one.kind for one in told] == ["number"] and told[0].value.of is not None
        if opens and not others and (seen or alike) and int(number.low) > 1:
            number.kind, number.value = "lots", (number.low,)


@looks_for(":", beside=("=counts",))
def ask_which_counts(pieces: list[Piece]) -> None:
    """`44 rooted: 31`: a number on either side of a state, in place."""
    for at, colon in enumerate(pieces):
        if colon.low != ":" or not 1 < at < len(pieces) - 1 or pieces[at + 1].kind != "number":
            continue
        number, other, word = pieces[at - 2], pieces[at + 1], deed_of(pieces[at - 1])
        if number.kind != "number" or word is None or word.act not in _SEEN or not word.counts_before:
            continue
        before, after = pieces[at - 3] if at > 2 else None, pieces[at + 2 : at + 3]
        opens = before is None or before.low in SENTENCE_ENDS or before.kind in (*SUBJECTS, "moment")
        bare = number.low.isdigit() and other.low.isdigit()
        if bare and opens and all(piece.low in SENTENCE_ENDS for piece in after):
            number.kind, number.value = "either", None
            colon.kind = "mark"
            keep_words(other)


NUMBERS_BESIDE: Final = (
    name_lettered_lots, keep_crews, keep_pots_of_plants, keep_heat_of_mats, keep_totals_of_before, keep_took_out_of,
    part_sizes_in_row, name_next_in_turn, find_hours_in_turn, join_forms_below, name_single, ask_which_counts,
)  # fmt: skip
