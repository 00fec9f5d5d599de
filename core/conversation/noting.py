"""What a note comes to: recorded, asked about, answered; completed by an answer; or read anew after an edit."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from core.answers import Answer, Asked, Choice, FiguresTold, Noted, Refused
from core.conversation.adding_to import told_besides
from core.conversation.airing import choice_of_other, tell_over
from core.conversation.airing_words import said_as_before
from core.conversation.asking import Asker, pend_readings, put_question
from core.conversation.asking_on import as_question, corrected_question, of_those, question_goes_on
from core.conversation.back_in_the_cold import hear_back_in_the_cold
from core.conversation.brought_in import hear_brought_in
from core.conversation.cautioning import caution_once, cautions_for
from core.conversation.closing import hear_closing
from core.conversation.completing import Answered
from core.conversation.confirming import confirm, confirm_beside
from core.conversation.correcting import amend, amend_record
from core.conversation.counts_replied import count_replied
from core.conversation.covers_back import hear_covers
from core.conversation.covers_meant import in_minutes, with_cover_back, with_covers_named
from core.conversation.covers_shut import with_cover_shut
from core.conversation.cultivar_told import hear_cultivar
from core.conversation.degrees_meant import in_scale
from core.conversation.denying import hear_denial
from core.conversation.doubts import said_before
from core.conversation.editing import answered_anew, let_hold_again, with_what_stood_before, withdraw
from core.conversation.everything import asked_again, not_told_of, of_everything, without_lots
from core.conversation.gone_by_size import counted_by_size
from core.conversation.heard import heard
from core.conversation.hold_over import hear_hold_over
from core.conversation.jug_question import jug_pending
from core.conversation.leaning import in_this_talk
from core.conversation.left_off import remarks_on_left_off, with_cover_left_off
from core.conversation.left_open import with_what_is_open
from core.conversation.looked_well import hear_looked_well
from core.conversation.loss_totals import since_told
from core.conversation.lot_of_its_number import with_lot_of_its_number
from core.conversation.messages import LONGEST_NOTE
from core.conversation.named_last import context_of, offer_of_talk, with_lots_left_over
from core.conversation.no_loss import without_false_loss
from core.conversation.numbers_asked import with_lots_asked
from core.conversation.numbers_meant import lots_for_numbers, with_lot_choices, with_numbers_settled
from core.conversation.ordering import losses_that_explain
from core.conversation.pictures import keep_photo, keep_with_answer, keep_with_note, lots_of
from core.conversation.places_known import with_places_set_down
from core.conversation.places_told import at_a_place
from core.conversation.plant_of_its_lot import with_plant_of_its_lot
from core.conversation.potted_part import of_the_potted
from core.conversation.provenance import hear_source
from core.conversation.putting_right import hear_put_right, sounds_like_one
from core.conversation.recording import LATE, Outcome, Pending, question_of, record
from core.conversation.replanning import every_subject, replan
from core.conversation.restated import only_corrects
from core.conversation.same_again import hear_same_again
from core.conversation.scene import Scene
from core.conversation.set_aside import of_what_is_kept
from core.conversation.shift_told import hear_shift
from core.conversation.small_talk import greet
from core.conversation.split_part import of_the_split
from core.conversation.standing_told import standing_told
from core.conversation.sum_told import SumTold, check_sum, without_sum
from core.conversation.taking_back import take_back_some, taken_back_by_edit, undo
from core.conversation.targets_told import hear_target, with_next_target, with_sale_day, without_unwanted
from core.conversation.the_rest import with_the_rest
from core.conversation.trays_by_number import with_trays_by_number
from core.conversation.until_told import with_length_until
from core.conversation.waiting import just_asked, put_again, set_aside, settle_said_again, still_open
from core.conversation.where_begun import with_tray_of_its_cover
from core.conversation.whole_lot_lost import offer_whole
from core.conversation.wilting import remarks_on_wilting
from core.entries import Act, Entry
from core.lots.phrases import says
from core.notes import Reading, complete, read
from core.questions import answer_question
from core.questions.comparing import deal
from core.questions.trays_meant import with_trays_meant
from core.records import Record
from core.storage import Books

Answers = tuple[tuple[Answer, ...], Sequence[Record]]
_TALK = frozenset({Act.ASK, Act.HELLO, Act.REPLY, Act.UNDO, Act.AMEND})


def take_note(books: Books, scene: Scene, reading: Reading) -> Answers:
    """Records and answers a note of its own."""
    put_right = hear_target(books, scene, reading) or hear_put_right(books, scene, reading)
    if put_right:
        return put_right, ()
    asked = just_asked(books, scene)
    meant = _as_meant(books, scene, only_corrects(scene, reading))
    if not isinstance(meant, _Meant):
        return meant
    placed = [_with_choices(books, scene, one) for one in meant.parts]
    scene = settle_said_again(books, scene, placed)
    again = not scene.message.edit and said_before(books, scene)
    # What recording would ask is worked out ahead only where it decides something.
    asks = {_asks(books, scene, one) for one in placed} if again or scene.question is not None else set()
    if again and "told_twice" not in asks:
        twice = _said_twice(placed)
        if twice is not None:
            return (put_question(books, scene, [twice]),), ()
    if scene.question is not None and asks != {None}:
        scene = set_aside(books, scene)
    outcome, talk = _recorded(books, scene, placed, told=meant.told)
    outcome.remarks += check_sum(books, outcome, meant.sum_told) if meant.sum_told is not None else []
    if outcome.acts and all(act.entry.act is Act.NOTE for act in outcome.acts) and sounds_like_one(scene):
        outcome.remarks.append(("nothing_changed", {}))
        outcome.pending = [one for one in outcome.pending if one.kind != "act"]
    if scene.message.photo is not None:
        keep_with_note(books, scene, outcome)
    answers = _answers(books, scene, outcome, talk, took=meant.took, reading=meant.reading)
    if asked is not None and not any(isinstance(one, Asked) for one in answers):
        waiting = put_again(books, asked, outcome.records)
        answers = (*answers, waiting) if waiting is not None else answers
    return answers, outcome.records


@dataclass(frozen=True, slots=True, kw_only=True)
class _Meant:
    """What a note means in its talk: as told, as completed by what was told before, and what was taken from there."""

    told: Reading
    reading: Reading
    parts: Sequence[Entry | Pending]
    took: tuple[str, ...]
    sum_told: SumTold | None


def _as_meant(books: Books, scene: Scene, reading: Reading) -> _Meant | Answers:
    """What the note means in this talk; or the answer where it turns out to be no note to record."""
    reading, sum_told = without_sum(scene, as_question(reading, scene.message.text))
    reading, lasting = in_minutes(_with_covers_told(books, scene, reading))
    reading, heat = in_scale(books, with_plant_of_its_lot(books, scene, with_cover_back(books, scene, reading)))
    reading = in_this_talk(books, scene, without_false_loss(scene, reading))
    reading = with_trays_by_number(books, scene, with_numbers_settled(books, reading, scene.year()))
    reading = without_unwanted(books, scene, with_sale_day(books, scene, with_next_target(scene, reading)))
    kept = of_what_is_kept(books, scene, reading)
    if not isinstance(kept, Reading):
        return (kept,), ()
    reading = told_besides(books, scene, kept) or kept
    reading = with_what_is_open(books, scene, with_length_until(scene, reading))
    brought = hear_brought_in(books, scene, hear_back_in_the_cold(books, scene, reading))
    if not isinstance(brought, Reading):
        return (brought,), ()
    freed = hear_hold_over(books, scene, hear_looked_well(books, scene, hear_shift(books, scene, brought)))
    if not isinstance(freed, Reading):
        return (freed,), ()
    covers = hear_covers(books, scene, freed)
    if not isinstance(covers, Reading):
        return (covers,), ()
    reading = covers
    standing = standing_told(books, scene, reading)
    if standing is not None and not isinstance(standing, Reading):
        return (standing,), ()
    told, to_ask = of_everything(books, scene, standing or reading)
    told, nowhere = at_a_place(books, scene, told)
    reading, took = complete(told, context_of(books, scene, told), scene.message.text)
    named = with_lot_of_its_number(books, scene, told, with_lots_left_over(books, scene, told, reading))
    took, reading = (took if named == reading else ()), named
    if took and not scene.replied_records:
        reading = lots_for_numbers(books, told, reading, scene.year())
    unmet = not_told_of(told, reading)
    reading = asked_again(without_lots(reading, unmet), (*to_ask, *nowhere, *unmet))
    took = () if unmet else took
    reading = with_places_set_down(scene, with_tray_of_its_cover(reading))
    reading, potted = of_the_potted(books, scene, told, reading)
    reading, in_all = since_told(books, scene, of_the_split(scene, reading))
    trial = _trial(books, scene, reading)
    if trial is not None:
        return trial
    hearers = (hear_source, hear_denial, hear_cultivar, hear_closing, hear_same_again)
    answer = next((said for hear in hearers if (said := hear(books, scene, reading)) is not None), None)
    if answer is not None:
        return (answer,), ()
    parts = with_the_rest(books, scene, losses_that_explain(books, scene, pend_readings(reading)))
    took = (*took, *lasting, *heat, *potted, *in_all)
    return _Meant(told=told, reading=reading, parts=parts, took=took, sum_told=sum_told)


def _with_covers_told(books: Books, scene: Scene, reading: Reading) -> Reading:
    """The reading with the lots just asked of, and with the covers that its words mean and do not name."""
    shut = with_cover_shut(books, scene, with_lots_asked(books, scene, reading))
    return with_covers_named(books, scene, with_cover_left_off(books, scene, shut))


def _recorded(
    books: Books, scene: Scene, placed: Sequence[Entry | Pending], *, told: Reading
) -> tuple[Outcome, list[Answer]]:
    """What the parts of a note come to, each recorded, asked about or answered."""
    outcome, talk = Outcome(), list[Answer]()
    deeds = {one.act for one in told.entries} - _TALK
    for one in placed:
        if isinstance(one, Entry) and one.act is Act.REPLY and deeds:
            confirmed = confirm_beside(books, scene, one, deeds)
            talk.extend([confirmed] if confirmed is not None else [])
        elif isinstance(one, Pending) and one.entries[0].act is Act.ASK:
            # A question that names no lot is of them all.
            talk.append(_talk(books, scene, one.entries[0]))
        elif isinstance(one, Pending):
            if one.entries[0].act is Act.NOTE:
                record(books, scene, one.entries[0], outcome)
            outcome.pending.append(one)
        elif one.act in _TALK:
            talk.append(_talk(books, scene, one))
        else:
            goes_on = [] if any(entry.act is one.act for entry in told.entries) else scene.latest
            record(books, scene, one, outcome, said=said_as_before(scene.message.text, goes_on, one))
    return outcome, talk


def _with_choices(books: Books, scene: Scene, one: Entry | Pending) -> Entry | Pending:
    """What must be asked, with the lots that its words or the talk name as buttons."""
    if isinstance(one, Pending):
        one = with_lot_choices(books, one, scene.year())
    offered = offer_of_talk(books, scene, one)
    if isinstance(offered, Pending):
        offered = counted_by_size(books, scene, offered)
    return offer_whole(books, scene, offered) if isinstance(offered, Pending) else offered


def complete_note(books: Books, scene: Scene, answered: Answered) -> Answers:
    """Records the note that an answer completed, under the words and the time of the note itself."""
    note = answered.note
    outcome, talk = Outcome(), list[Answer]()
    for entry in answered.entries:
        if answered.takes_back is not None:
            talk.append(undo(books, scene, answered.takes_back))
        elif answered.takes_back_record is not None:
            told_on = books.record(answered.takes_back_record)
            talk.append(take_back_some(books, scene, [told_on]) if told_on is not None else Refused(why="old_button"))
        elif answered.corrects is not None:
            settled = replace(scene, question=None)
            talk.append(amend_record(books, settled, answered.corrects, entry, forced=answered.forced))
            if answered.corrects_then is not None:
                talk.append(amend_record(books, settled, *answered.corrects_then, forced=answered.forced))
        elif entry.act is Act.AMEND:
            told = books.records_of_message(answered.meant) if answered.meant is not None else ()
            talk.append(amend(books, replace(scene, replied_records=told) if told else scene, entry))
        else:
            record(
                books, scene, entry, outcome,
                forced=answered.forced, said=note.said, said_at=note.said_at, by=note.by,
            )  # fmt: skip
        if entry.act is Act.NOTE and answered.kind == "photo":
            keep_photo(books, scene, lots_of(outcome), file=(entry.text or "").removeprefix("picture "))
    if answered.kind != "photo":
        keep_with_answer(books, scene, note, outcome)
    outcome.pending.extend(answered.pending)
    _supersede_notes(books, note.message, outcome.records)
    answers = _answers(books, scene, outcome, talk, note=note)
    if answered.dropped and not answers:
        answers = (Refused(why="dropped"),)
    if answered.waits:
        return (Refused(why="waits", facts={"said": note.said, "kind": answered.kind}),), ()
    if not any(isinstance(one, Asked) for one in answers):
        waiting = still_open(books, scene, [lot.number for act in outcome.acts for lot in act.lots])
        answers = (*answers, waiting) if waiting is not None else answers
    return answers, outcome.records


def edit_note(books: Books, scene: Scene) -> Answers:
    """Reads an edited message anew: what it had recorded is set aside, a question that it had raised is closed."""
    message = scene.message
    original = books.first_key(message.channel, message.chat, message.message_id)
    old = withdraw(books, scene, original) if original else ()
    again = let_hold_again(books, scene, old)
    books.close_question_of(original or scene.key)
    if scene.question is not None:
        scene = replace(scene, question=books.open_question(scene.chat, scene.speaker, scene.now))
    reading = count_replied(books, scene, read(message.text, scene.local_now, scene.names))
    if not reading.entries:
        return (Refused(why="empty"),), ()
    if old and all(one.act is Act.UNDO for one in reading.entries):
        return (taken_back_by_edit(books, scene, old),), ()
    if again and any(one.act is Act.AMEND for one in reading.entries):
        scene = replace(scene, replied_records=again)
    anew = answered_anew(books, scene, original, old, reading) if not again else None
    answers, records = complete_note(books, scene, anew) if anew is not None else take_note(books, scene, reading)
    answers = with_what_stood_before(books, scene, answers, old)
    touched = {one.lot for one in old if one.lot} | {tray for one in old for tray in one.trays}
    replan(books, [one for one in every_subject(books) if one.name in touched], scene.now)
    return answers, records


def _trial(books: Books, scene: Scene, reading: Reading) -> Answers | None:
    """A trial that the note asks for ("split 60 toyon: 30 heel, 30 tip"), dealt, and kept as a note with its seed."""
    one = reading.entries[0] if len(reading.entries) == 1 else None
    if one is None or one.lots or one.trays or one.to or not one.plant:
        return None
    asked_for = one.act is Act.NOTE and says(scene.message.text, heard("answers_heard", "trial"))
    if one.act is not Act.SPLIT and not asked_for:
        return None
    dealt = deal(one, scene.message.text.lower(), scene.key)
    if not isinstance(dealt, FiguresTold):
        return None if dealt is None else ((dealt,), ())
    outcome = Outcome()
    words = f"{scene.message.text[: LONGEST_NOTE - 40]} (trial dealt, seed {dealt.facts['seed']})"
    record(books, scene, Entry(act=Act.NOTE, plant=one.plant, text=words), outcome)
    return (dealt,), outcome.records


def _said_twice(placed: Sequence[Entry | Pending]) -> Pending | None:
    entries = tuple(one for one in placed if isinstance(one, Entry) and one.act not in _TALK)
    choices = (Choice(label="the_same", action={"drop": True}), Choice(label="again", action={"force": "again"}))
    return Pending(kind="again", entries=entries, choices=choices) if entries else None


def _asks(books: Books, scene: Scene, one: Entry | Pending) -> str | None:
    """The kind of question that a part of a note will raise, or None."""
    if isinstance(one, Pending):
        return one.kind
    return None if one.act in _TALK else question_of(books, scene, one)


def _talk(books: Books, scene: Scene, entry: Entry) -> Answer:
    match entry.act:
        case Act.ASK:
            answer = question_goes_on(books, scene)
            if answer is not None:
                return answer
            asked = with_trays_meant(books, of_those(books, scene, entry), scene.year())
            told = answer_question(books, asked, scene.now, scene.message.text, scene.speaker)
            return caution_once(books, scene, told)
        case Act.REPLY:
            return confirm(books, scene, entry)
        case Act.UNDO:
            return undo(books, scene, named=entry.rest)
        case Act.AMEND:
            return corrected_question(books, scene, entry) or _amended(books, scene, entry)
        case _:
            return greet(entry)


def _amended(books: Books, scene: Scene, entry: Entry) -> Answer:
    asked = None if scene.latest else corrected_question(books, scene, entry, numbers=True)
    done = asked or amend(books, scene, entry)
    if isinstance(done, Refused) and done.why == "nothing_to_amend":
        return corrected_question(books, scene, entry, numbers=True) or done
    return done


def _answers(
    books: Books,
    scene: Scene,
    outcome: Outcome,
    talk: Sequence[Answer] = (),
    *,
    took: tuple[str, ...] = (),
    reading: Reading | None = None,
    note: Asker | None = None,
) -> tuple[Answer, ...]:
    rules_changed = any(act.entry.act is Act.RULE for act in outcome.acts)
    subjects = every_subject(books) if rules_changed else list(outcome.subjects)
    plan = replan(books, subjects, scene.now)
    outcome.remarks += remarks_on_wilting(books, outcome.acts, scene.now)
    outcome.remarks += remarks_on_left_off(books, scene, outcome.acts)
    answers: list[Answer] = []
    if outcome.acts:
        acts = tuple(tell_over(act, outcome.records) for act in outcome.acts)
        answers.append(
            Noted(
                acts=acts,
                took=took,
                repairs=reading.repairs if reading else (),
                plan=plan,
                cautions=cautions_for(books, scene, tuple(act.entry for act in outcome.acts)),
                remarks=tuple(outcome.remarks),
                choices=(Choice(label="undo", action={"undo": scene.key}), *choice_of_other(acts, outcome.records)),
                late=scene.now - scene.message.said_at > LATE,
            )
        )
    answers.extend(talk)
    pending = [*outcome.pending, *jug_pending(books, outcome.acts)]
    if pending:
        answers.append(put_question(books, scene, pending, note if outcome.pending else None))
    return tuple(answers)


def _supersede_notes(books: Books, message: str, records: Sequence[Record]) -> None:
    """The words kept as a note while the question was open give way to the act that they turned out to be."""
    if not records:
        return
    kept = [one for one in books.records_of_message(message) if one.holds() and one.entry.act is Act.NOTE]
    books.supersede([one.number for one in kept if one.number != records[0].number], by=records[0].number)
