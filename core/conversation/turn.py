"""One turn of talk: a message in, an answer out, all of it in one transaction.

Rules
1. A message heard before writes and sends nothing new.
2. An emergency is answered with one safety line and nothing else; the note is kept and the lead is told.
3. A new note of its own wins over an open question; the question stays until it is answered or a day old.
4. The answer goes to the outbox in the transaction that holds its effects.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from typing import Any

from core.answers import Answer, Choice, Noted, Refused, Safety
from core.conversation.asking import Answered, answer_with_action, answer_with_words, pend_readings, put_question
from core.conversation.cautioning import cautions_for
from core.conversation.confirming import confirm
from core.conversation.correcting import amend, amend_record, redo, undo, withdraw
from core.conversation.doubts import said_before
from core.conversation.messages import Message, Say, Turn
from core.conversation.recording import LATE, Outcome, Pending, record
from core.conversation.replanning import every_subject, replan
from core.conversation.scene import Scene, look_around
from core.conversation.small_talk import greet, keep_photo
from core.entries import Act, Entry
from core.notes import Reading, complete, danger, read
from core.questions import answer_question
from core.records import Record
from core.storage import Books, RecordDraft, Store

LONGEST_NOTE = 4096
_TALK = frozenset({Act.ASK, Act.HELLO, Act.REPLY, Act.UNDO, Act.AMEND})


def take_turn(store: Store, crew: int, message: Message, now: datetime, say: Say) -> Turn:
    """Hears a message of a crew member, decides, writes, and posts the answer. `now` is an aware instant."""
    with store.books(crew) as books:
        key, first_time = books.hear(message_values(message), now)
        if not first_time:
            return Turn(answers=(), repeated=True)
        scene = look_around(books, message, key, now)
        answers, records = _decide(books, scene)
        if answers:
            said = say(answers, now.astimezone(scene.zone).replace(tzinfo=None))
            books.post(
                chat=message.chat,
                text=said.text,
                buttons=[(choice.label, choice.action) for choice in said.choices],
                at=now,
                reply_to=message.message_id,
                records=[one.number for one in records],
            )
        return Turn(answers=answers)


def message_values(message: Message) -> dict[str, Any]:
    """A message as the journal keeps it."""
    return {
        "channel": message.channel,
        "chat": message.chat,
        "message_id": message.message_id,
        "edit": message.edit,
        "speaker": message.speaker,
        "text": message.text[:LONGEST_NOTE],
        "said_at": message.said_at,
        "replied_to": message.replied_to,
    }


def _decide(books: Books, scene: Scene) -> tuple[tuple[Answer, ...], Sequence[Record]]:
    message = scene.message
    if message.pressed is not None:
        return _press(books, scene)
    if message.photo is not None and not message.text.strip():
        return (keep_photo(books, scene),), ()
    kind = danger(message.text)
    if kind is not None:
        return _safety(books, scene, kind)
    if message.edit:
        return _edited(books, scene)
    reading = read(message.text, scene.local_now, scene.names)
    if not reading.entries:
        return (Refused(why="empty"),), ()
    if message.photo is not None:
        keep_photo(books, scene, reading.entries)
    if scene.question is not None:
        answered = answer_with_words(books, scene, scene.question, reading)
        if answered is not None:
            return _completed(books, scene, answered)
    return _note(books, scene, reading)


def _note(books: Books, scene: Scene, reading: Reading) -> tuple[tuple[Answer, ...], Sequence[Record]]:
    """Records and answers a note of its own."""
    reading, took = complete(reading, scene.context())
    placed, _loose = pend_readings(reading)
    to_record = [one for one in reading.entries if one.act not in _TALK]
    if to_record and not scene.message.edit and said_before(books, scene):
        choices = (Choice(label="the_same", action={"drop": True}), Choice(label="again", action={"force": "again"}))
        entries = tuple(one for one in placed if isinstance(one, Entry) and one.act not in _TALK)
        if entries:
            return (put_question(books, scene, [Pending(kind="again", entries=entries, choices=choices)]),), ()
    outcome = Outcome()
    talk: list[Answer] = []
    for one in placed:
        if isinstance(one, Pending):
            if one.entries[0].act is Act.NOTE:
                record(books, scene, one.entries[0], outcome)
            outcome.pending.append(one)
        elif one.act in _TALK:
            talk.append(_talk(books, scene, one))
        else:
            record(books, scene, one, outcome)
    return _answers(books, scene, outcome, talk, took=took, reading=reading), outcome.records


def _talk(books: Books, scene: Scene, entry: Entry) -> Answer:
    match entry.act:
        case Act.ASK:
            return answer_question(books, entry, scene.now)
        case Act.REPLY:
            return confirm(books, scene, entry)
        case Act.UNDO:
            return undo(books, scene)
        case Act.AMEND:
            return amend(books, scene, entry)
        case _:
            return greet(entry)


def _answers(
    books: Books,
    scene: Scene,
    outcome: Outcome,
    talk: Sequence[Answer] = (),
    *,
    took: tuple[str, ...] = (),
    reading: Reading | None = None,
    note: Answered | None = None,
) -> tuple[Answer, ...]:
    rules_changed = any(act.entry.act is Act.RULE for act in outcome.acts)
    subjects = every_subject(books) if rules_changed else list(outcome.subjects)
    plan = replan(books, subjects, scene.now)
    answers: list[Answer] = []
    if outcome.acts:
        answers.append(
            Noted(
                acts=tuple(outcome.acts),
                took=took,
                repairs=reading.repairs if reading else (),
                plan=plan,
                cautions=cautions_for(books, scene, tuple(act.entry for act in outcome.acts)),
                remarks=tuple(outcome.remarks),
                choices=(Choice(label="undo", action={"undo": scene.key}),),
                late=scene.now - scene.message.said_at > LATE,
            )
        )
    answers.extend(talk)
    if outcome.pending:
        answers.append(put_question(books, scene, outcome.pending, note))
    return tuple(answers)


def _completed(books: Books, scene: Scene, answered: Answered) -> tuple[tuple[Answer, ...], Sequence[Record]]:
    """Records the note that an answer completed, under the words and the time of the note itself."""
    outcome = Outcome()
    for entry in answered.entries:
        record(books, scene, entry, outcome, forced=answered.forced, said=answered.said, said_at=answered.said_at)
    outcome.pending.extend(answered.pending)
    _supersede_notes(books, answered, outcome.records)
    answers = _answers(books, scene, outcome, note=answered)
    if answered.dropped and not answers:
        return (Refused(why="dropped"),), ()
    return answers, outcome.records


def _supersede_notes(books: Books, answered: Answered, records: Sequence[Record]) -> None:
    """The words kept as a note while the question was open give way to the act that they turned out to be."""
    if not records:
        return
    kept = [one for one in books.records_of_message(answered.message) if one.holds() and one.entry.act is Act.NOTE]
    books.supersede([one.number for one in kept if one.number != records[0].number], by=records[0].number)


def _edited(books: Books, scene: Scene) -> tuple[tuple[Answer, ...], Sequence[Record]]:
    message = scene.message
    original = books.first_key(message.channel, message.chat, message.message_id)
    old = withdraw(books, scene, original) if original else ()
    books.close_question_of(original or scene.key)
    reading = read(message.text, scene.local_now, scene.names)
    if not reading.entries:
        return (Refused(why="empty"),), ()
    answers, records = _note(books, scene, reading)
    touched = {one.lot for one in old if one.lot}
    replan(books, [one for one in every_subject(books) if one.name in touched], scene.now)
    return answers, records


def _press(books: Books, scene: Scene) -> tuple[tuple[Answer, ...], Sequence[Record]]:
    action = books.pressed(scene.message.pressed or "")
    if action is None:
        return (Refused(why="old_button"),), ()
    if "undo" in action:
        return (undo(books, scene, action["undo"]),), ()
    if "redo" in action:
        return (redo(books, scene, action["redo"]),), ()
    if "amend" in action:
        return (amend_record(books, scene, action["amend"], Entry.from_keys(action["choose"])),), ()
    answer = next((word for word in ("done", "later", "skip", "no") if word in action), None)
    if answer is not None:
        return (confirm(books, scene, Entry(act=Act.REPLY, answer=answer), only=action[answer]),), ()
    if "ask" in action:
        return (answer_question(books, Entry.from_keys(action["ask"]), scene.now),), ()
    if "say" in action and "question" not in action:
        return _note(books, scene, read(str(action["say"]), scene.local_now, scene.names))
    question = books.question(action.get("question", 0))
    if question is None:
        return (Refused(why="old_button"),), ()
    if "say" in action:
        worded = replace(scene, message=replace(scene.message, text=str(action["say"]), pressed=None))
        answered = answer_with_words(books, worded, question, read(worded.message.text, scene.local_now, scene.names))
        return _completed(books, scene, answered) if answered else ((Refused(why="old_button"),), ())
    return _completed(books, scene, answer_with_action(books, question, action))


def _safety(books: Books, scene: Scene, kind: str) -> tuple[tuple[Answer, ...], Sequence[Record]]:
    message = scene.message
    kept = books.write(
        RecordDraft(
            lot=None, trays=(), entry=Entry(act=Act.NOTE, text=message.text[:LONGEST_NOTE]), at=message.said_at,
            said_at=message.said_at, by=scene.speaker, told_by=scene.speaker, said=message.text[:LONGEST_NOTE],
            message=scene.key,
        )
    )  # fmt: skip
    books.tell_lead(f"{scene.speaker}: {message.text[:400]}", at=scene.now, but=scene.speaker)
    return (Safety(kind=kind),), (kept,)

