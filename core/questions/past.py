"""What happened, and who did it: questions of the record, where no record is never taken for no."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta

from core.answers import Answer, HistoryTold, LotTold, Refused, WhoTold
from core.entries import Act, Entry
from core.lots import Lot, stays
from core.lots.trays import tray_name
from core.notes import act_of_word
from core.questions.present import cover_of
from core.questions.subjects import asked_lots
from core.records import Record, local_day
from core.reminders.roster import on_shift
from core.storage import Books

RECENT = timedelta(days=14)
MOST_TOLD = 5
MOST_OF_A_LOT = 2
MOST_OF_A_STORY = 8
_STORY = re.compile(r"\b(did|done|happen(?:ed|s)?|history|everything|story)\b")
"""Words that ask for what was done with a lot, not how it stands."""
_NO_STEP = frozenset({"daily_look", "quiet_tray", "old_count"})
_TALK = frozenset({Act.UNDO, Act.AMEND, Act.ASK, Act.HELLO})


def what_happened(books: Books, entry: Entry, words: str, now: datetime) -> Answer:
    """The records that answer "did anyone mist tray 2", "when was it last watered", "what did we do with lot 14"."""
    if entry.did is None and entry.on is None and len(entry.lots) == 1 and entry.lots != ("all",):
        return how_it_stands(books, entry, now, story=bool(_STORY.search(words)))
    found = _records_asked(books, entry, now)
    if isinstance(found, Refused):
        return found
    day = entry.on.date() if isinstance(entry.on, datetime) else entry.on
    told = _history(found, entry, entry.did, most=MOST_TOLD * 2 if entry.did is None else MOST_TOLD)
    return replace(told, on=day)


def how_it_stands(books: Books, entry: Entry, now: datetime, *, story: bool = False) -> Answer:
    """One lot: what it is now, what was noted last, what is due next; with its `story`, more of it and how its
    reminders were answered."""
    asked = asked_lots(books, entry, now, closed_too=True)
    if asked.unknown:
        return Refused(why="no_lot", facts={"unknown": asked.unknown})
    lot = asked.lots[0]
    holding = [one for one in books.lot_records(lot.number) if one.holds() and one.entry.act not in _TALK | {Act.REPLY}]
    holding += _answers_to_reminders(books, lot) if story else []
    most = MOST_OF_A_STORY if story else MOST_OF_A_LOT
    newest = _once_a_note(sorted(holding, key=Record.order, reverse=True))[:most]
    names = {lot.number, *lot.trays}
    dues = [row.due for row in books.open_reminders() if row.due.subject.name in names]
    dues = sorted((due for due in dues if due.kind not in _NO_STEP), key=lambda due: due.due_at)
    covers = tuple((tray, cover_of(books, tray, now)) for tray in lot.trays)
    return LotTold(lot=lot, records=tuple(newest), dues=tuple(dues[:1]), covers=covers)


def _answers_to_reminders(books: Books, lot: Lot) -> list[Record]:
    """How the reminders of a lot and of its trays were answered since it was opened, by "done", "skip" or "not yet"."""
    found = {one.number: one for one in books.lot_records(lot.number)}
    for tray in lot.trays:
        found.update((one.number, one) for one in books.tray_records(tray) if one.at >= lot.opened_at)
    return [
        one
        for one in found.values()
        if one.holds() and one.entry.act is Act.REPLY and one.reminder is not None and one.entry.answer != "later"
    ]


def who_did(books: Books, entry: Entry, now: datetime) -> Answer:
    """Who is at the bench (no act asked about), or who did something."""
    act = entry.did or _act_in_words(entry.rest)
    if act is None and not entry.lots and not entry.trays:
        day = entry.on.date() if isinstance(entry.on, datetime) else entry.on
        names = on_shift(books.records(acts=("roster",)), now, books.crew.zone, day=day)
        return WhoTold(names=names, asked="bench", facts={"day": day.isoformat() if day else None})
    found = _records_asked(books, entry, now, act=act)
    if isinstance(found, Refused):
        return found
    return replace(_history(found, entry, act, most=MOST_TOLD), who=True)


def _history(found: Sequence[Record], entry: Entry, did: str | None, *, most: int) -> HistoryTold:
    """The newest of these records, each with all the lots that its act was told of."""
    newest = sorted(found, key=Record.order, reverse=True)
    told = _once_a_note(newest)[:most]
    lots = [[other.lot for other in newest if other.lot and _same_act(one, other)] for one in told]
    return HistoryTold(
        records=tuple(told),
        asked=_named(entry),
        did=did,
        lots=tuple(tuple(sorted(dict.fromkeys(row))) for row in lots),
        silent=_silent(newest, entry) if told else (),
    )


def _silent(found: Sequence[Record], entry: Entry) -> tuple[str, ...]:
    """Those of several trays, or of several lots, that none of these records is of."""
    if entry.lots:
        known = {word for one in found for word in (one.lot, *one.entry.lots) if word}
        short = {one.rpartition("-")[2].lstrip("0") for one in known}
        return tuple(f"lot {one}" for one in entry.lots if one not in known | short) if len(entry.lots) > 1 else ()
    known = {tray_name(tray) for one in found for tray in (*one.trays, *one.entry.trays)}
    named = [tray_name(tray) for tray in entry.trays if tray != "all"]
    return tuple(f"tray {one}" for one in named if one not in known) if len(named) > 1 else ()


def _records_asked(books: Books, entry: Entry, now: datetime, act: str | None = None) -> list[Record] | Refused:
    did = act or entry.did
    acts = _acts_of(did) if did else None
    if entry.lots or entry.plant:
        asked = asked_lots(books, entry, now, closed_too=True)
        if asked.unknown:
            return Refused(why="no_lot", facts={"unknown": asked.unknown})
        records = [record for lot in asked.lots for record in books.lot_records(lot.number)]
    elif entry.trays:
        records = [record for tray in entry.trays for record in _of_the_tray(books, tray)]
    elif entry.solution:
        records = [
            one for one in books.records(acts=("mix", "pour_out", "sanitize")) if one.entry.solution == entry.solution
        ]
    else:
        records = list(books.records(since=now - RECENT))
    zone = books.crew.zone
    day: date | None = entry.on.date() if isinstance(entry.on, datetime) else entry.on
    return [
        record
        for record in records
        if record.holds()
        and record.entry.act not in _TALK
        and (acts is None or record.entry.act in acts)
        and (entry.method is None or record.entry.method in (entry.method, None))
        and (day is None or local_day(record.at, zone) == day)
    ]


def _of_the_tray(books: Books, tray: str) -> list[Record]:
    """The records that count for a tray; of one note of several lots, those of the lots that stood there."""
    name, told = tray_name(tray), list(books.tray_records(tray))
    lots = {record.lot for record in told if record.lot}
    there = [stay for stay in stays(one for lot in lots for one in books.lot_records(lot)) if stay.tray == name]
    of_it = {
        record.number
        for record in told
        if record.lot is None
        or name in map(tray_name, record.entry.trays)
        or any(stay.lot == record.lot and stay.holds_at(record.at) for stay in there)
    }
    notes = {record.message for record in told if record.number in of_it}
    return [record for record in told if record.number in of_it or record.message not in notes]


def _acts_of(did: str) -> frozenset[Act]:
    """The acts that a question's word stands for: "weaned" is airing and uncovering, "covered" is the cover."""
    if did in ("air", "wean"):
        return frozenset({Act.AIR, Act.UNCOVER})
    try:
        return frozenset({Act(did)})
    except ValueError:
        return frozenset(Act) - _TALK


def _act_in_words(rest: str | None) -> str | None:
    """The act that the left-over words of a question name ("stuck" in "who stuck lot 14")."""
    return next((act for act in map(act_of_word, (rest or "").split()) if act), None)


def _once_a_note(records: list[Record]) -> list[Record]:
    """One record for each act of a note, however many lots it went to."""
    seen: dict[tuple[str, Entry], Record] = {}
    for record in records:
        seen.setdefault((record.message, record.entry), record)
    return list(seen.values())


def _same_act(one: Record, other: Record) -> bool:
    return (one.message, one.entry) == (other.message, other.entry)


def _named(entry: Entry) -> str:
    if entry.lots:
        return "lot " + ", ".join(entry.lots)
    if entry.trays:
        return "tray " + ", ".join(entry.trays)
    return entry.plant or entry.solution or "the bench"
