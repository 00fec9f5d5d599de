"""How a note is corrected: undone, done again, amended or edited, always by a later record and never by erasing.

Rules
1. "undo" takes back the speaker's own last note in that chat; "undo" again brings it back. A record holds while what
   supersedes it does not, so both are one more record.
2. "no wait 27" corrects the entry of the last note (or of the message replied to) that has such a key.
3. An edited message is read anew: its old records are superseded by the new ones, and a lot it opened keeps its number.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import fields, replace
from typing import Any

from core.answers import Answer, Asked, Choice, Corrected, Refused, Undone
from core.conversation.asking import put_question
from core.conversation.hushing import recall_who_is_quiet
from core.conversation.placing import Unplaced, place
from core.conversation.recording import Pending, refold, subjects_of
from core.conversation.replanning import replan
from core.conversation.scene import Scene
from core.entries import Act, Entry
from core.records import Record
from core.storage import Books, RecordDraft

_OPENING = frozenset({Act.STICK, Act.SOW, Act.DIVIDE})
_OPENERS = _OPENING | {Act.SPLIT, Act.TREAT}
_ABOUT_THE_NOTE = frozenset({"act", "rest", "lots"})
_NOT_ACTS = frozenset({Act.UNDO, Act.AMEND})


def undo(books: Books, scene: Scene, message: str | None = None) -> Answer:
    """Takes back a message's records (the speaker's last by default), or brings back what the last undo took."""
    if message is None:
        last = books.last_message_with_records(scene.speaker, scene.chat)
        if last is None:
            return Refused(why="nothing_to_undo")
        records = books.records_of_message(last)
        undos = [record for record in records if record.entry.act is Act.UNDO and record.holds()]
        if undos:
            return _undo_the_undo(books, scene, undos[0])
    else:
        records = books.records_of_message(message)
    records = tuple(record for record in records if record.holds() and record.entry.act not in _NOT_ACTS)
    if not records:
        return Refused(why="already_undone" if message else "nothing_to_undo")
    return _take_back(books, scene, records)


def _take_back(books: Books, scene: Scene, records: tuple[Record, ...]) -> Answer:
    mark = _write_mark(books, scene, Entry(act=Act.UNDO))
    books.supersede([record.number for record in records], by=mark.number)
    touched = _with_corrected(books, records)
    lots = refold_all(books, scene, touched)
    recall_who_is_quiet(books)
    reopened = books.reopen_reminders_of(records[0].message, scene.now)
    replan(books, subjects_of(touched), scene.now)
    return Undone(
        entries=tuple(dict.fromkeys(record.entry for record in records)),
        lots=lots,
        reopened=reopened,
        choices=(Choice(label="undo_back", action={"redo": mark.number}),),
    )


def _undo_the_undo(books: Books, scene: Scene, mark: Record) -> Answer:
    acts, brought_back = _what_a_mark_did(books, mark)
    if not acts:
        return Refused(why="nothing_to_undo")
    again = _write_mark(books, scene, Entry(act=Act.UNDO))
    books.supersede([mark.number], by=again.number)
    touched = _with_corrected(books, acts)
    lots = refold_all(books, scene, touched)
    recall_who_is_quiet(books)
    replan(books, subjects_of(touched), scene.now)
    return Undone(
        entries=tuple(dict.fromkeys(record.entry for record in acts)),
        lots=lots,
        again=not brought_back,
        choices=(Choice(label="undo_back" if brought_back else "undo", action={"redo": again.number}),),
    )


def _with_corrected(books: Books, records: Sequence[Record]) -> list[Record]:
    """Records with those that they had corrected, which hold again or give way when these do not, or do."""
    return [*records, *(before for record in records for before in books.superseded_by(record.number))]


def _what_a_mark_did(books: Books, mark: Record) -> tuple[tuple[Record, ...], bool]:
    """The acts that an undo concerns, and True where it brought them back (it undid an undo)."""
    reached, brought_back = books.superseded_by(mark.number), False
    while reached and all(record.entry.act is Act.UNDO for record in reached):
        reached, brought_back = books.superseded_by(reached[0].number), not brought_back
    return tuple(record for record in reached if record.entry.act not in _NOT_ACTS), brought_back


def redo(books: Books, scene: Scene, mark_number: int) -> Answer:
    """Brings back what an undo took, by its button."""
    mark = books.record(mark_number)
    if mark is None or not mark.holds():
        return Refused(why="already_undone")
    return _undo_the_undo(books, scene, mark)


def amend(books: Books, scene: Scene, entry: Entry) -> Answer:
    """Corrects the last note (or the message replied to) with the keys that `entry` gives."""
    records = _corrigible(books, scene, entry)
    if not records:
        return Refused(why="nothing_to_amend")
    changed = {
        part.name: getattr(entry, part.name)
        for part in fields(Entry)
        if part.name not in _ABOUT_THE_NOTE and getattr(entry, part.name) not in (None, (), False)
    }
    if entry.lots and not changed:
        return _move_to_lot(books, scene, records, entry)
    if not changed:
        return put_question(books, scene, [Pending(kind="amend_what", entries=(replace(entry, rest=None),))])
    old = _wrong_value(entry)
    same_note = [record for record in records if _has_keys(record.entry, changed)] or records
    if old is not None:
        same_note = [record for record in same_note if record.entry.count == old or record.entry.of == old] or same_note
    different = list({record.entry: record for record in same_note}.values())
    if len(different) > 1 and old is None:
        choices = _which(different, changed)
        return put_question(books, scene, [Pending(kind="amend_which", entries=(entry,), choices=choices)])
    target = same_note[-1]
    after = replace(target.entry, **changed)
    if target.entry.of is not None and "count" in changed and after.count is not None and after.count > target.entry.of:
        facts = {"of": target.entry.of, "count": after.count}
        return put_question(books, scene, [Pending(kind="count_above", entries=(entry,), facts=facts)])
    if after == target.entry:
        return Refused(why="nothing_changed")
    if entry.trays and not target.entry.lots and target.entry.act not in _OPENING:
        return _move(books, scene, [record for record in records if record.entry == target.entry], after)
    twins = [record for record in records if record.entry == target.entry]
    return amend_to(books, scene, twins, target.entry, after)


def _which(records: Sequence[Record], changed: dict[str, Any]) -> tuple[Choice, ...]:
    """A button for each record that a correction could mean, labelled with what it would then say."""
    return tuple(
        Choice(label="reading", action={"choose": replace(record.entry, **changed).as_keys(), "amend": record.number})
        for record in records[:6]
    )


def amend_record(books: Books, scene: Scene, number: int, after: Entry) -> Answer:
    """Corrects one record, by the button that says which."""
    record = books.record(number)
    if record is None or not record.holds():
        return Refused(why="old_button")
    return amend_to(books, scene, [record], record.entry, after)


def amend_to(books: Books, scene: Scene, twins: Sequence[Record], before: Entry, after: Entry) -> Answer:
    """Writes `after` in place of `twins`, the records of one entry, and says what stood before."""
    _supersede(books, scene, twins, after)
    lots = refold_all(books, scene, twins)
    plan = replan(books, subjects_of(twins), scene.now)
    return Corrected(
        before=before,
        after=after,
        lots=tuple(lot for lot in (books.lot(number) for number in lots) if lot is not None),
        plan=plan,
        choices=(Choice(label="undo", action={"undo": scene.key}),),
    )


def _move_to_lot(books: Books, scene: Scene, records: Sequence[Record], entry: Entry) -> Answer:
    moved = [record for record in records if record.message == records[-1].message and record.lot]
    if not moved:
        return Refused(why="nothing_to_amend")
    opened = [record for record in moved if record.entry.act in _OPENING]
    if opened:
        return Refused(why="lot_keeps_number", facts={"lot": opened[-1].lot})
    return _move(books, scene, moved, replace(moved[-1].entry, lots=entry.lots))


def _move(books: Books, scene: Scene, moved: Sequence[Record], after: Entry) -> Answer:
    """Writes records anew for the lots and trays that `after` names, each with its own act."""
    before = moved[-1].entry
    placed = place(books, after, year=scene.year(), reuse=[])
    if isinstance(placed, Unplaced):
        return Asked(kind=placed.kind, entry=placed.entry, facts=placed.facts)
    written: list[Record] = []
    for original in {record.entry: record for record in moved}.values():
        entry = replace(original.entry, lots=after.lots, trays=after.trays)
        if original.entry == before:
            entry = after
        for number in placed.lots or (None,):
            lot = books.lot(number) if number else None
            trays = after.trays or (lot.trays if lot else ())
            written.append(books.write(replace(draft_after(scene, original, entry), lot=number, trays=trays)))
    books.supersede([record.number for record in moved], by=written[0].number)
    refold_all(books, scene, [*moved, *written])
    plan = replan(books, subjects_of([*moved, *written]), scene.now)
    lots = tuple(lot for lot in (books.lot(number) for number in placed.lots) if lot is not None)
    return Corrected(
        before=before,
        after=after,
        lots=lots,
        plan=plan,
        choices=(Choice(label="undo", action={"undo": scene.key}),),
    )


def withdraw(books: Books, scene: Scene, message: str) -> tuple[Record, ...]:
    """Sets aside what an edited message had recorded, and frees the lot numbers that it opened, for the new reading."""
    records = tuple(record for record in books.records_of_message(message) if record.holds())
    opened = [record.lot for record in records if record.lot and record.entry.act in _OPENERS and _opens(books, record)]
    scene.reuse.extend(dict.fromkeys(opened))
    mark = _write_mark(books, scene, Entry(act=Act.AMEND))
    books.supersede([record.number for record in records], by=mark.number)
    refold_all(books, scene, records)
    return records


def _opens(books: Books, record: Record) -> bool:
    """True where this record is the first that holds in its lot's history."""
    assert record.lot is not None
    history = [other for other in books.lot_records(record.lot) if other.holds()]
    return bool(history) and min(history, key=Record.order).number == record.number


def _corrigible(books: Books, scene: Scene, entry: Entry) -> list[Record]:
    if scene.replied_records:
        return [record for record in scene.replied_records if record.holds()]
    only_lots = entry.lots and not any(
        getattr(entry, part.name) not in (None, (), False) for part in fields(Entry) if part.name not in _ABOUT_THE_NOTE
    )
    if entry.lots and not only_lots:
        number = books.resolve(entry.lots[0], scene.year())
        return [record for record in books.lot_records(number) if record.holds()] if number else []
    last = books.last_message_with_records(scene.speaker, scene.chat, but=_NOT_ACTS)
    return [record for record in books.records_of_message(last) if record.holds()] if last else []


def _has_keys(entry: Entry, changed: dict[str, object]) -> bool:
    return all(getattr(entry, name) not in (None, (), False) for name in changed)


def _wrong_value(entry: Entry) -> int | None:
    """The number that a correction says was wrong ("36 not 63"), where it says one."""
    found = re.search(r"\bnot (\d+)\b", entry.rest or "")
    return int(found.group(1)) if found else None


def _supersede(books: Books, scene: Scene, records: Sequence[Record], after: Entry) -> None:
    for record in records:
        written = books.write(
            replace(draft_after(scene, record, after), lot=record.lot, trays=after.trays or record.trays)
        )
        books.supersede([record.number], by=written.number)


def draft_after(scene: Scene, record: Record, after: Entry) -> RecordDraft:
    """The corrected record: done when the first one was, said now."""
    return RecordDraft(
        lot=record.lot,
        trays=record.trays,
        entry=after,
        at=record.at,
        said_at=record.said_at,
        by=after.by or record.by,
        told_by=scene.speaker,
        said=scene.message.text,
        message=scene.key,
        reminder=record.reminder,
    )


def _write_mark(books: Books, scene: Scene, entry: Entry) -> Record:
    return books.write(scene.draft(entry))


def refold_all(books: Books, scene: Scene, records: Sequence[Record]) -> tuple[str, ...]:
    numbers = tuple(dict.fromkeys(record.lot for record in records if record.lot))
    for number in numbers:
        refold(books, scene, number)
    return numbers
