"""What are plants held for: a disease or a decline by its own name, and plants set aside for one.

Rules
1. A disease is found by a list of names, never by an unknown word; it is kept as texted (`leaf spot`, `rust`).
2. Plants set aside for nobody, with a disease or a pest beside them, are held, not kept for somebody.
3. Plants on hold for somebody are kept for them.
"""

from __future__ import annotations

from typing import Final

from core.notes.acts.slots import Slots, joined
from core.notes.parting.clauses import Clause
from core.notes.words.pieces import SENTENCE_ENDS, Piece
from core.notes.words.said import is_end
from core.vocabulary.loading import small_words

_NAMES: Final = small_words("diseases", "names")
_SICK: Final = small_words("diseases", "sick")
_FOR: Final = frozenset({"for", "to"})
_NOW: Final = small_words("diseases", "for_now")
_PERHAPS: Final = small_words("diseases", "perhaps")
_LONGEST: Final = 3


def disease_at(pieces: list[Piece], at: int) -> int | None:
    """Where the longest name of a disease that begins at a place ends; None where none does."""
    for end in range(min(len(pieces), at + _LONGEST), at, -1):
        if " ".join(piece.low for piece in pieces[at:end]) in _NAMES:
            return end
    return None


def held_for(slots: Slots, pieces: list[Piece]) -> None:
    """The disease that plants are held for, as texted; none that is denied (`no more rust`)."""
    if slots.act not in ("hold", "clear") or "cause" in slots.values:
        return
    for at in range(len(pieces)):
        end = disease_at(pieces, at)
        denied = any(not piece.roles.keys().isdisjoint(("none", "negation")) for piece in pieces[max(0, at - 2) : at])
        if end is None or denied or any(piece.used for piece in pieces[at:end]) or _is_colour(pieces, end):
            continue
        lead = [pieces[at - 1]] if at and pieces[at - 1].low in ("for", "with", "w", "w/", "from") else []
        slots.put("cause", joined(slots.tokens, pieces[at].first, pieces[end - 1].last), *lead, *pieces[at:end])
        return


def _is_colour(pieces: list[Piece], at: int) -> bool:
    """`rust colored pots`."""
    return at < len(pieces) and pieces[at].low in ("colored", "coloured", "red", "proof", "free", "resistant")


def settle_holds(clauses: list[Clause]) -> None:
    """Tells plants set aside for a disease from plants kept for somebody, in place."""
    for place, clause in enumerate(clauses):
        if _kept_with_others(clauses, place):
            clause.act = "reserve"
        if clause.act != "reserve" or _kept_for_somebody(clause):
            continue
        if place and _sick_before(clauses[place - 1], clause):
            clause.act = "hold"
            continue
        told = [clause]
        for after in clauses[place + 1 :]:
            if after.after in SENTENCE_ENDS or after.act not in (None, "lose"):
                break
            told.append(after)
        if any(_tells_sickness(one) for one in told) and not any(map(_kept_for_somebody, told)):
            clause.act = "hold"


def _sick_before(before: Clause, clause: Clause) -> bool:
    """`lot 50 black spots, | set aside`: what is wrong stands before; the name of a disease is told to the hold."""
    if clause.after != "," or before.act is not None or clause.kinds() & {"number", "lots", "trays"}:
        return False
    if clause.has("plant") or before.has("none", "negation") or not _tells_sickness(before):
        return False
    for at in range(len(before.pieces)):
        end = disease_at(before.pieces, at)
        if end is not None:
            clause.pieces = [*before.pieces[at:end], *clause.pieces]
            del before.pieces[at:end]
            break
    return True


def _kept_for_somebody(clause: Clause) -> bool:
    """`set aside for ana`; `for now` and `for rot` name nobody."""
    pieces = clause.pieces
    return any(
        piece.low in _FOR and not (piece.low == "for" and _names_nobody(pieces, at + 1))
        for at, piece in enumerate(pieces)
    )


def _names_nobody(pieces: list[Piece], at: int) -> bool:
    """Whether a time, or what plants suffer from and nothing more, stands at a place."""
    if at >= len(pieces):
        return False
    if pieces[at].low in _NOW:
        return True
    while at < len(pieces) - 1 and pieces[at].low in _PERHAPS:
        at += 1
    end = disease_at(pieces, at) or at + ("cause" in pieces[at].roles)
    return end > at and (is_end(pieces, end) or pieces[end].kind == "moment")


def _kept_with_others(clauses: list[Clause], place: int) -> bool:
    """`holding 6 sage | 4 mint for priya`: so many plants, and more of a list that says whom all are kept for."""
    clause = clauses[place]
    if clause.act != "hold":
        return False
    named = [piece for piece in clause.pieces if "plant" in piece.roles or piece.kind in ("lots", "trays")]
    if "number" not in clause.kinds() or not named or _tells_sickness(clause):
        return False
    for after in clauses[place + 1 :]:
        listed = after.after in (",", "and", "&", "+", "") and "number" in after.kinds()
        if after.act is not None or not listed or _tells_sickness(after):
            return False
        if any(piece.low == "for" for piece in after.pieces):
            return True
    return False


def _tells_sickness(clause: Clause) -> bool:
    return clause.has("cause") or any(
        piece.low in _SICK or disease_at(clause.pieces, at) is not None for at, piece in enumerate(clause.pieces)
    )
