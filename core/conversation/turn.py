"""One turn of talk: a message in, an answer out, all of it in one transaction.

Rules
1. A message heard before writes and sends nothing new.
2. An emergency is answered with one safety line and nothing else; the note is kept and the lead is told.
3. A new note of its own wins over an open question, which stays until it is answered, gives way, or is a day old.
4. The answer goes to the outbox in the transaction that holds its effects.
5. A turn that breaks keeps the words as a note and says so; a database that fails is the channel's to try again.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime

from core.answers import Answer, Safety
from core.conversation.answer_and_more import answer_and_more
from core.conversation.answer_and_note import answer_and_note, without_bare_look
from core.conversation.answering import answer_of_another, answer_with_words, bare_lot, lots_offered
from core.conversation.as_reminded import hear_as_reminded
from core.conversation.asking import give_up, pending_of
from core.conversation.asking_on import asks_on
from core.conversation.at_hand import danger_at_hand
from core.conversation.completing import Answered
from core.conversation.confirming import hear_answer, hear_each_answer
from core.conversation.counts_replied import count_replied
from core.conversation.hushing import hear_wish
from core.conversation.invited_counts import invited_count
from core.conversation.keeping import keep_unworked, may_be_kept
from core.conversation.kept_private import without_private
from core.conversation.messages import LONGEST_NOTE, Message, Say, Turn, message_values
from core.conversation.noting import complete_note, edit_note, take_note
from core.conversation.pictures import keep_photo_alone
from core.conversation.pressing import press
from core.conversation.scene import LONG_AGO, Scene, look_around
from core.conversation.small_talk import answer_small, plain_words
from core.conversation.there_too import there_too
from core.conversation.two_parts import take_both
from core.conversation.waiting import told_of_lapsed
from core.conversation.where_begun import with_tray_of_the_begun
from core.conversation.which import WHICH
from core.conversation.wrong_place import hear_wrong_place
from core.entries import Act, Entry
from core.notes import Reading, danger, read
from core.records import Record
from core.storage import Books, OpenQuestion, Store


def take_turn(store: Store, crew: int, message: Message, now: datetime, say: Say) -> Turn:
    """Hears a message of a crew member, decides, writes, and posts the answer. `now` is an aware instant."""
    try:
        return _take(store, crew, message, now, say)
    except Exception as wrong:
        if not may_be_kept(wrong):
            raise
        return keep_unworked(store, crew, message, now, say, wrong)


def _take(store: Store, crew: int, message: Message, now: datetime, say: Say) -> Turn:
    with store.books(crew) as books:
        key, first_time = books.hear(message_values(message), now)
        if not first_time:
            return Turn(answers=(), repeated=True)
        scene, over = _without_expired(books, look_around(books, message, key, now))
        answers, records = _decide(books, scene)
        answers = (*answers, *told_of_lapsed(books, scene, over)) if answers else answers
        answers = without_private(books, message.chat, answers)
        if answers:
            said = say(answers, now.astimezone(scene.zone).replace(tzinfo=None))
            books.post(
                chat=message.chat,
                text=said.text,
                buttons=[(choice.label, choice.action) for choice in said.choices],
                at=now,
                reply_to=message.message_id,
                document=said.document,
                records=[one.number for one in records],
            )
        return Turn(answers=answers)


def _without_expired(books: Books, scene: Scene) -> tuple[Scene, list[OpenQuestion]]:
    """The scene without a question that is over, and all that are over now; their words are kept."""
    over = [old for old in books.open_questions(scene.chat, scene.speaker, LONG_AGO) if old.expires_at <= scene.now]
    for old in over:
        give_up(books, old)
    now_over = scene.question is not None and scene.question.expires_at <= scene.now
    return (replace(scene, question=None) if now_over else scene), over


def _decide(books: Books, scene: Scene) -> tuple[tuple[Answer, ...], Sequence[Record]]:
    message = scene.message
    if message.pressed is not None:
        return press(books, scene)
    words = plain_words(message.text)
    if message.photo is not None and not words:
        return keep_photo_alone(books, scene)
    kind = danger(words) or danger_at_hand(books, scene, words)
    if kind is not None:
        return _safety(books, scene, kind)
    if message.edit:
        return edit_note(books, scene)
    wish = hear_wish(books, scene)
    if wish is not None:
        return (wish,), ()
    reading = read(words, scene.local_now, scene.names)
    each = hear_each_answer(books, scene, reading)
    if each:
        return each, ()
    answer = hear_answer(books, scene, reading)
    if answer is not None:
        return (answer,), ()
    if scene.question is not None and scene.question.kind == WHICH:
        scene = replace(scene, question=books.open_question(scene.chat, scene.speaker, scene.now))
    right = hear_wrong_place(books, scene, reading)
    if right is not None:
        return right
    too = there_too(books, scene)
    if too is not None:
        return take_note(books, scene, too)
    answered = None if asks_on(books, scene) else _answer(books, scene, reading)
    if answered is not None:
        return complete_note(books, scene, answered)
    parts = answer_and_note(books, scene, reading) or answer_and_more(books, scene, reading)
    if parts is not None:
        return take_both(books, scene, parts)
    reminded = hear_as_reminded(books, scene, reading)
    if not isinstance(reminded, Reading):
        return (reminded,), ()
    reading = with_tray_of_the_begun(books, scene, without_bare_look(scene, reminded))
    reading = invited_count(books, scene, count_replied(books, scene, reading))
    small = answer_small(books, scene, reading)
    if small is not None:
        return (small,), ()
    return take_note(books, scene, reading)


def _answer(books: Books, scene: Scene, reading: Reading) -> Answered | None:
    """What the words come to as an answer: to the latest question, or to one that waits behind it."""
    if scene.question is None:
        return answer_of_another(books, scene, reading)
    others = books.open_questions(scene.chat, scene.speaker, scene.now)
    waiting = [scene.question, *(one for one in others if one.number != scene.question.number and one.kind != WHICH)]
    named = bare_lot(books, scene) if len(waiting) > 1 else None
    if named is not None:
        waiting.sort(key=lambda one: named not in lots_offered(pending_of(one)[0]))
    found = (answer_with_words(books, replace(scene, question=one), one, reading) for one in waiting)
    return next((one for one in found if one is not None), None)


def _safety(books: Books, scene: Scene, kind: str) -> tuple[tuple[Answer, ...], Sequence[Record]]:
    words = scene.message.text[:LONGEST_NOTE]
    kept = books.write(replace(scene.draft(Entry(act=Act.NOTE, text=words)), said=words))
    books.tell_lead(f"{scene.speaker}: {words[:400]}", at=scene.now, but=scene.speaker)
    return (Safety(kind=kind),), (kept,)
