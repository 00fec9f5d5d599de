"""Which of two lots or trays was it: `lost 5 in lot 8 or 9`, `tray 3 or 4 has 20 rooted`.

Rules
1. What was done to one or the other is told of neither: their words are kept, and it is asked with both as choices.
2. What was not done, and none of a state, holds for both (`no roots in lot 8 or 9`).
3. Where something goes (`to tray 3 or 4`) is no subject, and left as it is; the tray of what was stuck or sown
   (`stuck 40 toyon in tray 3 or 4`) need not be known, and is only kept.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Final

from core.entries import Entry
from core.notes.parting.clauses import Clause
from core.notes.words.act_kinds import OPENING
from core.notes.words.pieces import SUBJECTS, Piece
from core.notes.words.steps import looks_for

KIND: Final = "either_lot"
_DENYING: Final = frozenset({"negation", "none"})
_LEADS: Final = frozenset({"in", "of", "from", "on", "off"})
_TO: Final = frozenset({"to", "into", "onto", "next to", "near", "by", "beside", "for", "like", "than"})


@looks_for("or", beside=("=lots", "=trays"))
def join_either(pieces: list[Piece]) -> None:
    """Makes one piece of `tray 3 or 4` and `tray 3 or tray 4`, in place."""
    for at in range(len(pieces) - 3, -1, -1):
        one, joint, other = pieces[at : at + 3]
        if one.kind not in SUBJECTS or joint.low != "or" or not _names_one(other, one.kind):
            continue
        names = (*one.value, *(other.value if other.kind == one.kind else (f"{other.value.whole}",)))
        low = f"{one.low} or {other.low}"
        pieces[at : at + 3] = [Piece(one.kind, names, one.first, other.last, low)]


def _names_one(piece: Piece, kind: str) -> bool:
    """Another lot or tray, or its bare number (`or maybe 9`)."""
    if piece.kind != "number":
        return piece.kind == kind
    number = piece.value
    plain = number.whole is not None and number.high is None and number.of is None and not number.each
    return plain and (not number.approx or piece.low.startswith("maybe "))


@looks_for("or", beside=("=lots", "=trays"))
def keep_either(clauses: list[Clause]) -> None:
    """Keeps the lots or trays of which only one is meant from being told of, in place."""
    if not any(clause.act is not None and clause.cue is None for clause in clauses):
        return
    for clause in clauses:
        denied = any(not piece.roles.keys().isdisjoint(_DENYING) for piece in clause.pieces)
        if clause.cue is not None or denied:
            continue
        for place, piece in enumerate(clause.pieces):
            led = place > 0 and clause.pieces[place - 1].low in _TO
            if piece.kind in SUBJECTS and " or " in piece.low and len(piece.value) > 1 and not led:
                opens = clause.act in OPENING and piece.kind == "trays"
                piece.kind, piece.value = "kept" if opens else KIND, (piece.kind, piece.value)


def either_in(clauses: Iterable[Clause]) -> Piece | None:
    """The words of some clauses for one or the other; None where there are none."""
    return next((piece for clause in clauses for piece in clause.pieces if piece.kind == KIND), None)


def choices_between(entry: Entry, either: Piece, typed: str) -> tuple[Entry, ...]:
    """The entry told of each of those that are left open by words which are kept in it as typed."""
    kind, names = either.value
    before, _, after = (entry.rest or "").partition(typed)
    before = before.strip().removesuffix("either").strip()
    lead = before.rpartition(" ")[2]
    rest = f"{before.removesuffix(lead) if lead in _LEADS else before} {after}".strip()
    told = replace(entry, rest=rest or None)
    return tuple(replace(told, lots=(one,)) if kind == "lots" else replace(told, trays=(one,)) for one in names)
