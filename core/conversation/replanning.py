"""Which reminders follow now: the subjects that a turn touched, planned anew from their history."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from core.conversation.learning import learn_anew, learned_of
from core.lots import Lot
from core.lots.trays import lots_in
from core.records import Record
from core.reminders import Due, History, Subject, plan
from core.storage import Books
from core.treatments import Protocols, protocols
from core.vocabulary.plants import same_plant


def replan(books: Books, subjects: Iterable[Subject], now: datetime) -> tuple[Due, ...]:
    """Plans each subject anew and saves the difference; returns what was newly planned, soonest first.

    What the lots among them teach is learned first, and what they stand for (a target of their plant) is planned too.
    """
    asked_for = tuple(dict.fromkeys(subjects))
    taught = learn_anew(books, asked_for, now)
    rules = crew_protocols(books)
    added: dict[str, Due] = {}
    for subject in dict.fromkeys((*asked_for, *taught, *_targets_of(books, asked_for))):
        due = plan(history_of(books, subject), rules, now)
        difference = books.save_plan(subject, due, now)
        added.update((one.key(), one) for one in difference.added)
    return tuple(sorted(added.values(), key=lambda one: one.due_at))


def crew_protocols(books: Books) -> Protocols:
    """The protocols with what the crew's record taught, and the crew's own rules on top."""
    return protocols().with_learned(learned_of(books)).with_rules(books.records(acts=("rule",)))


def _targets_of(books: Books, subjects: Iterable[Subject]) -> tuple[Subject, ...]:
    """The targets that the lots among these subjects count for."""
    numbers = [subject.name for subject in subjects if subject.kind == "lot"]
    targets = {one.entry.plant for one in books.records(acts=("target",)) if one.entry.plant} if numbers else set()
    if not targets:
        return ()
    plants = {lot.plant for lot in map(books.lot, numbers) if lot is not None}
    found = sorted(target for target in targets if any(same_plant(target, plant) for plant in plants))
    return tuple(Subject(kind="target", name=name) for name in found)


def every_subject(books: Books) -> list[Subject]:
    """All that may have reminders: for a change that touches every plan."""
    lots = books.lots()
    named = [Subject(kind="lot", name=lot.number) for lot in lots]
    named += [Subject(kind="tray", name=tray) for tray in dict.fromkeys(tray for lot in lots for tray in lot.trays)]
    solutions = {record.entry.solution for record in books.records(acts=("mix",)) if record.entry.solution}
    targets = {record.entry.plant for record in books.records(acts=("target",)) if record.entry.plant}
    named += [Subject(kind="solution", name=name) for name in sorted(solutions)]
    named += [Subject(kind="target", name=name) for name in sorted(targets)]
    return [*named, Subject(kind="crew", name="crew")]


def history_of(books: Books, subject: Subject) -> History:
    """All that a subject's plan rests on."""
    lot: Lot | None = None
    lots: tuple[Lot, ...] = ()
    match subject.kind:
        case "lot":
            lot = books.lot(subject.name)
            records = books.lot_records(subject.name)
        case "tray":
            lots = tuple(lots_in(subject.name, books.lots()))
            records = books.tray_records(subject.name)
        case "solution":
            records = books.records(acts=("mix", "pour_out", "sanitize", "reply"))
        case "target":
            records = books.records(acts=("target", "reply"))
            lots = tuple(lot for lot in books.lots() if same_plant(lot.plant, subject.name))
        case _:
            acts = ("remind", "roster", "collect", "reply", "stick", "hold", "clear", "sanitize", "pour_out")
            records = books.records(acts=acts)
    private = said_in_private(books, records) if subject.kind == "crew" else {}
    return History(subject=subject, records=tuple(records), lot=lot, lots=lots, zone=books.crew.zone, private=private)


def said_in_private(books: Books, records: Iterable[Record]) -> dict[str, str]:
    """The private chat in which a message was said, by the message's key, so that its reminder stays there."""
    group = books.crew.group_chat
    chats = [one.private_chat for one in books.members() if one.private_chat and one.private_chat != group]
    return {record.message: chat for record in records for chat in chats if f":{chat}:" in record.message}
