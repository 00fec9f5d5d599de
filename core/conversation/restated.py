"""Which record a correction means that says what was wrong, and how it is put right: "the rot was 6", "mira's was 13".

Rules
1. The speaker's own notes of the talk come first, then what others told in it, then the notes of the week, then what
   is in the books of the lot that is named. A note that was corrected is still the note that it was.
2. What is not of this talk, or is somebody else's, is shown before it is changed; where several records fit it is
   asked which.
3. Several numbers are put right together only where each has one record of this talk.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import timedelta

from core.answers import Answer, Refused
from core.conversation.claims import Claim, claims_of, is_kind, says_it_corrects, wrong_alone
from core.conversation.contrasted import ADDS_UP
from core.conversation.correcting import (
    amend_record,
    amend_to,
    ask_before_changing,
    ask_instead_or_own,
    ask_which_record,
)
from core.conversation.fitting import fitted
from core.conversation.left_out import one_undo, what_is_right
from core.conversation.lots_restated import claims_in_lots
from core.conversation.placing import OPENING
from core.conversation.scene import TALK_LASTS, Scene
from core.conversation.told_before import first_told, notes_told, own_and_others
from core.entries import Act, Entry
from core.lots.by_plant import lots_of_plant
from core.notes import Reading, read
from core.records import Record, local_day
from core.storage import Books

_REACH = timedelta(days=8)
_NO_DEED = frozenset({Act.NOTE, Act.AMEND})
_BEGINS = OPENING | {Act.SOW}

Fits = tuple[tuple[Record, Entry], ...]


def hear_restated(books: Books, scene: Scene, reading: Reading) -> tuple[Answer, ...]:
    """The answers to words that say what was wrong in a note and what is right; none for other words."""
    lacking = {ask.entry for ask in reading.asks}
    deeds = [one for at, one in enumerate(reading.entries) if at not in lacking and one.act not in _NO_DEED]
    text = scene.message.text
    in_lots = claims_in_lots(scene, text) if not scene.replied_reminders else ()
    claims = in_lots or (claims_of(scene, text) if not scene.replied_reminders else ())
    wrong = wrong_alone(scene, text) if not claims and not scene.replied_reminders else None
    if wrong is not None:
        return _ask_what_is_right(books, scene, wrong)
    if deeds and not all(one.sure for one in claims):
        return _adding_up(books, scene, deeds, claims)
    found = [_meant(books, scene, one) for one in claims]
    if not found or not all(fits for fits, _ in found):
        return ()
    if in_lots and not all(fresh for _, fresh in found):
        return ()
    if len(found) > 1:
        return _together(books, scene, found)
    fits, fresh = found[0]
    told = Entry(act=Act.AMEND)
    fits = (*fits, *_opening_too(books, scene, claims[0], fits))
    changing = tuple((record, after) for record, after in fits if after != record.entry)
    if not changing:
        return (Refused(why="nothing_changed"),)
    if len(changing) > 1:
        return (ask_which_record(books, scene, told, changing),)
    record, after = changing[0]
    if not fresh:
        return (ask_before_changing(books, scene, told, record, after),)
    if len(record.entry.lots) > 1 and (claims[0].lots or claims[0].plant):
        return (amend_to(books, scene, [record], record.entry, replace(after, lots=(record.lot or "",))),)
    return (amend_record(books, scene, record.number, after),)


def _ask_what_is_right(books: Books, scene: Scene, claim: Claim) -> tuple[Answer, ...]:
    """The question what is right of the latest note that a claim means; none where nothing told is meant."""
    for records, _ in _sources(books, scene, claim):
        for note in reversed(notes_told(books, records)):
            meant = [one for one in note if is_meant(books, scene, claim, one)]
            if meant:
                return what_is_right(books, scene, meant[0])
    return ()


def _adding_up(books: Books, scene: Scene, deeds: Sequence[Entry], claims: Sequence[Claim]) -> tuple[Answer, ...]:
    """ "The losses in lot 1 were 5", which may be a loss of its own: put right in the talk, else asked."""
    one = claims[0] if len(claims) == len(deeds) == 1 else None
    if one is None or one.kind is None or one.kind.act not in ADDS_UP or not one.of_what_was_counted:
        return ()
    fits, fresh = _meant(books, scene, one)
    changing = tuple((record, after) for record, after in fits if after != record.entry)
    if len(changing) != 1:
        return (ask_which_record(books, scene, Entry(act=Act.AMEND), changing),) if changing else ()
    record, after = changing[0]
    if fresh and _is_the_only_one(books, record):
        return (amend_record(books, scene, record.number, after),)
    return (ask_instead_or_own(books, scene, Entry(act=Act.AMEND), record, after, deeds[0]),)


def _is_the_only_one(books: Books, record: Record) -> bool:
    """Whether the books have no other record of this deed in its lot, so that its number is the whole of it."""
    told = books.lot_records(record.lot) if record.lot is not None else ()
    return sum(one.holds() and one.entry.act is record.entry.act for one in told) == 1


def only_corrects(scene: Scene, reading: Reading) -> Reading:
    """The reading; words alone where it tells a deed, and its words can only put right what nobody told."""
    deeds = [one for one in reading.entries if one.act not in _NO_DEED and one.act is not Act.ASK]
    claims = claims_of(scene, scene.message.text) if deeds and not scene.replied_reminders else ()
    wrong = wrong_alone(scene, scene.message.text) if deeds and not claims else None
    claims = (replace(wrong, sure=True),) if wrong is not None else claims
    if not any(says_it_corrects(one) for one in deeds) and not (
        claims and all(one.sure and one.old is None and not one.is_excepted() for one in claims)
    ):
        return reading
    named = (*(lot for one in claims for lot in one.lots), *(lot for one in deeds for lot in one.lots))
    lots = tuple(dict.fromkeys(named))
    return Reading(entries=(Entry(act=Act.NOTE, lots=lots, text=scene.message.text),), repairs=reading.repairs)


def _together(books: Books, scene: Scene, found: Sequence[tuple[Fits, bool]]) -> tuple[Answer, ...]:
    single = [fits[0] for fits, fresh in found if fresh and len(fits) == 1]
    if len({record.number for record, _ in single}) < len(found):
        return ()
    changing = [(record, after) for record, after in single if after != record.entry]
    return one_undo([amend_record(books, scene, record.number, after) for record, after in changing])


def _meant(books: Books, scene: Scene, claim: Claim) -> tuple[Fits, bool]:
    """The records of one note that a claim means, each as it would be; True where nothing need be asked."""
    for records, fresh in _sources(books, scene, claim):
        if claim.says_only_where():
            every = _of_each_kind(books, scene, claim, notes_told(books, records))
            if every:
                return every, fresh
            continue
        latest_alone = claim.place is not None or not claim.stated
        for note in notes_told(books, records)[::-1][: 1 if latest_alone else None]:
            fits = _of_note(books, scene, claim, note)
            if fits:
                return fits, fresh
    return (), False


def _of_each_kind(books: Books, scene: Scene, claim: Claim, notes: Sequence[Sequence[Record]]) -> Fits:
    """What fits of the latest note of each kind: "the toyon was 13" may mean the rooted as well as the lost."""
    found: dict[tuple[str, str | None, str | None], tuple[Record, Entry]] = {}
    for note in reversed(notes):
        for record, after in _of_note(books, scene, claim, note):
            found.setdefault((record.entry.act, record.entry.state, record.lot), (record, after))
    return tuple(found.values())


def _sources(books: Books, scene: Scene, claim: Claim) -> Iterator[tuple[Sequence[Record], bool]]:
    """Where the record is looked for, in the order of rule 1."""
    if scene.replied_records:
        yield scene.replied_records, True
        return
    own, others = own_and_others(books, scene, TALK_LASTS)
    if claim.is_excepted():
        # What was told last, even where it is a mere note, is what the exception is of.
        last = first_told(books, own[-1]).message if own else ""
        yield [one for one in own if first_told(books, one).message == last], True
        return
    if claim.day is None:
        yield own, claim.who in (None, scene.speaker)
        yield others, False
    if claim.names_little():
        return
    for told in own_and_others(books, scene, _REACH):
        yield told, False
    for texted in (*claim.lots, *map(str, claim.numbers)):
        number = books.resolve(texted, scene.year(), closed_too=True)
        if number is not None and (claim.old is not None or claim.kind is not None or claim.opening):
            yield books.lot_records(number), False


def _of_note(books: Books, scene: Scene, claim: Claim, records: Sequence[Record]) -> Fits:
    listed = list(dict.fromkeys(one.entry for one in records))
    if claim.place is not None:
        told = read(first_told(books, records[0]).said, scene.local_now, scene.names)
        if len(told.entries) != len(listed) or not -len(listed) <= claim.place < len(listed):
            return ()
    chosen = listed[claim.place] if claim.place is not None else None
    found: dict[tuple[Entry, str | None], tuple[Record, Entry]] = {}
    for record in records:
        if (chosen is not None and record.entry != chosen) or not is_meant(books, scene, claim, record):
            continue
        after = _put_right(scene, claim, record)
        if after is not None:
            found[(record.entry, record.lot if claim.lots or claim.plant else None)] = (record, after)
    return tuple(found.values())


def is_meant(books: Books, scene: Scene, claim: Claim, record: Record) -> bool:
    """Whether a record is one that a claim says it means."""
    entry = record.entry
    if entry.act in _BEGINS if claim.to_lots or claim.to_trays else claim.opening and entry.act not in _BEGINS:
        return False
    if claim.who not in (None, record.told_by, record.by):
        return False
    if claim.day is not None and local_day(record.at, scene.zone) != claim.day:
        return False
    if claim.old is not None and claim.old not in (entry.count, entry.of):
        return False
    if claim.kind is not None and not is_kind(entry, claim.kind):
        return False
    if set(claim.trays) - set(record.trays):
        return False
    lots = {number for one in claim.lots if (number := books.resolve(one, scene.year(), closed_too=True))}
    if len(lots) < len(claim.lots) or (lots and record.lot not in lots):
        return False
    if claim.plant is not None and record.lot not in _numbers_of(books, claim.plant):
        return False
    # The one number of "my 31 was 21", "the 15 was 13".
    of_lots = not (claim.to_lots or claim.to_trays)
    return all(
        one in (entry.count, entry.of) or (of_lots and record.lot == books.resolve(str(one), scene.year()))
        for one in claim.numbers
    )


def _opening_too(books: Books, scene: Scene, claim: Claim, fits: Fits) -> Fits:
    """How many a lot began with, where that was wrong as well as what a count was out of ("lot 14 was 70 not 72")."""
    found: list[tuple[Record, Entry]] = []
    for record in (one for one, _ in fits if claim.old is not None and claim.old == one.entry.of and claim.lots):
        books_of = (one for one in books.lot_records(record.lot or "") if one.holds() and one.entry.act in OPENING)
        openings = [one for one in books_of if one.entry.count == claim.old]
        found += [(one, after) for one in openings if (after := _put_right(scene, claim, one)) is not None]
    return tuple(found)


def _numbers_of(books: Books, plant: str) -> frozenset[str | None]:
    return frozenset(lot.number for lot in lots_of_plant(plant, books.lots(open_only=False)))


def _put_right(scene: Scene, claim: Claim, record: Record) -> Entry | None:
    entry = record.entry
    wrong = claim.old if claim.old is not None else next((one for one in claim.numbers if one == entry.of), None)
    if wrong is not None and wrong == entry.of and wrong != entry.count:
        told = Entry(act=Act.AMEND, of=claim.count)
    else:
        told = Entry(act=Act.AMEND, count=claim.count, of=claim.of, on=claim.on)
    if entry.count is None and entry.share is None and not entry.all_of and entry.left is None:
        return None
    if claim.to_lots or claim.to_trays:
        entry = replace(entry, lots=claim.to_lots, trays=claim.to_trays)
    after = fitted(entry, told, scene.message.text, scene.local_now)
    if after is None:
        return None
    return replace(after, cause=claim.kind.cause) if claim.kind is not None and claim.kind.cause else after
