"""What a turn must know before it decides: who speaks, of what, and what was said just before."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from core.conversation.messages import Message
from core.entries import Act, Entry
from core.notes import Context, Names, says_how_many
from core.records import Record, local_day
from core.reminders import Subject
from core.storage import Books, OpenQuestion, RecordDraft

LONG_AGO = datetime(1970, 1, 1, tzinfo=UTC)
"""An expired question is found too, so that its words can be kept."""

TALK_LASTS = timedelta(hours=1)
"""How long "another 5 dead" still means the lot talked of last (common practice)."""

LotsAndTrays = tuple[tuple[str, ...], tuple[str, ...]]
_TALKED_OF = frozenset(Act) - {Act.ASK, Act.HELLO, Act.REPLY, Act.UNDO, Act.AMEND, Act.ROSTER, Act.REMIND}


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """The state around one message: local time, the message it replies to, the open question and the latest records."""

    message: Message
    key: str
    now: datetime
    local_now: datetime
    zone: ZoneInfo
    names: Names
    replied_records: tuple[Record, ...] = ()
    replied_reminders: tuple[int, ...] = ()
    replied_answers: str | None = None
    reminded_of: tuple[Subject, ...] = ()
    question: OpenQuestion | None = None
    latest: tuple[Record, ...] = ()
    earlier: tuple[Entry, ...] = ()
    talked_of: LotsAndTrays = ((), ())
    standing: LotsAndTrays = ((), ())
    reuse: list[str] = field(default_factory=list)

    @property
    def speaker(self) -> str:
        return self.message.speaker

    @property
    def chat(self) -> str:
        return self.message.chat

    def year(self, said_at: datetime | None = None) -> int:
        """The crew's two-digit year in which this message (or a note of `said_at`) was written, for lot numbers."""
        return local_day(said_at or self.message.said_at, self.zone).year % 100

    def draft(self, entry: Entry, *, lot: str | None = None, trays: tuple[str, ...] = ()) -> RecordDraft:
        """A record of `entry` as this message says it: by its speaker, in its words, at the time it was written."""
        said_at = self.message.said_at
        return RecordDraft(
            lot=lot,
            trays=trays,
            entry=entry,
            at=said_at,
            said_at=said_at,
            by=self.speaker,
            told_by=self.speaker,
            said=self.message.text,
            message=self.key,
        )

    def context(self) -> Context:
        """What the reader may fill in from the talk, with full lot numbers."""
        return Context(
            replied=_spoken(self.replied_records) or _reminded(self.reminded_of),
            latest=_spoken(self.latest),
            latest_entries=tuple(record.entry for record in self.latest),
            earlier=self.earlier,
            talked_of=self.talked_of,
            standing=self.standing,
            names=self.names,
            now=self.local_now,
        )


def words_before(books: Books, scene: Scene, speaker: str | None = None, lasts: timedelta = TALK_LASTS) -> str:
    """What was said in this chat just before this message, by anybody or by `speaker`; empty where nothing was."""
    until = scene.message.said_at
    found = books.words_before(scene.chat, speaker, since=until - lasts, until=until, but=scene.message.message_id)
    return found or ""


def look_around(books: Books, message: Message, key: str, now: datetime) -> Scene:
    """Gathers the scene of a message, inside the turn's transaction."""
    zone = books.crew.zone
    about = books.spoken_of(message.chat, message.replied_to) if message.replied_to else None
    told = books.told_by(message.speaker, message.chat, since=message.said_at - TALK_LASTS)
    open_lots = books.lots() if says_how_many(message.text) else ()
    return Scene(
        message=message,
        key=key,
        now=now,
        local_now=message.said_at.astimezone(zone).replace(tzinfo=None),
        zone=zone,
        names=_names(books),
        replied_records=about.records if about else (),
        replied_reminders=about.reminders if about else (),
        replied_answers=about.answers if about else None,
        reminded_of=_subjects(books, about.reminders if about else ()),
        question=(books.question_about(about.answers) if about is not None and about.answers else None)
        or books.open_question(message.chat, message.speaker, LONG_AGO),
        latest=_latest(told),
        earlier=tuple(one.entry for one in told),
        talked_of=_lots_and_trays(told),
        standing=(tuple(lot.number for lot in open_lots), _once(tray for lot in open_lots for tray in lot.trays)),
    )


def _latest(told: tuple[Record, ...]) -> tuple[Record, ...]:
    """The records of the latest note of something on the bench; a note without lot, tray or plant ends no talk."""
    ends = next((one.message for one in reversed(told) if one.entry.act is not Act.NOTE or _is_of_a_lot(one)), None)
    last = ends or (told[-1].message if told else None)
    return tuple(one for one in told if one.message == last and one.entry.act in _TALKED_OF)


def _is_of_a_lot(one: Record) -> bool:
    return bool(one.lot or one.trays or one.entry.trays or one.entry.plant)


def _lots_and_trays(told: tuple[Record, ...]) -> LotsAndTrays:
    return _once(one.lot for one in told if one.lot), _once(tray for one in told for tray in one.trays)


def _once(names: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(names))


def _names(books: Books) -> Names:
    known = books.names()
    return Names(
        plants=known.plants,
        people=known.people,
        places=known.places,
        sources=known.sources,
        puts_plants_right=True,
    )


def _subjects(books: Books, reminders: tuple[int, ...]) -> tuple[Subject, ...]:
    found = (books.reminder(number) for number in reminders)
    return tuple(dict.fromkeys(one.due.subject for one in found if one is not None))


def _reminded(subjects: tuple[Subject, ...]) -> Entry | None:
    """The lots, or the trays, that a message of reminders was about, or None where it was about neither or both."""
    lots = tuple(one.name for one in subjects if one.kind == "lot")
    trays = tuple(one.name for one in subjects if one.kind == "tray")
    if bool(lots) == bool(trays):
        return None
    return Entry(act=Act.NOTE, lots=lots, trays=trays)


def _spoken(records: tuple[Record, ...]) -> Entry | None:
    """The lots, trays and plant that some records speak of, or None where they name none."""
    lots = tuple(dict.fromkeys(record.lot for record in records if record.lot))
    trays = tuple(dict.fromkeys(tray for record in records for tray in record.entry.trays))
    plant = next((record.entry.plant for record in reversed(records) if record.entry.plant), None)
    if not lots and not trays and plant is None:
        return None
    return Entry(act=Act.NOTE, lots=lots, trays=() if lots else trays, plant=None if lots or trays else plant)
