"""Which cuttings were stuck where no verb says so: `48 toyon heels, 0.3% iba, perlite`, `got 54 tips in, tray 11`.

Rules
1. A count, a plant and the form of cuttings with a medium or a hormone tell a sticking, where nothing else is told of
   them up to the first deed of care, and no sticking before goes on.
2. `got … in` tells one with a tray too; cuttings that came in from somewhere were not stuck yet.
"""

from __future__ import annotations

from typing import Final

from core.notes.words.act_kinds import COUNTLESS, OPENING
from core.notes.words.pieces import SENTENCE_ENDS, Piece, is_act
from core.notes.words.said import deed_of, is_end, is_whole_number, sentences
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_FORMS: Final = frozenset({"cutting", "wood", "of_cuttings"})
_PUT_INTO: Final = frozenset({"medium", "hormone", "hormone_name", "hormone_form"})
_DETAILS: Final = _FORMS | _PUT_INTO | {"plant", "container", "pot_size"}
_KINDS: Final = frozenset({"percent", "ppm", "medium", "size", "trays", "quote"})
_LINKING: Final = small_words("acts", "linking_details")
_LONGEST_DIP: Final = 60
_ORIGINS: Final = frozenset({"from", "off"})
_INTO: Final = frozenset({"in", "into"})
_FORM_MARKS: Final = ("@cutting", "@wood", "@of_cuttings")


@looks_for(*_FORM_MARKS, beside=("=medium", "=ppm", *(f"@{role}" for role in _PUT_INTO)))
def _find_stuck(pieces: list[Piece]) -> None:
    """`48 toyon heels, 0.3% iba, perlite, tray 3`."""
    for start, end in reversed(sentences(pieces)):
        if any(map(_opens, pieces[:start])):
            continue
        at = _begin_of_count(pieces, start, end)
        deed = next((place for place in range(at, end) if _may_be_deed(pieces[place])), end)
        told = pieces[at:deed]
        if deed < end and not (pieces[deed - 1].kind == "break" and _cares(pieces[deed])):
            continue
        if _names_cuttings(told) and any(_is_put_into(piece) for piece in told) and _only_details(told):
            stuck = Piece("phrase", None, pieces[at].first, pieces[at].first, "", {"act": ActWord(act="stick")})
            pieces.insert(at, stuck)


@looks_for("got", beside=_FORM_MARKS)
def _find_got_in(pieces: list[Piece]) -> None:
    """`just got 54 toyon tips in, tray 11`, `got 30 sage tips in perlite`."""
    for at, piece in enumerate(pieces):
        told = pieces[at + 1 :]
        told = told[: next((place for place, one in enumerate(told) if one.low in SENTENCE_ENDS), len(told))]
        into = next((place for place, one in enumerate(told) if one.low in _INTO), 0)
        if piece.low != "got" or not into or not _names_cuttings(told[:into]) or not _only_details(told[:into]):
            continue
        after = told[into + 1 :]
        if any(map(_may_be_deed, told)) or not _only_details(after) or any(one.low in _ORIGINS for one in after):
            continue
        if any(one.kind == "trays" or _is_put_into(one) for one in after):
            piece.roles = {"act": ActWord(act="stick")}
            told[into].used = told[into].used or not after or after[0].kind == "break"


def _begin_of_count(pieces: list[Piece], start: int, end: int) -> int:
    """Where the count of a sentence stands, after a tray, a day or a person that heads it."""
    at = start
    while at < end and pieces[at].kind in ("trays", "moment", "person", "break"):
        at += 1
    return at


def _names_cuttings(told: list[Piece]) -> bool:
    """Whether some pieces begin with a count, and name a plant and the form of its cuttings; or name these and then,
    between marks, the count.
    """
    at = _place_of_count(told)
    roles = frozenset[str]().union(*(piece.roles for piece in (told[:at] or told)))
    return at < len(told) and is_whole_number(told[at]) and "plant" in roles and not roles.isdisjoint(_FORMS)


def _place_of_count(told: list[Piece]) -> int:
    """Where the count of cuttings stands: at the head, or alone after their name (`root cuttings of poppy, 25,`)."""
    at = next((place for place, piece in enumerate(told) if piece.kind in ("number", "break")), len(told))
    if not at or at + 1 >= len(told) or told[at].low != ",":
        return at
    return at + 1 if is_end(told, at + 2) and told[at + 1].kind == "number" else len(told)


def _is_put_into(piece: Piece) -> bool:
    return piece.kind in ("medium", "ppm") or not piece.roles.keys().isdisjoint(_PUT_INTO)


def _only_details(told: list[Piece]) -> bool:
    """Whether some pieces tell no more than one sticking does: one count, its cuttings, where from and what into."""
    first = _place_of_count(told)
    for at, piece in enumerate(told):
        if piece.kind == "number":
            holds = at + 1 < len(told) and "container" in told[at + 1].roles
            known = at == first or holds
        elif at and told[at - 1].low in _ORIGINS:
            known = piece.kind in ("word", "numbered") or "place_word" in piece.roles
        else:
            known = piece.kind in _KINDS or piece.low in _LINKING or not piece.roles.keys().isdisjoint(_DETAILS)
            known = known or (piece.kind == "moment" and not piece.value.is_to_come)
            known = known or (_is_dip(piece) and any(map(_is_hormone, told[:at])))
        if not known:
            return False
    return True


def _is_hormone(piece: Piece) -> bool:
    return piece.kind == "ppm" or not piece.roles.keys().isdisjoint(("hormone", "hormone_name", "hormone_form"))


def _is_dip(piece: Piece) -> bool:
    """`iba liquid, | 8 seconds |`: how long the ends were in it."""
    length = piece.value[0] if piece.kind == "duration" else None
    return length is not None and not length.days and not length.months and length.seconds <= _LONGEST_DIP


def _may_be_deed(piece: Piece) -> bool:
    return is_act(piece) or "noun" in piece.roles or "to_do" in piece.roles


def _cares(piece: Piece) -> bool:
    word = deed_of(piece)
    return word is not None and word.act in COUNTLESS


def _opens(piece: Piece) -> bool:
    word = deed_of(piece)
    return word is not None and word.act in OPENING


FIND_STUCK: Final = (_find_stuck, _find_got_in)
"""The steps in their order."""
