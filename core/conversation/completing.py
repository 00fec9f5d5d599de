"""What an answer or a button makes of the note that was asked about.

Rules
1. The note keeps its own words and time. What it lacks then is asked next; what else it told waits for that.
2. One lot that answers for a part of a note is the lot of all its parts that name none.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from core.conversation.asking import Asker, pending_of
from core.conversation.numbers_meant import with_lot_choices
from core.conversation.recording import Pending
from core.entries import Act, Entry
from core.errors import BadEntry
from core.notes import needs_of
from core.records import local_day
from core.storage import Books, OpenQuestion


@dataclass(frozen=True, slots=True, kw_only=True)
class Answered:
    """What an answer came to: entries that may now be recorded, and the note that they complete."""

    entries: tuple[Entry, ...]
    pending: tuple[Pending, ...]
    forced: tuple[str, ...]
    note: Asker
    kind: str
    dropped: bool = False
    corrects: int | None = None
    corrects_then: tuple[int, Entry] | None = None
    takes_back: str | None = None
    takes_back_record: int | None = None
    meant: str | None = None
    waits: bool = False


def answer_with_action(books: Books, question: OpenQuestion, action: dict[str, Any]) -> Answered:
    """The note that a pressed button completes."""
    first, *others = pending_of(question)
    if action.get("drop"):
        books.close_question(question.number)
        return replace(answered(question, (), tuple(others), first.forced), dropped=True)
    if "ask" in action:
        books.close_question(question.number)
        asked = replace(first, kind=str(action["ask"]), choices=())
        return answered(question, (), (asked, *others), first.forced)
    if "force" in action and not {"fill", "choose"} & set(action):
        books.close_question(question.number)
        also = (Entry.from_keys(action["also"]),) if "also" in action else ()
        return answered(question, (*also, *first.entries), tuple(others), (*first.forced, str(action["force"])))
    if "take_back" in action:
        books.close_question(question.number)
        return replace(answered(question, first.entries, (), first.forced), takes_back=action["take_back"])
    if "take_back_record" in action:
        books.close_question(question.number)
        return replace(answered(question, first.entries, (), ()), takes_back_record=int(action["take_back_record"]))
    if "amend" in action:
        books.close_question(question.number)
        entry = Entry.from_keys(action["choose"])
        then = action.get("then")
        return replace(
            answered(question, (entry,), tuple(others), first.forced),
            corrects=action["amend"],
            corrects_then=(int(then["amend"]), Entry.from_keys(then["choose"])) if then else None,
        )
    if "choose" in action:
        books.close_question(question.number)
        entry = Entry.from_keys(action["choose"])
        beside = (Entry.from_keys(action["also"]),) if "also" in action else ()
        first = replace(first, forced=(*first.forced, *([str(action["force"])] if "force" in action else [])))
        of_it, waiting = _of_the_same_lot(first, others, {"lots": entry.lots, "trays": entry.trays})
        return told_or_asked(question, first, entry, needs_of(entry), (*beside, *of_it), waiting)
    settled = replace(first, forced=(*first.forced, str(action.get("force", first.kind))))
    return complete(books, question, settled, others, dict(action.get("fill", {})))


def complete(
    books: Books,
    question: OpenQuestion,
    first: Pending,
    others: Sequence[Pending],
    filled: dict[str, Any],
    *,
    corrected: bool = False,
) -> Answered:
    books.close_question(question.number)
    if first.kind == "jug":
        entry = Entry(act=Act.NOTE, text=f"the jug says {filled['percent']:g} %")
        return answered(question, (entry,), tuple(others), first.forced)
    keys = {**first.entries[0].as_keys(), **_as_keys(filled)}
    if first.kind == "lot" and filled.get("trays") and "lots" not in filled:
        # A tray named in answer to "I have no lot 2".
        keys.pop("lots", None)
    entry = Entry.from_keys({key: value for key, value in keys.items() if value is not None})
    if first.kind in needs_of(entry):
        return answered(question, (), (replace(first, entries=(entry,)), *others), first.forced)
    if corrected and first.kind == "number":
        year = local_day(datetime.fromisoformat(question.draft["said_at"]), books.crew.zone).year % 100
        again = with_lot_choices(books, replace(first, entries=(entry,)), year)
        return answered(question, (), (again, *others), first.forced)
    if corrected and first.kind == "count" and entry.count is None and entry.share is None:
        # Another tray is no answer to how many.
        return answered(question, (), (replace(first, entries=(entry,)), *others), first.forced)
    if corrected:
        forced = tuple(one for one in first.forced if one != first.kind)
        return answered(question, (entry,), tuple(others), forced)
    told, asked = _of_the_same_lot(first, others, filled)
    more = tuple(kind for kind in first.more if kind in needs_of(entry))
    return told_or_asked(question, first, entry, more, told, asked)


def told_or_asked(
    question: OpenQuestion,
    first: Pending,
    entry: Entry,
    lacks: tuple[str, ...],
    told: tuple[Entry, ...],
    others: Sequence[Pending],
) -> Answered:
    """The entry as it may be recorded, or first of all what it lacks still; `told` are whole beside it."""
    if not lacks:
        return answered(question, (entry, *told), tuple(others), first.forced)
    left = Pending(kind=lacks[0], entries=(entry,), more=lacks[1:], forced=first.forced)
    return answered(question, told, (left, *others), first.forced)


def _of_the_same_lot(
    first: Pending, others: Sequence[Pending], filled: dict[str, Any]
) -> tuple[tuple[Entry, ...], tuple[Pending, ...]]:
    """The other parts of a note that ask for a lot and name none, with the lot that was told: whole, or asked on."""
    whole: list[Entry] = []
    asked: list[Pending] = []
    lots, trays = (tuple(map(str, filled.get(name, ()))) for name in ("lots", "trays"))
    for one in others:
        entry = one.entries[0] if one.entries else None
        named = entry is None or entry.lots or entry.trays or entry.plant
        tells = first.kind in ("lot", "number") and (lots or trays)
        if not tells or one.kind != "lot" or one.facts or named or entry is None:
            asked.append(one)
            continue
        entry = replace(entry, lots=lots, trays=trays)
        more = tuple(kind for kind in one.more if kind in needs_of(entry))
        if more:
            asked.append(replace(one, kind=more[0], entries=(entry,), more=more[1:]))
        else:
            whole.append(entry)
    return tuple(whole), tuple(asked)


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


def answered(
    question: OpenQuestion, entries: tuple[Entry, ...], pending: tuple[Pending, ...], forced: tuple[str, ...]
) -> Answered:
    return Answered(
        entries=entries,
        pending=pending,
        forced=forced,
        kind=question.kind,
        note=Asker(
            said=question.draft["said"],
            said_at=datetime.fromisoformat(question.draft["said_at"]),
            message=question.draft["message"],
            by=question.speaker,
        ),
    )
