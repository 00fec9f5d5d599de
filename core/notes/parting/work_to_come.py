"""Which deeds in "-ing" beside one that was done are still to come: `watered lot 9 ahead of potting`, `misted tray 3,
potting to follow`, `kim on potting`.
"""

from __future__ import annotations

from typing import Final

from core.notes.names.people import may_be_name
from core.notes.words.pieces import SUBJECTS, Piece, is_act
from core.notes.words.runs import Runs
from core.notes.words.said import keep_words, said_in, statement_at
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_LEADING: Final = small_words("work_to_come", "leading")
_LATER: Final = small_words("work_to_come", "later")
_LATERS: Final = Runs(_LATER)
_BEING: Final = frozenset({"is", "are", "still", "will", "be"})
_LONGEST: Final = 3
_WORDS: Final = frozenset(word for phrase in _LEADING | _LATER for word in phrase.split(" ") if len(word) > 2)


@looks_for("=doing", beside={"on", *_WORDS})
def keep_work_to_come(pieces: list[Piece]) -> None:
    """Keeps the words of a deed that is still to come, up to the next mark or deed, in place."""
    for place, piece in enumerate(pieces):
        if not place or not is_act(piece) or not piece.low.split(" ")[0].endswith("ing"):
            continue
        start, end = statement_at(pieces, place)
        if place + 1 == end and _is_at_it(pieces[start:place]):
            keep_words(*(piece for piece in pieces[start:end] if piece.kind != "moment"))
            continue
        near = range(max(start, place - _LONGEST), place)
        lead = next((at for at in near if said_in(pieces[at:place]) in _LEADING), 0)
        if not lead and start and _comes_later(pieces, start, place, end):
            lead = start
        if not lead or not any(map(is_act, pieces[:lead])):
            continue
        other = next((at for at in range(place + 1, end) if is_act(pieces[at])), end)
        keep_words(*pieces[lead : end if lead == start else other])


def _comes_later(pieces: list[Piece], start: int, place: int, end: int) -> bool:
    """`potting to follow`, `weaning left to kim`: a deed that opens its statement, and when it is to be done."""
    if any("filler" not in piece.roles for piece in pieces[start:place]):
        return False
    after = place + 1
    while after < end and (pieces[after].low in _BEING or pieces[after].kind in SUBJECTS):
        after += 1
    found = _LATERS.end_at(pieces[:end], after)
    return found == end or (found > 0 and pieces[after - 1].kind not in SUBJECTS)


def _is_at_it(before: list[Piece]) -> bool:
    """`kim on potting`, `ines is on potting`: who is to do it, and nothing that was done to the plants named before."""
    told = [piece for piece in before if piece.low not in _BEING and piece.kind != "moment"]
    return len(told) == 2 and told[1].low == "on" and (told[0].kind == "person" or may_be_name(told[0]))
