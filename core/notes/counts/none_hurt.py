"""What befell plants and hurt none of them, as the note goes on to say: `knocked over 4 sages, all fine`."""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import COUNTS, Piece
from core.notes.words.said import deed_of, end_of_statement, keep, keep_words
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_DROPPING: Final = small_words("dropped", "dropping")
_THEY: Final = small_words("dropped", "they")
_WELL: Final = small_words("dropped", "well")
_ALL_WELL: Final = small_words("dropped", "all_well")
_NONE: Final = frozenset({"no", "none", "nothing"})
_HARMED: Final = small_words("dropped", "harmed")
_JOINING: Final = frozenset({"but", "and", "though", "tho", "&"})
_CAUSES: Final = ("animal", "pest", "cold", "heat")
_CATCHING: Final = frozenset({"got", "hit", "nipped"})


@looks_for(any_of=_DROPPING | _CATCHING, beside=_WELL | _ALL_WELL | _HARMED)
def keep_none_hurt(pieces: list[Piece]) -> None:
    """Keeps what befell them as words, in place."""
    at = next((at for at in range(len(pieces)) if _is_mishap(pieces, at)), None)
    if at is None:
        return
    begins = next((place for place in range(at + 1, len(pieces)) if _goes_on(pieces[place])), len(pieces))
    said = pieces[begins + 1 : end_of_statement(pieces, begins + 1)]
    while said and said[0].low in _JOINING:
        del said[0]
    if _tells_none_hurt(said):
        keep_words(pieces[at])
        keep(*said, kind="word")
        if at and "cause" in pieces[at - 1].roles:
            keep(pieces[at - 1], kind="word")


def _is_mishap(pieces: list[Piece], at: int) -> bool:
    """`knocked over`, `frost | got`."""
    piece = pieces[at]
    word = deed_of(piece)
    dropped = piece.low in _DROPPING and word is not None and word.act == "lose"
    return dropped or (piece.low in _CATCHING and at > 0 and pieces[at - 1].roles.get("cause") in _CAUSES)


def _goes_on(piece: Piece) -> bool:
    return piece.kind == "break" or piece.low in _JOINING


def _tells_none_hurt(said: list[Piece]) -> bool:
    """`all fine`, `they look ok`, `no harm done`, `nothing lost`; but not `ok` alone, which is said to somebody."""
    if any(piece.kind in COUNTS for piece in said):
        return False
    lows = [piece.low for piece in said]
    if lows and lows[0] in _NONE:
        return len(lows) > 1 and lows[1] in _HARMED and lows[2:] in ([], ["done"])
    if len(lows) == 1:
        return lows[0] in _ALL_WELL
    return len(lows) > 1 and lows[-1] in _WELL | _ALL_WELL and all(low in _THEY for low in lows[:-1])
