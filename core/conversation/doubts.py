"""What gives pause before an act is written: said twice, told by two people, or more than the books can hold.

Rules
1. The same words within minutes in one chat are asked about once: again, or the same?
2. A loss that another person told of on the same day, with the same count, is asked about: the same, or more?
3. What the lot cannot explain (more sold than are left, a closed lot, a lower count) is asked, never refused outright.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import Any

from core.answers import Choice
from core.conversation.placing import Placed
from core.conversation.scene import Scene
from core.entries import Act
from core.lots import may_not
from core.storage import Books

SAME_WORDS_WITHIN = timedelta(minutes=15)
SAME_LOSS_WITHIN = timedelta(hours=36)

_YES = "yes"
_NO = "no"


@dataclass(frozen=True, slots=True, kw_only=True)
class Doubt:
    """Why an act is asked about before it is written, and the answers that would settle it."""

    kind: str
    choices: tuple[Choice, ...]
    facts: dict[str, Any] = field(default_factory=dict)


def doubt(books: Books, scene: Scene, placed: Placed, at: datetime, forced: tuple[str, ...]) -> Doubt | None:
    """The first doubt about an act that nobody has settled yet, or None."""
    for found in (_told_twice(books, scene, placed, at), _objection(books, placed)):
        if found is not None and found.kind not in forced:
            return found
    return None


def said_before(books: Books, scene: Scene) -> bool:
    """True where the same words stood in this chat minutes ago and were recorded."""
    message = scene.message
    since = message.said_at - SAME_WORDS_WITHIN
    return books.same_words(message.chat, message.text, since=since, but=scene.key)


def _told_twice(books: Books, scene: Scene, placed: Placed, at: datetime) -> Doubt | None:
    entry = placed.entry
    if entry.act is not Act.LOSE or entry.count is None or entry.more:
        return None
    for number in placed.lots:
        for record in reversed(books.lot_records(number)):
            if not record.holds() or record.entry.act is not Act.LOSE or record.message == scene.key:
                continue
            if record.entry.count != entry.count or abs(at - record.at) > SAME_LOSS_WITHIN:
                continue
            if record.told_by != scene.speaker:
                choices = (
                    Choice(label="the_same", action={"drop": True}),
                    Choice(label="more", action={"force": "told_twice"}),
                )
                facts = {"by": record.told_by, "at": record.at.isoformat(), "lot": number, "count": entry.count}
                return Doubt(kind="told_twice", choices=choices, facts=facts)
    return None


def _objection(books: Books, placed: Placed) -> Doubt | None:
    for number in placed.lots:
        lot = books.lot(number)
        objection = may_not(lot, placed.entry) if lot is not None else None
        if objection is not None:
            kind = objection.kind
            choices = (Choice(label=_YES, action={"force": kind}), Choice(label=_NO, action={"drop": True}))
            return Doubt(kind=kind, choices=choices, facts={"lot": number, **objection.facts})
    return None
