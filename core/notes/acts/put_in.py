"""Were cuttings stuck, where that shows only further on: `put in 24 white sage, basal, tray c, half perlite`."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import takewhile
from typing import Final

from core.notes.acts.beside import words_of
from core.notes.parting.clauses import Clause
from core.notes.words.pieces import Piece
from core.notes.words.said import begin_of_statement, comma_before, deed_of
from core.notes.words.steps import looks_for

_CUTTINGS: Final = ("cutting", "wood", "medium", "hormone", "hormone_name", "hormone_form")
_ELSEWHERE: Final = frozenset({"to", "into", "onto", "on", "under", "at", "out", "outside", "inside", "back", "from"})


@looks_for("put", "set", "placed", beside=(*(f"@{role}" for role in _CUTTINGS), "=medium", "=ppm"))
def settle_put_in(clauses: Sequence[Clause]) -> None:
    """Makes a putting in of counted plants a sticking, in place, where what is told of them is told of cuttings."""
    for place, clause in enumerate(clauses):
        shared = clause.word is not None and clause.word.rule == "put" and clause.act in ("move", None)
        if not shared or not _plants_only(clause):
            continue
        told = [clause, *takewhile(lambda after: after.word is None and after.after != ".", clauses[place + 1 :])]
        if not any(after.has(*_CUTTINGS) or after.kinds() & {"medium", "ppm"} for after in told[1:]):
            continue
        if not any(after.has("container", "pot_size") or "size" in after.kinds() for after in told):
            clause.act = "stick"


@looks_for("put", "set", "placed", beside=("!cover",))
def part_cover_after(pieces: list[Piece]) -> None:
    """`put 45 black sage tips in perlite, | under dome`: what was stuck is covered too, in place."""
    at = 0
    while at < len(pieces):
        word = deed_of(pieces[at])
        start = begin_of_statement(pieces, at)
        if word is not None and word.act == "cover" and start < at and _puts_in_medium(pieces[start:at]):
            pieces.insert(at, comma_before(pieces[at]))
            at += 1
        at += 1


def _puts_in_medium(said: list[Piece]) -> bool:
    """`put | 45 black sage tips in perlite`: counted cuttings, and what they were put in."""
    put = next((at for at, piece in enumerate(said) if _is_put(piece)), len(said))
    told = said[put + 1 :]
    kinds = {piece.kind for piece in told}
    roles = {role for piece in told for role in piece.roles}
    return "number" in kinds and ("medium" in kinds or "medium" in roles) and bool(roles & {"cutting", "wood", "plant"})


def _is_put(piece: Piece) -> bool:
    word = piece.roles.get("shared")
    return word is not None and word.rule == "put"


def _plants_only(clause: Clause) -> bool:
    """`put in | 24 | white sage`: so many of a plant, put nowhere else than into a tray."""
    own = clause.pieces
    at = next(place for place, piece in enumerate(own) if piece.roles.get("shared") is clause.word) + 1
    counts = [piece.kind for piece in own[at:] if piece.low != "in"][:1] == ["number"]
    elsewhere = words_of(clause) & _ELSEWHERE or clause.has("place_word")
    other = any(piece.roles.get("what", "cuttings") != "cuttings" for piece in own)
    return counts and clause.has("plant") and "lots" not in clause.kinds() and not elsewhere and not other
