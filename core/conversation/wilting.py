"""What is said at once when wilting is noted under a cover: the cover back on, and when it may come off again."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import Any

from core import answers
from core.conversation.replanning import crew_protocols, history_of
from core.entries import Act
from core.reminders import Subject, after_wilting
from core.storage import Books


def remarks_on_wilting(books: Books, acts: Sequence[answers.Act], now: datetime) -> list[tuple[str, dict[str, Any]]]:
    """A remark for each covered tray (or lot that stands in none) of which these acts note wilting."""
    subjects: dict[Subject, None] = {}
    for act in acts:
        if act.entry.act is Act.WILT:
            trays = act.trays or tuple(tray for lot in act.lots for tray in lot.trays)
            lots = () if trays else tuple(lot.number for lot in act.lots)
            subjects |= {Subject(kind="tray", name=tray): None for tray in trays}
            subjects |= {Subject(kind="lot", name=number): None for number in lots}
    told = []
    for subject in subjects:
        facts = after_wilting(history_of(books, subject), crew_protocols(books), now)
        if facts is not None:
            told.append(("wilting", {**facts, "place": f"{subject.kind} {subject.name}"}))
    return told
