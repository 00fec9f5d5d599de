"""Is it only told again: what somebody else said of the bench, or how long ago something was."""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from core.notes.parting.clauses import Clause
from core.notes.words.pieces import COUNTS, SUBJECTS, Piece, is_act
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord
from core.vocabulary.everyday import is_given_name
from core.vocabulary.loading import small_words

_WRITING: Final = small_words("retold", "writing")
_NOW_WRITING: Final = frozenset({"writes", "texts", "emails", "messages", "reports"})
_WROTE: Final = frozenset({"texted", "wrote", "emailed", "messaged", "reported"})
_MESSAGES: Final = small_words("retold", "messages")
_SPEAKER: Final = small_words("people", "speaker")
_WRITTEN: Final = small_words("retold", "written")
_NOBODY: Final = small_words("retold", "nobody")
_PEOPLE: Final = small_words("retold", "people")
_ARTICLES: Final = frozenset({"the", "my", "our"})
_LOOKING: Final = frozenset({"looks like", "looked like", "look", "looks"})
_IT_WAS: Final = frozenset({
    "like", "it", "they", "its", "it's", "was", "were", "got", "been", "has been", "have been", "has", "have",
})  # fmt: skip
_SINCE_WHEN: Final = frozenset({"already", "just", "freshly", "recently"})
_GUESS: Final = 3
_ASKERS: Final = small_words("asking", "askers")
_FAR: Final = 3
"""So many pieces after `asked` may stand before what was asked (`asked lev how many rooted`)."""
_OPENING: Final = small_words("retold", "opening_statements")


@looks_for("per", "as", "said", "from", "via", "asked", any_of=_LOOKING | _WRITING | _MESSAGES)
def is_retold(pieces: list[Piece]) -> bool:
    """`per mei, lot 9 is off the mat`, `ana said tray 3 wilted`."""
    said = _per_somebody(pieces) or _somebody_said(pieces) or _somebody_asked(pieces)
    return said or _heads_message(pieces) or _is_inferred(pieces)


@looks_for("since", beside=("been",))
def tells_how_long(pieces: list[Piece]) -> bool:
    """`its been 3 days since lot 60 was watered`: no watering of now."""
    since = any(before.kind == "duration" and after.low == "since" for before, after in pairwise(pieces))
    return since and any(piece.low == "been" for piece in pieces[:3])


def speaks_for_self(clause: Clause, before: Clause) -> bool:
    """`i misted 5` after `bo said he'd mist tray 4`: what whoever texts did, after the word of somebody else."""
    first = clause.pieces[0].low if clause.pieces else ""
    others = bool(before.pieces) and before.pieces[0].low not in _SPEAKER and clause.after in (",", "but", "and", "so")
    return others and first in _SPEAKER and clause.word is not None and clause.word.form == "done"


def _per_somebody(pieces: list[Piece]) -> bool:
    """`per mei, lot 9 is off the mat`, `per lou's list lot 14 had 30 rooted`."""
    if pieces and pieces[0].low == "as":
        pieces = pieces[1:]
    if len(pieces) < 2 or pieces[0].low != "per":
        return False
    if pieces[1].low.endswith("'s"):
        return len(pieces) > 2 and pieces[2].low in _WRITTEN
    if not _is_name(pieces[1]):
        return False
    return len(pieces) == 2 or pieces[2].low not in ("'s", "request", "instructions", "orders")


def _somebody_said(pieces: list[Piece]) -> bool:
    """`ana said lot 4 rotted`, `yest ana said …`, `the boss said 20 rooted`."""
    pieces = pieces[pieces[0].kind == "moment" :] if pieces else pieces
    led = len(pieces) > 1 and pieces[0].low in _ARTICLES
    pieces = pieces[led:]
    somebody = bool(pieces) and ((_is_name(pieces[0]) and not led) or pieces[0].low in _PEOPLE)
    if not somebody or len(pieces) < 2 or pieces[1].low != "said":
        return False
    if len(pieces) == 2:
        return True
    told = pieces[2]
    if told.kind in COUNTS | SUBJECTS | {"temp", "degrees"} or is_act(told):
        return True
    return "plant" in told.roles or told.low in _OPENING


def _somebody_asked(pieces: list[Piece]) -> bool:
    """`asked lev how many rooted in lot 14`, `ana asked who watered tray 4`: what somebody wanted to know."""
    asked = next((at for at, piece in enumerate(pieces) if piece.low.split(" ")[0] == "asked"), len(pieces))
    return any(piece.low.split(" ")[0] in _ASKERS for piece in pieces[asked + 1 : asked + 1 + _FAR])


def _heads_message(pieces: list[Piece]) -> bool:
    """`kit texted, tray 3 is misted`, `msg from kit: …`, `via kit: …`: what follows is somebody else's word."""
    told = [piece for piece in pieces if piece.low not in ("just", "me", "us", "a", "the")]
    if len(told) >= 2 and _is_name(told[0]) and told[1].low in _WRITING:
        counted = told[1].low in _WROTE and any(piece.kind in COUNTS | SUBJECTS for piece in told[2:3])
        return len(told) == 2 or told[1].low in _NOW_WRITING or counted
    if told and told[0].low in _MESSAGES:
        told = told[1:]
    elif len(told) != 2 or not is_given_name(told[1].low):
        return False
    return len(told) >= 2 and told[0].low in ("from", "via") and _is_name(told[1])


def _is_inferred(pieces: list[Piece]) -> bool:
    """`looks like tray 3 got misted`, `looks like ana misted tray 4`: a guess at what somebody did."""
    if len(pieces) < 3 or pieces[0].low not in ("looks like", "looked like"):
        return _looks_done(pieces)
    if _is_name(pieces[1]) and _is_done(pieces[2]):
        return True
    if pieces[1].kind not in ("lots", "trays") or any(piece.kind in ("number", "fraction") for piece in pieces):
        return False
    return pieces[2].low.split(" ")[0] in ("got", "was", "were", "has", "have")


def _looks_done(pieces: list[Piece]) -> bool:
    """`lot 22 looks like it was watered`, `tray 4 looks watered`: a guess from what somebody sees."""
    told = [piece for piece in pieces if piece.low not in _SINCE_WHEN]
    if len(told) < _GUESS or told[0].kind not in SUBJECTS or not told[1].low.startswith("look"):
        return False
    at = 2
    while at < len(told) and told[at].low in _IT_WAS:
        at += 1
    return (at > 2 or told[1].low in ("look", "looks")) and at < len(told) and _is_done(told[at])


def _is_done(piece: Piece) -> bool:
    """`misted`, `just fed`: what somebody did, and no state or loss of the plants before it (`rot took 4`)."""
    word: ActWord | None = piece.roles.get("act") or piece.roles.get("shared")
    return word is not None and word.form == "done" and not word.counts_before and word.act != "check"


def _is_name(piece: Piece) -> bool:
    named = piece.kind in ("word", "person") and piece.low.isalpha()
    return named and len(piece.low) > 1 and piece.low not in _NOBODY
