"""Which clauses before one deed tell it too: `tray 3: 12, tray 4: 9 rooted`, `tray 1 yarrow, tray 2 clarkia sowed`."""

from __future__ import annotations

from typing import Final

from core.notes.details.drafts import Draft
from core.notes.parting.clauses import Clause
from core.notes.words.act_kinds import COUNTLESS, OPENING
from core.notes.words.pieces import Piece

_LEAVING: Final = frozenset({"sell", "give", "plant_out", "pot"})
_COUNTED: Final = frozenset({"lots", "trays", "number", "fraction"})
_TOLD_ALIKE: Final = frozenset(
    {(kind, *told) for kind in ("lots", "trays") for told in (("number",), ("plant",), ("number", "plant"))}
    | {("number", "lots"), ("number", "trays")}
)


def lend_day(drafts: list[Draft], alike: int) -> None:
    """`tray 1 yarrow, tray 2 clarkia sowed today`: the day of the one deed holds for those told before it."""
    day = drafts[alike].held("on") if 0 < alike < len(drafts) else None
    for draft in drafts[:alike]:
        if draft.slots is not None and day is not None:
            draft.slots.values.setdefault("on", day)


def count_early(clauses: list[Clause]) -> int:
    """`lot 3 10/20, lot 4 12/20, lot 5 none rooted`: counts of lots before the state is named are checks too. How many
    clauses stand before one deed that they all tell.
    """
    first = next((clause for clause in clauses if clause.act is not None), None)
    start = _start_of_alike(clauses, clauses.index(first)) if first is not None and first.cue is None else None
    if first is not None and start is not None:
        causes = [piece.roles["cause"] for piece in first.pieces if "cause" in piece.roles and first.act == "lose"]
        says = {**first.says, "cause": causes[0]} if causes else first.says
        for clause in clauses[start : clauses.index(first)]:
            clause.act, clause.word, clause.says = first.act, first.word, dict(says)
        return clauses.index(first) - start
    if first is None or first.act != "check" or "state" not in first.says or first.cue is not None:
        return 0
    if clauses.index(first) == 1 and _counted_on_day(clauses[0]) and first.kinds() & {"number", "fraction"}:
        clauses[0].act, clauses[0].word, clauses[0].says = first.act, first.word, dict(first.says)
        return 0
    for clause in clauses[: clauses.index(first)]:
        counted = any(
            piece.kind == "fraction" or (piece.kind == "number" and piece.value.of is not None)
            for piece in clause.pieces
        )
        if counted and clause.kinds() & {"lots", "trays"} and clause.cue is None:
            clause.act = "check"
    return 0


def _counted_on_day(clause: Clause) -> bool:
    """`lot 9: 12 last tues` before `20 rooted now`: a count and its day, and at most whose it is."""
    if any(piece.low in ("of", "of the", "out of", "out of the") for piece in clause.pieces):
        return False
    told = [_telling(piece) for piece in clause.pieces if "filler" not in piece.roles]
    return sorted(kind for kind in told if kind not in ("lots", "trays")) == ["moment", "number"]


def _start_of_alike(clauses: list[Clause], deed: int) -> int | None:
    """Where the clauses begin that all tell the deed of the one at a place (`sale today: 14 yarrow, 9 sage sold`)."""
    for start in range(deed):
        heads = clauses[:start]
        if any(head.kinds() & _COUNTED or head.has("plant") for head in heads):
            return None
        if _told_alike(clauses[start : deed + 1]):
            return start
    return None


def _told_alike(clauses: list[Clause]) -> bool:
    """`tray 3: 12, tray 4: 15, tray 5: 9 rooted`: lots or trays each with its count or its plant, before one deed."""
    if len(clauses) < 2 or clauses[-1].act in COUNTLESS:
        return False
    told = [[piece for piece in clause.pieces if "filler" not in piece.roles] for clause in clauses]
    while told[0] and told[0][0].kind in ("moment", "person"):
        del told[0][0]
    size = len(told[0])
    kinds = {tuple(_telling(piece) for piece in one[:size]) for one in told}
    kind = next(iter(kinds)) if len(kinds) == 1 else ()
    alike = kind in _TOLD_ALIKE or (kind == ("number", "plant") and clauses[-1].act in _LEAVING | OPENING)
    return alike and all(len(one) == size for one in told[:-1]) and not any(one.cue for one in clauses)


def _telling(piece: Piece) -> str:
    if "plant" in piece.roles:
        return "plant"
    return "number" if piece.kind == "fraction" or "none" in piece.roles else piece.kind
