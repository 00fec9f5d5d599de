"""Who is named in a roster: the names that open it, after words of the shift and days."""

from __future__ import annotations

from typing import Final

from core.notes.days.again import is_weekday
from core.notes.days.who import day_named, may_be_who
from core.notes.names.people import NAMELIKE
from core.notes.words.pieces import Piece
from core.vocabulary import words
from core.vocabulary.loading import small_words

ROSTER_VERBS: Final = small_words("rosters", "verbs")
SHIFT: Final = small_words("rosters", "shift")
NEW: Final = small_words("rosters", "newcomers")
_TITLES: Final = small_words("people", "titles")
_ADDING: Final = small_words("rosters", "adding")
_WAYS_ON: Final = small_words("rosters", "ways_on")
_BEFORE_DAYS: Final = frozenset({"for", "to", "on"})
_JOINTS: Final = frozenset({"and", "&", "+", ","})
_POLITE: Final = frozenset({"please", "pls"})


def with_titles(pieces: list[Piece]) -> list[Piece]:
    """The pieces with `mr lind` and the like as one name."""
    named: list[Piece] = []
    for piece in pieces:
        if named and named[-1].low in _TITLES and (piece.kind == "word" or piece.low in NAMELIKE):
            title = named.pop()
            low = f"{title.low} {piece.low}"
            piece = Piece("person", low, title.first, piece.last, low)
        named.append(piece)
    return named


def put_on(pieces: list[Piece]) -> list[Piece]:
    """`put lou and bea down for saturday 9-12`, `add ngozi to saturday` as who is on then (`ngozi on saturday`)."""
    start = 1 if pieces and pieces[0].low in _POLITE else 0
    marks = start < len(pieces) and pieces[start].low == "mark" and any(piece.low == "down" for piece in pieces[2:6])
    if start >= len(pieces) or (pieces[start].low not in _ADDING and not marks):
        return pieces
    first = end = start + 1
    while end < len(pieces) and (may_be_who(pieces[end]) or pieces[end].kind == "person" or pieces[end].low in _JOINTS):
        end += 1
    day = end
    while day < len(pieces) and pieces[day].low in _WAYS_ON | _BEFORE_DAYS:
        day += 1
    if first == end or day == end or day >= len(pieces) or not is_day(pieces[day]):
        return pieces
    on = Piece("phrase", None, pieces[end].first, pieces[day - 1].last, "on", {"filler": True})
    return [*pieces[first:end], on, *pieces[day:]]


def names_of(pieces: list[Piece]) -> tuple[list[str], int]:
    """The names that open a roster, and where they end; none where there are too many."""
    names: list[str] = []
    at = 0
    while at < len(pieces) and (
        pieces[at].low
        in (*SHIFT, *NEW, ":", "shifts", "on shift", "for", "on", "at the bench", "bench", "come", "comes")
        or (pieces[at].kind == "moment" and pieces[at].low not in NAMELIKE)
        or (pieces[at].low in ("every", "each", "and", "&", ",", "on") and is_weekday(pieces, at + 1))
    ):
        at += 1
    while at < len(pieces):
        piece = pieces[at]
        named = (
            may_be_who(piece)
            or _joined_to_name(pieces, at, names)
            or (piece.kind == "phrase" and "plant" in piece.roles)
            or piece.kind == "person"
            or piece.low in NAMELIKE
        )
        known = piece.low in ROSTER_VERBS or "filler" in piece.roles
        if named and not known and not _will(pieces, at, names) and not _tells_work(pieces, at, names):
            names.append(piece.low.removesuffix("'s"))
        elif not (names and piece.low in ("and", "&", ",", "+", "/")):
            break
        at += 1
    if names and pieces[at - 1].low.endswith("'s"):
        at -= 1
    return (names, at) if len(names) <= 6 else ([], 0)


def _joined_to_name(pieces: list[Piece], at: int, names: list[str]) -> bool:
    """`rudy and wick fri`: a plain word between a name and a day is a name too."""
    joined = bool(names) and pieces[at - 1].low in ("and", "&", "+") and pieces[at].kind == "word"
    after = pieces[at + 1] if at + 1 < len(pieces) else None
    dated = after is not None and (is_day(after) or after.low == "on" or after.low in ROSTER_VERBS)
    return joined and pieces[at].low.isalpha() and dated


def _will(pieces: list[Piece], at: int, names: list[str]) -> bool:
    """The will of `ana will open tomorrow`, not that of `ana, will and kit`."""
    beside = bool(names) and pieces[at].low == "will" and pieces[at - 1].low == names[-1]
    return beside and at + 1 < len(pieces) and pieces[at + 1].kind in ("word", "phrase") and not is_day(pieces[at + 1])


def _tells_work(pieces: list[Piece], at: int, names: list[str]) -> bool:
    """`nell waters`, `nell feeds`: what somebody does there, and no name."""
    piece = pieces[at]
    beside = bool(names) and pieces[at - 1].low == names[-1]
    stem = words().phrases.get(piece.low.removesuffix("s"), {}) if beside and piece.low.endswith("s") else {}
    return not stem.keys().isdisjoint(("act", "shared", "to_do", "noun"))


def is_day(piece: Piece) -> bool:
    """Whether a piece names a day, and nobody."""
    return piece.kind == "fraction" or (day_named(piece) is not None and piece.low not in NAMELIKE)
