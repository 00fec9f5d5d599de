"""How an answer completes the note that the bot asked about: by words or by a button.

Rules
1. An answer is short and is only that: a question, a greeting, or a whole note of its own answers nothing.
2. Words may name a choice ("the same", "rooted", "the second"); else they are read as the one thing asked.
3. "Yes" and "no" to a question that offers neither are asked again; they answer no reminder that is older.
4. A correction right after a question ("make that lot 2") corrects the note that is asked about. A number that may be
   the lot asked for as well as another count is asked.
5. One lot that answers for a part of a note is the lot of all its parts that name none.
6. Who does not know leaves the question open.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import Any

from core.answers import Choice
from core.conversation.answer_words import knows_not
from core.conversation.asking import Asker, give_up, pending_of
from core.conversation.choosing import chosen_by_words, says_otherwise
from core.conversation.correction_words import bare, said
from core.conversation.doubts import EACH_OR_ALL, SHARES
from core.conversation.fuller_answers import change_or_total, fuller_answer
from core.conversation.lots_meant import lots_in_doubt, lots_meant, none_meant
from core.conversation.numbers_meant import with_lot_choices
from core.conversation.placing import offer
from core.conversation.recording import Pending
from core.conversation.righting import fields_of, is_whole_note, what_is_right
from core.conversation.scene import Scene
from core.conversation.shares import shared_out
from core.entries import Act, Entry
from core.errors import BadEntry
from core.notes import Reading, goes_on, needs_of, read_answer
from core.records import local_day
from core.storage import Books, OpenQuestion

CORRECTS_WITHIN = timedelta(minutes=15)
_MAY_BE_LEFT = frozenset({"jug", "photo"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Answered:
    """What an answer came to: entries that may now be recorded, and the note that they complete."""

    entries: tuple[Entry, ...]
    pending: tuple[Pending, ...]
    forced: tuple[str, ...]
    note: Asker
    kind: str
    dropped: bool = False
    corrects: int | None = None
    takes_back: str | None = None
    takes_back_record: int | None = None
    meant: str | None = None
    waits: bool = False


def answer_with_words(books: Books, scene: Scene, question: OpenQuestion, reading: Reading) -> Answered | None:
    """The note that these words complete, or None where they answer no open question."""
    if scene.replied_reminders:
        return None
    first, *others = pending_of(question)
    if first.kind in ("lot", "photo"):
        which = _which_lots(books, scene, question, first, others, reading)
        if which is not None:
            return which
    if first.kind == "amend_what":
        right = what_is_right(books, scene, first, reading)
        if not right:
            return None
        return replace(_complete(books, question, first, others, right), meant=first.facts.get("message"))
    if _is_correction(books, scene, question, reading):
        return _complete(books, question, first, others, fields_of(reading.entries[0]), corrected=True)
    if all(one.act is Act.NOTE for one in reading.entries) and knows_not(first.kind, scene.message.text):
        waits = replace(_answered(question, (), (), first.forced), kind=first.kind, waits=True)
        return None if _told_since(books, scene, question, deeds=True) else waits
    known = str(first.facts.get("count", ""))
    chosen = chosen_by_words(first.choices, scene.message.text, _yes_or_no(reading), known=known)
    if chosen is not None and not says_otherwise(reading, chosen):
        return answer_with_action(books, question, chosen.action)
    if _is_a_look(books, scene, question, first):
        return None
    shares = shared_out(books, scene, first, lots_offered(first)) if first.entries else None
    if shares is not None:
        books.close_question(question.number)
        return _answered(question, shares, tuple(others) if shares else (first, *others), first.forced)
    explained = _explains(books, scene, first, reading)
    if explained is not None:
        return answer_with_action(books, question, explained.action)
    plain = _yes_or_no(reading)
    if plain is not None and not _reminded_since(books, scene, question):
        if plain is False and first.kind == "act" and len(first.choices) == 1:
            give_up(books, question)
            return replace(_answered(question, (), tuple(others), first.forced), dropped=True)
        books.close_question(question.number)
        if plain is False and question.kind in _MAY_BE_LEFT:
            return replace(_answered(question, (), tuple(others), first.forced), dropped=True)
        return _answered(question, (), (first, *others), first.forced)
    if not first.entries:
        return None
    more_or_all = change_or_total(first, scene.message.text)
    if more_or_all is not None:
        return _told_as(books, question, first, others, *more_or_all)
    if first.kind == "count" and _goes_on_elsewhere(books, scene):
        return None
    fuller = fuller_answer(books, scene, first, str(question.draft["said"]), reading)
    if fuller is not None:
        return _complete(books, question, first, others, fuller)
    if is_whole_note(reading) or (first.kind in _ANY_WORDS and _tells_of_others(first, reading)):
        return None
    if reading.entries and reading.entries[0].act is Act.AMEND and _told_since(books, scene, question):
        return None
    filled = read_answer("lot" if first.kind == "photo" else first.kind, scene.message.text, scene.local_now)
    if not filled or (first.entries[0].act is Act.SPLIT and not _is_lot_number(filled.get("to", "1"))):
        return None
    return _complete(books, question, first, others, filled)


def _is_a_look(books: Books, scene: Scene, question: OpenQuestion, first: Pending) -> bool:
    """Whether a bare lot, none of those offered and after other notes, only asks how it stands."""
    offered = lots_offered(first)
    named = bare_lot(books, scene)
    return bool(offered) and named is not None and named not in offered and _told_since(books, scene, question)


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
    """The choice "4 lost" of "miscounted, or 4 lost?", where the words tell of these 4 ("4 died")."""
    told = reading.entries[0] if len(reading.entries) == 1 else None
    if first.kind != "count_lower" or told is None or told.act is not Act.LOSE or told.rest or told.trays:
        return None
    numbers = {books.resolve(one, scene.year()) for one in told.lots}
    if told.count != first.facts.get("missing") or numbers - {first.facts.get("lot")}:
        return None
    return next((one for one in first.choices if "also" in one.action), None)


def _which_lots(
    books: Books, scene: Scene, question: OpenQuestion, first: Pending, others: Sequence[Pending], reading: Reading
) -> Answered | None:
    """What words around a name, "both" or "neither" come to, said where it was asked which lot."""
    told = reading.entries[0] if len(reading.entries) == 1 else None
    if told is None or told.act not in (Act.NOTE, Act.AMEND, Act.ASK) or scene.replied_records:
        return None
    if told.act is not Act.NOTE and _told_since(books, scene, question):
        return None
    if none_meant(first, scene.message.text):
        books.close_question(question.number)
        return _answered(question, (), (replace(first, choices=(), facts={}), *others), first.forced)
    either = lots_in_doubt(books, scene)
    if either:
        books.close_question(question.number)
        return _answered(question, (), (replace(first, choices=offer(either)), *others), first.forced)
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
        return _answered(question, (), (Pending(kind="act", entries=(entry,), choices=choices), *others), first.forced)
    return _complete(books, question, replace(first, forced=(*first.forced, *settled)), others, filled)


def _goes_on_elsewhere(books: Books, scene: Scene) -> bool:
    """ "And 15", said where lot 15 stands open: another lot may be meant, and no count of this one."""
    number = re.fullmatch(r"\D*\b(\d{1,4})\W*", scene.message.text)
    lot = books.resolve(number[1], scene.year()) if number is not None and goes_on(scene.message.text) else None
    return lot is not None


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
    if _told_since(books, scene, question):
        return False
    return scene.now - question.asked_at <= CORRECTS_WITHIN


def _says_more(told: Entry) -> bool:
    """ "It was tray 6 that leaked": more is told of the place than that it was meant."""
    return bool(set(bare(told.rest or "").split()) - set(said("after_number")))


def _told_since(books: Books, scene: Scene, question: OpenQuestion, *, deeds: bool = False) -> bool:
    """Whether this person told something of its own (with `deeds`: more than a mere note) after the question."""
    asker = str(question.draft["message"])
    told = {record.message for record in scene.latest if not deeds or record.entry.act is not Act.NOTE}
    return any(books.came_after(message, asker) for message in told)


def _told_as(
    books: Books, question: OpenQuestion, first: Pending, others: Sequence[Pending], how: str, count: int
) -> Answered | None:
    """ "1 more" adds that; "6 in all" adds what is over what was told before."""
    added = count if how == "more" else count - int(first.facts.get("before") or 0)
    if added <= 0:
        return None
    return _complete(books, question, first, others, {"count": added})


def _reminded_since(books: Books, scene: Scene, question: OpenQuestion) -> bool:
    """Whether a reminder was sent after the question: a "yes" may then mean that."""
    sent = books.open_reminders(chat=scene.chat, sent=True)
    return any(one.sent_at is not None and one.sent_at > question.asked_at for one in sent)


def _is_lot_number(text: str) -> bool:
    return re.fullmatch(r"(?:lot |#)?(?:\d{2}-)?\d{1,4}", text.strip()) is not None


def answer_with_action(books: Books, question: OpenQuestion, action: dict[str, Any]) -> Answered:
    """The note that a pressed button completes."""
    first, *others = pending_of(question)
    if action.get("drop"):
        books.close_question(question.number)
        return replace(_answered(question, (), tuple(others), first.forced), dropped=True)
    if "ask" in action:
        books.close_question(question.number)
        asked = replace(first, kind=str(action["ask"]), choices=())
        return _answered(question, (), (asked, *others), first.forced)
    if "force" in action and "fill" not in action:
        books.close_question(question.number)
        also = (Entry.from_keys(action["also"]),) if "also" in action else ()
        return _answered(question, (*also, *first.entries), tuple(others), (*first.forced, str(action["force"])))
    if "take_back" in action:
        books.close_question(question.number)
        return replace(_answered(question, first.entries, (), first.forced), takes_back=action["take_back"])
    if "take_back_record" in action:
        books.close_question(question.number)
        return replace(_answered(question, first.entries, (), ()), takes_back_record=int(action["take_back_record"]))
    if "amend" in action:
        books.close_question(question.number)
        entry = Entry.from_keys(action["choose"])
        return replace(_answered(question, (entry,), tuple(others), first.forced), corrects=action["amend"])
    if "choose" in action:
        books.close_question(question.number)
        entry = Entry.from_keys(action["choose"])
        lacks = needs_of(entry)
        if lacks:
            left = Pending(kind=lacks[0], entries=(entry,), more=lacks[1:])
            return _answered(question, (), (left, *others), first.forced)
        return _answered(question, (entry,), tuple(others), first.forced)
    settled = replace(first, forced=(*first.forced, str(action.get("force", first.kind))))
    return _complete(books, question, settled, others, dict(action.get("fill", {})))


def _complete(
    books: Books,
    question: OpenQuestion,
    first: Pending,
    others: Sequence[Pending],
    filled: dict[str, Any],
    *,
    corrected: bool = False,
) -> Answered:
    books.close_question(question.number)
    if first.kind == "jug":
        entry = Entry(act=Act.NOTE, text=f"the jug says {filled['percent']:g} %")
        return _answered(question, (entry,), tuple(others), first.forced)
    keys = {**first.entries[0].as_keys(), **_as_keys(filled)}
    if first.kind == "lot" and filled.get("trays") and "lots" not in filled:
        # A tray named in answer to "I have no lot 2".
        keys.pop("lots", None)
    entry = Entry.from_keys({key: value for key, value in keys.items() if value is not None})
    if first.kind in needs_of(entry):
        return _answered(question, (), (replace(first, entries=(entry,)), *others), first.forced)
    if corrected and first.kind == "number":
        year = local_day(datetime.fromisoformat(question.draft["said_at"]), books.crew.zone).year % 100
        again = with_lot_choices(books, replace(first, entries=(entry,)), year)
        return _answered(question, (), (again, *others), first.forced)
    if corrected:
        forced = tuple(one for one in first.forced if one != first.kind)
        return _answered(question, (entry,), tuple(others), forced)
    told, asked = _of_the_same_lot(first, others, filled)
    more = tuple(kind for kind in first.more if kind in needs_of(entry))
    if more:
        waiting = Pending(kind=more[0], entries=(entry,), more=more[1:], forced=first.forced)
        return _answered(question, told, (waiting, *asked), first.forced)
    return _answered(question, (entry, *told), asked, first.forced)


def _of_the_same_lot(
    first: Pending, others: Sequence[Pending], filled: dict[str, Any]
) -> tuple[tuple[Entry, ...], tuple[Pending, ...]]:
    """The other parts of a note that ask for a lot and name none, with the lot that was told: whole, or asked on."""
    whole: list[Entry] = []
    asked: list[Pending] = []
    lots, trays = (tuple(map(str, filled.get(name, ()))) for name in ("lots", "trays"))
    for one in others:
        entry = one.entries[0] if one.entries else None
        named = entry is None or entry.lots or entry.trays or entry.plant
        if first.kind != "lot" or not (lots or trays) or one.kind != "lot" or one.facts or named or entry is None:
            asked.append(one)
            continue
        entry = replace(entry, lots=lots, trays=trays)
        more = tuple(kind for kind in one.more if kind in needs_of(entry))
        if more:
            asked.append(replace(one, kind=more[0], entries=(entry,), more=more[1:]))
        else:
            whole.append(entry)
    return tuple(whole), tuple(asked)


def _as_keys(filled: dict[str, Any]) -> dict[str, Any]:
    """Field values of an answer under the published keys of an entry; a null takes the key away."""
    nulls = {key: None for key, value in filled.items() if value is None}
    values = {key: value for key, value in filled.items() if value is not None}
    try:
        from_fields = Entry(act="note", **values).as_keys()  # type: ignore[arg-type]
    except (TypeError, BadEntry):
        return {**values, **nulls}
    from_fields.pop("act")
    return {**from_fields, **nulls}


def _answered(
    question: OpenQuestion, entries: tuple[Entry, ...], pending: tuple[Pending, ...], forced: tuple[str, ...]
) -> Answered:
    return Answered(
        entries=entries,
        pending=pending,
        forced=forced,
        kind=question.kind,
        note=Asker(
            said=question.draft["said"],
            said_at=datetime.fromisoformat(question.draft["said_at"]),
            message=question.draft["message"],
            by=question.speaker,
        ),
    )


def _yes_or_no(reading: Reading) -> bool | None:
    if len(reading.entries) == 1 and reading.entries[0].answer in ("yes", "no"):
        return reading.entries[0].answer == "yes"
    return None
