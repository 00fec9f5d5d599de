"""Does a deed of plants tell of the speaker, or of somebody: `this heat makes me wilt`, `bram is toast`."""

from __future__ import annotations

from typing import Final

from core.notes.parting.clauses import Clause
from core.notes.words.pieces import Piece
from core.vocabulary import ActWord
from core.vocabulary.everyday import is_given_name
from core.vocabulary.loading import small_words

_SPEAKERS: Final = small_words("cues", "speakers")
_BEING: Final = frozenset({"is", "was", "got", "are", "were"})
_SUFFERED: Final = frozenset({"treat", "cover", "hold", "clear", "water", "harden"})
SELVES: Final = small_words("cues", "selves")
"""Words for the speaker, who is no plant."""
_STRONGLY: Final = small_words("cues", "strongly")
_OF_SELF: Final = small_words("cues", "of_self")


def of_the_speaker(clause: Clause) -> bool:
    """`this heat makes me wilt`, `i am so fried`, `got soaked myself`: the speaker, not the plants."""
    word = clause.word
    if word is None or not (word.counts_before or clause.act in _SUFFERED):
        return False
    if clause.kinds() & {"lots", "trays", "number"} or clause.has("plant"):
        return False
    pieces = clause.pieces
    at = next((place for place, piece in enumerate(pieces) if _is_word_of(piece, word)), 0)
    if any(piece.low in SELVES for piece in pieces[at + 1 : at + 3]):
        return True
    lead = at
    while lead and pieces[lead - 1].low in _STRONGLY:
        lead -= 1
    passive = word.counts_before or lead < at or pieces[at - 1].low in _OF_SELF
    if lead and _is_somebody(pieces[lead - 1]) and (lead == 1 or pieces[lead - 2].low in ("and", "&")):
        # "bram is toast", "mei pulled through".
        stands = any(piece.low in _BEING for piece in pieces[lead:at]) or clause.act in ("check", "wilt")
        return stands and passive and not clause.has("vague", "all", "none", "negation")
    return passive and any(piece.low in _SPEAKERS for piece in pieces[max(0, lead - 1) : at])


def _is_somebody(piece: Piece) -> bool:
    return piece.kind == "person" or (piece.kind == "word" and is_given_name(piece.low))


def _is_word_of(piece: Piece, word: ActWord) -> bool:
    roles = piece.roles
    return roles.get("act") is word or roles.get("shared") is word or roles.get("noun") is word
