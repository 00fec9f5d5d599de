"""What something ate: `mice ate 12 sprouts in tray 9`, `something ate 12`: so many lost, and none counted."""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import Piece, names_plants
from core.notes.words.said import statement_at
from core.notes.words.steps import looks_at_each
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_EATING: Final = small_words("acts", "causing")
_ATE: Final = small_words("sayings", "ate")
_BETWEEN: Final = frozenset({"of", "the", "of the", "my", "our", "new", "little", "baby"})


@looks_at_each("@cause", beside=("=number",))
def lose_eaten(pieces: list[Piece], at: int) -> None:
    """Makes so many that were eaten a loss, and their name no state, in place."""
    cause = pieces[at].roles.get("cause")
    if cause not in ("animal", "pest"):
        return
    unseen = pieces[at].low.split(" ")[-1] in _ATE and " " in pieces[at].low
    number = at + 1 + (not unseen)
    start, end = statement_at(pieces, at)
    if number >= end or pieces[number].kind != "number" or not (unseen or pieces[at + 1].low in _EATING | _ATE):
        return
    placed = any(map(names_plants, pieces[start:end]))
    if unseen and placed:
        pieces[at].roles = {"act": ActWord(act="lose", says={"cause": cause})}
    name = number + 1
    while name < end and pieces[name].low in _BETWEEN:
        name += 1
    word = (pieces[name].roles.get("noun") or pieces[name].roles.get("act")) if name < end else None
    if word is not None and word.act == "check":
        pieces[name].roles, pieces[name].used = {"filler": True}, True
