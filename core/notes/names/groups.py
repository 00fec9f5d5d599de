"""Who is named by what they do, and who did it after `by`: `the weeding crew`, `at heron marsh by the scouts`."""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import NO_ROLES, Piece, is_act
from core.notes.words.said import end_of_statement
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord
from core.vocabulary.everyday import is_given_name
from core.vocabulary.loading import small_words

_GROUPS: Final = small_words("groups", "groups")
_GATHERINGS: Final = small_words("groups", "gatherings")
_FAIRS: Final = small_words("groups", "fairs")
MONTHS: Final = small_words("groups", "months")
_GIVEN_TO: Final = frozenset({"to", "for", "by"})
NAMELIKE: Final = small_words("people", "namelike")
_ARTICLES: Final = small_words("places", "articles")
_LONGEST: Final = 4
_NOBODY: Final = small_words("people", "speaker") | {"someone", "somebody", "they", "he", "she", "who", "you"}
_OF_NAMES: Final = frozenset({"plant", "place_word", "month"})


@looks_for(any_of=_GATHERINGS | _FAIRS)
def keep_groups(pieces: list[Piece]) -> None:
    """Makes `weeding` before `crew`, `planting` before `day` and the month of `the may fair` words of a name, in
    place.
    """
    for place, piece in enumerate(pieces[:-1]):
        following = pieces[place + 1]
        numbered = place + 2 < len(pieces) and pieces[place + 2].kind == "number"
        named = following.low in _GATHERINGS and is_act(piece) and piece.low.endswith("ing") and not numbered
        if named or (following.low in _FAIRS and piece.low in MONTHS):
            piece.kind, piece.roles, piece.value = "word", NO_ROLES, None
            following.kind, following.roles = "word", NO_ROLES


def people_until(pieces: list[Piece], at: int) -> int:
    """Where the people named after a `by` at a place end (`by the girl scouts`, `by kit and ana`); nought for none."""
    start = at + 1
    while start < len(pieces) and pieces[start].low in _ARTICLES:
        start += 1
    for end in range(start + 1, min(len(pieces), start + _LONGEST) + 1):
        run = pieces[start:end]
        if any(piece.kind not in ("word", "phrase") or is_act(piece) for piece in run):
            return 0
        if run[-1].low in _GROUPS:
            return end
        if len(run) == 1 and (_is_first_name(run[0]) or " & " in run[0].low or " and " in run[0].low):
            return end
    return 0


def _and_another(pieces: list[Piece], end: int) -> int:
    """`kit and ana`, `rose & ivy`: another first name after the first."""
    joined = end + 1 < len(pieces) and pieces[end].low in ("and", "&", "+")
    counted = end + 2 < len(pieces) and pieces[end + 2].kind == "number"
    return end + 2 if joined and _is_first_name(pieces[end + 1]) and not counted else end


def _is_first_name(piece: Piece) -> bool:
    return is_given_name(piece.low) or piece.low in NAMELIKE


@looks_for("and", "&", "+", beside=_GIVEN_TO)
def join_two(pieces: list[Piece]) -> None:
    """Makes one name of two after `to` or `for` (`to rose & ivy`), in place."""
    for place, piece in enumerate(pieces):
        if piece.low not in _GIVEN_TO or place + 1 >= len(pieces) or not _is_first_name(pieces[place + 1]):
            continue
        end = _and_another(pieces, place + 2)
        if end > place + 2:
            run = pieces[place + 1 : end]
            low = " ".join(one.low for one in run)
            pieces[place + 1 : end] = [Piece("word", None, run[0].first, run[-1].last, low)]


@looks_for("bought", "purchased")
def buys(pieces: list[Piece]) -> None:
    """`carmen bought 12 from lot 33`: who buys plants of a lot is sold them, in place."""
    place = next((at for at, piece in enumerate(pieces) if piece.low in ("bought", "purchased")), None)
    first = next((at for at, piece in enumerate(pieces) if piece.kind not in ("moment", "break")), 0)
    if not place or place - first > _LONGEST:
        return
    if any(piece.kind not in ("word", "phrase", "person") for piece in pieces[first:place]):
        return
    start = next((at for at in range(first, len(pieces)) if pieces[at].low not in _ARTICLES), 0)
    end = end_of_statement(pieces, place)
    what = pieces[place + 1] if place + 1 < end else None
    named = what is not None and (what.kind in ("number", "lots") or "all" in what.roles)
    if start >= place or not named or not any(piece.kind == "lots" for piece in pieces[place:end]):
        return
    buyer = pieces[start:place]
    if any(is_act(one) or one.low in _NOBODY or not one.roles.keys() <= _OF_NAMES for one in buyer):
        return
    to = " ".join(piece.low for piece in buyer)
    verb = pieces[place]
    verb.kind, verb.roles = "phrase", {"act": ActWord(act="sell", says={"to": to})}
    for piece in pieces[first:place]:
        piece.kind, piece.roles, piece.used = "mark", NO_ROLES, True
