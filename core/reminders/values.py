"""What a reminder is: a row that follows from the history of one subject."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from core.entries import Entry


@dataclass(frozen=True, slots=True, kw_only=True, order=True)
class Subject:
    """What a reminder is about: `lot` 26-014, `tray` 2, `solution` bleach, `target` a plant, or the `crew`."""

    kind: str
    name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Due:
    """One reminder as planned: its subject, kind (a row of kinds.toml) and step, and when it falls due.

    `due_at` and `last_useful_at` are aware UTC instants. `timed` reminders come at their own minute, the others stand
    in the morning list. `facts` are what the sentence needs (minutes, days, lots, plants …; JSON values only).
    `done_means` is the entry that a "done" records, where the act can be told from the reminder alone. `to` is a
    member's name where it is asked for by or for one person; `chat` is the chat it belongs to, where not the crew's
    own. `put_off_until` is set where somebody answered "later"; the key stays that of the due instant.
    """

    subject: Subject
    kind: str
    step: int
    due_at: datetime
    timed: bool
    critical: bool = False
    soft: bool = True
    last_useful_at: datetime | None = None
    facts: dict[str, Any] = field(default_factory=dict)
    done_means: Entry | None = None
    to: str | None = None
    chat: str | None = None
    put_off_until: datetime | None = None

    def key(self) -> str:
        """What makes a reminder the same reminder: subject, kind, step and due instant."""
        return f"{self.subject.kind}:{self.subject.name}|{self.kind}|{self.step}|{self.due_at:%Y%m%dT%H%M}Z"
