"""In which trays those are that were counted before: `stuck 48 ceanothus and 60 toyon, ceanothus in tray 1`."""

from __future__ import annotations

from core.notes.details.drafts import Draft
from core.notes.words.act_kinds import OPENING


def fold_trays(drafts: list[Draft]) -> None:
    """Tells the tray of a plant with the count of it that was told before, in place; they are no new lot."""
    for at in range(len(drafts) - 1, 0, -1):
        after = drafts[at]
        if not _tells_trays_only(after):
            continue
        counted = [one for one in drafts[:at] if one.act == after.act and one.held("plant") == after.held("plant")]
        if len(counted) != 1 or not _lacks_trays(counted[0]):
            continue
        before = counted[0]
        if before.slots is None or after.slots is None:
            continue
        for name, value in after.slots.values.items():
            before.slots.values.setdefault(name, value)
        before.clauses.extend(after.clauses)
        del drafts[at]


def _tells_trays_only(draft: Draft) -> bool:
    """`ceanothus in tray 1`: a plant that was begun as another was, and its tray, with no number."""
    if draft.act not in OPENING or not draft.held("plant") or not draft.held("trays") or draft.held("lots"):
        return False
    if draft.held("count") is not None or draft.held("amount") is not None:
        return False
    told = [piece for piece in draft.clauses[0].pieces if piece.kind not in ("mark", "break")]
    return all(piece.kind == "trays" or piece.roles.keys() & {"plant", "filler"} for piece in told)


def _lacks_trays(draft: Draft) -> bool:
    counted = draft.held("count") is not None or draft.held("amount") is not None
    return counted and not draft.held("trays") and not draft.carried.get("trays")
