"""Which of those that head a sentence a count is of, by number or letter alone: `lots 4 and 5: 12 rooted in 4`."""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import COUNTS, SENTENCE_ENDS, SUBJECTS, Piece
from core.notes.words.steps import looks_for

_LEADS: Final = frozenset({"in", "from", "of", "on", "off"})


@looks_for(":", beside=("=lots", "=trays"))
def name_members(pieces: list[Piece]) -> None:
    """`lots 4 and 5: 12 rooted in 4, 9 in 5`, `trays a and b: 12 in a`: the number or letter is one of those, in place.

    The heading itself tells nothing more where each of it has its own.
    """
    for at in range(len(pieces) - 4, -1, -1):
        head, mark = pieces[at : at + 2]
        if mark.low == ":" and head.kind in SUBJECTS and len(head.value) > 1 and pieces[at + 2].kind in COUNTS:
            members = _members(pieces, at)
            head.used = {pieces[place].low for place in members} == set(head.value)
            for place in members:
                one = pieces[place]
                pieces[place] = Piece(head.kind, (one.low,), one.first, one.last, one.low)
            return


def _members(pieces: list[Piece], head: int) -> list[int]:
    """The places up to the end of the sentence of what names one of the heading after a count and a little word."""
    named = set(pieces[head].value)
    found: list[int] = []
    for place in range(head + 4, len(pieces)):
        if pieces[place - 1].low in SENTENCE_ENDS:
            break
        led = pieces[place - 1].low.split(" ")[-1] in _LEADS
        ends = place + 1 == len(pieces) or pieces[place + 1].kind == "break" or pieces[place + 1].low in ("and", "&")
        counted = any(pieces[before].kind in COUNTS for before in (place - 2, place - 3))
        if led and ends and counted and pieces[place].low in named and pieces[place].kind not in SUBJECTS:
            found.append(place)
    return found
