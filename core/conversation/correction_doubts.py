"""What gives pause before a correction is written: a number that the lot, without the record corrected, cannot hold.

Rules
1. The lot is folded without what is being corrected; a count is held against what was known when it was made.
2. A recount below an earlier one is what corrections are for, and is not asked about.
"""

from __future__ import annotations

from collections.abc import Sequence

from core.conversation.doubts import Doubt, plain_facts
from core.conversation.scene import Scene
from core.entries import Act, Entry
from core.lots import Lot, fold, kin_of, may_not
from core.records import Record
from core.storage import Books

_ASKED = frozenset({"above_left", "above_living", "above_sown", "above_free", "part_or_whole"})
_ASKED_ELSEWHERE = _ASKED | {"closed", "on_hold"}
"""What is asked where the record goes to another lot."""


def doubt_of(
    books: Books, scene: Scene, twins: Sequence[Record], after: Entry, lots: Sequence[str], *, moves: bool
) -> Doubt | None:
    """Why `after` is asked about before it takes the place of `twins`, or None; its choices are not here."""
    for number in dict.fromkeys(lots):
        lot = _without(books, number, twins, after)
        if lot is None:
            continue
        found = may_not(lot, after, by=scene.speaker, said=scene.message.text)
        if found is None or found.kind not in (_ASKED_ELSEWHERE if moves else _ASKED):
            continue
        facts = plain_facts(found)
        if found.kind == "part_or_whole":
            if not moves or after.of is None or lot.left is None or after.of <= lot.left:
                continue
            return Doubt(kind="above_living", choices=(), facts={"lot": number, **facts, "count": after.of})
        return Doubt(kind=found.kind, choices=(), facts={"lot": number, **facts})
    return None


def _without(books: Books, number: str, twins: Sequence[Record], after: Entry) -> Lot | None:
    gone = {one.number for one in twins}
    records = [one for one in books.lot_records(number) if one.number not in gone]
    if after.act is Act.CHECK and twins:
        latest = max(one.order() for one in twins)
        records = [one for one in records if one.order() < latest]
    kin = {one: lot for one in kin_of(number, records) if (lot := books.lot(one)) is not None}
    return fold(number, records, books.crew.zone, kin=kin)
