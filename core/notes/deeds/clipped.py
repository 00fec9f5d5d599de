"""Deeds told by a bare verb with nobody before it, which were done: `sow 72 sage, watered in, domed`, `clear lot 17`.

Rules
1. A beginning with its count was done where only what was done to it then follows.
2. `clear lot 17` sets it free, as `release lot 17` does; a tray may be cleared out, so that it is one `from hold`.
3. A feed that went to a lot or tray fed it.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from core.notes.words.act_kinds import OPENING
from core.notes.words.pieces import SUBJECTS, Piece, is_act
from core.notes.words.said import pass_over, statements
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_FED: Final = ActWord(act="tend", says={"care": "feed"})
_GIVEN_TO: Final = frozenset({"to", "on"})
_FEED_AND_TO: Final = 2
_UNSURE: Final = frozenset({"to_do", "plan", "negation", "none", "condition", "hearsay", "vague"})
_CLEAR: Final = ActWord(act="clear")
_OUT: Final = frozenset({"from", "of", "off", "for"})
_HOLDS: Final = small_words("clipped", "holds")
_VERB_AND_LOT: Final = 2
_FROM_THE_HOLD: Final = 3
_BEGINNING: Final = OPENING | {"pot"}
_FOLLOWED: Final = small_words("clipped", "followed")


@looks_for("@to_do", beside=_FOLLOWED)
def _read_beginnings(pieces: list[Piece]) -> None:
    """`sow 72 sage in tray 18, watered in, domed`: a bare verb that was done, for so was what follows, in place."""
    dated = pieces[0].kind == "moment" and len(pieces) > 1
    bare = pieces[dated]
    verb = bare.roles.get("to_do")
    if verb is None or verb.act not in _BEGINNING or not bare.roles.keys().isdisjoint(("act", "shared")):
        return
    first, *others = (pieces[start:end] for start, end in statements(pieces) if end > start)
    counted = [piece.kind for piece in first[dated + 1 : dated + 2]] == ["number"] and not any(map(_lies_ahead, first))
    if counted and others and all(map(_was_done_then, others)):
        bare.roles = {"act": replace(verb, form="done")}


@looks_for("clear", beside=("=lots", "=trays"))
def _read_clear(pieces: list[Piece]) -> None:
    """`clear lot 17`, `clear tray 4 from quarantine`: set free again, in place."""
    for start, end in statements(pieces):
        start += end > start and pieces[start].kind == "moment" and not _lies_ahead(pieces[start])
        if end - start < _VERB_AND_LOT or pieces[start].low != "clear" or pieces[start + 1].kind not in SUBJECTS:
            continue
        verb, named, *freed = pieces[start:end]
        held = 1 < len(freed) <= _FROM_THE_HOLD and freed[0].low in _OUT and freed[-1].low.split(" ")[-1] in _HOLDS
        if held or (not freed and named.kind == "lots"):
            verb.kind, verb.roles = "phrase", {"act": _CLEAR}
            pass_over(*freed)


def _lies_ahead(piece: Piece) -> bool:
    """Whether a day is not surely over, or words tell of what is planned or waited for."""
    dated = piece.kind == "moment" and (piece.value.days is None or piece.value.days > 0)
    return dated or not piece.roles.keys().isdisjoint(("plan", "condition", "negation"))


def _was_done_then(said: list[Piece]) -> bool:
    """Whether a statement is a deed that was done, with no lot, plant or count of its own."""
    done = [piece for piece in said if piece.low in _FOLLOWED]
    return bool(done) and all(piece in done or "filler" in piece.roles for piece in said)


@looks_for("@solution", beside=_GIVEN_TO)
def _read_feeds(pieces: list[Piece]) -> None:
    """`fish fert to all trays`, `half strength fert on lot 4`: fed, in place."""
    for start, end in statements(pieces):
        said = [piece for piece in pieces[start:end] if piece.kind != "moment"]
        if len(said) <= _FEED_AND_TO or any(map(_lies_ahead, pieces[start:end])) or any(map(_tells_deed, said)):
            continue
        feed, to, fed = said[-_FEED_AND_TO - 1 :]
        if feed.roles.get("solution") == "fertilizer" and to.low in _GIVEN_TO and fed.kind in SUBJECTS:
            to.kind, to.roles = "phrase", {"act": _FED}


def _tells_deed(piece: Piece) -> bool:
    """Whether a piece tells a deed, or what is not done or not known."""
    return is_act(piece) or not piece.roles.keys().isdisjoint(_UNSURE)


READ_CLIPPED: Final = (_read_beginnings, _read_clear, _read_feeds)
"""Make such verbs deeds that were done, in place."""
