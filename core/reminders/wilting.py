"""What does wilting just noted mean for a covered tray: is its cover off, and when may it come off again?"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from core.reminders.cover import vents_back_to
from core.reminders.ground import History
from core.reminders.planning import ground_of
from core.reminders.wean import climb, roots_seen_since
from core.treatments import Protocols


def after_wilting(history: History, protocols: Protocols, now: datetime) -> Mapping[str, Any] | None:
    """The facts of wilting under the cover of this tray (or lot): `off` where the cover is off now; `vents`, the
    step that they go back to, where they are further open; `minutes` of the next session where one wilted; `waits`
    where only a root check lets weaning go on. None where it has no cover."""
    ground = ground_of(history, protocols, now)
    cover = ground.cover
    if not ground.has_cover() or not cover.on or cover.since is None or cover.wilted_at is None:
        return None
    airings = tuple(airing for airing in ground.airings if airing.began_at >= cover.since)
    rung = climb(ground, airings)
    facts: dict[str, Any] = {"off": cover.aired_at is not None and cover.wilted_at >= cover.aired_at}
    opening = vents_back_to(ground)
    facts |= {} if opening is None else {"vents": opening}
    if rung.after_wilt:
        waits = rung.waits_for_roots and not roots_seen_since(ground, airings)
        facts |= {"minutes": rung.minutes, "waits": waits, "first": ground.protocol.minutes("wean_first")}
    return facts
