"""How many of a lot were left as they were, beside a deed that took some of it: `19 potted 11 stay`, `left 41 under
mist`, `skipped 10`, `11 back under the dome`.

Such a number counts nothing that was done, and names no lot; its words are kept.
"""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import COUNTS, SENTENCE_ENDS, Piece
from core.notes.words.said import begin_of_statement, deed_of, end_of_statement, is_end, keep_words
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_STAY: Final = small_words("staying", "stay")
_LEAVING: Final = small_words("staying", "leaving")
_WHERE: Final = small_words("staying", "where")
_LEFT_SO: Final = small_words("staying", "left_so")
_TAKING: Final = frozenset({"pot", "move", "sell", "give", "plant_out", "harden", "lose"})


@looks_for("skipped", "back", "left", any_of=_STAY | _LEAVING, beside=("=number",))
def keep_those_staying(pieces: list[Piece]) -> None:
    """Keeps the number of those that stayed, and of `left 41 under mist` all of it, in place."""
    for at in range(1, len(pieces)):
        number = pieces[at]
        if number.kind != "number" or number.value.whole is None or number.value.of is not None:
            continue
        before = pieces[at - 1].low
        after = pieces[at + 1].low if at + 1 < len(pieces) else ""
        if after in _STAY and is_end(pieces, at + 2) and _some_taken(pieces, at):
            keep_words(number, pieces[at + 1])
        elif after == "left" and _left_so(pieces, at + 2) and _some_taken(pieces, at):
            keep_words(*pieces[at : end_of_statement(pieces, at)])
        elif before in _LEAVING and after in _WHERE and _some_taken(pieces, at - 1):
            keep_words(*pieces[at - 1 : end_of_statement(pieces, at)])
        elif before == "skipped" and is_end(pieces, at + 1) and _some_taken(pieces, at - 1):
            keep_words(pieces[at - 1], number)
        elif after.split(" ")[0] == "back" and pieces[at - 1].kind == "break" and _some_taken(pieces, at):
            keep_words(number)


def _left_so(pieces: list[Piece], at: int) -> bool:
    """`24 sage potted 12 left | behind not rooted`: how those are that were left, and no other count."""
    said = pieces[at : end_of_statement(pieces, at)]
    return bool(said) and said[0].low in _LEFT_SO and not any(piece.kind in COUNTS for piece in said)


def _some_taken(pieces: list[Piece], at: int) -> bool:
    """Whether the last deed before a place in its sentence takes so many plants of a lot away, or into pots."""
    for place in range(at - 1, -1, -1):
        if pieces[place].low in SENTENCE_ENDS:
            return False
        word = deed_of(pieces[place])
        if word is not None:
            counted = [*pieces[begin_of_statement(pieces, place) : place], *pieces[place + 1 : at]]
            return word.act in _TAKING and any(one.kind in COUNTS or "pot_size" in one.roles for one in counted)
    return False
