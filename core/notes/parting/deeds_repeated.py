"""The deed that a statement leaves out, because the one before it says it: who did it, or whoever texts, with no deed
and a subject or bare numbers did what was done before (`kit watered 60, mei 61, i did 62`, `lots 4-6 by me`).
"""

from __future__ import annotations

from typing import Final

from core.notes.names.people import NAMELIKE, may_be_name
from core.notes.parting.as_before import is_bare, is_care, kind_before, list_end, name_as
from core.notes.words.pieces import NO_ROLES, SUBJECTS, Piece, is_act
from core.notes.words.said import is_end
from core.notes.words.steps import looks_for
from core.notes.words.values import Names
from core.vocabulary import ActWord
from core.vocabulary.everyday import is_given_name
from core.vocabulary.loading import small_words

_SPEAKER: Final = small_words("people", "speaker")
_DID: Final = small_words("people", "did")
_AFTER: Final = small_words("people", "after_repeated")
_OF: Final = small_words("split", "out_of")
_RECEIVED: Final = frozenset({"give", "sell", "reserve"})
"""Acts after which a name may be who received ("gave ana 4 of lot 3, kit 2 of lot 4")."""
_BEFORE_PURPOSES: Final = small_words("acts", "before_purposes")


@looks_for("=break", "and", beside=("=word", *_SPEAKER, *NAMELIKE))
def repeat_deeds(pieces: list[Piece], names: Names) -> None:
    """Says the deed again where another did it too, in place."""
    at = 0
    while at < len(pieces):
        fresh = at > 0 and (pieces[at - 1].kind == "break" or pieces[at - 1].low == "and")
        deed = _deed_before(pieces, at) if fresh else None
        if deed is not None:
            if is_care(deed.roles["act"]):
                at += _did_too(pieces, at, deed, names) or _done_by_another(pieces, at, deed, names)
            else:
                at += _counted_too(pieces, at, deed, names)
        at += 1


def _deed_before(pieces: list[Piece], at: int) -> Piece | None:
    """The last deed before a place, where it is one that was done by somebody, and nothing that was to be done (`took
    trays 1-6 for misting`).
    """
    place = next((place for place in range(at - 1, -1, -1) if is_act(pieces[place])), None)
    if place is None or (place and pieces[place - 1].low in _BEFORE_PURPOSES and pieces[place].low.endswith("ing")):
        return None
    word: ActWord | None = pieces[place].roles.get("act")
    return pieces[place] if word is not None and word.form == "done" and not word.counts_before else None


def _is_somebody(piece: Piece, pieces: list[Piece], names: Names) -> bool:
    """A person where one is already named, or a name that is known as one."""
    if piece.kind == "person" or piece.low in _SPEAKER:
        return True
    known = is_given_name(piece.low) or piece.low in names.people
    return may_be_name(piece) and (known or any(one.kind == "person" for one in pieces))


def _did_too(pieces: list[Piece], at: int, deed: Piece, names: Names) -> int:
    """`…, mei 61`, `…, wendell got 6-9 after`: says the deed after who did it; how many pieces more."""
    if at >= len(pieces) or not _is_somebody(pieces[at], pieces[:at], names):
        return 0
    start = at + 1 + (at + 1 < len(pieces) and pieces[at + 1].low in _DID)
    end = _subject_end(pieces, start)
    if end is None or not _ends(pieces, end):
        return 0
    if pieces[start].kind == "number":
        kind = kind_before(pieces, start) or "lots"
        name_as(pieces, start, end, kind)
    if pieces[at].kind != "person" and pieces[at].low not in _SPEAKER:
        pieces[at].kind, pieces[at].value, pieces[at].roles = "person", pieces[at].low, NO_ROLES
    if start > at + 1:
        pieces[at + 1].kind, pieces[at + 1].roles = "phrase", {"act": deed.roles["act"]}
        return 1
    pieces.insert(start, _said_again(deed, pieces[start].first))
    return 1


def _counted_too(pieces: list[Piece], at: int, deed: Piece, names: Names) -> int:
    """`potted 10 of lot 3, bram 12 of lot 4`: says the deed after who did it; how many pieces more."""
    told = pieces[at + 1 : at + 4]
    if len(told) < 2 or not _is_somebody(pieces[at], pieces[:at], names) or not is_bare(told[0]):
        return 0
    if told[1].kind in SUBJECTS:
        # "deb potted 14 lot 12, carl 10 lot 13".
        told.insert(1, told[1])
    elif told[1].low not in _OF:
        return 0
    if len(told) < 3 or told[2].kind not in SUBJECTS or deed.roles["act"].act in _RECEIVED:
        return 0
    if pieces[at].low not in _SPEAKER:
        pieces[at].kind, pieces[at].value, pieces[at].roles = "person", pieces[at].low, NO_ROLES
    pieces.insert(at + 1, _said_again(deed, told[0].first))
    return 1


def _done_by_another(pieces: list[Piece], at: int, deed: Piece, names: Names) -> int:
    """`…, lots 34-36 by me`: says the deed after the subject; how many pieces more."""
    end = _subject_end(pieces, at)
    if end is None or end + 1 >= len(pieces) or pieces[end].low != "by":
        return 0
    if not _is_somebody(pieces[end + 1], pieces[:at], names) or not _ends(pieces, end + 2):
        return 0
    if pieces[at].kind == "number":
        name_as(pieces, at, end, kind_before(pieces, at) or "lots")
        end = at + 1
    pieces.insert(end, _said_again(deed, pieces[end].first))
    return 1


def _subject_end(pieces: list[Piece], at: int) -> int | None:
    if at >= len(pieces):
        return None
    if pieces[at].kind in SUBJECTS:
        return at + 1
    return list_end(pieces, at) if is_bare(pieces[at]) else None


def _ends(pieces: list[Piece], at: int) -> bool:
    """Whether nothing but a time follows before the statement ends."""
    while at < len(pieces) and (pieces[at].kind == "moment" or pieces[at].low in _AFTER):
        at += 1
    return is_end(pieces, at) or pieces[at].low in ("and", "but")


def _said_again(deed: Piece, first: int) -> Piece:
    return Piece("phrase", None, first, first, deed.low, {"act": deed.roles["act"]})
