"""What is said of its own accord at this minute: one tick of the clock, one message a chat.

Rules
1. A crew's tick is one transaction: what is due is claimed (claims that nobody finished come back first), grouped, put
   into the outbox with its buttons, and marked as said. A crash in between says it at the next tick.
2. What is no longer worth doing is closed, as a question or without a word, and its subject is planned anew.
3. A chat gets at most one message of reminders a minute; what is too much waits for the next. The books of one crew
   that break hold up no other crew.
4. The list without hours belongs to the morning: what joins it later in the day waits for tomorrow's, where today's was
   already sent.
5. Who said "stop reminding me" is not addressed, and what belongs to them alone waits until they ask for it again.
6. An early warning is closed as soon as it is said.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from bot.wording.reminders import digest_buttons, digest_text, handed_over, short_name
from core.conversation.hushing import who_is_quiet
from core.conversation.replanning import crew_protocols, history_of, replan
from core.records import in_order
from core.reminders import Due, Subject, clock, kinds
from core.reminders.digest import Digest, Waiting, goes_to_lead, group, next_saying, says_early
from core.reminders.lasting import useful_until
from core.reminders.roster import next_on, on_shift
from core.storage import Books, Crew, Member, Store, StoredReminder
from core.treatments import Protocol

ROUNDS = 4
"""How often a tick looks again after planning anew what had passed: a chain moves on one step at most for each."""

CLAIM_AT_ONCE = 2000
_ASKED_UNTIL = "asked_until"
"""The setting that keeps up to when the questions of the morning reach, so that each is asked once."""

_DAILY = frozenset({"daily_look", "mist"})
"""Kinds of one day alone: once that day is past, nobody needs to hear of it."""


def tick(store: Store, now: datetime) -> int:
    """Says what is due at `now` (aware) for every crew; returns how many messages went into the outbox.

    What broke for one crew is raised after the others had their turn.
    """
    posted = 0
    broken: Exception | None = None
    for crew in store.crews_due(now):
        try:
            with store.books(crew) as books:
                posted += _tick_crew(books, now)
        except Exception as wrong:
            broken = broken or wrong
    if broken is not None:
        raise broken
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


@dataclass(frozen=True, slots=True, kw_only=True)
class _Minute:
    """One crew's books at one minute, with what is asked of them again and again."""

    books: Books
    crew: Crew
    lead: Member | None
    now: datetime
    protocol: Protocol
    quiet: frozenset[str] = frozenset()
    """Members who asked for no reminders, in lower case."""

    @property
    def zone(self) -> ZoneInfo:
        return self.crew.zone

    def list_at(self, days: int = 0) -> datetime:
        """When the list of today, or of some days on, is sent."""
        day = clock.day_of(self.now, self.zone) + timedelta(days=days)
        return clock.wall(day, self.protocol.hour("morning_list"), self.zone)

    def home(self) -> str | None:
        """The chat of what belongs to no chat of its own: the group, else the lead's."""
        return self.crew.group_chat or (self.lead.private_chat if self.lead else None)


def _tick_crew(books: Books, now: datetime) -> int:
    crew = books.crew
    lead = books.member(crew.lead) if crew.lead else None
    minute = _Minute(
        books=books, crew=crew, lead=lead, now=now, protocol=crew_protocols(books).for_plant(None),
        quiet=who_is_quiet(books),
    )  # fmt: skip
    claimed, missed = _claim(minute)
    claimed = [one for one in _wait_for_morning(minute, claimed) if not _is_empty_hand_over(minute, one)]
    claimed = _hold_for_quiet(minute, claimed)
    missed = [one for one in missed if not _is_for_quiet(minute, one.due)]
    waiting = [_waiting(one, minute) for one in claimed]
    if any(kinds()[one.due.kind].soft and one.due.timed for one in waiting):
        waiting += _early(minute, waiting)
    by_chat: dict[str | None, list[Waiting]] = {}
    for one in (*waiting, *missed):
        by_chat.setdefault(one.due.chat or minute.home(), []).append(one)
    to_lead = minute.lead.private_chat if minute.lead else None
    order = sorted(
        by_chat.items(), key=lambda pair: pair[0] == to_lead
    )  # the lead's own after what goes up to the lead
    return sum(_say(minute, chat, ours) for chat, ours in order)


def _claim(minute: _Minute) -> tuple[list[StoredReminder], list[Waiting]]:
    """What is due and still worth saying, and what passed before anybody heard of it."""
    books, now = minute.books, minute.now
    open_ones: dict[int, StoredReminder] = {}
    missed: list[Waiting] = []
    for _ in range(ROUNDS):
        claimed = books.claim_due(now, CLAIM_AT_ONCE, sweep=False)  # a claim here ends with its transaction
        past = [one for one in claimed if _is_past(one, minute)]
        open_ones |= {one.number: one for one in claimed if not _is_past(one, minute)}
        if not past:
            return list(open_ones.values()), missed
        for one in past:
            how = "asked" if kinds()[one.due.kind].past == "ask" else "gone"
            books.close_reminder(one.number, how=how, at=now)
            if not one.said_times and one.due.kind not in _DAILY:
                missed.append(replace(_waiting(one, minute), missed=True))
        replan(books, dict.fromkeys(one.due.subject for one in past), now)
        open_ones = {number: one for number, one in open_ones.items() if _holds(books, number)}
    return list(open_ones.values()), missed


def _holds(books: Books, number: int) -> bool:
    found = books.reminder(number)
    return found is not None and found.state == "claimed"


def _is_past(one: StoredReminder, minute: _Minute) -> bool:
    last = useful_until(one.due, one.due_at, minute.zone)
    return last is not None and last <= minute.now


def _wait_for_morning(minute: _Minute, claimed: Sequence[StoredReminder]) -> list[StoredReminder]:
    """What is said now; what belongs to the list waits for today's, or for tomorrow's where today's is out, but for
    what was said and put off to an hour.
    """
    listed = [one for one in claimed if not one.due.timed and not one.said_times]
    today = minute.list_at()
    early = minute.now < today
    late = minute.now >= today + timedelta(minutes=1)
    is_out = late and minute.books.setting("morning_list_at") == today.isoformat()
    if not early and not is_out:
        return list(claimed)
    for one in listed:
        minute.books.postpone(one.number, today if early else minute.list_at(1))
    return [one for one in claimed if one not in listed]


def _is_empty_hand_over(minute: _Minute, one: StoredReminder) -> bool:
    """Closes a hand-over at which nothing stands open: there is nothing to say."""
    if one.due.kind != "hand_over" or _open_names(minute.books):
        return False
    minute.books.close_reminder(one.number, how="gone", at=minute.now)
    replan(minute.books, [one.due.subject], minute.now)
    return True


def _early(minute: _Minute, said: Sequence[Waiting]) -> list[Waiting]:
    until = minute.now + minute.protocol.length("together") + timedelta(seconds=1)
    known = {one.number for one in said}
    soon = [one for one in minute.books.open_reminders(sent=False, until=until) if one.state == "planned"]
    waiting = [_waiting(one, minute) for one in soon if one.number not in known]
    waiting = [one for one in waiting if says_early(one, minute.now, minute.protocol)]
    return [one for one in waiting if not _is_for_quiet(minute, one.due)]


def _waiting(one: StoredReminder, minute: _Minute) -> Waiting:
    """The reminder as it is said at this minute: a session that comes later than planned ends later."""
    due, begins_at = one.due, max(one.due_at, minute.now)
    if due.kind == "wean" and begins_at > due.due_at:
        back_by = (begins_at + timedelta(minutes=due.facts["minutes"])).astimezone(minute.zone)
        due = replace(due, facts=due.facts | {"back_by": f"{back_by:%H:%M}"})
    return Waiting(number=one.number, due=due, comes_at=one.due_at, said_times=one.said_times)


def _hold_for_quiet(minute: _Minute, claimed: Sequence[StoredReminder]) -> list[StoredReminder]:
    """What is said now; what belongs to somebody who wants no reminders is looked at again in the morning."""
    held = [one for one in claimed if _is_for_quiet(minute, one.due)]
    for one in held:
        minute.books.postpone(one.number, minute.list_at(1))
    return [one for one in claimed if one not in held]


def _is_for_quiet(minute: _Minute, due: Due) -> bool:
    if not minute.quiet:
        return False
    if due.kind == "hand_over":
        return {str(name).lower() for name in due.facts.get("who", ())} <= minute.quiet
    private = {one.private_chat for one in minute.books.members() if one.name.lower() in minute.quiet}
    return (due.to or "").lower() in minute.quiet or (due.chat is not None and due.chat in private)


def _say(minute: _Minute, chat: str | None, waiting: Sequence[Waiting]) -> int:
    books, now = minute.books, minute.now
    if chat is None:  # nobody to say it to yet: looked at again each morning, until somebody is
        _put_off(books, waiting, minute.list_at(1))
        return 0
    stamp = f"{now:%Y-%m-%dT%H:%M}"
    if books.setting(f"reminded:{chat}") == stamp:
        _put_off(books, waiting, now.replace(second=0, microsecond=0) + timedelta(minutes=1))
        return 0
    private = any(one.due.chat for one in waiting)
    listing = any(not one.due.timed for one in waiting)
    digest = group(
        waiting, now, minute.zone, minute.protocol,
        to=() if private else _addressed(minute, waiting),
        unanswered=_unanswered(minute) if listing and not private else (),
    )  # fmt: skip
    if digest is None:
        return 0
    _post(minute, chat, digest, waiting)
    books.settle(f"reminded:{chat}", stamp)
    if listing and not private:
        books.settle(_ASKED_UNTIL, now.isoformat())
    if digest.morning:
        books.settle("morning_list_at", minute.list_at().isoformat())
    return 1 + _tell_lead(minute, chat, waiting)


def _put_off(books: Books, waiting: Iterable[Waiting], until: datetime) -> None:
    for one in waiting:
        if not one.missed:
            books.postpone(one.number, until)


def _post(minute: _Minute, chat: str, digest: Digest, waiting: Sequence[Waiting]) -> None:
    books, now = minute.books, minute.now
    text = digest_text(digest, now, minute.zone)
    channel = minute.crew.group_channel if chat == minute.crew.group_chat else None
    if "hand_over" in digest.kinds:
        following = next_on(books.records(acts=("roster",)), now + timedelta(minutes=1), minute.zone)
        text += "\n" + handed_over(_open_names(books), following)
    message = books.post(
        chat=chat, text=text, at=now, buttons=digest_buttons(digest), reminders=[one.number for one in waiting],
        channel=channel,
    )  # fmt: skip
    sayings: dict[datetime | None, list[int]] = {}
    for one in waiting:
        if not one.missed:
            sayings.setdefault(next_saying(one, now, minute.zone, minute.protocol), []).append(one.number)
    for again_at, numbers in sayings.items():
        books.mark_sent(numbers, now, message.number, again_at=again_at, chat=chat)
    for one in waiting:
        if kinds()[one.due.kind].once and not one.missed:
            books.close_reminder(one.number, how="gone", at=now)


def _tell_lead(minute: _Minute, chat: str, waiting: Sequence[Waiting]) -> int:
    lead = minute.lead
    if lead is None or not lead.private_chat or lead.private_chat == chat or lead.name.lower() in minute.quiet:
        return 0
    for_lead = [
        one for one in waiting if not one.missed and goes_to_lead(one, minute.now, minute.zone, minute.protocol)
    ]
    digest = group(for_lead, minute.now, minute.zone, minute.protocol, for_lead=True)
    if digest is None:
        return 0
    now = minute.now
    settled = f"reminded:{lead.private_chat}"
    said_just_now = minute.books.setting(settled) == f"{now:%Y-%m-%dT%H:%M}"
    at = now.replace(second=0, microsecond=0) + timedelta(minutes=1) if said_just_now else now
    minute.books.post(
        chat=lead.private_chat, text=digest_text(digest, now, minute.zone), at=now,
        buttons=digest_buttons(digest), reminders=[one.number for one in for_lead], channel=lead.channel,
        not_before=at if said_just_now else None,
    )  # fmt: skip
    minute.books.settle(settled, f"{at:%Y-%m-%dT%H:%M}")
    return 1


def _addressed(minute: _Minute, waiting: Iterable[Waiting]) -> tuple[str, ...]:
    """Those on shift, and the lead where it is the lead's turn in the group; nobody where every line names a person."""
    waiting = list(waiting)
    if all(one.due.kind in ("as_asked", "hand_over") for one in waiting):
        return ()
    names = on_shift(minute.books.records(acts=("roster",)), minute.now, minute.zone)
    names = tuple(name for name in names if name.lower() not in minute.quiet)
    lead = minute.lead
    if lead is not None and not lead.private_chat and lead.name.lower() not in minute.quiet:
        late = [one for one in waiting if goes_to_lead(one, minute.now, minute.zone, minute.protocol)]
        names = tuple(dict.fromkeys((*names, lead.name))) if late else names
    return names


def _unanswered(minute: _Minute) -> list[Waiting]:
    """What passed since the last list without a word, and is still not known: the questions of this morning."""
    told = minute.books.setting(_ASKED_UNTIL)
    since = datetime.fromisoformat(told) if told else minute.list_at(-1)
    latest: dict[tuple[Subject, str], StoredReminder] = {}
    known: dict[Subject, set[datetime]] = {}
    for one in minute.books.open_reminders(states=("asked",)):
        if one.closed_at is None or one.closed_at <= since or not one.said_times or one.due.chat:
            continue
        subject = one.due.subject
        if subject not in known:
            known[subject] = _known_at(minute.books, subject)
        early, late = one.due.due_at - timedelta(hours=1), one.due.due_at + timedelta(hours=24)
        if not any(early <= at <= late for at in known[subject]):
            latest[(subject, one.due.kind)] = one
    return [_waiting(one, minute) for one in latest.values()]


def _known_at(books: Books, subject: Subject) -> set[datetime]:
    """When somebody noted an act of this subject that could answer a question."""
    confirming = {act for kind in kinds().values() if kind.past == "ask" for act in kind.confirmed_by}
    records = in_order(history_of(books, subject).records)
    return {record.at for record in records if record.entry.act.value in confirming}


def _open_names(books: Books) -> list[str]:
    """What stands open now and must be closed again: covers off, plants out, soaks."""
    running = [name for name, kind in kinds().items() if kind.critical and kind.running]
    return [short_name(one.due) for one in books.open_reminders(kinds=running)]
