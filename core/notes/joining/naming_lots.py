"""Does a clause name the lot that came of a split or a merge: `- lot 92`, `new lot is 44`, `lot 103 has 18`."""

from __future__ import annotations

from datetime import datetime
from typing import Final

from core.notes.details.drafts import Draft, draft_of
from core.notes.parting.clauses import Clause
from core.notes.words.pieces import Piece
from core.notes.words.tokens import Token
from core.vocabulary.loading import small_words

_BECOMING: Final = small_words("split", "becoming")
_CALLING: Final = small_words("split", "calling")
_HOLDING: Final = small_words("split", "holding")
_NO_NEWS: Final = _BECOMING | _HOLDING | {"lot"}


def names_new_lot(before: Draft, clause: Clause) -> bool:
    """Puts the lot that a clause names by itself to the split or merge before it, and how many it has, in place."""
    if before.slots is None or before.act not in ("split", "merge") or before.held("to") or not before.held("lots"):
        return False
    lot = _lot_named(clause)
    if lot is None and before.act == "merge" and len(clause.pieces) == 1 and clause.pieces[0].kind == "number":
        lot = clause.pieces[0].low
    if lot is None or (before.act == "merge" and lot not in before.held("lots")):
        return False
    counted = [piece for piece in clause.pieces if piece.kind == "number" and piece.low != lot]
    told = [piece for piece in clause.pieces if "remarks" not in piece.roles]
    said = [piece for piece in told if piece.kind not in ("lots", "number", "mark")]
    if any(piece.low not in _NO_NEWS and piece.roles.keys().isdisjoint(("filler", "all")) for piece in said):
        return False
    holds = any(piece.low in _HOLDING for piece in said)
    if counted and (before.act == "merge" or not holds or len(counted) > 1 or before.held("count") is not None):
        return False
    before.slots.put("to", lot, *told)
    before.slots.values["stays"] = before.act == "merge"
    if counted:
        before.slots.put("count", counted[0].value.whole)
        _keep_share(before)
    before.clauses.append(clause)
    return True


def splits_again(before: Draft, clause: Clause) -> bool:
    """`lot 60 has 14, lot 61 has 10`, `12 as lot 94, 8 as lot 95`: another lot that came of the one split."""
    if before.slots is None or before.act != "split" or not (before.held("to") and before.held("lots")):
        return False
    links = _HOLDING | {"=", "as"}
    kinds = [piece.kind for piece in clause.pieces if piece.low not in links and piece.kind != "mark"]
    told = kinds in (["lots", "number"], ["number", "lots"]) and len(clause.pieces) > 2
    return told and _lot_named(clause) is not None


def split_again(before: Draft, clause: Clause, tokens: list[Token], now: datetime) -> Draft:
    """The split before, told of another lot that came of it."""
    clause.act, clause.says = "split", {"lots": before.held("lots")}
    for piece in clause.pieces:
        if piece.kind == "lots":
            clause.says["to"] = piece.value[0]
        piece.used = piece.kind != "number"
    return draft_of(clause, tokens, now)


def _lot_named(clause: Clause) -> str | None:
    lots = [piece for piece in clause.pieces if piece.kind == "lots"]
    if len(lots) == 1:
        return str(lots[0].value[0]) if len(lots[0].value) == 1 else None
    numbers = [piece for piece in clause.pieces if piece.kind == "number" and piece.low.isdigit()]
    named = any(piece.low in _CALLING for piece in clause.pieces)
    return numbers[0].low if not lots and len(numbers) == 1 and named else None


def _keep_share(before: Draft) -> None:
    """`in half` says less than the count after it; its words go to the rest."""
    assert before.slots is not None
    if before.slots.values.pop("share", None) is None:
        return
    for clause in before.clauses:
        _unread(clause.pieces)


def _unread(pieces: list[Piece]) -> None:
    for place, piece in enumerate(pieces):
        if "fraction" in piece.roles:
            for one in pieces[max(0, place - 1) : place + 1]:
                one.used = False
