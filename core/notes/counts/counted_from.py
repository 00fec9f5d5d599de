"""Which bare numbers are lots that plants were counted out of or in, one after another: `sold 4 from 5, 2 from 6`."""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import Piece, is_act, names_plants
from core.notes.words.steps import looks_for

_LISTING: Final = frozenset({"and", "&", ",", "+"})
_COUNTED_FROM: Final = {
    "from": frozenset({"sell", "give", "pot", "lose"}),
    "in": frozenset({"lose", "check", "wilt"}),
}
"""Which deeds count plants out of bare lots, by the word before the lot."""


@looks_for("=counts", beside=("from", "in"))
def name_counted_from(pieces: list[Piece]) -> None:
    """`sold 4 from 5, 2 from 6`, `12 rooted in 5, 9 in 6`: lots, where counts are told of several alike, in place;
    what is done then, or to all, is no part of that (`and moved all 32 to lath`).
    """
    led = [at for at in range(2, len(pieces)) if pieces[at].kind == "number" and _lead(pieces, at) in _COUNTED_FROM]
    if len(led) < 2:
        return
    end = _end_of_list(pieces)
    for lead, acts in _COUNTED_FROM.items():
        deeds = [piece.roles["act"] for piece in pieces[:end] if "act" in piece.roles]
        if len(deeds) != 1 or deeds[0].act not in acts:
            continue
        after = [at for at in range(2, end) if _lead(pieces, at) == lead]
        led = [at for at in after if _ends_count_of(pieces, at)]
        others = any(map(names_plants, pieces[:end]))
        told = [at for at, piece in enumerate(pieces[:end]) if _is_bare(piece)]
        if len(led) > 1 and not others and len(told) == 2 * len(led):
            for at in led:
                pieces[at] = Piece("lots", (pieces[at].low,), pieces[at].first, pieces[at].last, pieces[at].low)


def _lead(pieces: list[Piece], at: int) -> str:
    """The little word right before a place."""
    return pieces[at - 1].low.split(" ")[-1]


def _end_of_list(pieces: list[Piece]) -> int:
    """Where the second deed begins, or what is told of all."""
    deeds = [at for at, piece in enumerate(pieces) if "act" in piece.roles]
    end = deeds[1] if len(deeds) > 1 else len(pieces)
    return next((at for at in range(end) if "all" in pieces[at].roles), end)


def _ends_count_of(pieces: list[Piece], at: int) -> bool:
    """The `5` of `sold 4 from 5,`: a bare number after a count and a little word, at the end of what is told."""
    if not _is_bare(pieces[at]) or (at + 1 < len(pieces) and pieces[at + 1].low not in _LISTING):
        return False
    before = at - 2 - (at > 2 and is_act(pieces[at - 2]))
    return _is_bare(pieces[before])


def _is_bare(piece: Piece) -> bool:
    if piece.kind != "number" or not piece.low.isdigit():
        return False
    number = piece.value
    return number.whole is not None and number.of is None and not number.approx and not number.each
