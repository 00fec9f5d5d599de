"""What is told at the end of plants listed under one verb, and holds for each: `stuck 20 toyon and 30 sage, tray 7`."""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from core.notes.details.drafts import Draft
from core.notes.joining.adding import subject_only
from core.notes.words.act_kinds import COUNTLESS, OPENING
from core.notes.words.pieces import SENTENCE_ENDS, is_act

_AND: Final = frozenset({"and", "&", "+", "n", "plus"})
_SHARED: Final = ("trays", "medium", "hormone")
_IN_TRAYS: Final = OPENING - {"collect"}
_PLACED: Final = ("trays", "lots")
_OF_ITS_OWN: Final = (*_SHARED, "lots", "container", "source", "sources")


def lend_shared_ends(drafts: list[Draft]) -> None:
    """Gives each plant of a list the tray, medium and hormone that stand at its end, in place; none where one of the
    others was told of its own. As many trays as plants are dealt out.
    """
    end = len(drafts) - 1
    while end > 0:
        start = end
        while start > 0 and _goes_on(drafts[start - 1], drafts[start]):
            start -= 1
        _lend(drafts[start:end], drafts[end])
        end = start - 1 if start < end else end - 1


def lend_last_tray(drafts: list[Draft]) -> None:
    """`stuck 45 sage tips, domed, tray 3`: the tray told at the end, by itself, is that of what was stuck too, in
    place.
    """
    for at, (before, draft) in enumerate(pairwise(drafts)):
        trays = draft.held("trays") or ()
        opened = before.act in _IN_TRAYS and not any(before.held(name) for name in _PLACED)
        opened = opened and not (at and _goes_on(drafts[at - 1], before))  # of one plant, no list
        cared = draft.act in COUNTLESS and not draft.heads and not draft.held("lots") and len(trays) == 1
        if not (opened and cared) or len(draft.clauses) < 2 or before.slots is None:
            continue
        last = draft.clauses[-1]
        one_sentence = not any(clause.after in SENTENCE_ENDS for clause in draft.clauses)
        if one_sentence and last.kinds() == {"trays"} and subject_only(last):
            before.slots.put("trays", trays)


def _goes_on(before: Draft, draft: Draft) -> bool:
    """Whether a draft is the next plant of the list that the one before it is of."""
    told = draft.act == before.act and draft.act in OPENING and bool(draft.clauses) and not draft.heads
    if not told or draft.clauses[0].after in SENTENCE_ENDS or not (before.held("plant") and draft.held("plant")):
        return False
    typed_again = any(is_act(piece) for piece in draft.clauses[0].pieces)
    return not typed_again and (before.held("count") or before.held("amount")) is not None


def _lend(others: list[Draft], last: Draft) -> None:
    if not others:
        return
    _deal_out(others, last)
    if not _closes_list(last):
        return
    dealt = ("trays",) if all(one.held("trays") for one in others) and _tells_trays_of(last, len(others) + 1) else ()
    if any(one.held(name) is not None for one in others for name in _OF_ITS_OWN if name not in dealt):
        return
    shared = {name: last.held(name) for name in _SHARED if name not in dealt and last.held(name) is not None}
    if len(shared.get("trays", ())) > 1:
        return
    if _names_its_own(last):
        shared.pop("trays", None)
    for one in others:
        for name, value in shared.items():
            if one.slots is not None:
                one.slots.put(name, value)


def _names_its_own(last: Draft) -> bool:
    """`48 ceanothus, 60 toyon, | toyon in tray 2 |`: a tray that is of the plant named again with it alone."""
    again = [clause for clause in last.clauses[1:] if "trays" in clause.kinds() and clause.has("plant")]
    for piece in (piece for clause in again for piece in clause.pieces):
        piece.used = piece.used or piece.low == last.held("plant")
    return bool(again)


def _deal_out(others: list[Draft], last: Draft) -> None:
    """`stuck 30 toyon, 24 sage and 36 ribes in trays 1, 2 and 3`: as many trays as plants, dealt out in their order.

    Of two plants that no "and" joins both trays may be of the last.
    """
    trays = last.held("trays") or ()
    several = len(others) > 1 or last.clauses[0].after in _AND
    if len(trays) != len(others) + 1 or not several or any(one.held(name) for one in others for name in _PLACED):
        return
    for one, tray in zip((*others, last), trays, strict=True):
        if one.slots is not None:
            one.slots.values["trays"] = (tray,)


def _tells_trays_of(last: Draft, many: int) -> bool:
    """Whether a list of as many trays as plants was dealt out to them (`in perlite, trays 1, 2 and 3`)."""
    trays = (piece for clause in last.clauses for piece in clause.pieces if piece.kind == "trays")
    return many > 1 and any(len(piece.value) == many for piece in trays)


def _closes_list(last: Draft) -> bool:
    """Whether what stands at the end is told of the list: after `and`, or parted from its last plant.

    `40 toyon, 30 sage in tray 3` may be of the sage alone.
    """
    parted = any(clause.has("medium", "hormone") or "trays" in clause.kinds() for clause in last.clauses[1:])
    return last.clauses[0].after in _AND or parted
