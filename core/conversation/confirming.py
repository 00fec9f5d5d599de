"""How a reminder is answered: done, done but, later, skip, not yet, stop.

Rules
1. A reply to the bot's message means the reminders of that message; a button means its own; else what is open in the
   chat.
2. Where "done" could mean several messages, it is asked which; it never closes all. "Both" are two. But a running timer
   that has just ended is what is meant, as long as nobody has said anything since; and so is a step of the covers
   (vents, weaning) of the last hour, where nothing but the daily look and the steps before it is open beside.
3. "Done" writes the act that the reminder asked for; what cannot be told from the reminder alone is written as a reply.
4. "Yes" and "no" answer what was said last: a reminder only as a reply to it, or where nobody has said anything since.
5. What somebody asked to be reminded of is theirs: another's "done" leaves it, where anything else is open. Right after
   it was said, their own "done" means it.
6. "Yes" to a reminder that asks for a count is no count: how many is asked.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence
from dataclasses import replace

from core.answers import Answer, Asked, Choice, Confirmed, Refused
from core.conversation.asking import put_question
from core.conversation.heard import either, heard
from core.conversation.hushing import hush, stop_or_start
from core.conversation.looks import counts_for, said_last
from core.conversation.putting_off import hear_time_alone, put_off_until
from core.conversation.recording import Outcome, Pending, record, refold
from core.conversation.replanning import replan
from core.conversation.scene import TALK_LASTS, Scene
from core.conversation.which import WHICH, ask_which, hear_each, hear_named, hear_not_yet, hear_which
from core.entries import Act, Entry, Exceptions
from core.lots.phrases import says
from core.notes import Reading, read
from core.reminders import Due, kinds
from core.storage import Books, StoredReminder

_WORDS = "answers_heard"
_BOTH = 2
_ASKED = "as_asked"
_STEPS_OF_COVERS = frozenset({"vent", "wean"})
_LOOKS_AT_COVERS = frozenset({"daily_look", "quiet_tray"})
_HOW = {"done": "confirmed", "yes": "confirmed", "skip": "skipped", "no": "skipped"}


def confirm(books: Books, scene: Scene, entry: Entry, *, only: Sequence[int] = ()) -> Answer:
    """Answers reminders with `entry` (act reply); `only` are those that a pressed button or a name means."""
    if entry.answer == "stop":
        return _stop(books, scene, entry)
    if not only and _words(scene) in heard("answers_heard", "seen"):
        return Refused(why="seen", facts={"open": bool(books.open_reminders(chat=scene.chat, sent=True))})
    if not only and not may_answer(books, scene, entry):
        return Refused(why="nothing_open", facts={"answer": entry.answer, "reminded": True})
    meant = _meant(books, scene, entry, only)
    if isinstance(meant, Asked):
        return meant
    if not meant:
        return _asked_another(books, scene, entry) or Refused(why="nothing_open", facts={"answer": entry.answer})
    if entry.answer == "yes" and any(counts_for(one.due) for one in meant):
        return _ask_count(books, scene, meant)
    if not only and says(_words(scene), ["both"]) and len({one.due.subject for one in meant}) != _BOTH:
        return ask_which(books, scene, entry, meant)
    left_out = entry.but
    if left_out is not None:
        out = _left_out(meant, left_out)
        if not out:
            # Nothing is closed where what is left out is none of it.
            return ask_which(books, scene, replace(entry, but=None), meant)
        meant = [one for one in meant if one not in out]
        if not meant:
            return Refused(why="nothing_open", facts={"answer": entry.answer})
    if entry.answer == "later" and not _is_not_yet(scene, entry, meant):
        return _later(books, scene, entry, meant)
    return _close(books, scene, entry if entry.answer != "later" else replace(entry, answer="no"), meant)


def _asked_another(books: Books, scene: Scene, entry: Entry) -> Refused | None:
    """Whose the question is that a yes or no seems to be meant for, where it was put to somebody else."""
    asked = books.questions_to_others(scene.chat, scene.speaker, scene.now) if entry.answer in ("yes", "no") else ()
    lately = [one for one in asked if scene.now - one.asked_at <= TALK_LASTS]
    if not lately or scene.replied_records:
        return None
    return Refused(why="asked_another", facts={"who": lately[0].speaker, "said": lately[0].draft["said"]})


def confirm_beside(books: Books, scene: Scene, entry: Entry, deeds: Collection[Act]) -> Answer | None:
    """Answers reminders with `entry` beside deeds that the same note tells (`done, lost 2 in tray 4`): those that ask
    for just such a deed are answered by it. None where nothing else is open.
    """
    if not may_answer(books, scene, entry):
        return None
    meant = _meant(books, scene, entry, ())
    if isinstance(meant, Asked):
        return meant
    others = [one.number for one in meant if one.due.done_means is None or one.due.done_means.act not in deeds]
    answer = confirm(books, scene, entry, only=others) if others else None
    # What takes the note back stands below its deeds.
    return replace(answer, choices=()) if isinstance(answer, Confirmed) else answer


def hear_answer(books: Books, scene: Scene, reading: Reading) -> Answer | None:
    """The answer to words that name the reminders they answer, with or without a question; None where they do not."""
    put_off = hear_time_alone(books, scene, reading)
    if put_off is not None:
        return _later(books, scene, *put_off)
    done = _done_and_no_loss(scene, reading)
    if done is not None:
        return confirm(books, scene, done)
    question = scene.question
    meant = hear_which(books, scene, question, reading) if question is not None and question.kind == WHICH else None
    meant = meant or hear_named(books, scene, reading) or hear_not_yet(books, scene, reading)
    if meant is None:
        return None
    if not meant.named:
        return Refused(why="dropped")
    if not meant.is_plain:
        return ask_which(books, scene, meant.entry, meant.reminders)
    return confirm(books, scene, meant.entry, only=[one.number for one in meant.reminders])


def may_answer(books: Books, scene: Scene, entry: Entry) -> bool:
    """Whether an answer may be one to a reminder: a yes or no only where the reminder is what was said last."""
    if entry.answer not in ("yes", "no") or scene.replied_reminders:
        return True
    open_ones = books.open_reminders(chat=scene.chat, sent=True)
    return not open_ones or (scene.message.replied_to is None and said_last(books, scene, open_ones))


def _ask_count(books: Books, scene: Scene, meant: Sequence[StoredReminder]) -> Answer:
    """How many were counted, of the one lot that these reminders ask to count; of several it is asked which is done."""
    lots = {one.due.subject.name for one in meant}
    states = [state for one in meant if (state := counts_for(one.due)) is not None]
    if len(lots) > 1 or len(states) < len(meant):
        return ask_which(books, scene, Entry(act=Act.REPLY, answer="done"), meant)
    looked_for = next((state for state in states if state != "alive"), "alive")
    entry = Entry(act=Act.CHECK, state=looked_for, lots=tuple(lots))
    return put_question(books, scene, [Pending(kind="count", entries=(entry,))])


def _done_and_no_loss(scene: Scene, reading: Reading) -> Entry | None:
    """ "Done, nothing died": the answer, with the words that tell of nothing wrong kept; None for other words."""
    if len(reading.entries) != 1 or reading.entries[0].act is not Act.NOTE:
        return None
    words = _words(scene)
    found = re.fullmatch(rf"(?P<said>[^,;.!]+?)\s*(?:[,;.!-]|\band\b)\s*(?P<more>{either(_WORDS, 'no_harm')})", words)
    told = read(found["said"], scene.local_now, scene.names).entries if found is not None else ()
    if found is None or len(told) != 1 or told[0].act is not Act.REPLY or told[0].answer != "done":
        return None
    return replace(told[0], rest=found["more"])


def hear_each_answer(books: Books, scene: Scene, reading: Reading) -> tuple[Answer, ...]:
    """The answers to words that say of several reminders what became of each; none where they say no such thing."""
    answers = [
        confirm(books, scene, meant.entry, only=[one.number for one in meant.reminders])
        for meant in hear_each(books, scene, reading)
    ]
    # One button takes the whole note back.
    return tuple(
        replace(one, choices=()) if isinstance(one, Confirmed) and one is not answers[-1] else one for one in answers
    )


def _is_not_yet(scene: Scene, entry: Entry, meant: Sequence[StoredReminder]) -> bool:
    """True where "not yet" is said of an offer that waits for the plants, which then asks again by its own rule."""
    alone = _words(scene) in heard("answers_heard", "not_yet", "alone")
    return alone and entry.duration is None and all(one.due.kind == "wean" for one in meant)


def _words(scene: Scene) -> str:
    return " ".join(scene.message.text.lower().split()).strip(" .!")


def _meant(books: Books, scene: Scene, entry: Entry, only: Sequence[int]) -> list[StoredReminder] | Asked:
    numbers = tuple(only) or scene.replied_reminders
    open_ones = books.open_reminders(chat=scene.chat, sent=True)
    if entry.trays or entry.lots:
        open_ones = tuple(one for one in open_ones if _names(one.due, entry.trays, entry.lots))
    if only:
        return [one for one in open_ones if one.number in only]
    if numbers:
        return _own(scene, [one for one in open_ones if one.number in numbers])
    mine = _just_said_to_them(books, scene, open_ones)
    if mine:
        return mine
    own = _own(scene, open_ones)
    messages = {one.said_in for one in own}
    if len(messages) <= 1:
        return own
    return _just_said(books, scene, own) or ask_which(books, scene, entry, own)


def _just_said(books: Books, scene: Scene, open_ones: Sequence[StoredReminder]) -> list[StoredReminder]:
    """The reminders of the latest message, where it says that a timer has ended or asks for what is done to covers, no
    other reminder may as well be meant, and nobody has spoken since.
    """
    latest = max(one.said_in or 0 for one in open_ones)
    last = [one for one in open_ones if one.said_in == latest]
    others = [one for one in open_ones if one.said_in != latest]
    lately = all(one.sent_at is not None and scene.message.said_at - one.sent_at <= TALK_LASTS for one in last)
    timers = all(kinds()[one.due.kind].running and one.due.critical for one in last)
    covers = all(one.due.kind in _STEPS_OF_COVERS for one in last) and all(_gives_way(one, last) for one in others)
    alone = scene.message.replied_to is None and lately and (timers or covers)
    return last if alone and said_last(books, scene, last) else []


def _gives_way(other: StoredReminder, last: Sequence[StoredReminder]) -> bool:
    """Whether this asks for no more than the daily look, or for an earlier step of covers that are asked for anew."""
    if other.due.kind in _LOOKS_AT_COVERS:
        return True
    return other.due.kind in _STEPS_OF_COVERS and other.due.subject in {one.due.subject for one in last}


def _own(scene: Scene, reminders: Sequence[StoredReminder]) -> list[StoredReminder]:
    """These without what was asked for others, as long as any is left and the words are not of all.

    What nobody is named for may be anybody's ("remind us"), unless something was asked for the speaker.
    """
    asked = [one for one in reminders if one.due.kind == _ASKED and not _is_addressed(scene, one)]
    mine = any(one.due.kind == _ASKED and _is_addressed(scene, one) for one in reminders)
    others = {one.number for one in asked if mine or one.due.to != one.due.facts.get("by")}
    own = [one for one in reminders if one.number not in others]
    of_all = {*_words(scene).split()} & {*heard(_WORDS, "which", "all")}
    return list(reminders) if of_all or not own else own


def _just_said_to_them(books: Books, scene: Scene, reminders: Sequence[StoredReminder]) -> list[StoredReminder]:
    """What the speaker asked for, or others for them, where it is what was said last in this chat and nothing else that
    was asked for them is open.
    """
    last = max((one.said_in or 0 for one in reminders), default=0)
    told = [one for one in reminders if one.said_in == last]
    asked = [one for one in reminders if one.due.kind == _ASKED and _is_addressed(scene, one)]
    alone = bool(asked) and all(one in told for one in asked)
    return asked if alone and said_last(books, scene, told) else []


def _is_addressed(scene: Scene, one: StoredReminder) -> bool:
    return (one.due.to or "").lower() == scene.speaker.lower()


def _later(books: Books, scene: Scene, entry: Entry, meant: Sequence[StoredReminder]) -> Answer:
    local = scene.now.astimezone(scene.zone).replace(tzinfo=None)
    until = put_off_until(entry, local).replace(tzinfo=scene.zone).astimezone(scene.now.tzinfo)
    outcome = Outcome()
    for one in meant:
        _write_reply(books, scene, entry, one.due, outcome)
        books.postpone(one.number, until)
    return Confirmed(how="later", dues=tuple(one.due for one in meant), until=until)


def _close(books: Books, scene: Scene, entry: Entry, meant: Sequence[StoredReminder]) -> Answer:
    outcome = Outcome()
    done = entry.answer in ("done", "yes")
    written = set()
    for one in meant:
        means = one.due.done_means
        if means is not None and (entry.on or entry.by):
            # "mei did it", "done yesterday": by whom and when, as the answer says it.
            means = replace(means, on=entry.on or means.on, by=entry.by or means.by)
        if done and means is not None:
            signature = (means, one.due.kind)
            if signature not in written:
                record(
                    books,
                    scene,
                    means,
                    outcome,
                    forced=_ALL_DOUBTS,
                    said=scene.message.text or "done",
                    reminder=one.due.key(),
                )
                written.add(signature)
        else:
            _write_reply(books, scene, entry, one.due, outcome)
        outcome.subjects[one.due.subject] = None
        books.close_reminder(
            one.number, how=_HOW[entry.answer or "done"], at=scene.now, by=scene.speaker, message=scene.key
        )
    plan = replan(books, outcome.subjects, scene.now)
    return Confirmed(
        how="done" if done else "not_yet" if entry.answer == "no" else "skip",
        dues=tuple(one.due for one in meant),
        acts=tuple(outcome.acts),
        plan=plan,
        choices=(Choice(label="undo", action={"undo": scene.key}),),
    )


_ALL_DOUBTS = ("above_left", "closed", "on_hold", "count_lower", "told_twice", "merged_away")


def _write_reply(books: Books, scene: Scene, entry: Entry, due: Due, outcome: Outcome) -> None:
    subject = due.subject
    named = replace(
        entry,
        but=None,
        lots=(subject.name,) if subject.kind == "lot" else (),
        trays=(subject.name,) if subject.kind == "tray" else (),
    )
    draft = scene.draft(named, lot=subject.name if subject.kind == "lot" else None, trays=named.trays)
    said = scene.message.text or (entry.answer or "")
    outcome.records.append(books.write(replace(draft, said=said, reminder=due.key())))
    if draft.lot is not None:
        refold(books, scene, draft.lot)


def _stop(books: Books, scene: Scene, entry: Entry) -> Answer:
    if entry.lots or entry.trays:
        return stop_or_start(books, scene, entry)
    return hush(books, scene)


def _left_out(meant: Sequence[StoredReminder], but: Exceptions) -> list[StoredReminder]:
    """Those that an exception names; a bare number that is none of their lots may be a tray."""
    of_lots = [one for one in meant if _names(one.due, but.trays, but.lots)]
    return of_lots or [one for one in meant if _names(one.due, but.lots, ())]


def _names(due: Due, trays: tuple[str, ...], lots: tuple[str, ...]) -> bool:
    named_trays = {due.subject.name} if due.subject.kind == "tray" else set(due.facts.get("trays", ()))
    named_lots = {due.subject.name} if due.subject.kind == "lot" else set(due.facts.get("lots", ()))
    short = {number.rpartition("-")[2].lstrip("0") for number in named_lots}
    return bool(named_trays & set(trays)) or bool((named_lots | short) & set(lots))
