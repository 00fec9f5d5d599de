"""Which sizes and numbers beside a deed count nothing: what plants stood in, how long cuttings were, grades of feed.

Rules
1. `bumped lot 9 from 4 in to 1 gal`, `bumped lot 9 4in to 1g`: the first size is of what they stood in before.
2. `heel 3-4in`, `stuck 36 sage, 3 to 4 in`: how long cuttings were, and no pot.
3. `fed lot 9 20-20-20`: the grade of a feed.
"""

from __future__ import annotations

import re
from typing import Final

from core.notes.assembly.units import CELL_TRAYS
from core.notes.words.pieces import Piece
from core.notes.words.said import deed_of, end_of_statement, keep_words, one_piece
from core.notes.words.steps import looks_for

_INTO: Final = frozenset({"to", "into"})
_LARGE: Final = frozenset({"gal", "qt", "pt"})
_GRADE: Final = 5
_FEWEST: Final = 2
"""A grade is so many numbers at least (`5-10-5`, of which the first two are one)."""
_RANGE: Final = re.compile(r"\d+ ?(-|to) ?\d+ ?[a-z\"]")
_BEFORE_SIZED: Final = frozenset({"a", "one", "its", "the"})


@looks_for("pot", beside=("=size", "=amount"))
def name_sized_pots(pieces: list[Piece]) -> None:
    """`each in a 4 in | pot`: the vessel, and nothing to be done, in place."""
    for lead, article, size, pot in zip(pieces, pieces[1:], pieces[2:], pieces[3:], strict=False):
        into = lead.low in ("in", "into") and article.low in _BEFORE_SIZED
        if into and size.kind in ("size", "amount") and pot.low == "pot" and "container" in pot.roles:
            pot.roles = {"container": pot.roles["container"]}


@looks_for("to", "into", beside=("!pot",))
def keep_old_sizes(pieces: list[Piece]) -> None:
    """Keeps the size before `to` and the size that plants went into, in place."""
    for at in range(len(pieces) - 2, 0, -1):
        if pieces[at].low not in _INTO or not _is_size(pieces, at + 1):
            continue
        start = _begin_of_size(pieces, at)
        led = start > 0 and pieces[start - 1].low == "from"
        if start < at and (led or pieces[start].kind == "size"):
            old = pieces[start - led : at]
            pieces[start - led : at] = [one_piece(old)]


@looks_for("=size", beside=("!stick", "!collect"))
def keep_lengths(pieces: list[Piece]) -> None:
    """Keeps how long cuttings were, in place: right after their form, or from so long to so long, as no pot is."""
    for at in range(1, len(pieces)):
        form, size = pieces[at - 1 : at + 1]
        if size.kind != "size":
            continue
        formed = "-" in size.low and not form.roles.keys().isdisjoint(("cutting", "wood", "of_cuttings"))
        if formed or (_RANGE.match(size.low) and _is_of_cuttings(pieces, at)):
            keep_words(size)


def _is_of_cuttings(pieces: list[Piece], at: int) -> bool:
    """Whether what was stuck or gathered is told of before a size that names no pots (`stuck 36 sage, 3-4 in`)."""
    words = [word for piece in pieces[:at] if (word := deed_of(piece)) is not None]
    potted = any("container" in piece.roles for piece in pieces[at + 1 : at + 2])
    stuck = bool(words) and words[-1].act in ("stick", "collect")
    return stuck and not potted and pieces[at - 1].low not in ("in", "into", "to")


@looks_for("=number", beside=("!tend", "!mix", "@solution"))
def keep_grades(pieces: list[Piece]) -> None:
    """Keeps `20-20-20` and `20 10 20`, in place; numbers that rise are lots."""
    if sum([piece.kind == "number" for piece in pieces]) < _FEWEST:
        return
    for at in range(len(pieces) - 3, -1, -1):
        run = pieces[at : at + 3] if pieces[at].kind == "number" else []
        bare = bool(run) and all(piece.kind == "number" and piece.low.isdigit() for piece in run)
        if bare and not run[0].value.value < run[1].value.value < run[2].value.value and _feeds(pieces[:at]):
            pieces[at : at + 3] = [one_piece(run)]
    for at in range(len(pieces) - 3, -1, -1):
        run = pieces[at : at + 3] if pieces[at].kind == "number" else []
        dashed = [piece.kind for piece in run] == ["number", "dash", "number"] and run[0].value.dashed
        if dashed and _feeds(pieces[:at]):
            # "5-10-5": the first two rise, and look like from one to the other.
            low = "".join(piece.low for piece in run)
            pieces[at : at + 3] = [Piece("kept", None, run[0].first, run[-1].last, low)]
    for at in range(len(pieces) - _GRADE, -1, -1):
        run = pieces[at : at + _GRADE] if pieces[at].kind == "number" else []
        if [piece.kind for piece in run] == ["number", "dash", "number", "dash", "number"]:
            low = "".join(piece.low for piece in run)
            pieces[at : at + _GRADE] = [Piece("kept", None, run[0].first, run[-1].last, low)]


@looks_for("@container", beside=("!check", "!lose", "!wilt"))
def keep_cells(pieces: list[Piece]) -> None:
    """Keeps `in 72 cells`, `72 cell tray` where another number counts the plants, in place."""
    for at in range(len(pieces) - 2, -1, -1):
        number, cells = pieces[at : at + 2]
        held = cells.roles.get("container") == "cell" and number.kind == "number" and number.low in CELL_TRAYS
        counted = any(piece.kind in ("number", "fraction") for piece in pieces[at + 2 : end_of_statement(pieces, at)])
        if held and counted:
            run = [*pieces[max(0, at - 1) : at], number, cells]
            led = run[0].low in ("in", "into")
            run = run if led or not at else run[1:]
            pieces[at - led : at + 2] = [one_piece(run)]


def _feeds(pieces: list[Piece]) -> bool:
    words = [piece.roles["act"] for piece in pieces if "act" in piece.roles]
    return bool(words) and words[-1].says.get("care") == "feed"


def _is_size(pieces: list[Piece], at: int) -> bool:
    piece = pieces[at]
    inches = at + 1 < len(pieces) and piece.kind == "number" and pieces[at + 1].low == "in"
    large = piece.kind == "amount" and (piece.value[1] in _LARGE or piece.low.endswith("g"))
    return inches or large or piece.kind == "size" or "pot_size" in piece.roles


def _begin_of_size(pieces: list[Piece], end: int) -> int:
    """Where the size begins that ends before a place (`4 in`, `4in`, `2 in pots`, `six packs`); the place for none."""
    start = end - ("container" in pieces[end - 1].roles)
    if start > 1 and pieces[start - 1].low == "in" and pieces[start - 2].kind == "number":
        return start - 2
    return start - (start > 0 and (pieces[start - 1].kind == "size" or "pot_size" in pieces[start - 1].roles))
