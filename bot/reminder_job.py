"""What is said of its own accord at this minute: one tick of the clock, one message a chat.

Rules
1. A crew's tick is one transaction: what is due is claimed (claims that nobody finished come back first), grouped, put
   into the outbox with its buttons, and marked as said. A crash in between says it at the next tick.
2. What is no longer worth doing is closed, as a question or without a word, and its subject is planned anew.
3. A chat gets at most one message of reminders a minute; what is too much waits for the next.
4. The list without hours belongs to the morning: what joins it later in the day waits for tomorrow's, where today's was
   already sent.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import datetime, timedelta

from bot.wording.reminders import digest_buttons, digest_text, short_name
from core.conversation.replanning import crew_protocols, history_of, replan
from core.records import in_order
from core.reminders import Due, Subject, kinds
from core.reminders.digest import Digest, Waiting, goes_to_lead, group, morning_of, next_saying, says_early
from core.reminders.roster import next_on, on_shift
from core.storage import Books, Store, StoredReminder
from core.treatments import Protocol

ROUNDS = 4
"""How often a tick looks again after planning anew what had passed: a chain moves on one step at most for each."""

CLAIM_AT_ONCE = 2000


def tick(store: Store, now: datetime) -> int:
    """Says what is due at `now` (aware) for every crew; returns how many messages went into the outbox."""
    posted = 0
    for crew in store.crews_due(now):
        with store.books(crew) as books:
            posted += _tick_crew(books, now)
    return posted


def next_due_at(store: Store, crew: int, after: datetime) -> datetime | None:
    """The next instant, not before `after`, at which a tick has something to look at for this crew; None where none."""
    with store.reading(crew) as books:
        instants = [
            instant
            for one in books.open_reminders()
            if (instant := one.due_at if one.state == "planned" else one.again_at) is not None
        ]
    return max(min(instants), after) if instants else None


def _tick_crew(books: Books, now: datetime) -> int:
    protocol = crew_protocols(books).for_plant(None)
    claimed, missed = _claim(books, now)
    claimed, put_off = _wait_for_morning(books, claimed, now, protocol)
    for number, until in put_off:
        books.postpone(number, until)
    claimed = [one for one in claimed if not _is_empty_hand_over(books, one, now)]
    waiting = [_waiting(one) for one in claimed]
    if any(kinds()[one.due.kind].soft and one.due.timed for one in waiting):
        waiting += _early(books, waiting, now, protocol)
    posted = 0
    for chat in dict.fromkeys([_chat(books, one.due) for one in (*waiting, *missed)]):
        ours = [one for one in (*waiting, *missed) if _chat(books, one.due) == chat]
        posted += _say(books, chat, ours, now, protocol)
    return posted


def _claim(books: Books, now: datetime) -> tuple[list[StoredReminder], list[Waiting]]:
    """What is due and still worth saying, and what passed before anybody heard of it."""
    open_ones: dict[int, StoredReminder] = {}
    missed: list[Waiting] = []
    for _ in range(ROUNDS):
        claimed = books.claim_due(now, CLAIM_AT_ONCE)
        past = [one for one in claimed if _is_past(one, now)]
        open_ones |= {one.number: one for one in claimed if not _is_past(one, now)}
        if not past:
            break
        for one in past:
            how = "asked" if kinds()[one.due.kind].past == "ask" else "gone"
            books.close_reminder(one.number, how=how, at=now)
            if not one.said_times and one.due.kind != "daily_look":
                missed.append(replace(_waiting(one), missed=True))
        subjects = dict.fromkeys(one.due.subject for one in past)
        replan(books, subjects, now)
    return [one for one in open_ones.values() if _holds(books, one)], missed


def _holds(books: Books, one: StoredReminder) -> bool:
    found = books.reminder(one.number)
    return found is not None and found.state == "claimed"


def _is_past(one: StoredReminder, now: datetime) -> bool:
    last = one.due.last_useful_at
    if last is None:
        return False
    return last + max(one.due_at - one.due.due_at, timedelta(0)) <= now


def _wait_for_morning(
    books: Books, claimed: Sequence[StoredReminder], now: datetime, protocol: Protocol
) -> tuple[list[StoredReminder], list[tuple[int, datetime]]]:
    """What is said now, and what waits for tomorrow's list because today's is out."""
    zone, hour = books.crew.zone, protocol.hour("morning_list")
    today = morning_of(now, zone, hour)
    if books.setting("morning_list_at") != today.isoformat() or now < today + timedelta(minutes=1):
        return list(claimed), []
    tomorrow = morning_of(now + timedelta(days=1), zone, hour)
    waits = [one for one in claimed if not one.due.timed]
    return [one for one in claimed if one.due.timed], [(one.number, tomorrow) for one in waits]


def _is_empty_hand_over(books: Books, one: StoredReminder, now: datetime) -> bool:
    """Closes a hand-over at which nothing stands open: there is nothing to say."""
    if one.due.kind != "hand_over" or _open_names(books):
        return False
    books.close_reminder(one.number, how="gone", at=now)
    return True


def _early(books: Books, said: Sequence[Waiting], now: datetime, protocol: Protocol) -> list[Waiting]:
    soon = books.open_reminders(sent=False, until=now + protocol.length("together") + timedelta(seconds=1))
    known = {one.number for one in said}
    return [
        waiting
        for one in soon
        if one.number not in known and one.state == "planned" and says_early(waiting := _waiting(one), now, protocol)
    ]


def _waiting(one: StoredReminder) -> Waiting:
    return Waiting(number=one.number, due=one.due, comes_at=one.due_at, said_times=one.said_times)


def _chat(books: Books, due: Due) -> str | None:
    if due.chat:
        return due.chat
    if books.crew.group_chat:
        return books.crew.group_chat
    lead = books.member(books.crew.lead) if books.crew.lead else None
    return lead.private_chat if lead else None


def _say(books: Books, chat: str | None, waiting: Sequence[Waiting], now: datetime, protocol: Protocol) -> int:
    if chat is None:  # nobody to say it to yet: looked at again each morning, until somebody is
        for one in waiting:
            if not one.missed:
                books.postpone(
                    one.number, morning_of(now + timedelta(days=1), books.crew.zone, protocol.hour("morning_list"))
                )
        return 0
    zone = books.crew.zone
    minute = f"{now:%Y-%m-%dT%H:%M}"
    if books.setting(f"reminded:{chat}") == minute:
        for one in waiting:
            if not one.missed:
                books.postpone(one.number, now.replace(second=0, microsecond=0) + timedelta(minutes=1))
        return 0
    private = any(one.due.chat for one in waiting)
    names = () if private else on_shift(books.records(acts=("roster",)), now, zone)
    morning = any(not one.due.timed for one in waiting)
    questions = _unanswered(books, now, protocol) if morning and not private else []
    digest = group(waiting, now, zone, protocol, to=_addressed(names, waiting), unanswered=questions)
    if digest is None:
        return 0
    _post(books, chat, digest, waiting, now, protocol)
    books.settle(f"reminded:{chat}", minute)
    if digest.morning:
        books.settle("morning_list_at", morning_of(now, zone, protocol.hour("morning_list")).isoformat())
    return 1 + _tell_lead(books, chat, waiting, now, protocol)


def _post(
    books: Books, chat: str, digest: Digest, waiting: Sequence[Waiting], now: datetime, protocol: Protocol
) -> None:
    zone = books.crew.zone
    text = digest_text(digest, now, zone)
    if "hand_over" in digest.kinds:
        following = next_on(books.records(acts=("roster",)), now + timedelta(minutes=1), zone)
        text += f"\nOpen now: {'; '.join(_open_names(books))}."
        text += (
            f" Next on: {following.who}, {following.on:%a} {following.from_time or ''}".rstrip() if following else ""
        )
    message = books.post(
        chat=chat, text=text, at=now, buttons=digest_buttons(digest), reminders=[one.number for one in waiting]
    )
    for one in waiting:
        if not one.missed:
            books.mark_sent([one.number], now, message.number, again_at=next_saying(one, now, zone, protocol))


def _tell_lead(books: Books, chat: str, waiting: Sequence[Waiting], now: datetime, protocol: Protocol) -> int:
    zone = books.crew.zone
    for_lead = [one for one in waiting if not one.missed and goes_to_lead(one, now, zone, protocol)]
    lead = books.member(books.crew.lead) if books.crew.lead else None
    if not for_lead or lead is None or not lead.private_chat or lead.private_chat == chat:
        return 0
    digest = group(for_lead, now, zone, protocol, for_lead=True)
    assert digest is not None
    books.post(
        chat=lead.private_chat, text=digest_text(digest, now, zone), at=now, buttons=digest_buttons(digest),
        reminders=[one.number for one in for_lead], channel=lead.channel,
    )  # fmt: skip
    return 1


def _addressed(names: tuple[str, ...], waiting: Iterable[Waiting]) -> tuple[str, ...]:
    """Those on shift, unless every line already names a person."""
    return () if all(one.due.kind in ("as_asked", "hand_over") for one in waiting) else names


def _unanswered(books: Books, now: datetime, protocol: Protocol) -> list[Waiting]:
    """What passed since the last list without a word, and is still not known: the questions of this morning."""
    since = morning_of(now - timedelta(days=1), books.crew.zone, protocol.hour("morning_list"))
    rows = [
        one for one in books.open_reminders(states=("asked",)) if one.closed_at is not None and since <= one.closed_at
    ]
    rows = [one for one in rows if one.said_times and not one.due.chat]
    by_subject: dict[Subject, set[datetime]] = {}
    for subject in dict.fromkeys(one.due.subject for one in rows):
        by_subject[subject] = _known_at(books, subject)
    latest: dict[tuple[Subject, str], StoredReminder] = {}
    for one in rows:
        early, late = one.due.due_at - timedelta(hours=1), one.due.due_at + timedelta(hours=24)
        if not any(early <= at <= late for at in by_subject[one.due.subject]):
            latest[(one.due.subject, one.due.kind)] = one
    return [_waiting(one) for one in latest.values()]


def _known_at(books: Books, subject: Subject) -> set[datetime]:
    confirming = {act for kind in kinds().values() if kind.past == "ask" for act in kind.confirmed_by}
    return {
        record.at for record in in_order(history_of(books, subject).records) if record.entry.act.value in confirming
    }


def _open_names(books: Books) -> list[str]:
    """What stands open now and must be closed again: covers off, plants out, soaks."""
    running = [name for name, kind in kinds().items() if kind.critical and kind.running]
    return [short_name(one.due) for one in books.open_reminders(kinds=running)]
