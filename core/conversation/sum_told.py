"""What a note says is left after what it tells ("…, so 32 left in tray right?"): told first, then checked.

Rules
1. The deeds of the note are recorded as they stand; the sum is no count of its own, and is held against the books.
2. Without a sum, "…, right?" asks, and records nothing.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from typing import Any

from core.conversation.heard import either
from core.conversation.recording import Outcome
from core.conversation.scene import Scene
from core.entries import Act
from core.notes import Reading, read
from core.storage import Books

_TALK = frozenset({Act.NOTE, Act.ASK, Act.HELLO, Act.REPLY, Act.UNDO, Act.AMEND})


@dataclass(frozen=True, slots=True, kw_only=True)
class SumTold:
    """How many a note says are left, and whether in the tray alone."""

    left: int
    in_tray: bool


@cache
def _pattern() -> re.Pattern[str]:
    one = {key: either("sum_told", "says", key) for key in ("so", "left", "in_tray", "checks")}
    return re.compile(
        rf"[\s,;.:-]+(?:and )?(?:{one['so']})\s+(?P<left>\d{{1,5}})\s+(?:{one['left']})"
        rf"(?P<tray>\s+(?:{one['in_tray']}))?(?:[\s,]+(?:{one['checks']}))?\W*$"
    )


def without_sum(scene: Scene, reading: Reading) -> tuple[Reading, SumTold | None]:
    """The reading of what the note tells, and the sum at its end; the reading itself where there is none."""
    text = scene.message.text
    found = _pattern().search(text.lower())
    if found is None:
        return reading, None
    told = read(text[: found.start()], scene.local_now, scene.names)
    if not told.entries or any(one.act in _TALK for one in told.entries):
        return reading, None
    return told, SumTold(left=int(found["left"]), in_tray=found["tray"] is not None)


def check_sum(books: Books, outcome: Outcome, told: SumTold) -> list[tuple[str, dict[str, Any]]]:
    """The remark that the sum is right or what the books come to, where the note was of one lot."""
    numbers = {lot.number for act in outcome.acts for lot in act.lots}
    lot = books.lot(numbers.pop()) if len(numbers) == 1 else None
    if lot is None or lot.left is None or outcome.pending:
        return []
    unpotted = lot.left - lot.potted
    of_tray = told.in_tray or (lot.potted > 0 and told.left == unpotted)
    facts = {"lot": lot.number, "said": told.left, "left": unpotted if of_tray else lot.left, "in_tray": of_tray}
    return [("sum_told", facts)]
