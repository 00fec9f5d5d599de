"""Whether what is told late goes with what was counted since: "sold 8 yesterday", after "70 rooted" of 80 today.

Rules
1. The lot is folded with the late act in its place; where more plants then were found than ever came, it is asked.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from typing import Any

from core.conversation.placing import Placed
from core.conversation.scene import Scene
from core.entries import Act
from core.lots import Lot, fold, kin_of
from core.records import Record, local_day
from core.storage import Books

_GOING = frozenset({Act.SELL, Act.GIVE, Act.PLANT_OUT, Act.LOSE, Act.SPLIT})
_NOT_YET_WRITTEN = 2**62


def over_the_count(books: Books, scene: Scene, placed: Placed, at: datetime) -> dict[str, Any] | None:
    """The facts for asking (lot, how many too many, day of the count), or None where the act goes with the counts."""
    if placed.entry.act not in _GOING or placed.entry.approx:
        return None
    for number in placed.lots:
        lot = books.lot(number)
        if lot is None or lot.last_count_at is None or at >= lot.last_count_at:
            continue
        then = _with_it(books, scene, placed, number, at)
        over = then.unexplained - lot.unexplained if then is not None else 0
        if over > 0 and then is not None and then.unexplained > 0:
            counted = local_day(lot.last_count_at, scene.zone).isoformat()
            return {"lot": number, "over": over, "counted": counted, "act": placed.entry.act.value}
    return None


def _with_it(books: Books, scene: Scene, placed: Placed, number: str, at: datetime) -> Lot | None:
    draft = scene.draft(replace(placed.entry, lots=(number,)), lot=number)
    late = Record(
        number=_NOT_YET_WRITTEN, lot=number, trays=(), entry=draft.entry, at=at, said_at=draft.said_at, by=draft.by,
        told_by=draft.told_by, said=draft.said, message=draft.message,
    )  # fmt: skip
    records = (*books.lot_records(number), late)
    kin = {one: other for one in kin_of(number, records) if (other := books.lot(one)) is not None}
    return fold(number, records, books.crew.zone, kin=kin)
