"""A state that is told and then counted is one look: `tray 15 popped! 30ish up`."""

from __future__ import annotations

from typing import Final

from core.notes.details.drafts import SUBJECTS, Draft

_COUNTS: Final = ("count", "share", "all_of", "of", "fraction")


def fold_states(drafts: list[Draft]) -> None:
    """Tells a state that was not counted with the count of the same state right after it, in place."""
    for at in range(len(drafts) - 2, -1, -1):
        before, after = drafts[at : at + 2]
        if _is_counted_by(before, after) and after.slots is not None and before.slots is not None:
            for name, value in before.slots.values.items():
                after.slots.values.setdefault(name, value)
            after.heads = [*before.heads, *before.clauses, *after.heads]
            after.start = min(before.start, after.start)
            del drafts[at]


def _is_counted_by(before: Draft, after: Draft) -> bool:
    state = before.held("state")
    if not before.act == after.act == "check" or state is None or after.held("state") != state:
        return False
    bare = before.own_subject() and not any(before.held(name) is not None for name in (*_COUNTS, "sample"))
    alone = not any(after.held(name) for name in SUBJECTS) and after.held("on") is None
    asked = any(one.slots is None or one.slots.asks or one.strays for one in (before, after))
    vague = any(clause.has("vague", "negation", "none", "more") for clause in (*before.clauses, *after.clauses))
    return bare and alone and not asked and not vague and after.held("count") is not None
