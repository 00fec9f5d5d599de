"""How an answer completes the note that the bot asked about: by words or by a button.

Rules
1. An answer is short and is only that: a question, a greeting, or a whole note of its own answers nothing.
2. Words may name a choice ("the same", "rooted", "the second"); else they are read as the one thing asked.
3. "Yes" and "no" to a question that offers neither are asked again; they answer no reminder that is older.
4. A correction right after a question ("make that lot 2") corrects the note that is asked about.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, fields, replace
from datetime import datetime, timedelta
from typing import Any

from core.answers import Choice
from core.conversation.asking import Asker, pending_of
from core.conversation.correction_words import bare, said
from core.conversation.doubts import EACH_OR_ALL, SHARES
from core.conversation.fuller_answers import change_or_total, fuller_answer
from core.conversation.heard import heard, page
from core.conversation.recording import Pending
from core.conversation.scene import Scene
from core.conversation.shares import shared_out
from core.entries import Act, Entry
from core.errors import BadEntry
from core.notes import Reading, needs_of, read, read_answer, say_back
from core.storage import Books, OpenQuestion

CORRECTS_WITHIN = timedelta(minutes=15)
_OF_ITS_OWN = frozenset({Act.ASK, Act.HELLO, Act.UNDO, Act.AMEND, Act.NOTE, Act.REPLY})
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


def answer_with_words(books: Books, scene: Scene, question: OpenQuestion, reading: Reading) -> Answered | None:
    """The note that these words complete, or None where they answer no open question."""
    if scene.replied_reminders:
        return None
    first, *others = pending_of(question)
    if _is_correction(books, scene, question, reading):
        return _complete(books, question, first, others, _fields_of(reading.entries[0]), corrected=True)
    if first.kind == "amend_what":
        return _amended(books, scene, question, first, others)
    known = str(first.facts.get("count", ""))
    chosen = _chosen_by_words(first.choices, scene.message.text, _yes_or_no(reading), known=known)
    if chosen is not None:
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
        books.close_question(question.number)
        if plain is False and question.kind in _MAY_BE_LEFT:
            return replace(_answered(question, (), tuple(others), first.forced), dropped=True)
        return _answered(question, (), (first, *others), first.forced)
    if not first.entries:
        return None
    more_or_all = change_or_total(first, scene.message.text)
    if more_or_all is not None:
        return _told_as(books, question, first, others, *more_or_all)
    fuller = fuller_answer(books, scene, first, str(question.draft["said"]), reading)
    if fuller is not None:
        return _complete(books, question, first, others, fuller)
    if _is_whole_note(reading):
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


def _is_whole_note(reading: Reading) -> bool:
    """True for what stands on its own: a question, a greeting, an act that lacks nothing."""
    if any(entry.act in _OF_ITS_OWN - {Act.NOTE, Act.REPLY} for entry in reading.entries):
        return True
    return not reading.asks and any(entry.act not in _OF_ITS_OWN for entry in reading.entries)


def _amended(
    books: Books, scene: Scene, question: OpenQuestion, first: Pending, others: Sequence[Pending]
) -> Answered | None:
    """An answer to "what should it be?", read as what follows "make that"."""
    noun = first.facts.get("names", "")
    named = f"{noun} " if noun and noun not in scene.message.text.lower() else ""
    told = read(f"make that {named}{scene.message.text}", scene.local_now, scene.names).entries
    if len(told) != 1 or told[0].act is not Act.AMEND or not _fields_of(told[0]):
        return None
    return _complete(books, question, first, others, _fields_of(told[0]))


def _is_correction(books: Books, scene: Scene, question: OpenQuestion, reading: Reading) -> bool:
    if len(reading.entries) != 1 or reading.entries[0].act is not Act.AMEND or scene.replied_records:
        return False
    if reading.entries[0].lots and len(_fields_of(reading.entries[0])) > 1:
        return False
    if set(_fields_of(reading.entries[0])) <= {"lots", "trays"} and _says_more(reading.entries[0]):
        return False
    if question.kind == "jug" or any(one.holds() for one in books.records_of_message(question.draft["message"])):
        return False
    if _told_since(books, scene, question):
        return False
    return scene.now - question.asked_at <= CORRECTS_WITHIN


def _says_more(told: Entry) -> bool:
    """ "It was tray 6 that leaked": more is told of the place than that it was meant."""
    return bool(set(bare(told.rest or "").split()) - set(said("after_number")))


def _told_since(books: Books, scene: Scene, question: OpenQuestion) -> bool:
    """Whether this person told something of its own after the question: a correction then means that."""
    asker = str(question.draft["message"])
    return any(books.came_after(message, asker) for message in {record.message for record in scene.latest})


def _told_as(
    books: Books, question: OpenQuestion, first: Pending, others: Sequence[Pending], how: str, count: int
) -> Answered | None:
    """ "1 more" adds that; "6 in all" adds what is over what was told before, which may be nothing."""
    added = count if how == "more" else count - int(first.facts.get("before") or 0)
    if added <= 0:
        books.close_question(question.number)
        return replace(_answered(question, (), tuple(others), first.forced), dropped=True)
    return _complete(books, question, first, others, {"count": added})


def _reminded_since(books: Books, scene: Scene, question: OpenQuestion) -> bool:
    """Whether a reminder was sent after the question: a "yes" may then mean that."""
    sent = books.open_reminders(chat=scene.chat, sent=True)
    return any(one.sent_at is not None and one.sent_at > question.asked_at for one in sent)


def _fields_of(amend: Entry) -> dict[str, Any]:
    values = {part.name: getattr(amend, part.name) for part in fields(Entry) if part.name not in ("act", "rest")}
    return {name: value for name, value in values.items() if value not in (None, (), False)}


def _chosen_by_words(choices: Sequence[Choice], text: str, yes_or_no: bool | None, *, known: str = "") -> Choice | None:
    """The only choice that these words name, or None. `known` is the number that the question spoke of."""
    if yes_or_no is not None:
        wanted = [one for one in choices if ("yes" if yes_or_no else "no") in _label_words(one)]
        return wanted[0] if len(wanted) == 1 else None
    words = re.findall(r"[\w.-]+", text.lower())
    if not words or len(words) > 6:
        return None
    for place, names in enumerate(page("answers_heard")["places"]["says"][: len(choices)]):
        if [word for word in words if word not in ("the", "one")] in ([name] for name in names.split()):
            return choices[place]
    named = [one for one in choices if set(words) <= {*_label_words(one), known} and words != [known]]
    if len(named) > 1:
        named = [one for one in named if _label_words(one)[0] in words]
    if not named:
        telling = {word for word in words if word not in heard("answers_heard", "which", "fillers")}
        named = [one for one in choices if one.label == "reading" and telling and telling <= {*_label_words(one)}]
    return named[0] if len(named) == 1 else None


def _label_words(choice: Choice) -> list[str]:
    if choice.label == "reading":
        label = say_back(replace(Entry.from_keys(choice.action["choose"]), rest=None))
    else:
        label = page("answers_heard")["buttons"].get(choice.label, choice.label)
    words = re.findall(r"[\w.-]+", label.lower())
    return [*words, *(short for word in words[:1] for short in _short_of(word))]


def _short_of(word: str) -> tuple[str, ...]:
    """How a lot that heads a button may be named beside its full number."""
    found = re.fullmatch(r"\d{2}-0*(\d+)", word)
    return (found[1], "lot", "the") if found else ()


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
    if "amend" in action:
        books.close_question(question.number)
        entry = Entry.from_keys(action["choose"])
        return replace(_answered(question, (entry,), tuple(others), first.forced), corrects=action["amend"])
    if "choose" in action:
        books.close_question(question.number)
        entry = Entry.from_keys(action["choose"])
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
    entry = Entry.from_keys({key: value for key, value in keys.items() if value is not None})
    if first.kind in needs_of(entry):
        return _answered(question, (), (replace(first, entries=(entry,)), *others), first.forced)
    if corrected:
        forced = tuple(one for one in first.forced if one != first.kind)
        return _answered(question, (entry,), tuple(others), forced)
    more = tuple(kind for kind in first.more if kind in needs_of(entry))
    if more:
        waiting = Pending(kind=more[0], entries=(entry,), more=more[1:], forced=first.forced)
        return _answered(question, (), (waiting, *others), first.forced)
    return _answered(question, (entry,), tuple(others), first.forced)


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
