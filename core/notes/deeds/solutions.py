"""Which deeds are done to a solution, and not to plants: `threw out old iba`, `the bleach is dead, poured it out`.

Rules
1. What is thrown out is a solution where its words name one and no plant, lot or count; so is "it" after a solution.
2. What only becomes of a solution (dead, gone, spilled) is no deed: it is kept.
3. A day after "from" is when the solution was made, not when it was thrown out.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from core.notes.parting.clauses import Clause
from core.notes.words.pieces import NO_ROLES, Piece
from core.notes.words.said import keep_words
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_SOLUTION: Final = ("solution", "hormone", "hormone_name", "hormone_form")
_OF_PLANTS: Final = frozenset({"lots", "trays", "number", "fraction", "percent", "quote"})
_LIQUIDS: Final = small_words("solutions", "liquids")
_PUTTING: Final = small_words("solutions", "putting")
_REFILLING: Final = small_words("solutions", "refilling")
_OLD_BATCH: Final = small_words("solutions", "old_batch")
_FRESH: Final = frozenset({"new", "fresh"})
_WETTING: Final = frozenset({"treat", "water", "mix", "sanitize"})
_MADE: Final = frozenset({"batch", "bottle", "jar"})


@looks_for("=moment")
def keep_days_of_batches(pieces: list[Piece]) -> None:
    """`hormone dip from oct 1 tossed`: the day that a solution is from is only kept, in place."""
    for place in range(1, len(pieces) - 1):
        if pieces[place].low not in ("from", "of") or pieces[place + 1].kind != "moment":
            continue
        before = [piece for piece in pieces[max(0, place - 2) : place] if "filler" not in piece.roles]
        if before and names_solution(before[-1]):
            keep_words(pieces[place + 1])


@looks_for(any_of=_FRESH)
def find_new_batches(pieces: list[Piece]) -> None:
    """`new quat 1 gal`, `new hormone batch k-iba 3000 ppm`: a new solution is mixed, in place."""
    for place, piece in enumerate(pieces[:-1]):
        following = pieces[place + 1]
        heads = place == 0 or pieces[place - 1].kind in ("break", "person", "moment") or pieces[place - 1].low == "and"
        if piece.low not in _FRESH or not heads or not names_solution(following) or "act" in piece.roles:
            continue
        told = pieces[place + 2 : place + 3]
        if not told or told[0].kind in ("amount", "colon", "percent", "ppm", "break", "parts") or told[0].low in _MADE:
            piece.roles = {"act": ActWord(act="mix")}
            for made in told:
                made.used = made.low in _MADE


@looks_for(any_of=_REFILLING)
def keep_refills(pieces: list[Piece]) -> None:
    """`footbath drained and refilled with bleach 1:10`: what it was filled with again was not poured out, in place."""
    poured = kept = False
    for piece in pieces:
        if piece.kind == "break" and piece.low not in ("&", "+", "/"):
            kept = False
        word = piece.roles.get("act") or piece.roles.get("shared")
        poured = poured or (word is not None and (word.act == "pour_out" or word.rule in ("dumped", "drained")))
        kept = kept or (poured and piece.low in _REFILLING)
        if kept:
            keep_words(piece)


def names_solution(piece: Piece) -> bool:
    """Whether a piece names a solution (`bleach`, `iba`)."""
    return any(role in piece.roles for role in _SOLUTION) and piece.roles.get("hormone_form") != "none"


@looks_for("!pour_out", "~dumped", "~drained", *(f"@{role}" for role in _SOLUTION), any_of=_LIQUIDS)
def settle_solutions(clauses: list[Clause]) -> list[Clause]:
    """The clauses with deeds on solutions told from those on plants, several solutions of one deed parted."""
    solution = False
    for place, clause in enumerate(clauses):
        _name_dip(clause)
        if clause.act == "lose":
            _settle_loss(clause, solution or _heads_with_solution(clauses, place))
        elif not solution and _dumps_plants(clause, clauses[:place]):
            _make(clause, "lose")
        elif _does_nothing_with_it(clause):
            _make(clause, None)
        elif clause.act == "check" and clause.says.get("sample") and _pours(clause):
            _make(clause, "pour_out")
        elif clause.act is None and place and clauses[place - 1].act == "pour_out" and _refills(clause):
            keep_words(*clause.pieces)
        solution = _speaks_last_of_solution(clause, before=solution)
    return [part for clause in clauses for part in _parted(clause)]


def _name_dip(clause: Clause) -> None:
    """`tossed the leftover dip`: beside a deed of throwing out a dip is a solution, in place."""
    if clause.act not in ("lose", "pour_out") or _tells_of_plants(clause):
        return
    for piece in clause.pieces:
        if piece.low == "dip" and "noun" in piece.roles:
            piece.roles = {"solution": "hormone"}


def _dumps_plants(clause: Clause, before: list[Clause]) -> bool:
    """`lot 8 total failure, dumped it`: what is dumped are the plants told of, where no solution and no thing is."""
    told = any(one.kinds() & {"lots", "trays"} for one in before)
    wet = any(one.act in _WETTING for one in before)
    things = wet or any(one.has(*_SOLUTION, "thing") or _pours(one) for one in (*before, clause))
    dumped = any(piece.low == "dumped" for piece in clause.pieces)
    return clause.act == "pour_out" and dumped and told and not things and _says_no_more(clause)


def _does_nothing_with_it(clause: Clause) -> bool:
    """Whether plants were emptied out, or a solution was only put away."""
    if clause.act == "pour_out":
        return _empties_trays(clause)
    return clause.act in ("treat", "sanitize") and _puts_dip_away(clause)


def _puts_dip_away(clause: Clause) -> bool:
    """`poured the dip back in the jar`, `put the hormone in the fridge`: nothing was dipped or chilled."""
    if clause.kinds() & (_OF_PLANTS | {"duration"}) or clause.has("what", "cutting"):
        return False
    told = [piece for piece in clause.pieces if "filler" not in piece.roles or piece.low in _PUTTING]
    told = [piece for piece in told if piece.low not in _OLD_BATCH]
    return len(told) > 1 and told[0].low in _PUTTING and (told[1].low == "dip" or names_solution(told[1]))


def _settle_loss(clause: Clause, before: bool) -> None:
    own = any(names_solution(piece) for piece in clause.pieces)
    if own and any(piece.low == "spilled" for piece in clause.pieces) and not clause.kinds() & {"number", "fraction"}:
        # "fert spilled on tray 3" has cost no plant yet.
        _make(clause, None)
        return
    if before and not own:
        _keep_old_one(clause.pieces)
    if _tells_of_plants(clause) or not (own or (before and _says_no_more(clause))):
        return
    thrown = clause.word is not None and clause.word.form == "done" and not clause.word.counts_before
    _make(clause, "pour_out" if thrown else None)


def _keep_old_one(pieces: list[Piece]) -> None:
    """`made new bleach, old one dumped`: one batch, and no plant, in place."""
    for before, piece in pairwise(pieces):
        if before.low == "old" and piece.low == "one":
            keep_words(piece)
            before.roles = piece.roles = {"filler": True}


def _make(clause: Clause, act: str | None) -> None:
    clause.act, clause.says = act, {}
    if act is None:
        clause.word = None
        for piece in clause.pieces:
            if not names_solution(piece):
                piece.roles = {"filler": True} if "filler" in piece.roles else NO_ROLES


def _heads_with_solution(clauses: list[Clause], place: int) -> bool:
    return place > 0 and clauses[place - 1].act is None and _speaks_last_of_solution(clauses[place - 1], before=False)


def _tells_of_plants(clause: Clause) -> bool:
    return bool(clause.kinds() & _OF_PLANTS) or clause.has("plant", "what", "cutting", "vague")


def _says_no_more(clause: Clause) -> bool:
    """`tossed it`, `its all gone now`, `threw out old`: no other thing is named (as in `tossed the dead ones`)."""
    return all(
        piece.kind in ("mark", "moment", "person")
        or (piece.low in _OLD_BATCH and not any(one.low == "ones" for one in clause.pieces))
        or clause.word in (piece.roles.get("act"), piece.roles.get("shared"))
        or ("act" not in piece.roles and any(role in piece.roles for role in ("filler", "all", "no_deed")))
        for piece in clause.pieces
    )


def _speaks_last_of_solution(clause: Clause, *, before: bool) -> bool:
    """Whether a solution is the last thing that was named up to the end of a clause."""
    last = before
    for piece in clause.pieces:
        if names_solution(piece):
            last = True
        elif piece.kind in ("lots", "trays") or piece.roles.keys() & {"plant", "thing"}:
            last = False
    return last


def _pours(clause: Clause) -> bool:
    """`tipped out the footbath`: what holds a liquid, and no plants."""
    return not _tells_of_plants(clause) and (
        any(names_solution(piece) for piece in clause.pieces) or any(piece.low in _LIQUIDS for piece in clause.pieces)
    )


def _empties_trays(clause: Clause) -> bool:
    """`emptied tray 3, all dead`: of plants, and of no water."""
    named = bool(clause.kinds() & {"lots", "trays"}) or clause.has("plant")
    wet = any(names_solution(piece) or piece.low in _LIQUIDS for piece in clause.pieces)
    emptied = any(piece.low.startswith("emptied") for piece in clause.pieces)
    return named and emptied and not wet


def _refills(clause: Clause) -> bool:
    return any(piece.low in _REFILLING for piece in clause.pieces)


def _parted(clause: Clause) -> list[Clause]:
    """`poured out the hormone and the bleach`: one deed for each of two solutions."""
    if clause.act not in ("pour_out", "mix"):
        return [clause]
    named = [place for place, piece in enumerate(clause.pieces) if "solution" in piece.roles or _is_hormone(piece)]
    joint = next((place for place, piece in enumerate(clause.pieces) if piece.low in ("and", "&", "+")), None)
    if len(named) != 2 or joint is None or not named[0] < joint < named[1]:
        return [clause]
    if _kind(clause.pieces[named[0]]) == _kind(clause.pieces[named[1]]):
        return [clause]
    later = Clause("and", clause.pieces[joint + 1 :])
    later.act, later.word = clause.act, clause.word
    clause.pieces = clause.pieces[:joint]
    return [clause, later]


def _is_hormone(piece: Piece) -> bool:
    return "hormone" in piece.roles or "hormone_name" in piece.roles


def _kind(piece: Piece) -> str:
    return str(piece.roles.get("solution", "hormone"))
