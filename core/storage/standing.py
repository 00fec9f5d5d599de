"""Which records stand, where corrections were corrected and undos undone.

Rules
1. A record is revoked while it is taken back, or while an undo that is not revoked itself supersedes it.
2. A record stands while it is not revoked and nothing supersedes it but what is revoked. So an undone correction lets
   the record before it stand again, and a corrected correction does not.
"""

from __future__ import annotations

from collections.abc import Callable

from core.entries import Act
from core.records import Record

Known = Callable[[int], Record | None]


def stands(record: Record, known: Known) -> bool:
    """True where the record is in force; `known` gives the records that supersede it, by number."""
    if _is_revoked(record, known):
        return False
    if record.superseded_by is None:
        return True
    later = known(record.superseded_by)
    return later is not None and later.number != record.number and _is_revoked(later, known)


def _is_revoked(record: Record, known: Known) -> bool:
    undos, seen = [record], {record.number}
    while (number := undos[-1].superseded_by) is not None and not undos[-1].taken_back and number not in seen:
        later = known(number)
        if later is None or later.entry.act is not Act.UNDO:
            break
        undos.append(later)
        seen.add(number)
    undone_in_turn = len(undos) - 1
    return undos[-1].taken_back == (undone_in_turn % 2 == 0)
