"""Where seed comes out of a treatment: out of the acid, out of the fridge on a day told after it, or to come out then.

Rules
1. `took manzanita seed out of the acid`: the treatment ends, and nothing is gathered.
2. `was in the fridge 9 wks, took it out mon`: it ends on that day; `to the fridge, out nov 15` is yet to come.
3. `lots 40 and 41 into the fridge, 42 out`: of another lot it ends.
4. `lot 40 out after 60 days in the fridge`: it ends after so long.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from core.notes.deeds.chill_told_of import begins_nothing, is_chill
from core.notes.words.pieces import SUBJECTS, Piece, is_act
from core.notes.words.said import begin_of_statement, keep, pass_over, statements
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_TAKING: Final = small_words("strat", "taking")
_TAKEN: Final = small_words("strat", "taken")
_LASTED: Final = small_words("strat", "lasted")
_OUT: Final = frozenset({"out", "back out"})
_IT: Final = frozenset({"it", "them", "em"}) | _OUT
_KEPT_APART: Final = frozenset({"moment", *SUBJECTS})
_COLD: Final = frozenset({"cold_stratify", "warm_stratify"})


@looks_for("!treat", beside=("out", "took", "pulled", "taken", "removed"))
def find_taken_out(pieces: list[Piece]) -> None:
    """Marks where seed comes out of a treatment, in place."""
    for place in range(1, len(pieces)):
        _out_of_bath(pieces, place)
        _out_after(pieces, place)
    spans = statements(pieces)
    for before, said in pairwise(spans):
        deed = next((piece for piece in pieces[slice(*before)] if _begins(piece)), None)
        run = pieces[slice(*said)]
        if deed is not None and run:
            _out_then(pieces[slice(*before)], deed, run)


def _out_of_bath(pieces: list[Piece], place: int) -> None:
    """`took manzanita seed out of the acid after 45 min`, `seed from lot 9 out of hot water`."""
    word = pieces[place].roles.get("noun")
    if word is None or word.act != "treat" or word.says.get("treatment") in _COLD:
        return
    at = place - 1 - (pieces[place - 1].low in ("the", "its"))
    if at < 1 or (pieces[at].low, pieces[at - 1].low) != ("of", "out"):
        return
    start = begin_of_statement(pieces, at)
    spent = [piece for piece in pieces[start:at] if piece.low in _TAKING | _TAKEN]
    _end(pieces[place], word, *spent, *pieces[at - 1 : place])


def _out_after(pieces: list[Piece], place: int) -> None:
    """`took lot 40 out after 60 days in the fridge`, `pulled lot 40 after 60 days cold`."""
    chill = pieces[place]
    if place < 2 or pieces[place - 1].kind != "duration" or pieces[place - 2].low != "after":
        return
    if not is_chill(chill) or not begins_nothing(chill):
        return
    told = [piece for piece in pieces[begin_of_statement(pieces, place) : place - 2] if piece.kind not in _KEPT_APART]
    out = [piece for piece in told if piece.low in _OUT | _TAKING | _TAKEN]
    others = any(is_act(piece) for piece in told if piece not in out)
    if out and not others and any(piece.low in _OUT | _TAKEN for piece in out):
        _end(chill, chill.roles.get("act") or chill.roles["noun"], *out)


def _begins(piece: Piece) -> bool:
    word = piece.roles.get("act")
    return word is not None and word.says.get("treatment") in _COLD and not word.says.get("ends")


def _out_then(before: list[Piece], deed: Piece, run: list[Piece]) -> None:
    """What a statement after a chilling tells of its end."""
    told = [piece for piece in run if piece.kind != "moment"]
    days = [piece for piece in run if piece.kind == "moment"]
    out = [piece for piece in told if piece.low in _IT or piece.low in _TAKING | _TAKEN]
    if not out or not _is_out(out):
        return
    lasted = any(piece.low in _LASTED for piece in before) and any(piece.kind == "duration" for piece in before)
    if len(out) == len(told) and lasted:
        _end(deed, deed.roles["act"], *out)
    elif len(out) == len(told) and days and out[0].low == "out":
        keep(*run, kind="rejected")
    elif len(told) == len(out) + 1 and told[0] not in out:
        _ends_of_another(before, deed, told[0], out)


def _is_out(out: list[Piece]) -> bool:
    """`out`, `took out`, `pulled`, `pulled it`: no more than these."""
    return out[-1].low == "out" or out[-1].low in _TAKEN or out[0].low in _TAKEN


def _ends_of_another(before: list[Piece], deed: Piece, other: Piece, out: list[Piece]) -> None:
    kind = next((piece.kind for piece in before if piece.kind in SUBJECTS), None)
    if kind is None or other.kind not in ("number", *SUBJECTS):
        return
    if other.kind == "number":
        if not other.low.isdigit():
            return
        other.kind, other.value = kind, (other.low,)
    _end(out[-1], deed.roles["act"], *out[:-1])


def _end(piece: Piece, word: ActWord, *spent: Piece) -> None:
    pass_over(*spent)
    piece.kind, piece.used = "phrase", False
    piece.roles = {"act": ActWord(act="treat", says={**word.says, "ends": True})}
