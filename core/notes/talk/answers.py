"""Answers to a reminder that say more: `done, all firm`, `done 14 not 22`, `stop reminding me of lot 1`."""

from __future__ import annotations

from collections.abc import Collection
from datetime import datetime
from typing import Any, Final

from core.entries import Exceptions
from core.notes.days.moments import resolve_past
from core.notes.days.who import may_be_who
from core.notes.details.drafts import Draft, as_typed
from core.notes.words.pieces import SUBJECTS, Piece
from core.notes.words.steps import looks_for
from core.notes.words.tokens import Token
from core.vocabulary.loading import small_words
from core.vocabulary.talk_phrases import answers_said

_ANSWERS: Final = frozenset({"done", "later", "skip"})
_ANSWERED: Final = frozenset(phrase for said in answers_said().values() for phrase in said)
_PUT_OFF: Final = frozenset(answers_said()["later"])
_REMINDING: Final = frozenset({"remind me", "remind me again"})
_NO_ANSWERS: Final = small_words("answers", "not_before_more")
_STOPS: Final = small_words("answers", "stops_for")
_EXCEPT: Final = frozenset({"not", "but not", "except", "except for", "all but", "but"})
_JOINTS: Final = small_words("side_talk", "dropped_joints")
_PARTING: Final = frozenset({".", "!", ";"})
_MOST_WORDS: Final = 8
_UNTIL: Final = frozenset({"till", "til", "until", "to", "by", "on", "for", "in"})
_WEEKS: Final = small_words("answers", "weeks_to_come")
_CLOSED: Final = small_words("answers", "closes_exceptions")
_ALONE: Final = frozenset({"but", "not", "minus"})
_BESIDE_DONE: Final = frozenset({"just", "already", "i", "we"})
_DID_IT: Final = small_words("answers", "somebody_did")


@looks_for("=break", "=dash", beside=_ANSWERED)
def answer_and_more(
    text: str, tokens: list[Token], pieces: list[Piece], known: dict[str, tuple[str, str]]
) -> Draft | None:
    """`done, all firm`: an answer, a mark, and a remark that tells no deed; the remark is kept as the rest."""
    mark = next((place for place, piece in enumerate(pieces) if piece.kind in ("break", "dash")), 0)
    if not 0 < mark < len(pieces) - 1:
        return None
    opened = " ".join(piece.low for piece in pieces[:mark])
    act, answer = known.get(opened, ("", ""))
    more = [piece for piece in pieces[mark:] if piece.kind not in ("break", "mark", "dash")]
    more = more[len(more) > 1 and more[0].low in _JOINTS :]
    if act != "reply" or answer not in _ANSWERS or opened in _NO_ANSWERS or not 0 < len(more) <= _MOST_WORDS:
        return None
    if any(_tells(piece) for piece in more):
        return None
    draft = Draft("reply", None, [])
    draft.extra.update(answer=answer, rest=as_typed(text, tokens, more[0].first, more[-1].last))
    return draft


@looks_for("=break", beside=_ANSWERED)
def answer_and_deeds(pieces: list[Piece], known: dict[str, tuple[str, str]]) -> tuple[Draft, list[Piece]] | None:
    """`done, lost 2 in tray 4`: an answer, and the pieces of the deeds that are told after its mark."""
    mark = next((place for place, piece in enumerate(pieces) if piece.kind == "break"), 0)
    opened = " ".join(piece.low for piece in pieces[:mark])
    act, answer = known.get(opened, ("", ""))
    parted = pieces[mark].low in _PARTING or (pieces[mark].low in (",", "&") and answer == "done")
    if act != "reply" or answer not in _ANSWERS or opened in _NO_ANSWERS or not parted:
        return None
    told = pieces[mark + 1 :]
    told = told[len(told) > 1 and told[0].low in _JOINTS :]
    done = any("act" in piece.roles and piece.roles["act"].form == "done" for piece in told)
    named = any(piece.kind in SUBJECTS or piece.kind == "number" or "plant" in piece.roles for piece in told)
    if not done or not named or told[0].low in _EXCEPT or "left" in told[0].roles:
        return None
    draft = Draft("reply", None, [])
    draft.extra["answer"] = answer
    return draft, told


def later_till(
    text: str, tokens: list[Token], pieces: list[Piece], openers: dict[str, tuple[str, ...]]
) -> Draft | None:
    """`snooze till thursday`, `push it to friday`, `try me again in a week`: later, and until when or for how long."""
    solid = [piece for piece in pieces if piece.kind not in ("break", "mark", "dash")]
    words = [piece.low for piece in solid]
    begun = _end_of_first(words, _PUT_OFF)
    if begun and (words[begun] in _REMINDING or _said(openers, words[begun:])):
        # "not now, ask again in 30 min", "busy, remind me in an hour".
        solid, words = solid[begun:], words[begun:]
    openings = _said(openers, words) if words else ()
    lead = _end_of_first(words, _REMINDING | set(openings) if begun else openings)
    until = [piece for piece in solid[lead:] if piece.low not in _UNTIL]
    if not lead or len(until) != 1:
        return None
    draft = Draft("reply", None, [])
    draft.extra["answer"] = "later"
    if until[0].kind == "duration" and until[0].value[1] is None:
        draft.extra["duration"] = until[0].value[0]
    elif words[0] != "remind" and (
        until[0].kind == "moment" or until[0].low in _WEEKS or "coming" in until[0].roles
    ):
        draft.extra["rest"] = as_typed(text, tokens, solid[lead].first, solid[-1].last)
    else:
        return None
    return draft


def _end_of_first(words: list[str], phrases: Collection[str]) -> int:
    """Where the longest of some phrases ends that words begin with, before the last of them; nought where none does."""
    return next((at for at in range(len(words) - 1, 0, -1) if " ".join(words[:at]) in phrases), 0)


def _said(openers: dict[str, tuple[str, ...]], words: list[str]) -> tuple[str, ...]:
    return openers.get(words[0].split(" ")[0], ())


def all_but(pieces: list[Piece], excepting: dict[str, tuple[str, ...]]) -> Draft | None:
    """`all but lots 8-10 done`: done, but for some."""
    solid = [piece for piece in pieces if piece.kind not in ("break", "mark", "dash")]
    if not solid or solid[0].low.split(" ")[0] not in excepting:
        return None
    at = next((place for place, piece in enumerate(solid) if _names(piece)), 0)
    opened = " ".join(piece.low for piece in solid[:at])
    if not opened or opened not in excepting.get(opened.split(" ")[0], ()) or opened in _ALONE:
        return None
    end = at
    while end < len(solid) and (_names(solid[end]) or solid[end].low in ("and", "&")):
        end += 1
    closed = " ".join(piece.low for piece in solid[end:])
    return _reply("done", {}, _named(solid[at:end])) if closed in _CLOSED else None


@looks_for("did", "done", any_of=_DID_IT)
def done_by_or_on(pieces: list[Piece], known: dict[str, tuple[str, str]], now: datetime) -> Draft | None:
    """`mei did it`, `yeah did that at 9`, `kit already did it this morning`: done, and by whom or when."""
    solid = [piece for piece in pieces if piece.kind not in ("break", "mark", "dash")]
    solid = solid[len(solid) > 1 and known.get(solid[0].low) == ("reply", "yes") :]
    who = solid[0] if solid and may_be_who(solid[0]) else None
    told = solid[1:] if who is not None else solid
    day = told[-1] if told and told[-1].kind == "moment" else None
    told = told[:-1] if day is not None else told
    told = told[:-1] if day is not None and told and told[-1].low in ("on", "at") else told
    said = " ".join(piece.low for piece in told if piece.low not in _BESIDE_DONE)
    if (who is None and day is None) or known.get(said) != ("reply", "done") or (who and said not in _DID_IT):
        return None
    draft = Draft("reply", None, [])
    draft.extra["answer"] = "done"
    if who is not None:
        draft.extra["by"] = who.low
    if day is not None:
        on = resolve_past(day.value, now)
        if on is None:
            return None
        draft.extra["on"] = on
    return draft


def _tells(piece: Piece) -> bool:
    if piece.kind in (
        "lots",
        "trays",
        "number",
        "fraction",
        "percent",
        "quote",
        "amount",
        "temp",
        "degrees",
        "duration",
    ):
        return True
    if piece.low == "?":
        return True
    return any(role in piece.roles for role in ("act", "shared", "to_do", "plan", "plant", "cover_noun", "left"))


@looks_for("done", "did", "finished", any_of=_STOPS)
def answer_with_names(pieces: list[Piece]) -> Draft | None:
    """`done 14 not 22`, `stop reminding me of lot 1`: an answer for some lots or trays only."""
    solid = [piece for piece in pieces if piece.kind not in ("break", "mark", "dash")]
    first = next((place for place, piece in enumerate(solid) if _names(piece)), 0)
    if not first:
        return None
    opened = " ".join(piece.low for piece in solid[:first]).removesuffix(" with")
    if opened in _STOPS:
        if not all(_names(piece) or "filler" in piece.roles for piece in solid[first:]):
            return None
        return _reply("stop", _named(solid[first:]), {})
    if opened not in ("done", "did", "finished") or not any(piece.low in _EXCEPT for piece in solid):
        return None
    cut = next(place for place, piece in enumerate(solid) if piece.low in _EXCEPT)
    done = _named(solid[:cut])
    left = _named(solid[cut:], bare="trays" if "trays" in done and "lots" not in done else "lots")
    plain = all(_names(piece) or "filler" in piece.roles or piece.low in _EXCEPT for piece in solid[first:])
    return _reply("done", done, left) if plain and done and left else None


def _names(piece: Piece) -> bool:
    return piece.kind in ("lots", "trays") or (piece.kind == "number" and piece.low.isdigit())


def _named(pieces: list[Piece], bare: str = "lots") -> dict[str, tuple[str, ...]]:
    """The lots and trays that are named; bare numbers are `bare`, or as what was named before (`tray 3 and 4`)."""
    named: dict[str, tuple[str, ...]] = {}
    for piece in pieces:
        if _names(piece):
            bare = kind = bare if piece.kind == "number" else piece.kind
            value = (piece.low,) if piece.kind == "number" else tuple(piece.value)
            named[kind] = (*named.get(kind, ()), *value)
    return named


def _reply(answer: str, named: dict[str, tuple[str, ...]], left: dict[str, tuple[str, ...]]) -> Draft:
    draft = Draft("reply", None, [])
    extra: dict[str, Any] = {"answer": answer, **named}
    if left:
        extra["but"] = Exceptions(lots=left.get("lots", ()), trays=left.get("trays", ()))
    draft.extra.update(extra)
    return draft
