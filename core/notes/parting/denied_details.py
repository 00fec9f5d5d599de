"""Where does what was not so begin, after a deed that was done: `moved lot 9 to the lath | not the slab`.

Rules
1. It is one detail of a kind that the deed before it names, a place or a person after one that somebody or something
   went to, the speaker after somebody else, or another deed; and it ends the statement.
2. It begins a statement of its own, as if a comma stood there; so it denies nothing of the deed.
"""

from __future__ import annotations

from typing import Final

from core.notes.names.place_leads import PLACE_LEADS
from core.notes.words.pieces import Piece, is_act
from core.notes.words.said import begin_of_statement, comma_before, deed_of, is_end
from core.notes.words.steps import looks_for
from core.vocabulary.everyday import is_everyday, is_given_name
from core.vocabulary.loading import small_words

_NOT: Final = frozenset({"not", "and not", "but not"})
_ARTICLES: Final = small_words("places", "articles")
_SPEAKER: Final = small_words("people", "speaker")
_STRUCTURES: Final = small_words("places", "structures")
_PLACES: Final = small_words("places", "ends") | _STRUCTURES
_MEASURED: Final = frozenset({"number", "size", "duration", "temp", "ppm"})
_NAMED: Final = (
    "plant", "cutting", "medium", "wood", "hormone_form", "hormone_name", "container", "pot_size", "solution", "cause",
)  # fmt: skip


@looks_for(any_of=_NOT)
def part_denied_details(pieces: list[Piece]) -> None:
    """Puts a comma before what was not so, in place."""
    for at in range(len(pieces) - 2, 0, -1):
        if pieces[at].low not in _NOT:
            continue
        start = begin_of_statement(pieces, at)
        end = at + 1 + (pieces[at + 1].low in _ARTICLES)
        done = [deed_of(piece) for piece in pieces[start:at] if is_act(piece)]
        if not done or done[0] is None or any(_leaves_open(piece) for piece in pieces[start:at]):
            continue
        if end < len(pieces) and is_end(pieces, _past_letter(pieces, end + 1)) and _was_wrong(pieces, start, at, end):
            pieces.insert(at, comma_before(pieces[at]))


def _past_letter(pieces: list[Piece], at: int) -> int:
    """Past the letter or the number that a bench goes by (`bench | c`)."""
    lettered = pieces[at - 1].low in _STRUCTURES and at < len(pieces)
    return at + (lettered and (pieces[at].kind == "number" or len(pieces[at].low) == 1))


def _leaves_open(piece: Piece) -> bool:
    """Whether a word tells that the deed before the denial may not have been done."""
    return not piece.roles.keys().isdisjoint(("negation", "plan", "hearsay", "condition", "to_do"))


def _was_wrong(pieces: list[Piece], start: int, at: int, wrong: int) -> bool:
    """Whether the last word of a denial is what the deed before it might have been wrong in."""
    denied, told = pieces[wrong], [piece for piece in pieces[start:at] if piece.kind != "moment"]
    if denied.low in _SPEAKER:
        return told[0].kind in ("word", "person")
    kinds = _kinds_of(denied)
    if kinds:
        return any(kinds & _kinds_of(piece) for piece in told)
    deed = deed_of(denied)
    if deed is not None:
        before = next(word for piece in told if (word := deed_of(piece)) is not None)
        return deed.act == before.act and deed.form == "done" and not deed.counts_before and deed.says != before.says
    lead = next((piece for piece in reversed(told) if piece.low in PLACE_LEADS.get(_act(told), ())), None)
    return lead is not None and _may_be_place(denied, led=wrong > at + 1)


def _act(told: list[Piece]) -> str:
    return next(word.act for piece in told if (word := deed_of(piece)) is not None)


def _may_be_place(piece: Piece, *, led: bool) -> bool:
    """The `slab` of `to lath not slab`, the `c` of `to bench b not c`, the `park` of `not the park`."""
    if "place_word" in piece.roles or piece.kind == "letter":
        return True
    if (len(piece.low) == 1 and piece.low.isalpha()) or piece.low in _PLACES:
        return True
    return piece.kind == "word" and (led or is_given_name(piece.low) or not is_everyday(piece.low))


def _kinds_of(piece: Piece) -> frozenset[str]:
    """The kinds of details that a piece may be."""
    if piece.kind in _MEASURED:
        return frozenset({piece.kind})
    if piece.kind == "amount" and piece.value[1] == "gal":
        return frozenset({"size"})
    return frozenset(role for role in _NAMED if role in piece.roles)
