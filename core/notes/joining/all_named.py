"""Which of the lots or trays named before does a deed mean that says "both" or "all": `lot 3 up, lot 4 up, misted all`.

Rules
1. "All" at the end of a deed of care is all that its sentence named before, else the note, where those are of one kind.
2. A count that is the sum of those told of several lots one after another is of them all.
3. "Everything", or "all" after lots and trays, may be more than those: nothing is handed on, and the lot is asked.
"""

from __future__ import annotations

from typing import Final

from core.notes.details.drafts import Draft
from core.notes.words.act_kinds import COUNTLESS
from core.notes.words.pieces import Piece, is_act
from core.vocabulary.loading import small_words

Named = tuple[str, tuple[str, ...]]
"""The lots, or the trays, that a draft named."""
_BOTH: Final = 2
_OF_SUMS: Final = frozenset({"pot", "move", "sell", "give", "plant_out", "harden"})
_OF_THEM: Final = small_words("all_named", "of_them")
_OF_ANY: Final = small_words("all_named", "of_any")
_ENDING: Final = small_words("all_named", "ending")
_AT: Final = frozenset({"on", "in", "at", "under", "by", "on the", "in the"})
_WITH: Final = frozenset({"with", "w", "w/", "using"})


def told_together(seen: list[Named], many: int) -> Named | None:
    """The lots or trays named last, where so many of one kind were named one after the other."""
    named: tuple[str, ...] = ()
    for kind, names in reversed(seen if many else []):
        if kind != seen[-1][0]:
            break
        named = tuple(dict.fromkeys((*names, *named)))
        if len(named) >= many:
            return (kind, named) if len(named) == many or many == _BOTH else None
    return None


def all_of_several(seen: list[Named], fresh: int, draft: Draft) -> Named | None:
    """`200 toyon in tray 8, 150 sage in tray 10, all on the heat mat`: those of its sentence before a deed of care that
    "all" heads; before one that "all" ends (`watered all`) those of the note where its sentence names none.
    """
    if draft.act not in COUNTLESS or not draft.clauses or not draft.clauses[0].pieces:
        return None
    heads = draft.clauses[0].pieces[0].low == "all" and draft.clauses[0].after == ","
    told = seen[fresh:] if heads else seen[fresh:] or seen
    every = _word_for_all(draft, _OF_THEM)
    names = _names_in(told)
    if not (heads or every) or len(names) < _BOTH or len({kind for kind, _ in told}) > 1:
        return None
    if every is not None:
        every.used = True
    return told[0][0], names


def all_of_any(seen: list[Named], fresh: int, draft: Draft) -> bool:
    """Whether a deed of care after several were named, or at a place, was done to all, and nobody can say of what."""
    if draft.act in COUNTLESS and _stand_there(draft):
        return True
    if draft.act in COUNTLESS and fresh == len(seen) and _done_to_all(draft):
        return True
    if len(_names_in(seen[fresh:] or seen)) < _BOTH:
        return False
    if draft.act == "move":
        return any(piece.low in _OF_ANY for clause in draft.clauses for piece in clause.pieces)
    return draft.act in COUNTLESS and _word_for_all(draft, _OF_ANY | _OF_THEM) is not None


def _done_to_all(draft: Draft) -> bool:
    """`tray 12 lost 2. vents open on everything`: in a sentence of its own a deed that was done to more than those."""
    for clause in draft.clauses:
        for at, piece in enumerate(clause.pieces):
            if piece.low in _OF_ANY:
                # "potted 12, lot 9. watered everything in" are those.
                return [one.low for one in clause.pieces[at + 1 :]] != ["in"]
    return False


def _stand_there(draft: Draft) -> bool:
    """`tray 1 20 up, watered all on bench c`: all that stand at a place."""
    for clause in draft.clauses:
        for deed, every, at, *after in (clause.pieces[place : place + 5] for place in range(len(clause.pieces) - 3)):
            there = at.low in _AT and any("place_word" in piece.roles for piece in after)
            if is_act(deed) and every.low in _OF_ANY | _OF_THEM and there:
                return True
    return False


def sum_of_several(before: list[Draft], draft: Draft) -> Named | None:
    """`potted 20 from lot 3 and 12 from lot 4, moved all 32 to the lath`: those whose counts make up that of a deed."""
    count = draft.held("count")
    if not before or not count or draft.act not in _OF_SUMS:
        return None
    rest, told = count, list[Named]()
    for one in (one for one in reversed(before) if one.act == before[-1].act):
        named = ((kind, one.held(kind) or one.carried.get(kind)) for kind in ("lots", "trays"))
        of = next(((kind, names) for kind, names in named if names), None)
        if of is None or not one.held("count") or (told and of[0] != told[0][0]):
            break
        told.insert(0, of)
        rest -= one.held("count")
        names = _names_in(told)
        if rest <= 0:
            return (of[0], names) if rest == 0 and len(names) == len(told) >= _BOTH else None
    return None


def _names_in(told: list[Named]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(name for _, names in told for name in names))


def _word_for_all(draft: Draft, words: frozenset[str]) -> Piece | None:
    """The word for all of them that ends what a deed tells, or stands right before its word (`all misted`)."""
    for clause in draft.clauses:
        heads = clause.pieces[:2]
        if len(heads) > 1 and heads[0].low in words and "all" in heads[0].roles and is_act(heads[1]):
            return heads[0]
        for at in range(len(clause.pieces) - 1, 0, -1):
            piece = clause.pieces[at]
            if piece.low in words and "all" in piece.roles:
                return piece
            if piece.low in _WITH and clause.pieces[at - 1].low in words:
                return clause.pieces[at - 1]
            tells = piece.kind not in ("moment", "duration", "break", "mark") and piece.low not in _ENDING
            if tells and not any(one.low in _WITH for one in clause.pieces[:at]):
                break
    return None
