"""What the end of a note tells of each deed before it: `stuck 40 sage and 36 toyon, both in coir`."""

from __future__ import annotations

from typing import Any, Final

from core.notes.details.drafts import Draft
from core.notes.words.pieces import Piece

_SHARED: Final = {
    "medium": ("medium",),
    "hormone": ("hormone", "hormone_name", "hormone_form"),
    "container": ("container", "pot_size"),
    "trays": (),
}
"""The details that may be told of all, and the meanings of the words that tell them."""
_PAIR: Final = 2
_PREPOSITIONS: Final = frozenset({"on", "for", "in", "with"})


def share_among_all(drafts: list[Draft]) -> None:
    """Hands what a last clause tells of "both" or "all" to each deed of its kind just before, in place."""
    if len(drafts) < 2 or drafts[-1].slots is None:
        return
    last = drafts[-1]
    alike = _alike_at_end(drafts)
    told = [piece for clause in last.clauses[1:] for piece in clause.pieces]
    at = next((at for at, piece in enumerate(told) if piece.roles.keys() & {"both", "all"}), None)
    if at is None or len(alike) < 2:
        return
    every = _all_of_so_many(told, at, len(alike))
    if not every:
        return
    shared = {
        name: _values_of(last)[name]
        for name, meanings in _SHARED.items()
        if name in _values_of(last) and any(piece.kind == name or piece.roles.keys() & set(meanings) for piece in told)
    }
    if not shared or any(name in _values_of(draft) for draft in alike[:-1] for name in shared):
        return
    for draft in alike[:-1]:
        _values_of(draft).update(shared)
    _use(every, told, at)


def _alike_at_end(drafts: list[Draft]) -> list[Draft]:
    """The last drafts that are of one act."""
    start = len(drafts)
    while start and drafts[start - 1].act == drafts[-1].act and drafts[start - 1].slots is not None:
        start -= 1
    return drafts[start:]


def _values_of(draft: Draft) -> dict[str, Any]:
    return draft.slots.values if draft.slots is not None else {}


def _all_of_so_many(pieces: list[Piece], at: int, many: int) -> list[Piece]:
    """The word for all and the number right after it (`all | three`); none where they are not of so many deeds."""
    every = pieces[at : at + 1]
    number = pieces[at + 1] if at + 1 < len(pieces) else None
    if number is not None and number.kind == "number" and not number.used:
        return [*every, number] if number.value.whole == many else []
    told = every[0].roles.get("both", many)
    return every if (_PAIR if told is True else told) == many else []


def _use(every: list[Piece], pieces: list[Piece], place: int) -> None:
    """Uses the words for all, and the small word before them (`0.3% iba | on both`)."""
    for piece in (*every, *(one for one in pieces[max(0, place - 1) : place] if one.low in _PREPOSITIONS)):
        piece.used = True
