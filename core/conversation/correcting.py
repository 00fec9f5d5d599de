"""How a note is corrected by words: which record, what it then says, and what is asked before it is written.

Rules
1. "no wait 27" corrects what was told just before (corrigible.py), in the place that the record has for it
   (fitting.py). Where several records could be meant, it is asked which; what is old is shown first.
2. A lot or a tray named moves the record there. What was said of a tray does not follow to a lot that stands elsewhere.
3. A corrected record is doubted as a new one would be.
4. The record is written anew by a later one that supersedes it; its time is its own, unless the day is corrected.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from core.answers import Answer, Choice, Corrected, Refused
from core.conversation.airing_words import said_as_before
from core.conversation.asking import put_question
from core.conversation.before_it_began import ask_what_began, begins_too_late
from core.conversation.correction_doubts import doubt_of
from core.conversation.corrigible import Meant, meant
from core.conversation.fitting import given
from core.conversation.lot_or_count import other_reading
from core.conversation.other_deed import says_instead
from core.conversation.placing import OPENING, Unplaced, place
from core.conversation.recording import Pending, subjects_of
from core.conversation.replanning import replan
from core.conversation.scene import Scene
from core.conversation.taking_back import refold_all
from core.entries import Act, Entry
from core.lots import air_is_over
from core.lots.trays import lots_in
from core.records import Record, instant_of
from core.storage import Books, RecordDraft

_OPENS = OPENING | {Act.SOW}


def amend(books: Books, scene: Scene, told: Entry) -> Answer:
    """Corrects what was told before with what `told` gives, or asks which record it means."""
    found = meant(books, scene, told)
    if not given(told) and not told.lots:
        if not found.reached:
            return Refused(why="nothing_to_amend")
        facts = {"names": told.rest} if told.rest in ("lot", "tray", "who") else {}
        facts |= {"message": found.fits[0][0].message} if found.fits else {}
        return put_question(
            books, scene, [Pending(kind="amend_what", entries=(replace(told, rest=None),), facts=facts)]
        )
    fits = _near_enough(_with_places(books, scene, found, told), found, told)
    other = other_reading(books, scene, told, fits[-1] if fits else None, found.latest) if len(fits) < 2 else None
    if other is not None:
        fits = (other, *fits)
    if not fits:
        return Refused(why="nothing_to_amend")
    record, after = fits[-1]
    if len(fits) == 1 and (found.old or other is not None):
        return ask_before_changing(books, scene, told, record, after)
    if len(fits) > 1:
        return ask_which_record(books, scene, told, fits)
    if begins_too_late(books, scene, record, after):
        return ask_what_began(books, scene, told, record, after) or ask_before_changing(
            books, scene, told, record, after
        )
    before = record.entry
    if before.of is not None and after.count is not None and after.of == before.of and after.count > before.of:
        more = {"of": before.of, "count": after.count}
        return put_question(books, scene, [Pending(kind="count_above", entries=(told,), facts=more)])
    if _may_be_another(books, scene, told, record, after):
        return _instead_or_own(books, scene, told, record, after)
    return amend_record(books, scene, record.number, after)


def _may_be_another(books: Books, scene: Scene, told: Entry, record: Record, after: Entry) -> bool:
    """Whether the lot and the count are both said, and neither is the record's; or another deed with its own count
    after a mere "no"."""
    if told.did is not None:
        return told.count is not None and not says_instead(scene.message.text)
    if not told.lots or told.count is None or scene.replied_records:
        return False
    return record.lot not in _resolved(books, scene, told.lots) and record.entry.count not in (None, after.count)


def _instead_or_own(books: Books, scene: Scene, told: Entry, record: Record, after: Entry) -> Answer:
    own = replace(told, act=Act(told.did or record.entry.act), did=None, rest=None)
    if record.lot is not None and not own.lots:
        own = replace(own, lots=(record.lot,))
    return ask_instead_or_own(books, scene, told, record, after, own)


def ask_instead_or_own(books: Books, scene: Scene, told: Entry, record: Record, after: Entry, own: Entry) -> Answer:
    """Asks whether a note puts `record` right, which then says `after`, or is `own`, one more note."""
    choices = (
        Choice(label="instead", action={"choose": after.as_keys(), "amend": record.number}),
        Choice(label="of_its_own", action={"choose": own.as_keys()}),
    )
    facts = {"before": record.entry.as_keys()}
    return put_question(books, scene, [Pending(kind="amend_or_new", entries=(told,), choices=choices, facts=facts)])


def ask_which_record(books: Books, scene: Scene, told: Entry, fits: Sequence[tuple[Record, Entry]]) -> Answer:
    """Asks which of several records is meant, with a button for each, labelled with what it would then say."""
    choices = tuple(
        Choice(label="reading", action={"choose": after.as_keys(), "amend": record.number})
        for record, after in fits[:6]
    )  # fmt: skip
    return put_question(books, scene, [Pending(kind="amend_which", entries=(told,), choices=choices)])


def ask_before_changing(books: Books, scene: Scene, told: Entry, record: Record, after: Entry) -> Answer:
    """Shows a note that may be meant with what it would then say, and asks."""
    if after == record.entry:
        return Refused(why="nothing_changed")
    facts = {
        "by": record.told_by if record.told_by != scene.speaker else None,
        "day": record.said_at.astimezone(scene.zone).date().isoformat(),
        "before": record.entry.as_keys(),
        "after": after.as_keys(),
    }
    yes = Choice(label="yes", action={"choose": after.as_keys(), "amend": record.number})
    choices = (yes, Choice(label="no", action={"drop": True}))
    return put_question(books, scene, [Pending(kind="amend_old", entries=(told,), choices=choices, facts=facts)])


def _with_places(books: Books, scene: Scene, found: Meant, told: Entry) -> tuple[tuple[Record, Entry], ...]:
    if not told.lots and not told.trays:
        return _changing(found.fits)
    moved: dict[tuple[str, Entry, Entry], tuple[Record, Entry]] = {}
    every = [(record, _moved_to(books, scene, record, after, told)) for record, after in found.fits]
    for record, placed in _changing(every):
        # A note of several acts on the same lots moves as one.
        alone = placed if given(told) else replace(Entry(act=Act.NOTE), lots=placed.lots, trays=placed.trays)
        moved[(record.message, replace(Entry(act=Act.NOTE), lots=record.entry.lots), alone)] = (record, placed)
    return tuple(moved.values())


def _moved_to(books: Books, scene: Scene, record: Record, after: Entry, told: Entry) -> Entry:
    """The entry with the lots and trays that the correction names, and without those that are no longer meant."""
    before = record.entry
    if before.act in _OPENS:
        named_anew = told.lots if told.lots and not given(told) else after.lots
        return replace(after, lots=named_anew, trays=told.trays or after.trays)
    if told.lots:
        standing = {tray for lot in map(books.lot, _resolved(books, scene, told.lots)) if lot for tray in lot.trays}
        kept = before.trays if set(before.trays) <= standing else ()
        return replace(after, lots=told.lots, trays=told.trays or kept)
    lots = {lot.number for tray in told.trays for lot in lots_in(tray, books.lots())}
    stays = before.lots if lots & set(_resolved(books, scene, before.lots)) else ()
    return replace(after, lots=stays, trays=told.trays)


def _near_enough(fits: tuple[tuple[Record, Entry], ...], found: Meant, told: Entry) -> tuple[tuple[Record, Entry], ...]:
    """Those that a bare number may mean: as an hour or a tray it means the latest note alone."""
    if found.latest is None or set(given(told)) != {"count"}:
        return fits
    last = found.latest.message
    return tuple(
        (record, after)
        for record, after in fits
        if record.message == last or (record.entry.on, record.entry.trays) == (after.on, after.trays)
    )


def _changing(fits: Sequence[tuple[Record, Entry]]) -> tuple[tuple[Record, Entry], ...]:
    """Those whose record does not say so already; all, where all do."""
    return tuple((record, after) for record, after in fits if after != record.entry) or tuple(fits)


def _resolved(books: Books, scene: Scene, texted: Sequence[str]) -> list[str]:
    return [number for number in (books.resolve(one, scene.year()) for one in texted) if number]


def amend_record(books: Books, scene: Scene, number: int, after: Entry, *, forced: Sequence[str] = ()) -> Answer:
    """Corrects one record, and the records of the same entry beside it, unless something speaks against it."""
    record = books.record(number)
    if record is None:
        return Refused(why="old_button")
    before = record.entry
    if after == before:
        return Refused(why="nothing_changed")
    beside = books.records_of_message(record.message)
    twins = [one for one in beside if one.entry == before and one.holds() == record.holds()]
    if before.act in _OPENS and after.lots != before.lots:
        return Refused(why="lot_keeps_number", facts={"lot": record.lot})
    moves = (after.lots, after.trays) != (before.lots, before.trays) and before.act not in _OPENS
    if moves and replace(after, lots=before.lots, trays=before.trays) == before:
        twins = [one for one in beside if one.entry.lots == before.lots and one.holds() == record.holds()]
        twins = [one for one in twins if one.entry.act not in (Act.UNDO, Act.AMEND, *_OPENS)]
    placed = place(books, after, year=scene.year(), reuse=[]) if moves else None
    if isinstance(placed, Unplaced):
        return _ask_where(books, scene, record, after, placed)
    lots = placed.lots if placed is not None else tuple(one.lot for one in twins if one.lot)
    going = {replace(one.entry, lots=after.lots, trays=after.trays) for one in twins if moves and one.entry != before}
    doubts = (doubt_of(books, scene, twins, one, lots, moves=moves) for one in (after, *going))
    doubt = next((one for one in doubts if one is not None), None)
    if doubt is not None and doubt.kind not in forced:
        yes = Choice(label="yes", action={"choose": after.as_keys(), "amend": number})
        choices = (yes, Choice(label="no", action={"drop": True}))
        pending = Pending(kind=doubt.kind, entries=(after,), choices=choices, facts=doubt.facts, forced=(doubt.kind,))
        return put_question(books, scene, [pending])
    if moves:
        return _move(books, scene, twins, before, after, lots)
    return amend_to(books, scene, twins, before, after)


def _ask_where(books: Books, scene: Scene, record: Record, after: Entry, placed: Unplaced) -> Answer:
    """Which lot of those in the tray the correction means; an unknown lot changes nothing."""
    if "unknown" in placed.facts or not placed.choices:
        return Refused(why="no_lot", facts={"unknown": placed.facts.get("unknown", "of that")})
    choices = tuple(
        Choice(
            label=one.label,
            action={"choose": replace(after, lots=tuple(one.action["fill"]["lots"])).as_keys(), "amend": record.number},
        )
        for one in placed.choices
        if "lots" in one.action.get("fill", {})
    )
    pending = Pending(kind=placed.kind, entries=(placed.entry,), choices=choices, facts=placed.facts)
    return put_question(books, scene, [pending])


def amend_to(books: Books, scene: Scene, twins: Sequence[Record], before: Entry, after: Entry) -> Answer:
    """Writes `after` in place of `twins`, the records of one entry, and says what stood before."""
    written = [
        books.write(replace(draft_after(scene, record, after), trays=after.trays or record.trays)) for record in twins
    ]
    for record, later in zip(twins, written, strict=True):
        if record.holds():
            books.supersede([record.number], by=later.number)
    return _corrected(books, scene, [*twins, *written], before, after)


def _move(
    books: Books, scene: Scene, moved: Sequence[Record], before: Entry, after: Entry, lots: Sequence[str]
) -> Answer:
    """Writes records anew for the lots and trays that `after` names, each with its own act."""
    written: list[Record] = []
    for original in {record.entry: record for record in moved}.values():
        entry = replace(original.entry, lots=after.lots, trays=after.trays)
        if original.entry == before:
            entry = after
        for number in lots or (None,):
            lot = books.lot(number) if number else None
            trays = after.trays or (lot.trays if lot else ())
            written.append(books.write(replace(draft_after(scene, original, entry), lot=number, trays=trays)))
    books.supersede([record.number for record in moved if record.holds()], by=written[0].number)
    beside = tuple(dict.fromkeys(one.entry for one in written if one.entry != after))
    return replace(_corrected(books, scene, [*written, *moved], before, after, lots), beside=beside)


def _corrected(
    books: Books,
    scene: Scene,
    touched: Sequence[Record],
    before: Entry,
    after: Entry,
    shown: Sequence[str] | None = None,
) -> Corrected:
    lots = refold_all(books, scene, touched)
    plan = replan(books, subjects_of(touched), scene.now)
    written = [one for one in touched if one.entry == after and one.message == scene.key]
    return Corrected(
        before=before,
        after=after,
        over=air_is_over(written[-1]) if written and after.act is Act.AIR else None,
        lots=tuple(lot for lot in map(books.lot, lots if shown is None else shown) if lot is not None),
        plan=plan,
        choices=(Choice(label="undo", action={"undo": scene.key}),),
    )


def draft_after(scene: Scene, record: Record, after: Entry) -> RecordDraft:
    """The corrected record: done when the first one was, unless that is what is corrected; said now."""
    moved = after.on != record.entry.on and after.act is not Act.ROSTER
    return RecordDraft(
        lot=record.lot,
        trays=record.trays,
        entry=after,
        at=instant_of(after.on, record.said_at, scene.zone) if moved else record.at,
        said_at=record.said_at,
        by=after.by or record.by,
        told_by=scene.speaker,
        said=said_as_before(scene.message.text, [record], after),
        message=scene.key,
        reminder=record.reminder,
    )
