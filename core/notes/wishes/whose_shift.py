"""Whose a shift is, told from the day or from who has it: `saturday is ana's, 9 to 12`, `we've got ana on sat 9-12`.

Rules
1. Nothing but days, hours, names and small words of being there stands in it, and it tells hours, or days of every
   week that belong to somebody.
2. Its words are put into the order of every roster: names, days, hours.
"""

from __future__ import annotations

from typing import Final

from core.notes.days.again import EVERY, is_plural_day
from core.notes.days.roster_hours import half_day_of, hours_of
from core.notes.days.who import day_named, may_be_who
from core.notes.names.people import NAMELIKE
from core.notes.wishes.who_is_there import ROSTER_VERBS, SHIFT
from core.notes.words.pieces import Piece
from core.notes.words.runs import Runs
from core.notes.words.steps import looks_for
from core.vocabulary.everyday import is_given_name
from core.vocabulary.loading import small_words

_LEADS: Final = Runs(small_words("rosters", "before_who"))
_BELONGING: Final = Runs(small_words("rosters", "belonging"))
_WEEKLY: Final = Runs(small_words("rosters", "belonging_weekly"))
_HAVING: Final = Runs(small_words("rosters", "having"))
_SMALL: Final = ROSTER_VERBS | SHIFT | small_words("rosters", "small") | small_words("rosters", "around_shifts") | EVERY
_JOINTS: Final = frozenset({"and", "&", "+", "n"})
_OF_HOURS: Final = frozenset({"number", "colon", "dash", "fraction"})


@looks_for(
    any_of=frozenset().union(*(small_words("rosters", part) for part in ("before_who", "belonging", "having"))),
    beside=("=moment", "@weekday"),
)
def whose_shift(pieces: list[Piece]) -> list[Piece] | None:
    """The pieces as `ana on saturday 9am to 12pm`; None where no shift is told so."""
    said = [piece for piece in pieces if piece.low not in (".", "!")]
    told = _after_days(said) or _after_leads(said) or _after_names(said)
    if told is None or not told[0] or not any(map(_is_day, told[1])):
        return None
    names, when = told
    if hours_of(when) is None and half_day_of(when) is None and not _weekly(said, when):
        return None
    on = Piece("phrase", None, when[0].first, when[0].first, "on", {"filler": True})
    return [*names, on, *when] if all(map(_fits, when)) else None


def _weekly(said: list[Piece], when: list[Piece]) -> bool:
    """`saturdays belong to lev`: a day of every week, and that it is somebody's."""
    every = any(piece.low in EVERY or is_plural_day(piece) for piece in when)
    heads = day_named(said[0]) is not None or said[0].low in EVERY
    return every and heads and _WEEKLY.first_from(said) is not None


def _after_days(said: list[Piece]) -> tuple[list[Piece], list[Piece]] | None:
    """`mondays 10am to 1pm belong to priya`, `saturday is ana's, 9 to 12`."""
    found = _BELONGING.first_from(said)
    if found is None or not any(map(_is_day, said[: found[0]])):
        return None
    names, end = _names(said, found[1])
    shift = any(piece.low in SHIFT for piece in said[: found[0]])
    bare = not shift and said[found[0]].low in ("is", "are") and found[1] - found[0] == 1
    if bare and not (names and said[end - 1].low.endswith("'s")) and end < len(said):
        return None
    return names, [*said[: found[0]], *said[end:]]


def _after_leads(said: list[Piece]) -> tuple[list[Piece], list[Piece]] | None:
    """`every friday it's bao from 8am till 10am`, `we've got ana on saturday 9 to 12`."""
    found = _LEADS.first_from(said)
    if found is None:
        return None
    names, end = _names(said, found[1])
    known = any(piece.kind == "person" or is_given_name(piece.low) for piece in names)
    if not known or said[end - 1].low.endswith("'s"):
        # "it's ana's birthday", "there's yoga saturday".
        return None
    return names, [*said[: found[0]], *said[end:]]


def _after_names(said: list[Piece]) -> tuple[list[Piece], list[Piece]] | None:
    """`ana takes saturdays 9 to 12`, `ana's got saturday 9-12`."""
    names, end = _names(said, 0)
    having = _HAVING.end_at(said, end) if names else 0
    return (names, said[having:]) if having else None


def _names(said: list[Piece], at: int) -> tuple[list[Piece], int]:
    """The names that stand at a place, without the mark of what is theirs, and where they end."""
    names: list[Piece] = []
    while at < len(said) and (_is_name(said[at]) or (names and said[at].low in _JOINTS)):
        names.append(said[at].copied())
        names[-1].low = said[at].low.removesuffix("'s")
        at += 1
    return names, at


def _is_name(piece: Piece) -> bool:
    low = piece.low.removesuffix("'s")
    known = piece.kind == "person" or (is_given_name(low) and ("month" in piece.roles or low in NAMELIKE))
    return known or (may_be_who(piece) and low not in _SMALL and day_named(piece) is None)


def _is_day(piece: Piece) -> bool:
    return day_named(piece) is not None


def _fits(piece: Piece) -> bool:
    """Whether a piece tells a day or an hour, or nothing more than that somebody is there."""
    if piece.kind == "moment" or piece.kind in _OF_HOURS or day_named(piece) is not None or piece.low == ",":
        return True
    return piece.low in _SMALL or (piece.roles.keys() <= {"filler"} and bool(piece.roles))
