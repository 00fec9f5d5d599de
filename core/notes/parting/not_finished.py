"""Which deeds are only spoken about, and which are not done to the end: `call finn about selling 20 sage`.

Rules
1. A deed that somebody is called or asked about is none.
2. Of a deed that is half done the number is not done yet (`half way thru sticking 48 sage`).
"""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import Piece, is_act
from core.notes.words.runs import Runs
from core.notes.words.said import begin_of_statement, end_of_statement, keep, keep_words
from core.notes.words.steps import looks_at_each
from core.vocabulary.loading import small_words

_ABOUT: Final = small_words("not_finished", "about")
_CALLING: Final = small_words("not_finished", "calling")
_HALFWAY: Final = small_words("not_finished", "halfway")
_SO_FAR: Final = Runs(_HALFWAY)
_THROUGH: Final = frozenset({"thru", "through", "into", "with", "of", "the"})


@looks_at_each(*_ABOUT)
def _keep_spoken_about(pieces: list[Piece], at: int) -> None:
    """`call finn 555 0199 about selling 20 sage`, `email rosa re potting lot 9`, in place."""
    if pieces[at].low not in _ABOUT or not at:
        return
    start, end = begin_of_statement(pieces, at), end_of_statement(pieces, at)
    called = any(piece.low.split(" ")[0] in _CALLING for piece in pieces[start : min(start + 2, at)])
    told = [piece for piece in pieces[at + 1 : end] if is_act(piece) or "noun" in piece.roles]
    if called and told and not any(map(is_act, pieces[start + 1 : at])):
        numbers = [piece for piece in pieces[start:end] if piece.kind == "number"]
        keep(pieces[start], pieces[at], *told, *numbers)


@looks_at_each(any_of=_HALFWAY, beside=("=number",))
def _keep_unfinished(pieces: list[Piece], at: int) -> None:
    """`half way thru sticking 48 sage tray 2`, in place."""
    deed = _SO_FAR.end_at(pieces, at)
    if not deed:
        return
    while deed < len(pieces) and pieces[deed].low in _THROUGH:
        deed += 1
    if deed < len(pieces) and is_act(pieces[deed]) and pieces[deed].low.split(" ")[0].endswith("ing"):
        keep_words(pieces[at], *(one for one in pieces[deed : end_of_statement(pieces, deed)] if one.kind == "number"))


NOT_FINISHED: Final = (_keep_spoken_about, _keep_unfinished)
"""Keep what was not done out of what was, in place."""
