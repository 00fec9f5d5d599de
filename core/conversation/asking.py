"""What the bot asks, how the question waits in the books, and how an answer completes the note.

Rules
1. A question is a row: it survives a restart, belongs to one chat and speaker, and ends after a day.
2. One question at a time; what else a note needs waits behind it in the same row.
3. A button or a short answer completes the entry; a new note of its own wins and leaves the question standing.
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
from core.errors import BadEntry
from core.notes import Ask, Reading, needs_of, read_answer
from core.storage import Books, OpenQuestion, RecordDraft

QUESTION_LASTS = timedelta(days=1)
FILLS_FROM_READING = ("lots", "trays", "plant", "count", "state", "cause", "to", "due", "at", "solution", "vent_open")


@dataclass(frozen=True, slots=True, kw_only=True)
class Answered:
    """What an answer came to: entries that may now be recorded, and the note that they complete."""

    entries: tuple[Entry, ...]
    pending: tuple[Pending, ...]
    forced: tuple[str, ...]
    said: str
    said_at: datetime
    message: str
    dropped: bool = False


def pend_readings(reading: Reading) -> tuple[list[Entry | Pending], list[str]]:
    """The entries of a reading in order, those with something missing as `Pending`, and the asks that no entry owns."""
    asks_of: dict[int, list[Ask]] = {}
    loose: list[str] = []
    for ask in reading.asks:
        if ask.entry is None:
            loose.append(ask.kind)
        else:
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
    return placed, loose


def put_question(books: Books, scene: Scene, pending: Sequence[Pending], note: Answered | None = None) -> Asked:
    """Writes the first of `pending` as the open question of this chat and speaker, the others behind it."""
    if scene.question is not None and note is None:
        keep_words(books, scene, scene.question)
    first = pending[0]
    said = note.said if note else scene.message.text
    said_at = note.said_at if note else scene.message.said_at
    draft = {
        "pending": [_to_json(one) for one in pending],
        "said": said,
        "said_at": said_at.isoformat(),
        "message": note.message if note else scene.key,
    }
    number = books.ask(
        chat=scene.chat,
        speaker=scene.speaker,
        kind=first.kind,
        draft=draft,
        asked_at=scene.now,
        expires_at=scene.now + QUESTION_LASTS,
    )
    choices = tuple(replace(one, action={**one.action, "question": number}) for one in first.choices)
    return Asked(kind=first.kind, entry=first.entries[0] if first.entries else None, choices=choices, facts=first.facts)


def keep_words(books: Books, scene: Scene, question: OpenQuestion) -> None:
    """Keeps the words of a question that is given up as a note, where nothing of them is in the books yet."""
    message = str(question.draft["message"])
    if any(record.holds() for record in books.records_of_message(message)):
        return
    said, said_at = str(question.draft["said"]), datetime.fromisoformat(question.draft["said_at"])
    books.write(
        RecordDraft(
            lot=None,
            trays=(),
            entry=Entry(act=Act.NOTE, text=said),
            at=said_at,
            said_at=said_at,
            by=question.speaker,
            told_by=question.speaker,
            said=said,
            message=message,
        )
    )


def answer_with_words(books: Books, scene: Scene, question: OpenQuestion, reading: Reading) -> Answered | None:
    """The note that these words complete, or None where they answer no open question."""
    first, *others = _from_draft(question)
    text = scene.message.text
    yes_or_no = _yes_or_no(reading)
    if yes_or_no is not None and any("force" in choice.action or "drop" in choice.action for choice in first.choices):
        action: dict[str, Any] = {"force": first.kind} if yes_or_no else {"drop": True}
        return answer_with_action(books, question, action)
    filled = read_answer(first.kind, text, scene.local_now)
    if filled is None:
        return None
    return _complete(books, question, first, others, filled)


def answer_with_action(books: Books, question: OpenQuestion, action: dict[str, Any]) -> Answered:
    """The note that a pressed button completes."""
    first, *others = _from_draft(question)
    if action.get("drop"):
        books.close_question(question.number)
        return replace(_answered(question, (), tuple(others), first.forced), dropped=True)
    if "force" in action and "fill" not in action:
        books.close_question(question.number)
        also = (Entry.from_keys(action["also"]),) if "also" in action else ()
        return _answered(question, (*first.entries, *also), tuple(others), (*first.forced, str(action["force"])))
    if "choose" in action:
        books.close_question(question.number)
        entry = Entry.from_keys(action["choose"])
        return _answered(question, (entry,), tuple(others), first.forced)
    settled = replace(first, forced=(*first.forced, str(action.get("force", first.kind))))
    return _complete(books, question, settled, others, dict(action.get("fill", {})))


def _complete(
    books: Books, question: OpenQuestion, first: Pending, others: Sequence[Pending], filled: dict[str, Any]
) -> Answered:
    books.close_question(question.number)
    keys = {**first.entries[0].as_keys(), **_as_keys(filled)}
    entry = Entry.from_keys({key: value for key, value in keys.items() if value is not None})
    more = tuple(kind for kind in first.more if kind in needs_of(entry))
    if more:
        waiting = Pending(kind=more[0], entries=(entry,), more=more[1:], forced=first.forced)
        return _answered(question, (), (waiting, *others), first.forced)
    return _answered(question, (entry,), tuple(others), first.forced)


def _as_keys(filled: dict[str, Any]) -> dict[str, Any]:
    """Field values of an answer under the published keys of an entry; a null takes the key away."""
    nulls = {key: None for key, value in filled.items() if value is None}
    values = {key: value for key, value in filled.items() if value is not None}
    try:
        from_fields = Entry(act="note", **values).as_keys()  # type: ignore[arg-type]
    except (TypeError, BadEntry):
        return {**values, **nulls}
    from_fields.pop("act")
    return {**from_fields, **nulls}


def _answered(
    question: OpenQuestion, entries: tuple[Entry, ...], pending: tuple[Pending, ...], forced: tuple[str, ...]
) -> Answered:
    return Answered(
        entries=entries,
        pending=pending,
        forced=forced,
        said=question.draft["said"],
        said_at=datetime.fromisoformat(question.draft["said_at"]),
        message=question.draft["message"],
    )


def _yes_or_no(reading: Reading) -> bool | None:
    if len(reading.entries) == 1 and reading.entries[0].answer in ("yes", "no"):
        return reading.entries[0].answer == "yes"
    return None


def _choices(ask: Ask) -> tuple[Choice, ...]:
    made: list[Choice] = []
    for choice in ask.choices:
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


def _from_draft(question: OpenQuestion) -> list[Pending]:
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
