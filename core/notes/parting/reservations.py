"""What is said of plants that were set aside before: who got them (`gave mia the 10 reserved`), or that nobody does any
more (`released the 10 of lot 5 reserved for mia`).
"""

from __future__ import annotations

from itertools import takewhile
from typing import Final

from core.notes.words.pieces import SUBJECTS, Piece
from core.notes.words.said import deed_of, keep, pass_over, statements
from core.notes.words.steps import InEach, looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_RELEASING: Final = small_words("reservations", "releasing")
_BEFORE_KEPT: Final = small_words("reservations", "before_kept")
_SPEAKERS: Final = small_words("people", "speaker") | {"please", "pls", "can", "you", "have", "just"}
_KEPT: Final = small_words("reservations", "kept")
_THEIR: Final = small_words("people", "their")
_THEM: Final = frozenset({"him", "them", "em"})
_WE: Final = small_words("people", "speaker") | {"that", "was", "were", "had"}
_DOERS: Final = frozenset({"moment", "person"})
_GETTING: Final = frozenset({"give", "sell"})
_LONGEST_NAME: Final = 3
_OVER: Final = ActWord(act="reserve", says={"ends": True})


def _reserves(piece: Piece) -> bool:
    word = deed_of(piece)
    return word is not None and word.act == "reserve" and not word.says.get("ends")


@looks_for("!reserve", any_of=_KEPT, beside=_RELEASING)
def _end_reserved(said: list[Piece]) -> None:
    """`released the 10 of lot 5 reserved for mia`, `free the 6 kept for tess`: nothing is kept for them any more."""
    at = sum(1 for _ in takewhile(lambda piece: piece.low in _SPEAKERS or piece.kind in _DOERS, said))
    if at + 2 >= len(said) or said[at].low not in _RELEASING:
        return
    after = said[at + 1]
    if after.low not in _BEFORE_KEPT and after.kind != "number" and "all" not in after.roles:
        return
    kept = next((piece for piece in said[at + 1 :] if _reserves(piece) or piece.low in _KEPT), None)
    if kept is not None and not any(piece.low in ("and", "&", "then") for piece in said[at:]):
        pass_over(said[at])
        kept.kind, kept.roles = "phrase", {"act": _OVER}


@looks_for("!reserve", beside=("!give", "!sell"))
def _keep_given(said: list[Piece]) -> None:
    """`gave mia the 10 reserved from lot 5`, `sold the 6 reserved for mrs dunn`: they had been set aside, and went."""
    deed = next((at for at, piece in enumerate(said) if _gets(piece)), None)
    if deed is None:
        return
    for at in range(deed + 1, len(said)):
        before = said[at - 1]
        counted = before.kind in ("number", *SUBJECTS) or "plant" in before.roles or before.low in _BEFORE_KEPT | _WE
        fresh = any(piece.kind == "number" or "all" in piece.roles for piece in said[at + 1 :])
        if not _reserves(said[at]) or not counted or fresh or any(piece.low in ("and", "&") for piece in said[deed:at]):
            continue
        keep(said[at])
        if at + 2 < len(said) and said[at + 1].low == "for":
            if said[at + 2].low in _THEIR | _THEM:
                keep(said[at + 1], said[at + 2])
            elif not any(piece.low == "to" for piece in said[deed:at]):
                said[at + 1].low = "to"
        return


@looks_for(any_of=_THEIR | {"the"}, beside=("!give", "!sell"))
def join_theirs(pieces: list[Piece]) -> None:
    """`gave mia her 10 of lot 5`, `gave the library the reserved 8`: the little word before the count goes with it, in
    place.
    """
    for at in range(len(pieces) - 2, 1, -1):
        little = pieces[at]
        last = at + 1 + (at + 2 < len(pieces) and pieces[at + 1].low in _KEPT)
        number = pieces[last]
        if little.low not in _THEIR | {"the"} or number.kind != "number":
            continue
        start = at
        while start and pieces[start - 1].kind == "word" and at - start < _LONGEST_NAME:
            start -= 1
        deed = start - 1 - (start > 0 and pieces[start - 1].low == "the")
        if start < at and deed >= 0 and _gets(pieces[deed]):
            number.first = little.first
            del pieces[at:last]


def _gets(piece: Piece) -> bool:
    word = deed_of(piece)
    return word is not None and word.act in _GETTING and not word.counts_before


tell_reserved: Final = InEach(statements, _end_reserved, _keep_given)
"""Tells what was set aside before from what is set aside now, in place."""
