"""How a note is taken back and brought back, always by a later record and never by erasing.

Rules
1. "undo" takes back the speaker's own last note in that chat, or the note replied to; "undo" again brings it back. A
   record holds while what supersedes it does not, so both are one more record.
2. While a question of the bot's stands open and nothing was told since, "undo" drops what was asked about, with what
   that note had recorded so far.
3. A last note older than a talk lasts, or of another deed than the words name, is shown and asked about first.
4. After a question of one's own, "never mind" means the question.
5. "Bring it back" brings back the speaker's own last undo, like its button; "keep it" does so right after it alone.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta

from core.answers import Answer, Choice, Refused, Undone
from core.conversation.asking import put_question
from core.conversation.correction_words import bare, said, without_ends
from core.conversation.hushing import recall_who_is_quiet
from core.conversation.recording import Pending, refold, subjects_of
from core.conversation.replanning import replan
from core.conversation.scene import TALK_LASTS, Scene, words_before
from core.entries import Act, Entry
from core.notes import act_of_word, read
from core.records import Record
from core.storage import Books
from core.vocabulary.loading import small_words

_FAULTS = tuple(small_words("answers", "faults"))
_BACK_WITHIN = timedelta(days=1)
"""How long "bring it back" means what was taken back."""

MARKS = frozenset({Act.UNDO, Act.AMEND})


def undo(books: Books, scene: Scene, message: str | None = None, *, named: str | None = None) -> Answer:
    """Takes back a message's records (the speaker's last by default), or brings back what the last undo took.

    `named` is the deed that the words name ("undo the misting").
    """
    if message is not None:
        return _take_back_message(books, scene, message)
    # "wrong tray, ignore that" says why, and not which.
    named = None if named is not None and bare(named).endswith(_FAULTS) else named
    if scene.replied_records:
        return _take_back_message(books, scene, scene.replied_records[-1].message)
    if _means_a_question(books, scene):
        return Refused(why="dropped")
    edit = _edit_that_took_back(books, scene)
    if edit is not None and named is None:
        return _undo_the_undo(books, scene, edit)
    # The mark of an edit that set nothing aside is no note.
    last = books.last_message_with_records(scene.speaker, scene.chat, but={Act.AMEND})
    records = books.records_of_message(last) if last is not None else ()
    dropped = _drop_what_is_asked(books, scene, last, records)
    if dropped is not None:
        return dropped
    if last is None:
        return Refused(why="nothing_to_undo")
    undos = [record for record in records if record.entry.act is Act.UNDO and record.holds()]
    fresh = books.told_in(scene.chat, since=scene.message.said_at - TALK_LASTS)
    if named is not None:
        deed = act_of_word(named)
        told = [one for one in fresh if one.told_by == scene.speaker and one.entry.act.value == deed]
        return _take_back_message(books, scene, told[-1].message) if told else _ask_first(books, scene, last, records)
    if all(one.message != last for one in fresh):
        return _ask_first(books, scene, last, records)
    return _undo_the_undo(books, scene, undos[0]) if undos else _take_back_message(books, scene, last)


def _edit_that_took_back(books: Books, scene: Scene) -> Record | None:
    """The mark of this speaker's edit that took a note back and told nothing, where nothing was told since."""
    last = books.last_message_with_records(scene.speaker, scene.chat, since=scene.message.said_at - TALK_LASTS)
    marks = [one for one in books.records_of_message(last) if one.holds()] if last is not None else []
    told = [one for one in marks if one.entry.act is not Act.AMEND or what_a_mark_did(books, one)[0]]
    return told[0] if len(told) == 1 and told[0].entry.act is Act.AMEND else None


def _take_back_message(books: Books, scene: Scene, message: str) -> Answer:
    found = books.records_of_message(message)
    records = tuple(record for record in found if record.holds() and record.entry.act not in MARKS)
    if not records:
        return Refused(why="already_undone")
    return take_back_records(books, scene, records)


def _means_a_question(books: Books, scene: Scene) -> bool:
    """Whether "never mind" follows a question of this person's own, which then is what is not minded."""
    if bare(scene.message.text) not in said("never_mind") or scene.question is not None:
        return False
    before = words_before(books, scene, scene.speaker)
    told = read(before, scene.local_now, scene.names).entries if before else ()
    return bool(told) and all(one.act is Act.ASK for one in told)


def _drop_what_is_asked(books: Books, scene: Scene, last: str | None, told: Sequence[Record]) -> Answer | None:
    """Closes the open question where the speaker told nothing since, with what its note had recorded; else None."""
    question = scene.question
    if question is None:
        return None
    message = str(question.draft["message"])
    recorded = [one for one in books.records_of_message(message) if one.holds() and one.entry.act not in MARKS]
    if last is not None and books.came_after(last, message):
        return None
    books.close_question(question.number)
    if any(one in told for one in recorded):
        return take_back_records(books, scene, recorded)
    return Refused(why="not_recorded", facts={"said": str(question.draft["said"])})


def _ask_first(books: Books, scene: Scene, message: str, records: Sequence[Record]) -> Answer:
    shown = next((one for one in records if one.holds() and one.entry.act not in MARKS), None)
    if shown is None:
        return Refused(why="nothing_to_undo")
    facts = {"day": shown.said_at.astimezone(scene.zone).date().isoformat(), "said": shown.said}
    choices = (Choice(label="yes", action={"take_back": message}), Choice(label="no", action={"drop": True}))
    pending = Pending(kind="undo_old", entries=(shown.entry,), choices=choices, facts=facts)
    return put_question(books, scene, [pending])


def take_back_records(books: Books, scene: Scene, records: Sequence[Record]) -> Answer:
    """Takes back these records of one message, and says what holds again in their place."""
    mark = write_mark(books, scene, Entry(act=Act.UNDO))
    books.supersede([record.number for record in records], by=mark.number)
    undone = _undone(books, scene, records, mark.number)
    return replace(undone, also=_of_lots_gone(books, undone.lots))


def taken_back_by_edit(books: Books, scene: Scene, records: Sequence[Record]) -> Answer:
    """What an edit to "never mind" took back: the records that it set aside."""
    acts = tuple(record for record in records if record.entry.act not in MARKS)
    set_aside = books.record(acts[0].number) if acts else None
    if set_aside is None or set_aside.superseded_by is None:
        return Refused(why="already_undone")
    return _undone(books, scene, acts, set_aside.superseded_by)


def _undone(books: Books, scene: Scene, records: Sequence[Record], mark: int) -> Undone:
    """Counts and plans anew what the records of one message touched, now that a mark has set them aside."""
    touched = _with_corrected(books, records)
    lots = refold_all(books, scene, touched)
    recall_who_is_quiet(books)
    messages = dict.fromkeys(one.message for one in records)
    reopened = sum(books.reopen_reminders_of(message, scene.now) for message in messages)
    replan(books, subjects_of(touched), scene.now)
    return Undone(
        entries=tuple(dict.fromkeys(record.entry for record in records)),
        lots=lots,
        back_to=_holding_again(books, records),
        reopened=reopened,
        choices=(Choice(label="undo_back", action={"redo": mark}),),
    )


def _holding_again(books: Books, records: Sequence[Record]) -> tuple[Entry, ...]:
    """What these had corrected, which holds again now that they do not."""
    before = (one for record in records for one in books.superseded_by(record.number))
    return tuple(dict.fromkeys(one.entry for one in before if one.holds() and one.entry.act not in MARKS))


def _of_lots_gone(books: Books, lots: Sequence[str]) -> tuple[Record, ...]:
    """What was told of lots that are no more, and that no answer counts while they are gone."""
    gone = [number for number in lots if books.lot(number) is None]
    return tuple(one for number in gone for one in books.lot_records(number) if one.holds())


def _undo_the_undo(books: Books, scene: Scene, *marks: Record) -> Answer:
    did = [what_a_mark_did(books, mark) for mark in marks]
    acts, brought_back = [act for reached, _ in did for act in reached], any(back for _, back in did)
    if not acts:
        return Refused(why="nothing_to_undo")
    again = write_mark(books, scene, Entry(act=Act.UNDO))
    books.supersede([mark.number for mark in marks], by=again.number)
    touched = _with_corrected(books, acts)
    lots = refold_all(books, scene, touched)
    recall_who_is_quiet(books)
    replan(books, subjects_of(touched), scene.now)
    return Undone(
        entries=tuple(dict.fromkeys(record.entry for record in acts)),
        lots=lots,
        again=not brought_back,
        choices=(Choice(label="undo_back" if brought_back else "undo", action={"redo": again.number}),),
    )


def _with_corrected(books: Books, records: Sequence[Record]) -> list[Record]:
    """Records with those that they had corrected, which hold again or give way when these do not, or do."""
    return [*records, *(before for record in records for before in books.superseded_by(record.number))]


def what_a_mark_did(books: Books, mark: Record) -> tuple[tuple[Record, ...], bool]:
    """The acts that an undo concerns, and True where it brought them back (it undid an undo)."""
    reached, brought_back = books.superseded_by(mark.number), False
    while reached and all(record.entry.act is Act.UNDO for record in reached):
        reached = tuple(one for record in reached for one in books.superseded_by(record.number))
        brought_back = not brought_back
    return tuple(record for record in reached if record.entry.act not in MARKS), brought_back


def redo(books: Books, scene: Scene, mark_number: int) -> Answer:
    """Brings back what an undo took, by its button."""
    mark = books.record(mark_number)
    if mark is None or not mark.holds():
        return Refused(why="already_undone")
    return _undo_the_undo(books, scene, mark)


def hear_bring_back(books: Books, scene: Scene) -> tuple[Answer, ...]:
    """What "bring it back" brings back, of this speaker's own undos in this chat; none for other words."""
    words = without_ends(bare(scene.message.text), "undo_back")
    at_once = words in said("undo_back", "at_once")
    if not at_once and words not in said("undo_back"):
        return ()
    told = books.told_by(scene.speaker, scene.chat, since=scene.message.said_at - _BACK_WITHIN)
    told = told[-1:] if at_once else told
    undos = (one for one in reversed(told) if one.entry.act is Act.UNDO)
    marks = [one for one in undos if one.holds() and not what_a_mark_did(books, one)[1]]
    took_two = bool(marks) and len({one.message for one in what_a_mark_did(books, marks[0])[0]}) > 1
    both = words in said("undo_back", "both") and not took_two
    return (_undo_the_undo(books, scene, *marks[: 2 if both else 1]),) if marks else ()


def taken_back_lot(books: Books, scene: Scene, texted: str) -> Refused | None:
    """Who took back the lot of this number and when, with the way back; None where nobody did."""
    number = books.full_number(texted, scene.year())
    for record in books.lot_records(number):
        mark = books.record(record.superseded_by) if record.superseded_by is not None else None
        if mark is None or mark.entry.act is not Act.UNDO or not mark.holds() or books.lot(number) is not None:
            continue
        facts = {"lot": number, "by": mark.told_by, "day": mark.said_at.astimezone(scene.zone).date().isoformat()}
        return Refused(
            why="lot_taken_back", facts=facts, choices=(Choice(label="undo_back", action={"redo": mark.number}),)
        )
    return None


def write_mark(books: Books, scene: Scene, entry: Entry) -> Record:
    """A record that does nothing itself but supersede others."""
    return books.write(scene.draft(entry))


def refold_all(books: Books, scene: Scene, records: Sequence[Record]) -> tuple[str, ...]:
    """Folds the lots of these records again; their numbers."""
    numbers = tuple(dict.fromkeys(record.lot for record in records if record.lot))
    for number in numbers:
        refold(books, scene, number)
    return numbers


def take_back_some(books: Books, scene: Scene, records: Sequence[Record]) -> Answer:
    """Takes back some records of a message; the reminders that the rest of it answered stay answered."""
    told = [one for record in records for one in books.records_of_message(record.message) if one.holds()]
    undone = take_back_records(books, scene, records)
    replan(books, subjects_of(told), scene.now)
    return undone
