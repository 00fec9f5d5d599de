"""Which harm was done to leaves, tips or branches, and to no whole plants: `tips burned on 5`, `2 broken branches`.

Rules
1. Harm right before a part, or right after one, is of that part; of tips and the like, which may be cuttings, only
   where none of them are counted, and where plants are counted after "on".
2. Dead wood that was removed was pruned.
"""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import COUNTS, Piece
from core.notes.words.said import deed_of, keep, statements
from core.notes.words.steps import InEach, looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_PARTS: Final = small_words("parts_harmed", "parts")
_OR_CUTTINGS: Final = small_words("parts_harmed", "or_cuttings")
_WOODY: Final = small_words("parts_harmed", "woody")
_REMOVED: Final = small_words("parts_harmed", "removed")
_LINKS: Final = small_words("parts_harmed", "links")
_AFTER: Final = small_words("parts_harmed", "after")
_PLANTS_OF: Final = frozenset({"on", "off", "of"})


@looks_for(any_of=_PARTS | _OR_CUTTINGS, beside=("!lose",))
def _keep_harm_to_parts(said: list[Piece]) -> None:
    """`tips burned on 5`, `leaves on 4 dried`, `dead wood removed`: no loss, in place."""
    for at, piece in enumerate(said):
        if piece.low not in _PARTS and piece.low not in _OR_CUTTINGS:
            continue
        if at and _is_harm(said[at - 1]):
            _keep_harmed_part(said, at)
        elif at and said[at - 1].low.endswith(" dead") and piece.low in _WOODY:
            # "removed dead wood".
            said[at - 1].roles = {"act": ActWord(act="tend", says={"care": "prune"})}
            keep(piece)
        else:
            _keep_harm_after(said, at)


def _is_harm(piece: Piece) -> bool:
    word = deed_of(piece)
    return word is not None and word.act == "lose" and word.counts_before


def _keep_harmed_part(said: list[Piece], at: int) -> None:
    """`dead tips`, `2 broken branches`, `10 burnt tips`: a cutting is not burnt, its tip is."""
    counted = at > 1 and said[at - 2].kind in COUNTS
    burnt = said[at - 1].roles["act"].says.get("cause") == "heat" and not (at > 2 and deed_of(said[at - 3]))
    ends = at + 1 == len(said) or said[at + 1].low in _AFTER or said[at + 1].kind in ("moment", "lots", "trays")
    if counted and (not ends or said[at].low in _OR_CUTTINGS) and not (burnt and said[at].low in _OR_CUTTINGS):
        return
    keep(*said[at - 1 - counted : at + 1])
    off = next((step for step in (at - 2, at + 1) if 0 <= step < len(said) and said[step].low in _REMOVED), None)
    if off is not None and said[at].low in _WOODY:
        said[off].kind, said[off].roles = "phrase", {"act": ActWord(act="tend", says={"care": "prune"})}


def _keep_harm_after(said: list[Piece], at: int) -> None:
    """`leaves dried on 3`, `leaves on 4 burned`, `lower leaves dried up`."""
    counted = at > 0 and (said[at - 1].kind in COUNTS or "all" in said[at - 1].roles)
    harm = at + 1
    while harm < len(said) and said[harm].low in _LINKS:
        harm += 1
    on = [piece.low in _PLANTS_OF or piece.kind == "number" for piece in said[harm : harm + 2]] == [True, True]
    harm += 2 * on
    if harm >= len(said) or not _is_harm(said[harm]):
        return
    on = on or (harm + 2 < len(said) and said[harm + 1].low == "on" and said[harm + 2].kind in COUNTS)
    of_leaf = at > 0 and said[at - 1].low in _PARTS
    if not on and not of_leaf and (said[at].low in _OR_CUTTINGS or (counted and said[at].low not in _WOODY)):
        return
    keep(said[harm], *([said[at - 1]] if counted else ()), said[at])


keep_harm_to_parts: Final = InEach(statements, _keep_harm_to_parts)
"""Takes the meaning of a loss from harm that was done to parts of plants, in place."""
