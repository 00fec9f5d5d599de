"""How an answer completes the note that the bot asked about: by words or by a button.

Rules
1. An answer is short and is only that: a question, a greeting, or a whole note of its own answers nothing.
2. Words may name a choice ("the same", "rooted", "the second"); else they are read as the one thing asked.
3. "Yes" and "no" to a question that offers neither are asked again; they answer no reminder that is older. What is
   added to a note that needs a second yes is kept with it, and the yes is asked again.
4. A correction right after a question ("make that lot 2") corrects the note that is asked about. A number that may be
   the lot asked for as well as another count is asked. A count with a verb of its own that is not the one asked about
   ("lost 3", asked how many were sold) is a note of its own.
5. Who does not know leaves the question open.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta
from typing import Any

from core.answers import Choice
from core.conversation.answer_words import core_of, knows_not
from core.conversation.asking import give_up, pending_of
from core.conversation.choosing import chosen_by_words, says_otherwise
from core.conversation.completing import Answered, answer_with_action, answered, complete, told_or_asked
from core.conversation.correction_words import bare, said
from core.conversation.corrigible import OF_A_RECORD, wrong_number
from core.conversation.count_elsewhere import count_elsewhere
from core.conversation.deed_named import deed_named
from core.conversation.doubts import EACH_OR_ALL, SHARES
from core.conversation.fuller_answers import change_or_total, fuller_answer
from core.conversation.heard import heard
from core.conversation.lots_meant import describes_a_lot, lots_in_doubt, lots_meant, none_meant
from core.conversation.placing import offer
from core.conversation.recording import Pending
from core.conversation.righting import corrects_the_count, fields_of, is_whole_note, what_is_right
from core.conversation.scene import TALK_LASTS, Scene
from core.conversation.shares import shared_out
from core.conversation.targets_told import day_of_sale, names_sale
from core.entries import Act, Entry
from core.lots.phrases import says
from core.notes import Reading, goes_on, read_answer
from core.storage import Books, OpenQuestion

CORRECTS_WITHIN = timedelta(minutes=15)
_OF_A_HOLD = "on_hold"
_MAY_BE_LEFT = frozenset({"jug", "photo"})


def answer_with_words(books: Books, scene: Scene, question: OpenQuestion, reading: Reading) -> Answered | None:
    """The note that these words complete, or None where they answer no open question."""
    if scene.replied_reminders or _replies_to_a_receipt(books, scene, question):
        return None
    first, *others = pending_of(question)
    if _corrects_another(books, scene, question, reading):
        return None
    if first.kind in ("lot", "photo"):
        which = _which_lots(books, scene, question, first, others, reading)
        if which is not None:
            return which
    if first.kind == "amend_what":
        right = what_is_right(books, scene, first, reading)
        if not right:
            return None
        return replace(complete(books, question, first, others, right), meant=first.facts.get("message"))
    if _is_correction(books, scene, question, reading):
        return complete(books, question, first, others, fields_of(reading.entries[0]), corrected=True)
    if all(one.act is Act.NOTE for one in reading.entries) and knows_not(first.kind, scene.message.text):
        waits = replace(answered(question, (), (), first.forced), kind=first.kind, waits=True)
        return None if told_since(books, scene, question, deeds=True) else waits
    known = str(first.facts.get("count", ""))
    chosen = chosen_by_words(first.choices, scene.message.text, _yes_or_no(reading), known=known)
    if chosen is not None and not says_otherwise(reading, chosen):
        return answer_with_action(books, question, chosen.action)
    if _is_a_look(books, scene, question, first):
        return None
    shares = shared_out(books, scene, first, lots_offered(first), reading) if first.entries else None
    if shares is not None:
        books.close_question(question.number)
        return answered(question, shares, tuple(others) if shares else (first, *others), first.forced)
    elsewhere = count_elsewhere(books, scene, first, reading)
    if elsewhere is not None:
        books.close_question(question.number)
        return answered(question, (), (elsewhere, *others), first.forced)
    explained = _explains(books, scene, first, reading)
    if explained is not None:
        return answer_with_action(books, question, explained.action)
    plain = _yes_or_no(reading)
    if plain is not None and not _reminded_since(books, scene, question):
        if plain is False and first.kind == "act" and len(first.choices) == 1:
            give_up(books, question)
            return replace(answered(question, (), tuple(others), first.forced), dropped=True)
        books.close_question(question.number)
        if plain is False and question.kind in _MAY_BE_LEFT:
            return replace(answered(question, (), tuple(others), first.forced), dropped=True)
        return answered(question, (), (first, *others), first.forced)
    if not first.entries:
        return None
    more_or_all = change_or_total(first, scene.message.text, scene.local_now)
    if more_or_all is not None:
        return _told_as(books, question, first, others, *more_or_all)
    if first.kind == "count" and (_goes_on_elsewhere(books, scene) or _counts_another(first, scene, reading)):
        return None
    named = deed_named(scene, first, str(question.draft["said"]), reading)
    if named is not None:
        books.close_question(question.number)
        return told_or_asked(question, first, *named, (), others)
    fuller = fuller_answer(books, scene, first, str(question.draft["said"]), reading)
    if fuller is not None and _asks_yes_or_no(first) and "count" not in fuller:
        books.close_question(question.number)
        entry = Entry.from_keys({**first.entries[0].as_keys(), **fuller})
        return answered(question, (), (replace(first, entries=(entry,)), *others), first.forced)
    if fuller is not None:
        return complete(books, question, first, others, fuller)
    if is_whole_note(reading) or (first.kind in _ANY_WORDS and _tells_of_others(first, reading)):
        return None
    filled = _read_answer(scene, first, str(question.draft["said"]))
    if not filled or (first.entries[0].act is Act.SPLIT and not _is_lot_number(filled.get("to", "1"))):
        return None
    return complete(books, question, first, others, filled)


def _replies_to_a_receipt(books: Books, scene: Scene, question: OpenQuestion) -> bool:
    """Whether a bare number is the reply to a receipt that does not put this question: it corrects that."""
    if not corrects_the_count(scene) or question.draft["message"] == scene.replied_answers:
        return False
    receipt = books.spoken_of(scene.chat, scene.message.replied_to or "")
    return receipt is not None and str(question.draft["said"]) not in receipt.text


def _read_answer(scene: Scene, first: Pending, said: str) -> dict[str, Any] | None:
    """What the words give to what is asked; a day that "kit can't come thursday" names is none by which plants are
    wanted.
    """
    text = scene.message.text
    act = first.entries[0].act if first.kind == "date" else None
    if act not in (Act.TARGET, Act.REMIND):
        return read_answer("lot" if first.kind == "photo" else first.kind, text, scene.local_now)
    filled = read_answer("date", text, scene.local_now) or {}
    if act is Act.REMIND:
        return {"at": filled["at"]} if "at" in filled else None
    if "due" not in filled and names_sale(said):
        filled = read_answer("date", day_of_sale(text), scene.local_now) or {}
    return {"due": filled["due"]} if "due" in filled else None


def answer_of_another(books: Books, scene: Scene, reading: Reading) -> Answered | None:
    """This speaker's yes or no to a question that somebody else's note has raised: whether a note of this speaker's own
    is to be changed, or whether plants on hold may go, which wants a second word; None for other words."""
    if _yes_or_no(reading) is None or scene.question is not None or scene.replied_reminders:
        return None
    for question in books.questions_to_others(scene.chat, scene.speaker, scene.now):
        first = pending_of(question)[0]
        mine = question.kind == "amend_old" and first.facts.get("by") == scene.speaker
        may = mine or question.kind == _OF_A_HOLD
        if may and scene.now - question.asked_at <= TALK_LASTS and not _reminded_since(books, scene, question):
            return answer_with_words(books, scene, question, reading)
    return None


def _is_a_look(books: Books, scene: Scene, question: OpenQuestion, first: Pending) -> bool:
    """Whether a bare lot, none of those offered and after other notes, only asks how it stands."""
    offered = lots_offered(first)
    named = bare_lot(books, scene)
    return bool(offered) and named is not None and named not in offered and told_since(books, scene, question)


def bare_lot(books: Books, scene: Scene) -> str | None:
    """The lot in the books that the words name and say nothing else of."""
    named = read_answer("lot", scene.message.text, scene.local_now) or {}
    lots = named.get("lots", ())
    return books.resolve(lots[0], scene.year()) if len(lots) == 1 else None


def lots_offered(first: Pending) -> tuple[str, ...]:
    """The lots (full numbers) that a question names: by its facts, else by its buttons."""
    named = first.facts.get("lots") if first.kind in (EACH_OR_ALL, SHARES) else None
    offered = (lot for one in first.choices for lot in one.action.get("fill", {}).get("lots", ()))
    return tuple(named if named is not None else offered)


def _explains(books: Books, scene: Scene, first: Pending, reading: Reading) -> Choice | None:
    """The choice of "miscounted, or 4 lost?" that the words tell of: these 4 ("4 died", "lost, to rot"), or that it was
    miscounted ("miscounted at the start, it was always 68")."""
    told = reading.entries[0] if len(reading.entries) == 1 else None
    if first.kind != "count_lower" or told is None:
        return None
    if core_of(scene.message.text) == str(first.facts.get("before")):
        # "Ok 50": it is as it was.
        return Choice(label="no", action={"drop": True})
    if told.act is Act.NOTE and not (told.lots or told.trays or told.plant):
        return _miscounted(first, scene.message.text)
    if told.act is not Act.LOSE or told.rest or told.trays or told.plant or told.share is not None or told.all_of:
        return None
    numbers = {books.resolve(one, scene.year()) for one in told.lots}
    if told.count not in (None, first.facts.get("missing")) or numbers - {first.facts.get("lot")}:
        return None
    choice = next((one for one in first.choices if "also" in one.action), None)
    if choice is None or told.cause is None:
        return choice
    return replace(choice, action={**choice.action, "also": {**choice.action["also"], "cause": told.cause}})


def _miscounted(first: Pending, text: str) -> Choice | None:
    words = bare(text)
    opened = any(f"{words} ".startswith(f"{one} ") for one in heard("answers_heard", "lower_count", "recount"))
    now, missing = str(first.entries[0].count), str(first.facts.get("missing"))
    numbers = set(re.findall(r"\d+", words))
    seemed = says(words, heard("answers_heard", "lower_count", "seemed")) and numbers <= {now, missing}
    if not seemed and (not opened or numbers - {now}):
        return None
    return next((one for one in first.choices if one.label == "recount"), None)


def _which_lots(
    books: Books, scene: Scene, question: OpenQuestion, first: Pending, others: Sequence[Pending], reading: Reading
) -> Answered | None:
    """What words around a name, "both" or "neither" come to, said where it was asked which lot."""
    told = reading.entries[0] if len(reading.entries) == 1 else None
    if told is None or scene.replied_records:
        return None
    if told.act not in (Act.NOTE, Act.AMEND, Act.ASK) and not describes_a_lot(scene, told):
        return None
    if told.act is not Act.NOTE and told_since(books, scene, question):
        return None
    if none_meant(first, scene.message.text):
        books.close_question(question.number)
        return answered(question, (), (replace(first, choices=(), facts={}), *others), first.forced)
    either = lots_in_doubt(books, scene)
    if either:
        books.close_question(question.number)
        return answered(question, (), (replace(first, choices=offer(either)), *others), first.forced)
    meant = lots_meant(books, scene, first)
    if meant is None:
        return None
    filled, settled = meant
    counted = first.entries[0].count if first.entries else None
    if told.act is Act.AMEND and told.count is not None and counted is not None and "unknown" not in first.facts:
        entry = first.entries[0]
        ways = (replace(entry, lots=filled.get("lots", ()), trays=()), replace(entry, count=told.count))
        choices = tuple(Choice(label="reading", action={"choose": one.as_keys()}) for one in ways)
        books.close_question(question.number)
        return answered(question, (), (Pending(kind="act", entries=(entry,), choices=choices), *others), first.forced)
    return complete(books, question, replace(first, forced=(*first.forced, *settled)), others, filled)


def _goes_on_elsewhere(books: Books, scene: Scene) -> bool:
    """ "And 15", said where lot 15 stands open: another lot may be meant, and no count of this one."""
    number = re.fullmatch(r"\D*\b(\d{1,4})\W*", scene.message.text)
    lot = books.resolve(number[1], scene.year()) if number is not None and goes_on(scene.message.text) else None
    return lot is not None


def _asks_yes_or_no(first: Pending) -> bool:
    """Whether a second yes is asked for: "to the school", said of plants on hold, tells where to, and is none."""
    return {one.label for one in first.choices} == {"yes", "no"}


def _counts_another(first: Pending, scene: Scene, reading: Reading) -> bool:
    """ "10 rooted", "5 died", where it is asked how many were sold: a count of its own; "the rooted" says which."""
    asked, told = first.entries[0], reading.entries[0] if len(reading.entries) == 1 else None
    if told is None or told.act in (Act.NOTE, Act.REPLY, Act.AMEND) or told.count is None:
        return False
    if {*bare(scene.message.text).split()} & {*heard("answers_heard", "which_of_them")}:
        return False
    if told.act is Act.CHECK and told.state is None:
        return False
    return (told.act, told.state) != (asked.act, asked.state)


_ANY_WORDS = frozenset({"to", "plant", "text", "source"})
"""What is asked so that almost any words would be an answer."""


def _tells_of_others(first: Pending, reading: Reading) -> bool:
    """Whether the words tell or count something of lots or trays, which is no name."""
    return any(
        one.act not in (Act.NOTE, Act.REPLY, Act.MOVE, Act.HARDEN, first.entries[0].act)
        and (one.count is not None or one.lots or one.share is not None)
        for one in reading.entries
    )


def _is_correction(books: Books, scene: Scene, question: OpenQuestion, reading: Reading) -> bool:
    if len(reading.entries) != 1 or reading.entries[0].act is not Act.AMEND or scene.replied_records:
        return False
    if reading.entries[0].lots and len(fields_of(reading.entries[0])) > 1:
        return False
    if set(fields_of(reading.entries[0])) <= {"lots", "trays"} and _says_more(reading.entries[0]):
        return False
    if question.kind == "jug" or any(one.holds() for one in books.records_of_message(question.draft["message"])):
        return False
    if told_since(books, scene, question) or _corrects_other_number(question, reading.entries[0]):
        return False
    return scene.now - question.asked_at <= CORRECTS_WITHIN


def _corrects_other_number(question: OpenQuestion, told: Entry) -> bool:
    """ "13 not 31", where the deed that is asked about has another number."""
    asked, wrong = next(iter(pending_of(question)[0].entries), None), wrong_number(told)
    if asked is None or asked.count is None or wrong is None or told.count is None:
        return False
    return wrong not in (asked.count, asked.of) and str(wrong) not in (*asked.lots, *asked.trays)


def _corrects_another(books: Books, scene: Scene, question: OpenQuestion, reading: Reading) -> bool:
    """Whether the words correct a note in the books, shown or told since, and not the note that is asked about."""
    if not reading.entries or reading.entries[0].act is not Act.AMEND or scene.replied_records:
        return False
    return question.kind in OF_A_RECORD or told_since(books, scene, question)


def _says_more(told: Entry) -> bool:
    """ "It was tray 6 that leaked": more is told of the place than that it was meant."""
    return bool(set(bare(told.rest or "").split()) - set(said("after_number")))


def told_since(books: Books, scene: Scene, question: OpenQuestion, *, deeds: bool = False) -> bool:
    """Whether this person told something of its own (with `deeds`: more than a mere note) after the question."""
    asker = str(question.draft["message"])
    told = {record.message for record in scene.latest if not deeds or record.entry.act is not Act.NOTE}
    return any(books.came_after(message, asker) for message in told)


def _told_as(
    books: Books, question: OpenQuestion, first: Pending, others: Sequence[Pending], how: str, count: int
) -> Answered | None:
    """ "1 more" adds that; "6 in all" adds what is over what was told before, which may be nothing."""
    added = count if how == "more" else count - int(first.facts.get("before") or 0)
    if added <= 0:
        books.close_question(question.number)
        return replace(answered(question, (), tuple(others), first.forced), dropped=True)
    return complete(books, question, first, others, {"count": added})


def _reminded_since(books: Books, scene: Scene, question: OpenQuestion) -> bool:
    """Whether a reminder was sent after the question: a "yes" may then mean that."""
    sent = books.open_reminders(chat=scene.chat, sent=True)
    return any(one.sent_at is not None and one.sent_at > question.asked_at for one in sent)


def _is_lot_number(text: str) -> bool:
    return re.fullmatch(r"(?:lot |#)?(?:\d{2}-)?\d{1,4}", text.strip()) is not None


def _yes_or_no(reading: Reading) -> bool | None:
    if len(reading.entries) == 1 and reading.entries[0].answer in ("yes", "no"):
        return reading.entries[0].answer == "yes"
    return None
