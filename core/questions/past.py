"""What happened, and who did it: questions of the record, where no record is never taken for no."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from datetime import date, datetime

from core.answers import Answer, HistoryTold, LotTold, MostTold, Refused
from core.entries import Act, Entry
from core.lots import Lot
from core.lots.phrases import says
from core.lots.trays import tray_name
from core.questions.as_it_was import lots_on, until
from core.questions.asked_words import asked_words
from core.questions.deeds import TALK, by_those, deed_of_who, number_asked, records_asked, things_asked
from core.questions.present import cover_of
from core.questions.rota import who_is_on
from core.questions.spans import span_asked
from core.questions.subjects import asked_lots
from core.questions.troubles import trouble_asked
from core.records import Record, local_day
from core.storage import Books

MOST_TOLD = 5
MOST_OF_A_LOT = 2
MOST_OF_A_STORY = 8
_STORY = re.compile(r"\b(did|done|happen(?:ed|s)?|history|everything|story)\b")
"""Words that ask for what was done with a lot, not how it stands."""
_NO_STEP = frozenset({"daily_look", "quiet_tray", "old_count"})


def what_happened(books: Books, entry: Entry, words: str, now: datetime) -> Answer:
    """The records that answer "did anyone mist tray 2", "when was it last watered", "what did we do with lot 14"."""
    if entry.did is None and not entry.who and len(entry.lots) == 1 and entry.lots != ("all",):
        today = local_day(now, books.crew.zone)
        span = span_asked(entry.on, words, today)
        if span is None:
            return how_it_stands(books, entry, now, story=bool(_STORY.search(words)))
        if span[1] < today and says(words, asked_words()["stood"]["says"]):
            return _how_it_stood(books, entry, now, span[1])
    return _told(books, entry, words, now, most=MOST_TOLD * 2 if entry.did is None else MOST_TOLD)


def _told(books: Books, entry: Entry, words: str, now: datetime, *, most: int) -> HistoryTold | Refused:
    """The records asked for; of one person's deeds, where none are found, the newest of others' instead."""
    found = records_asked(books, entry, words, now)
    if isinstance(found, Refused):
        return found
    own = by_those(found, entry.who, words)
    if says(words, asked_words()["first"]["says"]):
        own = sorted(own, key=Record.order)[:1]
    told = _history(own, entry, most=most)
    others = _once_a_note(sorted(found, key=Record.order, reverse=True))[:1] if entry.did is not None else []
    return replace(
        told,
        span=span_asked(entry.on, words, local_day(now, books.crew.zone)),
        by=entry.who,
        others=tuple(others) if entry.who and not own else (),
        asked=_named(entry) or _things(entry, words) or trouble_asked(entry) or "",
    )


def how_it_stands(books: Books, entry: Entry, now: datetime, *, story: bool = False) -> Answer:
    """One lot: what it is now, what was noted last, what is due next; with its `story`, more of it and how its
    reminders were answered."""
    asked = asked_lots(books, entry, now, closed_too=True)
    if asked.unknown:
        return Refused(why="no_lot", facts={"unknown": asked.unknown})
    lot = asked.lots[0]
    holding = [one for one in books.lot_records(lot.number) if one.holds() and one.entry.act not in TALK | {Act.REPLY}]
    holding += _answers_to_reminders(books, lot) if story else []
    most = MOST_OF_A_STORY if story else MOST_OF_A_LOT
    newest = _once_a_note(sorted(holding, key=Record.order, reverse=True))[:most]
    names = {lot.number, *lot.trays}
    dues = [row.due for row in books.open_reminders() if row.due.subject.name in names]
    dues = sorted((due for due in dues if due.kind not in _NO_STEP), key=lambda due: due.due_at)
    covers = tuple((tray, cover_of(books, tray, now)) for tray in lot.trays)
    return LotTold(lot=lot, records=tuple(newest), dues=tuple(dues[:1]), covers=covers)


def _how_it_stood(books: Books, entry: Entry, now: datetime, day: date) -> Answer:
    """One lot as it stood at the end of a day, with what was noted last until then."""
    asked = asked_lots(books, entry, now, then=lots_on(books, day))
    if asked.unknown:
        return Refused(why="no_lot", facts={"unknown": asked.unknown})
    if not asked.lots:
        return HistoryTold(records=(), asked=_named(entry), span=(date.min, day))
    told = until(books.lot_records(asked.lots[0].number), day, books)
    newest = sorted((one for one in told if one.entry.act not in TALK | {Act.REPLY}), key=Record.order, reverse=True)
    return LotTold(lot=asked.lots[0], on=day, records=tuple(_once_a_note(newest)[:MOST_OF_A_LOT]))


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


def who_did(books: Books, entry: Entry, words: str, now: datetime) -> Answer:
    """Who is at the bench (no deed asked about, or a day to come), or who did something, or did it most."""
    today = local_day(now, books.crew.zone)
    deed = deed_of_who(entry, words, now)
    to_come = entry.on is not None and (entry.on.date() if isinstance(entry.on, datetime) else entry.on) > today
    if to_come or (deed.did is None and not entry.lots and not entry.trays and not entry.who):
        return who_is_on(books, entry, words, now)
    if deed.did is not None and says(words, asked_words()["most"]["says"]):
        found = records_asked(books, replace(deed, rest=None), words, now)
        return found if isinstance(found, Refused) else MostTold(did=deed.did, people=_tally(found))
    told = _told(books, deed, words, now, most=MOST_TOLD)
    return replace(told, who=True) if isinstance(told, HistoryTold) else told


def _tally(found: Sequence[Record]) -> tuple[tuple[str, int], ...]:
    """How many each person did it to, the most first; of what is not counted, how often."""
    told = {(one.message, one.entry, one.lot): one for one in found}.values()
    counts = any(one.entry.count for one in told)
    sums: dict[str, int] = {}
    for one in told if counts else _once_a_note(list(found)):
        sums[one.by] = sums.get(one.by, 0) + ((one.entry.count or 0) if counts else 1)
    return tuple(sorted(((who, count) for who, count in sums.items() if count), key=lambda one: (-one[1], one[0])))


def _history(found: Sequence[Record], entry: Entry, *, most: int) -> HistoryTold:
    """The newest of these records, each with all the lots that its act was told of."""
    newest = sorted(found, key=Record.order, reverse=True)
    told = _once_a_note(newest)[:most]
    lots = [[other.lot for other in newest if other.lot and _same_act(one, other)] for one in told]
    return HistoryTold(
        records=tuple(told),
        asked="",
        did=entry.did,
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
    return entry.plant or entry.solution or ""


def _things(entry: Entry, words: str) -> str:
    """The things that a question of cleaning names, in its own words, or the number that "who counted 41" names."""
    if number_asked(entry) is not None:
        return f"anything with the number {entry.rest}"
    return f"the {entry.rest}" if entry.rest and things_asked(entry, words) else ""
