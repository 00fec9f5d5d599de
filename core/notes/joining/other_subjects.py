"""Words of their own about another lot or tray than the deed before them tell that deed nothing."""

from __future__ import annotations

from typing import Final

from core.notes.details.details import JOINING
from core.notes.details.drafts import Draft
from core.notes.joining.adding import subject_only
from core.notes.joining.repeating import tells_what_is_in
from core.notes.parting.clauses import Clause
from core.notes.words.act_kinds import COUNTLESS, NO_SUBJECT, OPENING
from core.notes.words.pieces import SENTENCE_ENDS, Piece, is_act
from core.vocabulary.loading import small_words

_DOING: Final = small_words("people", "doing_else")
_THAT: Final = frozenset({"it", "that", "them", "em", "both", "these", "those", "this", "all"})
_SAID_OF_ONE: Final = small_words("beside", "said_of_one")
NAMES_LOTS: Final = {"merge": frozenset({"lots", "number"}), "split": frozenset({"lots"})}
"""Acts that name a second lot in words of their own (`50 stays`, `they're lot 60 now`), and as what."""


def tells_of_another(drafts: list[Draft], clause: Clause) -> bool:
    """Whether a clause without an act is of another subject than the deed before it."""
    held = drafts[-1].act == "check" and tells_what_is_in(clause)
    alone = _left_alone(drafts[-1], clause)
    return held or alone or _of_another_subject(drafts, clause) or _timed_other(drafts, clause)


def tells_of_somebody_else(before: Draft, clause: Clause) -> bool:
    """`potted 6 of lot 9, kim did the rest`, `lot 9 20 rooted but hugo got 18`: what another did, beside a deed that
    names what it was done to; `lot 9 misted, ana did it` is who did the deed.
    """
    at = next((place for place, piece in enumerate(clause.pieces) if piece.kind == "person"), None)
    named = before.own_subject() or before.held("plant") is not None
    if at is None or not named or before.held("by") or clause.after in ("", ":", "(", "-"):
        return False
    if any("filler" not in piece.roles or piece.low == "by" for piece in clause.pieces[:at]):
        return False
    told = clause.pieces[at + 1 :]
    if any(piece.low in _THAT for piece in told):
        return False
    return any(piece.kind == "word" or piece.low in _DOING or is_act(piece) for piece in told)


def _left_alone(before: Draft, clause: Clause) -> bool:
    """`lot 5 12 rooted; lot 6, 14`, `potted 12 lot 9, then lot 10`: another lot in a sentence of its own, or taken
    after it, was not counted with the one before.
    """
    apart = clause.after in SENTENCE_ENDS or any(piece.low == "then" for piece in clause.pieces[:1])
    if before.held("count") is None or not (apart or clause.after == "then") or not subject_only(clause):
        return False
    named = [piece for piece in clause.pieces if piece.kind in ("lots", "trays")]
    return any(before.held(piece.kind) not in (None, piece.value) for piece in named)


def _of_another_subject(drafts: list[Draft], clause: Clause) -> bool:
    """`misted tray 3, dome back on. tray 44 seems dry`, `lost 2 in lot 9, lot 10 ok`: words of their own about another
    subject tell the act before them nothing.
    """
    before = drafts[-1]
    if clause.has("plant") and before.own_subject() and any(piece.low in _SAID_OF_ONE for piece in clause.pieces):
        return before.act not in OPENING and not clause.kinds() & {"lots", "trays"}
    if before.act in NAMES_LOTS or not clause.kinds() & {"lots", "trays"}:
        return False
    other = before.act not in OPENING or any(
        piece.kind in ("lots", "trays") and before.held(piece.kind) not in (None, piece.value)
        for piece in clause.pieces
    )
    if not any(_tells_more(piece, known=other) for piece in clause.pieces):
        return False
    takes_none = before.act in NO_SUBJECT and clause.after in SENTENCE_ENDS
    return takes_none or any(draft.own_subject() for draft in drafts)


def _timed_other(drafts: list[Draft], clause: Clause) -> bool:
    """`lid off tray 3 at 9 back on at 10, tray 4 at 11`: another tray than the one that the last deed means."""
    before = drafts[-1]
    told = clause.pieces[0].kind in ("lots", "trays") and "moment" in clause.kinds()
    meant = before.act in COUNTLESS and not before.own_subject() and any(one.own_subject() for one in drafts[:-1])
    return told and meant


def _tells_more(piece: Piece, *, known: bool) -> bool:
    """A word that does not only join another lot to those before it (`lot 10 too`)."""
    if piece.kind in ("word", "compared", "saying") or "cause" in piece.roles:
        return True
    return known and piece.kind == "phrase" and piece.low not in JOINING and "both" not in piece.roles
