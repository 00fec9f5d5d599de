"""What the bot asks, and how the question waits in the books.

Rules
1. A question is a row: it survives a restart, belongs to one chat and speaker, and ends after a day.
2. One question at a time; what else a note needs waits behind it in the same row, and another note's in a row of its
   own (waiting.py).
3. A question that ends unanswered, or gives way to another, leaves its words in the books as a note.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import Any

from core.answers import Asked, Choice
from core.conversation.recording import Pending
from core.conversation.scene import Scene
from core.entries import Act, Entry
from core.notes import Ask, Reading
from core.storage import Books, OpenQuestion, RecordDraft

QUESTION_LASTS = timedelta(days=1)


def pend_readings(reading: Reading) -> list[Entry | Pending]:
    """The entries of a reading in order, those with something missing as `Pending`."""
    asks_of: dict[int, list[Ask]] = {}
    for ask in reading.asks:
        if ask.entry is not None:
            asks_of.setdefault(ask.entry, []).append(ask)
    placed: list[Entry | Pending] = []
    for index, entry in enumerate(reading.entries):
        asks = asks_of.get(index)
        if not asks:
            placed.append(entry)
            continue
        first, *others = asks
        placed.append(
            Pending(
                kind=first.kind,
                entries=(entry,),
                choices=_choices(first),
                more=tuple(ask.kind for ask in others),
            )
        )
    return placed


@dataclass(frozen=True, slots=True, kw_only=True)
class Asker:
    """The note that a question belongs to: its words, when and by whom it was sent, and the key of its message."""

    said: str
    said_at: datetime
    message: str
    by: str


def put_question(books: Books, scene: Scene, pending: Sequence[Pending], note: Asker | None = None) -> Asked:
    """Writes the first of `pending` as the open question of this chat and speaker, the others behind it."""
    if scene.question is not None and note is None:
        give_up(books, scene.question)
    first = pending[0]
    asker = note or Asker(said=scene.message.text, said_at=scene.message.said_at, message=scene.key, by=scene.speaker)
    draft = {
        "pending": [_to_json(one) for one in pending],
        "said": asker.said,
        "said_at": asker.said_at.isoformat(),
        "message": asker.message,
    }
    number = books.ask(
        chat=scene.chat,
        speaker=scene.speaker,
        kind=first.kind,
        draft=draft,
        asked_at=scene.now,
        expires_at=scene.now + QUESTION_LASTS,
        beside=True,
    )
    choices = tuple(replace(one, action={**one.action, "question": number}) for one in first.choices)
    return Asked(kind=first.kind, entry=first.entries[0] if first.entries else None, choices=choices, facts=first.facts)


def give_up(books: Books, question: OpenQuestion) -> None:
    """Closes a question that got no answer, and keeps its words as a note where nothing of them is in the books yet."""
    books.close_question(question.number)
    message = str(question.draft["message"])
    if any(record.holds() for record in books.records_of_message(message)):
        return
    said, said_at = str(question.draft["said"]), datetime.fromisoformat(question.draft["said_at"])
    if not said.strip():
        return
    books.write(
        RecordDraft(
            lot=None, trays=(), entry=Entry(act=Act.NOTE, text=said), at=said_at, said_at=said_at, by=question.speaker,
            told_by=question.speaker, said=said, message=message,
        )
    )  # fmt: skip


def _choices(ask: Ask) -> tuple[Choice, ...]:
    made: list[Choice] = []
    for choice in dict.fromkeys(ask.choices):
        if isinstance(choice, Entry):
            made.append(Choice(label="reading", action={"choose": choice.as_keys()}))
        else:
            made.append(Choice(label=choice, action={"say": choice}))
    return tuple(made)


def _to_json(pending: Pending) -> dict[str, Any]:
    return {
        "kind": pending.kind,
        "entries": [entry.as_keys() for entry in pending.entries],
        "choices": [{"label": choice.label, "action": choice.action} for choice in pending.choices],
        "facts": pending.facts,
        "more": list(pending.more),
        "forced": list(pending.forced),
    }


def pending_of(question: OpenQuestion) -> list[Pending]:
    """What a question waits for: the first is asked, the others come after it."""
    return [
        Pending(
            kind=one["kind"],
            entries=tuple(Entry.from_keys(keys) for keys in one["entries"]),
            choices=tuple(Choice(**choice) for choice in one["choices"]),
            facts=one["facts"],
            more=tuple(one["more"]),
            forced=tuple(one["forced"]),
        )
        for one in question.draft["pending"]
    ]
