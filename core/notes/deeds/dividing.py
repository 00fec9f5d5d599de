"""What is a division: rooted shoots taken and planted, a plant split into so many, a clump dug up.

Rules
1. Divisions that were taken and then planted, or that are told with their pots, were divided.
2. A plant (no lot) that is split into a number, or into pots, is divided into so many.
3. What somebody dug up is no loss to an animal; what was done with it is asked where nothing tells it.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from core.notes.parting.clauses import Clause
from core.notes.words.pieces import NO_ROLES, Piece, is_act
from core.notes.words.said import keep_words
from core.notes.words.steps import looks_for

_THEM: Final = frozenset({"them", "em", "'em", "it", "those", "these"})
_SPLIT_UP: Final = frozenset({"split up", "broke up", "broken up"})
_HELD: Final = frozenset({"container", "pot_size"})


@looks_for("!split", "!divide", "@what", "dug", "dug up")
def settle_divisions(clauses: list[Clause]) -> None:
    """Tells divisions from collecting, potting, splitting and losses, in place."""
    for place, clause in enumerate(clauses):
        before = clauses[place - 1] if place else None
        if clause.act == "split":
            after = clauses[place + 1] if place + 1 < len(clauses) else None
            _settle_split(clause, before)
            if after is not None and after.act is None and _into_pots(after) and _splits_plant(clause):
                # "idaho fescue separated by oscar | , 32 in plugs".
                clause.act, clause.says = "divide", {}
        elif _plants(clause) and before is not None and (before.act == "divide" or _takes_divisions(before)):
            _make_division(before)
            _keep_no_deed(clause)
        elif clause.act is None and before is not None and _takes_divisions(before) and _only_pots(clause):
            _make_division(before)
        elif not any(one.act for one in clauses[: place + 1]) and _of_divisions(clause) and _into_pots(clause):
            _make_division(clause)
        elif clause.act == "lose" and _dug_by_us(clause) and not (before is not None and before.has("cause")):
            clause.act, clause.word, clause.says = None, None, {}
            for piece in clause.pieces:
                if piece.low.startswith("dug") or piece.low == "up":
                    piece.roles, piece.used = NO_ROLES, False


def _of_divisions(clause: Clause) -> bool:
    return any(piece.roles.get("what") == "divisions" for piece in clause.pieces)


def _takes_divisions(clause: Clause) -> bool:
    return clause.act == "collect" and _of_divisions(clause) and "number" in clause.kinds()


def _plants(clause: Clause) -> bool:
    """`and planted them in liners`."""
    planted = clause.word is not None and clause.word.rule in ("planted", "put") and clause.act != "plant_out"
    planted = planted or clause.act == "pot"
    named = bool(clause.kinds() & {"lots", "trays", "number"}) or clause.has("plant")
    alone = all(is_act(piece) or "filler" in piece.roles for piece in clause.pieces)
    return planted and (alone or _holds(clause)) and (not named or any(piece.low in _THEM for piece in clause.pieces))


def _holds(clause: Clause) -> bool:
    return bool(clause.kinds() & {"size"}) or any(_is_pot(piece) for piece in clause.pieces)


def _is_pot(piece: Piece) -> bool:
    sized = piece.kind == "amount" and piece.value[1] in ("gal", "qt", "pt", "g")
    return sized or piece.kind == "size" or bool(piece.roles.keys() & _HELD)


def _only_pots(clause: Clause) -> bool:
    """`, 1g pots` after divisions that were taken."""
    return _holds(clause) and all(_is_pot(piece) or "filler" in piece.roles for piece in clause.pieces)


def _into_pots(clause: Clause) -> bool:
    """`30 divisions of slough sedge into liners`: counted, and with what they went into."""
    into = any(piece.low in ("into", "in", "to") for piece in clause.pieces)
    return "number" in clause.kinds() and into and _holds(clause)


def _make_division(clause: Clause) -> None:
    clause.act = "divide"
    clause.says = {}
    for piece in clause.pieces:
        if piece.kind == "amount" and piece.value[1] == "g":
            piece.value = (piece.value[0], "gal", piece.value[2])


def _keep_no_deed(clause: Clause) -> None:
    for piece in clause.pieces:
        if is_act(piece):
            piece.roles, piece.used = {"filler": True}, True
    clause.act, clause.word, clause.says = None, None, {}


def _settle_split(clause: Clause, before: Clause | None) -> None:
    """`split 6 blue eyed grass into 24 plugs`, `split them into 30`, `separated 40 strawberry runners into bands`."""
    if clause.kinds() & {"lots", "trays"}:
        _keep_plugs(clause)
        return
    of_them = before is not None and before.act == "collect" and _of_divisions(before)
    into = next((place for place, piece in enumerate(clause.pieces[:-1]) if piece.low in ("into", "to")), None)
    if not clause.has("plant") and not of_them:
        return
    if into is None and any(piece.low in _SPLIT_UP for piece in clause.pieces):
        # "split up the big deergrass, got 16 out of it".
        clause.act, clause.says = "divide", {}
        return
    count = clause.pieces[into + 1] if into is not None else None
    if count is not None and count.kind == "number":
        plugs = clause.pieces[(into or 0) + 2 : (into or 0) + 3]
        held = bool(plugs) and "container" in plugs[0].roles
        clause.act, clause.says = "divide", {"count": count.value.whole} if held else {}
        for piece in clause.pieces[:into]:
            if piece.kind == "number":
                keep_words(piece)
    elif _holds(clause) and (_of_divisions(clause) or _into_pots(clause)) and not _of_seedlings(clause):
        clause.act = "divide"


def _splits_plant(clause: Clause) -> bool:
    """Whether a plant by its name, and no lot, was split."""
    lots = clause.kinds() & {"lots", "trays"}
    return clause.act == "split" and clause.has("plant") and not lots and not _of_seedlings(clause)


def _of_seedlings(clause: Clause) -> bool:
    """`separated the lupine seedlings, 32 in plugs`: no plant was divided."""
    return any(piece.low.startswith("seedling") for piece in clause.pieces)


def _keep_plugs(clause: Clause) -> None:
    """`split lot 5 into 30 plugs`: so many plugs are no new lot, and no count that was split off."""
    for number, plugs in pairwise(clause.pieces):
        if number.kind == "number" and "container" in plugs.roles:
            keep_words(number, plugs)


def _dug_by_us(clause: Clause) -> bool:
    """`dug up 3 toyon at the creek`: said of somebody, where no animal is named before it."""
    at = next((place for place, piece in enumerate(clause.pieces) if piece.low.startswith("dug")), None)
    if at is None or clause.has("cause"):
        return False
    before = [piece for piece in clause.pieces[:at] if piece.kind not in ("moment", "person", "mark")]
    follows = clause.pieces[at + 1 : at + 4]
    named = any("plant" in piece.roles or piece.kind in ("number", "word", "lots", "trays") for piece in follows)
    return named and all("filler" in piece.roles for piece in before)
