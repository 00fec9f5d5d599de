"""What came out when something was done: `when potting lot 9 i found 4 dead`, `when i potted lot 9 only 12 had roots`.

Rules
1. Where "when" leads to a deed under way, or to one of somebody, and a count follows, it tells and asks nothing.
2. A deed under way, or of somebody else, only tells when it was: its words are kept, and its lot is what is told of.
3. What whoever texts did then is told too, apart from what came out.
"""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import COUNTS, Piece, is_act
from core.notes.words.said import comma_before, end_of_sentence, keep_words
from core.notes.words.steps import looks_for
from core.vocabulary.everyday import is_given_name
from core.vocabulary.loading import small_words

_SELVES: Final = frozenset({"i", "we"})
_THEY: Final = small_words("asking", "who_then")
_ONLY: Final = frozenset({"only", "just", "about", "there were", "there was"})


def tells_what_then(pieces: list[Piece], at: int) -> bool:
    """Whether "when" at a place leads to a deed and what was counted then (`when kim watered lot 9 she broke 2`)."""
    deed = _deed_then(pieces, at)
    return deed is not None and _comes_out(pieces, deed) is not None


@looks_for("when", beside=("=counts", "=number"))
def part_when(pieces: list[Piece]) -> None:
    """Parts what came out from what was done then; a deed that only tells when it was is kept, in place."""
    for at in range(len(pieces)):
        deed = _deed_then(pieces, at) if pieces[at].low == "when" and (not at or _is_mark(pieces[at - 1])) else None
        out = _comes_out(pieces, deed) if deed is not None else None
        if deed is None or out is None:
            continue
        if pieces[at + 1].low in _SELVES:
            if pieces[out - 1].kind != "break":
                pieces.insert(out, comma_before(pieces[out]))
        else:
            if pieces[out - 1].kind == "break":
                del pieces[out - 1]
            keep_words(*pieces[at : deed + 1])
        return


@looks_for("sooner", beside=("than",))
def keep_no_sooner(pieces: list[Piece]) -> None:
    """`no sooner potted than 4 of lot 9 died`: what was done just before is kept, in place."""
    for at in range(1, len(pieces)):
        if pieces[at].low == "sooner" and pieces[at - 1].low == "no":
            than = next((place for place in range(at, len(pieces)) if pieces[place].low == "than"), None)
            if than is not None:
                keep_words(*pieces[at - 1 : than + 1])


def _deed_then(pieces: list[Piece], at: int) -> int | None:
    """The place of `potting`, `kim watered` or `i potted` right after "when"; None where none stands."""
    after = pieces[at + 1 : at + 3]
    if not after:
        return None
    if is_act(after[0]) and after[0].low.split(" ")[0].endswith("ing"):
        return at + 1
    named = after[0].low in _SELVES | _THEY or after[0].kind == "person" or is_given_name(after[0].low)
    word = after[1].roles.get("act") or after[1].roles.get("shared") if len(after) > 1 else None
    return at + 2 if named and word is not None and word.form == "done" else None


def _comes_out(pieces: list[Piece], deed: int) -> int | None:
    """Where what came out begins: after the lot of the deed, with a count behind it in the sentence."""
    at = deed + 1
    while at < len(pieces) and (pieces[at].kind in ("lots", "trays", "quote") or "plant" in pieces[at].roles):
        at += 1
    if at == deed + 1 or at >= len(pieces):
        return None
    at += pieces[at].low == ","
    end = end_of_sentence(pieces, at)
    if end < len(pieces) and pieces[end].low == "?":
        return None
    told = pieces[at:end]
    opens = bool(told) and (
        told[0].low in _SELVES | _THEY | _ONLY or told[0].kind in COUNTS or told[0].kind == "person" or is_act(told[0])
    )
    return at if opens and any(piece.kind in COUNTS for piece in told) else None


def _is_mark(piece: Piece) -> bool:
    return piece.kind in ("break", "moment")
