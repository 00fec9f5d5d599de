"""Which questions wait while another is put: a second note that lacks something takes no answer from the first.

Rules
1. A question for what a note lacks waits beside a later one; of doubts about corrections and the like only the last is
   open.
2. At most three wait; beyond that the oldest gives way, and its words are kept.
3. A note that says again, whole or not, what a question is about settles that question.
4. Once the last one is answered, the one before it is put again, with its own words.
5. A question is put again after the first note that tells of its lot, or that tells nothing of any lot.
6. One that ended without an answer is told once: its note is kept, and counts nowhere.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields, replace
from datetime import datetime

from core.answers import Asked, Refused
from core.conversation.asking import give_up, pending_of
from core.conversation.placing import offer
from core.conversation.recording import Pending
from core.conversation.scene import Scene
from core.entries import Act, Entry
from core.notes import say_back
from core.records import Record, local_day
from core.storage import Books, OpenQuestion

MOST_WAITING = 3
_OF_A_NOTE = frozenset(
    {
        "lot", "count", "plant", "date", "state", "unit", "open", "solution", "to", "text", "number", "source",
        "each_or_all", "shares", "part_or_whole", "change_or_total", "count_lower", "other_plant", "closed", "on_hold",
        "in_the_cold", "above_left", "above_potted", "above_unrooted", "above_living", "above_sown", "above_free",
        "germinated_cuttings", "told_twice", "act", "moved_there", "slang", "split_of", "minus",
        "share_of", "before_a_count", "sold_out",
    }
)  # fmt: skip
_WHERE = frozenset({"act", "lots", "trays", "plant", "rest", "by", "on", "text"})


def set_aside(books: Books, scene: Scene) -> Scene:
    """The scene without its question, which waits or gives way because this note raises one of its own."""
    question = scene.question
    if question is None:
        return scene
    if question.kind not in _OF_A_NOTE:
        give_up(books, question)
    waiting = [one for one in books.open_questions(scene.chat, scene.speaker, scene.now) if one.kind in _OF_A_NOTE]
    for old in waiting[MOST_WAITING - 1 :]:
        give_up(books, old)
    return replace(scene, question=None)


def settle_said_again(books: Books, scene: Scene, told: Sequence[Entry | Pending]) -> Scene:
    """The scene without questions about what this note tells again; their notes are kept nowhere else."""
    entries = [
        _with_its_plant(books, scene, one) for part in told
        if isinstance(one := part.entries[0] if isinstance(part, Pending) and part.entries else part, Entry)
    ]  # fmt: skip
    for question in books.open_questions(scene.chat, scene.speaker, scene.now):
        asked = pending_of(question)
        if question.kind not in _OF_A_NOTE or len(asked) != 1 or not asked[0].entries:
            continue
        covers = "covers_off" in asked[0].facts and any(isinstance(one, Entry) and one.act is Act.COVER for one in told)
        if covers or any(_says_the_same(asked[0].entries[0], one) for one in entries):
            books.close_question(question.number)
            if scene.question is not None and scene.question.number == question.number:
                scene = replace(scene, question=None)
    return scene


def _with_its_plant(books: Books, scene: Scene, one: Entry) -> Entry:
    """The entry with the plant of the one lot that it names, which need not be said again beside the number."""
    number = books.resolve(one.lots[0], scene.year()) if len(one.lots) == 1 and not one.plant else None
    lot = books.lot(number) if number is not None else None
    return replace(one, plant=lot.plant) if lot is not None else one


def _says_the_same(asked: Entry, told: Entry) -> bool:
    """Whether `told` is the act asked about with all that was known of it, and names no other place."""
    if asked.act is not told.act or asked.act is Act.NOTE:
        return False
    if any(getattr(asked, name) and getattr(asked, name) != getattr(told, name) for name in ("lots", "trays", "plant")):
        return False
    known = {part.name: getattr(asked, part.name) for part in fields(Entry) if part.name not in _WHERE}
    given = {name: value for name, value in known.items() if value not in (None, (), False)}
    return bool(given) and all(getattr(told, name) == value for name, value in given.items())


def still_open(books: Books, scene: Scene, lots: Sequence[str] = ()) -> Asked | None:
    """The latest question that this person left unanswered, put again; `lots` were just named and are offered."""
    waiting = [one for one in books.open_questions(scene.chat, scene.speaker, scene.now) if one.kind in _OF_A_NOTE]
    return _again(books, waiting[0], lots) if waiting else None


def just_asked(books: Books, scene: Scene) -> OpenQuestion | None:
    """The question after which this person told nothing yet, where it may be put again."""
    question = scene.question
    if question is None or question.kind not in _OF_A_NOTE | {"amend_what"}:
        return None
    last = books.last_message_with_records(scene.speaker, scene.chat)
    told = last is not None and books.came_after(last, str(question.draft["message"]))
    return None if told else question


def put_again(books: Books, question: OpenQuestion, told: Sequence[Record]) -> Asked | None:
    """The question put again after these records, where they tell of its lot or of none."""
    if books.question(question.number) is None or not told:
        return None
    first = pending_of(question)[0]
    if _counted_anew(first, told):
        give_up(books, question)
        return None
    named = {first.facts.get("lot"), *_lots_asked_about(books, question, first)} - {None}
    unclear = all(one.entry.act is Act.NOTE and one.lot is None for one in told)
    if not unclear and question.kind != "amend_what" and not named & {one.lot for one in told}:
        return None
    return _again(books, question, ())


def _lots_asked_about(books: Books, question: OpenQuestion, first: Pending) -> set[str | None]:
    """The lots (full numbers) of a note that only lacks how many."""
    if first.kind != "count" or not first.entries:
        return set()
    year = local_day(datetime.fromisoformat(question.draft["said_at"]), books.crew.zone).year % 100
    return {books.resolve(lot, year) for lot in first.entries[0].lots}


def told_of_lapsed(books: Books, scene: Scene, over: Sequence[OpenQuestion]) -> tuple[Refused, ...]:
    """What nobody answered in time and so is in no count, said once: the note, or the part of it that was asked."""
    days: dict[str, str] = {}
    for one in reversed(over):
        said, asked = str(one.draft["said"]), pending_of(one)
        if one.kind not in _OF_A_NOTE or not said.strip():
            continue
        kept = books.records_of_message(str(one.draft["message"]))
        others = any(record.entry.act is not Act.NOTE for record in kept)
        words = say_back(asked[0].entries[0]) if others and asked and asked[0].entries else said
        days[words] = local_day(datetime.fromisoformat(one.draft["said_at"]), scene.zone).isoformat()
    return (Refused(why="lapsed", facts={"said": days}),) if days else ()


def _counted_anew(first: Pending, told: Sequence[Record]) -> bool:
    """Whether more than the books have was told, and then another count of the same."""
    asked = first.entries[0] if first.entries else None
    if asked is None or not first.kind.startswith("above"):
        return False
    return any(
        one.lot == first.facts.get("lot")
        and (one.entry.act, one.entry.state) == (asked.act, asked.state)
        and not one.entry.more
        for one in told
    )


def _again(books: Books, question: OpenQuestion, lots: Sequence[str]) -> Asked:
    first = pending_of(question)[0]
    choices = first.choices
    if first.kind == "lot" and not choices:
        choices = offer([lot for lot in map(books.lot, lots) if lot is not None and not lot.closed])
    return Asked(
        kind=first.kind,
        entry=first.entries[0] if first.entries else None,
        choices=tuple(replace(one, action={**one.action, "question": question.number}) for one in choices),
        facts=first.facts | {"still_open": str(question.draft["said"])},
    )
