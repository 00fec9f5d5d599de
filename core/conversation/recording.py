"""How the acts of a note come into the books: placed, doubted, written, folded.

Rules
1. Entries are taken one by one, so that a note may open a lot and go on with it.
2. What must be asked is kept aside as a `Pending`, and never holds up the rest of the note.
3. A lot is folded again from all its records after each act; what it is never depends on the order of arrival.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta
from typing import Any

from core import answers
from core.answers import Choice
from core.conversation.doubts import doubt
from core.conversation.placing import Placed, Unplaced, known_of, sources_of
from core.conversation.pots_moved import place_all
from core.conversation.remarking import potted_on, remarks_for, warnings_for
from core.conversation.scene import Scene
from core.conversation.shelving import fold_lot
from core.entries import Act, Entry
from core.lots import Lot
from core.records import Record, instant_of
from core.reminders import Subject
from core.storage import Books, RecordDraft

LATE = timedelta(hours=2)
"""A note that reaches the bot this long after it was written is said to have come late."""

_TRAY_ACTS = frozenset({Act.COVER, Act.VENT, Act.AIR, Act.UNCOVER, Act.WILT, Act.WATER, Act.CHECK, Act.LOSE})
_CREW_ACTS = frozenset(
    {
        Act.REMIND, Act.ROSTER, Act.COLLECT, Act.STICK, Act.REPLY, Act.HOLD, Act.CLEAR, Act.SANITIZE, Act.POUR_OUT,
    }
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Pending:
    """Entries that wait for an answer: what is asked of the first, the choices, and what else is missing after that."""

    kind: str
    entries: tuple[Entry, ...]
    choices: tuple[Choice, ...] = ()
    facts: dict[str, Any] = field(default_factory=dict)
    more: tuple[str, ...] = ()
    forced: tuple[str, ...] = ()


@dataclass(slots=True, kw_only=True)
class Outcome:
    """What one note has come to so far."""

    acts: list[answers.Act] = field(default_factory=list)
    records: list[Record] = field(default_factory=list)
    pending: list[Pending] = field(default_factory=list)
    subjects: dict[Subject, None] = field(default_factory=dict)
    remarks: list[tuple[str, dict[str, Any]]] = field(default_factory=list)


def record(
    books: Books,
    scene: Scene,
    entry: Entry,
    outcome: Outcome,
    *,
    forced: tuple[str, ...] = (),
    said: str | None = None,
    said_at: datetime | None = None,
    by: str | None = None,
    reminder: str | None = None,
) -> None:
    """Places one entry and writes its records, or keeps it aside with the question that it needs.

    `said`, `said_at` and `by` are of the note that an answer completes, and its writer's; else of this message.
    """
    said_at = said_at or scene.message.said_at
    known = known_of(books, entry, scene.year(said_at))
    if known:
        unknown = tuple(one for one in entry.lots if one not in known)
        for lots in (known, unknown):
            part = replace(entry, lots=lots)
            record(books, scene, part, outcome, forced=forced, said=said, said_at=said_at, by=by, reminder=reminder)
        return
    placed = place_all(books, entry, year=scene.year(said_at), reuse=scene.reuse)
    if isinstance(placed, Unplaced):
        pending = Pending(
            kind=placed.kind, entries=(placed.entry,), choices=placed.choices, facts=placed.facts, forced=forced
        )
        outcome.pending.append(pending)
        return
    at = instant_of(entry.on, said_at, scene.zone)
    found = doubt(books, scene, placed, at, forced, said=said)
    if found is not None:
        pending = Pending(
            kind=found.kind, entries=(entry,), choices=found.choices, facts=found.facts, forced=(*forced, found.kind)
        )
        outcome.pending.append(pending)
        return
    draft = replace(
        scene.draft(placed.entry, trays=placed.trays),
        at=at,
        said_at=said_at,
        by=entry.by or by or scene.speaker,
        said=scene.message.text if said is None else said,
        reminder=reminder,
    )
    _write(books, scene, placed, draft, outcome)
    for then in placed.then:
        record(books, scene, then, outcome, forced=forced, said=said, said_at=said_at, by=by, reminder=reminder)


def question_of(books: Books, scene: Scene, entry: Entry) -> str | None:
    """The kind of question that recording this entry now would raise, or None; writes nothing."""
    placed = place_all(books, entry, year=scene.year(), reuse=list(scene.reuse))
    if isinstance(placed, Unplaced):
        return placed.kind
    found = doubt(books, scene, placed, instant_of(entry.on, scene.message.said_at, scene.zone), ())
    return found.kind if found is not None else None


def _write(books: Books, scene: Scene, placed: Placed, draft: RecordDraft, outcome: Outcome) -> None:
    numbers: list[str | None] = list(placed.lots)
    if placed.opens:
        numbers.append(placed.opens)
    written = [books.write(replace(draft, lot=number)) for number in numbers or [None]]
    outcome.records += written
    outcome.remarks += remarks_for(books, scene, draft.entry)
    before = {number: books.lot(number) for number in numbers if number}
    lots = tuple(lot for lot in (refold(books, scene, number) for number in numbers if number) if lot is not None)
    outcome.remarks += warnings_for(books, scene, draft.entry, before, lots)
    outcome.remarks += potted_on(draft.entry, draft.said, before, lots)
    _remember(placed, draft.entry, lots, outcome)
    if draft.entry.plant and placed.opens:
        books.learn("plant", draft.entry.plant)
    if draft.entry.act in (Act.MOVE, Act.HARDEN) and draft.entry.to:
        books.learn("place", draft.entry.to)
    for source in sources_of(draft.entry):
        books.learn("source", source)
    outcome.acts.append(
        answers.Act(
            entry=draft.entry,
            lots=lots,
            trays=placed.trays if draft.entry.act in _TRAY_ACTS or placed.opens else draft.entry.trays,
            opened=placed.opens is not None,
        )
    )


def refold(books: Books, scene: Scene, number: str) -> Lot | None:
    """Folds a lot again from all its records and puts it on the shelf, and the lots that have plants from it after it.

    A lot that nothing opens is taken off the shelf.
    """
    lot = fold_lot(books, number)
    before = books.lot(number)
    if lot is None:
        books.drop_lot(number)
    else:
        books.save_lot(lot)
    gone_to = {parted.to for one in (before, lot) if one for parted in one.parted if parted.to}
    for other in sorted(gone_to - {number}):
        if books.lot(other) is not None and lot != before:
            refold(books, scene, other)
    return lot


def subjects_of(records: Iterable[Record]) -> list[Subject]:
    """What must be planned anew after these records."""
    outcome = Outcome()
    for record in records:
        if record.lot:
            outcome.subjects[Subject(kind="lot", name=record.lot)] = None
        for tray in record.trays:
            outcome.subjects[Subject(kind="tray", name=tray)] = None
        _remember_free(record.entry, outcome)
    return list(outcome.subjects)


def _remember(placed: Placed, entry: Entry, lots: tuple[Lot, ...], outcome: Outcome) -> None:
    for number in (*placed.lots, *((placed.opens,) if placed.opens else ())):
        outcome.subjects[Subject(kind="lot", name=number)] = None
    for tray in (*placed.trays, *(tray for lot in lots for tray in lot.trays)):
        outcome.subjects[Subject(kind="tray", name=tray)] = None
    _remember_free(entry, outcome)


def _remember_free(entry: Entry, outcome: Outcome) -> None:
    if entry.act in (Act.MIX, Act.POUR_OUT, Act.SANITIZE):
        outcome.subjects[Subject(kind="solution", name=entry.solution or "bleach")] = None
    if entry.act is Act.TARGET and entry.plant:
        outcome.subjects[Subject(kind="target", name=entry.plant)] = None
    if entry.act in _CREW_ACTS:
        outcome.subjects[Subject(kind="crew", name="crew")] = None
