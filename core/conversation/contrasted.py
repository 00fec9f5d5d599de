"""Is a deed told in full a correction, as it says what was wrong: "potted 33 of lot 3, not 30".

Rules
1. Without what was wrong the words tell one deed that lacks nothing, and what was wrong is one detail of it.
2. The record meant is the one that says the wrong detail where the deed says the right one: the speaker's own of the
   talk is put right at once; any other is shown before it is changed.
3. Where the books have no such record, but the same deed of the same lot, it is asked which of the two it is; nothing
   is booked on top of it unasked. What was never told before is a note like any other.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from functools import cache

from core.answers import Answer
from core.conversation.correcting import amend_record, ask_before_changing, ask_instead_or_own, ask_which_record
from core.conversation.fitting import fitted, given
from core.conversation.heard import either
from core.conversation.placing import OPENING, Placed, place
from core.conversation.scene import TALK_LASTS, Scene
from core.conversation.told_before import notes_told, own_and_others
from core.entries import Act, Entry
from core.notes import Reading, read
from core.records import Record, local_day
from core.storage import Books
from core.vocabulary.plants import same_plant

_REACH = timedelta(days=8)
_NO_DEED = frozenset({Act.NOTE, Act.ASK, Act.HELLO, Act.UNDO, Act.AMEND, Act.REPLY})
_OPENS = OPENING | {Act.SOW}
_DETAILS = ("count", "lots", "trays", "on", "container", "cause", "to")
ADDS_UP = frozenset({Act.LOSE, Act.POT, Act.SELL, Act.GIVE, Act.PLANT_OUT, Act.RESERVE, Act.SPLIT})
"""A second note of these counts on top of the first."""
_MOST_WORDS = 3

Fits = tuple[tuple[Record, Entry], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Told:
    """A deed as it is right, and each reading of what was wrong, as the entry of a correction."""

    deed: Entry
    wrong: tuple[Entry, ...]


def hear_contrasted(books: Books, scene: Scene, reading: Reading) -> tuple[Answer, ...]:
    """The answer to a deed that is told with what was wrong before; none for other words."""
    if scene.replied_reminders or any(one.act in _NO_DEED and one.act is not Act.NOTE for one in reading.entries):
        return ()
    told = _told(scene)
    placed = place(books, told.deed, year=scene.year(), reuse=[]) if told is not None else None
    if told is None or not isinstance(placed, Placed):
        return ()
    for records, fresh in _sources(books, scene, placed):
        fits = _latest_fits(books, scene, told, placed, records)
        if len(fits) > 1:
            return (ask_which_record(books, scene, Entry(act=Act.AMEND), fits),)
        for record, after in fits:
            if fresh:
                return (amend_record(books, scene, record.number, after),)
            if told.deed.act is not Act.CHECK:
                return (ask_before_changing(books, scene, Entry(act=Act.AMEND), record, after),)
    return _instead_or_own(books, scene, told, placed)


def _told(scene: Scene) -> _Told | None:
    for without, wrong in _parted(scene.message.text):
        deed = read(without, scene.local_now, scene.names)
        one = deed.entries[0] if len(deed.entries) == 1 and not deed.asks else None
        readings = _readings(wrong, one, scene.local_now) if one is not None and one.act not in _NO_DEED else ()
        if one is not None and readings:
            return _Told(deed=one, wrong=readings)
    return None


@cache
def _said_wrong() -> re.Pattern[str]:
    words = rf"[\w/]+(?: [\w/]+){{0,{_MOST_WORDS - 1}}}?"
    before, after = (either("corrections", "contrasted", key) for key in ("before", "after"))
    end = rf"(?=\s*(?:$|[,.;:)!\n]|(?:{after})\b))"
    return re.compile(rf"[\s,;:(-]+(?:{before}) (?P<wrong>{words})[)]?{end}", re.IGNORECASE)


def _parted(text: str) -> Iterator[tuple[str, str]]:
    """The words without what was wrong, and what was wrong ("30", "lot 4", "the 2nd")."""
    plain = text.replace("\u2019", "'").replace("'", "")
    for found in _said_wrong().finditer(plain):
        yield f"{plain[: found.start()]} {plain[found.end() :]}".strip(" ,.;:"), found["wrong"]


def _readings(wrong: str, deed: Entry, now: datetime) -> tuple[Entry, ...]:
    """What was wrong, as the details that it may be; a bare number may be a lot or a tray as well."""
    told = read(f"make that {wrong}", now).entries
    one = told[0] if len(told) == 1 and told[0].act is Act.AMEND and not told[0].rest else None
    detail = _detail(one) if one is not None else None
    if deed.to is not None and detail in (None, "plant"):
        articles = either("answers_heard", "receiver", "articles")
        return (Entry(act=Act.AMEND, to=re.sub(rf"^(?:to )?(?:(?:{articles}) )?", "", wrong)),)
    if one is None or detail is None:
        return ()
    readings = [one] if _says(deed, detail) else []
    if detail == "count" and wrong.isdecimal():
        places = ("lots", "trays") if not deed.trays else ("trays",)
        readings += [Entry.saying(Act.AMEND, {name: (wrong,)}) for name in places if _says(deed, name)]
    return tuple(readings)


def _detail(one: Entry) -> str | None:
    named = {*given(one), *(("lots",) if one.lots else ())}
    return next(iter(named)) if len(named) == 1 and named <= set(_DETAILS) else None


def _says(deed: Entry, detail: str) -> bool:
    """Whether a deed has a detail that another can have been wrong for; what was done today needs no day."""
    return detail == "on" or getattr(deed, detail) not in (None, ())


def _sources(books: Books, scene: Scene, placed: Placed) -> Iterator[tuple[Sequence[Record], bool]]:
    if scene.replied_records:
        yield scene.replied_records, True
        return
    own, others = own_and_others(books, scene, TALK_LASTS)
    yield own, True
    yield others, False
    for told in own_and_others(books, scene, _REACH):
        yield told, False
    yield [one for number in placed.lots for one in books.lot_records(number)], False


def _latest_fits(books: Books, scene: Scene, told: _Told, placed: Placed, records: Sequence[Record]) -> Fits:
    """What fits of the latest note that it fits."""
    for note in reversed(notes_told(books, records)):
        found: dict[Entry, tuple[Record, Entry]] = {}
        for record in note:
            after = _put_right(books, scene, told, placed, record)
            if after is not None and after != record.entry:
                found[after] = (record, after)
        if found:
            return tuple(found.values())
    return ()


def _put_right(books: Books, scene: Scene, told: _Told, placed: Placed, record: Record) -> Entry | None:
    """The record with the right detail, where it has the wrong one and says the same else; None for others."""
    if not _same_kind(record.entry, told.deed):
        return None
    for wrong in told.wrong:
        detail = _detail(wrong)
        if detail is None or not _has(books, scene, record, wrong, detail):
            continue
        if detail != "count" and record.entry.count != told.deed.count:
            continue
        if record.entry.act in _OPENS:
            if not _opens_the_same(record.entry, told.deed, detail):
                continue
        elif detail in ("lots", "trays"):
            others = {*record.entry.lots, *record.entry.trays} - {*told.deed.lots, *told.deed.trays}
            return replace(record.entry, lots=told.deed.lots, trays=told.deed.trays) if len(others) <= 1 else None
        elif not _of_the_same(record, placed):
            continue
        if detail == "trays":
            return replace(record.entry, trays=told.deed.trays)
        names = ("count", "of") if detail == "count" else (detail,)
        if _day(told.deed) not in (None, local_day(record.at, scene.zone)):
            names = (*names, "on")
        right = Entry.saying(Act.AMEND, {name: value for name, value in _given(told.deed).items() if name in names})
        return fitted(record.entry, right, scene.message.text, scene.local_now)
    return None


def _opens_the_same(entry: Entry, deed: Entry, detail: str) -> bool:
    """Whether both begin a lot of one plant, in the same trays unless these were wrong."""
    return same_plant(entry.plant or "", deed.plant or "") and detail != "lots" and (
        detail == "trays" or not deed.trays or entry.trays == deed.trays
    )


def _given(deed: Entry) -> dict[str, object]:
    names = ("count", "of", "on", "container", "cause", "to")
    return {name: value for name in names if (value := getattr(deed, name))}


def _has(books: Books, scene: Scene, record: Record, wrong: Entry, detail: str) -> bool:
    entry = record.entry
    match detail:
        case "count":
            return entry.count == wrong.count
        case "lots":
            return record.lot is not None and record.lot == books.resolve(wrong.lots[0], scene.year(), closed_too=True)
        case "trays":
            return wrong.trays[0] in (*entry.trays, *record.trays)
        case "on":
            return local_day(record.at, scene.zone) == _day(wrong)
        case "to":
            return (entry.to or "").lower() == (wrong.to or "").lower()
        case _:
            return bool(getattr(entry, detail) == getattr(wrong, detail))


def _day(entry: Entry) -> date | None:
    return entry.on.date() if isinstance(entry.on, datetime) else entry.on


def _same_kind(entry: Entry, deed: Entry) -> bool:
    return (entry.act, entry.state, entry.method) == (deed.act, deed.state, deed.method)


def _of_the_same(record: Record, placed: Placed) -> bool:
    return record.lot in placed.lots if placed.lots else bool(set(record.trays) & set(placed.trays))


def _instead_or_own(books: Books, scene: Scene, told: _Told, placed: Placed) -> tuple[Answer, ...]:
    """The question whether the same deed of the lot, with another number, is what was wrong."""
    if told.deed.act not in ADDS_UP or not any(_detail(one) in ("count", "lots", "trays") for one in told.wrong):
        return ()
    week = books.told_in(scene.chat, since=scene.message.said_at - _REACH, until=scene.message.said_at)
    notes = notes_told(books, [one for one in week if _same_kind(one.entry, told.deed) and _of_the_same(one, placed)])
    for record in (one for note in reversed(notes) for one in note if one.entry.count is not None):
        after = replace(record.entry, count=told.deed.count)
        if after != record.entry:
            return (ask_instead_or_own(books, scene, Entry(act=Act.AMEND), record, after, told.deed),)
    return ()
