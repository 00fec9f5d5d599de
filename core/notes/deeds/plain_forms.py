"""Deeds told by the plain form of a verb: `i did mist tray 3`, `olek has move tray 11`, `yesterday pilar mist tray 3`.

Rules
1. After "did" it is done. After "has" or "have" it is where somebody stands before and what it was done to after it.
2. So it is right after somebody, where a day that is over is named before, and after "i" or "we" also where it is named
   behind (`i water tray 4 yesterday`).
3. `quick mist on tray 12 at 4pm yesterday`: so is care that a place follows, with a day that is over.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from core.notes.days.who import may_be_who
from core.notes.words.pieces import SUBJECTS, Piece
from core.notes.words.said import begin_of_statement, end_of_statement
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord
from core.vocabulary.everyday import is_given_name
from core.vocabulary.loading import small_words

_DID: Final = frozenset({"did", "i did", "we did"})
_HAVING: Final = frozenset({"has", "have"})
_DOERS: Final = frozenset({"i", "we", "she", "he", "they"})
_OVER: Final = small_words("plain_forms", "over")
_OBJECTS: Final = SUBJECTS | {"number"}
_GIVEN: Final = frozenset({"water", "tend"})
_HOW: Final = small_words("plain_forms", "how")
_OFTEN: Final = frozenset({"every", "each", "since", "daily"})
_TO: Final = frozenset({"on", "for", "of", "to"})
_ARTICLES: Final = frozenset({"the", "all", "my", "our", "a", "an", "some"})


@looks_for("@to_do", any_of=(*_DID, *_HAVING, *_OVER))
def read_plain_forms(pieces: list[Piece]) -> None:
    """Makes such a verb a deed that was done, in place."""
    for at, piece in enumerate(pieces):
        verb = piece.roles.get("to_do")
        if verb is None or "act" in piece.roles or "shared" in piece.roles or not at:
            continue
        lead = pieces[at - 1]
        before = pieces[at - 2] if at > 1 else None
        if _is_given(pieces, at, verb):
            piece.roles = {"act": replace(verb, form="done")}
        if not _has_object(pieces, at + 1):
            continue
        did = lead.low in _DID
        had = lead.low in _HAVING and before is not None and (_is_doer(before) or may_be_who(before))
        over = any(one.low in _OVER for one in pieces[begin_of_statement(pieces, at) : at])
        behind = pieces[at + 1 : end_of_statement(pieces, at)]
        after = lead.low in _DOERS and any(one.low in _OVER for one in behind)
        after = after and not any(one.low.split(" ")[0] in _OFTEN for one in behind)
        if did or had or after or (over and _is_doer(lead)):
            piece.roles = {"act": replace(verb, form="done")}
            lead.used = lead.used or did or had


def _is_given(pieces: list[Piece], at: int, verb: ActWord) -> bool:
    """`quick mist | on tray 12 at 4pm yesterday`."""
    if verb.act not in _GIVEN or at + 2 >= len(pieces) or pieces[at - 1].low not in _HOW:
        return False
    to = pieces[at + 1].low in _TO and pieces[at + 2].kind in SUBJECTS
    return to and any(one.low in _OVER for one in pieces[at + 3 : end_of_statement(pieces, at)])


def _has_object(pieces: list[Piece], at: int) -> bool:
    """Whether what something was done to stands at a place."""
    told = pieces[at : at + 2]
    if not told:
        return False
    if told[0].kind in _OBJECTS or "plant" in told[0].roles or "all" in told[0].roles or told[0].low in ("it", "them"):
        return True
    return told[0].low in _ARTICLES and len(told) > 1


def _is_doer(piece: Piece) -> bool:
    return piece.low in _DOERS or piece.kind == "person" or (may_be_who(piece) and is_given_name(piece.low))
