"""What is said of a target after it was told: "lower the toyon goal to 25", "the sale moved to nov 21", "cancel it".

Rules
1. Only plants that are wanted by the books are heard here; a number or a day corrects their target, so that it can be
   taken back.
2. A sale that moved takes with it every target of its day; where the targets are for several days, it is asked which.
3. What is not wanted any more is a target of none, told of its own, so that it can be taken back.
4. "For the sale", with no day, is the one day that all targets are for.
5. "And 40 toyon", right after a target was told, is wanted by the same day.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date
from functools import cache

from core.answers import Answer, Corrected, Refused
from core.conversation.correcting import amend_record
from core.conversation.correction_words import bare
from core.conversation.heard import page
from core.conversation.said_patterns import one_of, spoken, without_small_ends
from core.conversation.scene import Scene
from core.entries import Act, Entry
from core.notes import Reading, read, read_answer
from core.records import Record, in_order, local_day
from core.storage import Books
from core.vocabulary.plants import same_plant

_FILE = "targets_told"


def hear_target(books: Books, scene: Scene, reading: Reading) -> tuple[Answer, ...]:
    """The answers to what is said of a target told before: another number, another day; none where it says neither."""
    wanted = _spoken_of(books, scene, reading)
    for how, found in _heard(scene, ("now", "moved"), wanted):
        answers = _answers(books, scene, how, found, wanted)
        if answers:
            return answers
    return ()


def without_unwanted(books: Books, scene: Scene, reading: Reading) -> Reading:
    """The reading; where it says that a plant is not wanted any more, a target of none."""
    wanted = _spoken_of(books, scene, reading)
    for _, found in _heard(scene, ("over",), wanted):
        own = _own(found, wanted)
        if own is not None:
            over = Entry(act=Act.TARGET, plant=own.entry.plant, count=0, due=own.entry.due)
            return Reading(entries=(over,), repairs=reading.repairs)
    return reading


def _spoken_of(books: Books, scene: Scene, reading: Reading) -> tuple[Record, ...]:
    """The targets that a note may speak of; none where it holds no word of any."""
    words = bare(scene.message.text).replace(":", " ").split()
    if any(one.act is Act.ASK for one in reading.entries) or _tells().isdisjoint(words):
        return ()
    return standing_targets(books, scene)


def _heard(scene: Scene, tables: tuple[str, ...], wanted: Sequence[Record]) -> Iterator[tuple[str, re.Match[str]]]:
    if not wanted:
        return
    words = without_small_ends(_FILE, " ".join(bare(scene.message.text).replace(":", " ").split()))
    plants = one_of(tuple(bare(one.entry.plant or "") for one in wanted))
    named = {"plant": rf"(?:the )?(?P<plant>{plants})s?", "n": r"(?P<count>\d+|[a-z]+)", "day": r"(?P<day>.+)"}
    nothing = ("", *page(_FILE)["more"]["words"])
    yield from (one for one in spoken(_FILE, tables, words, named) if (one[1]["tail"] or "").strip() in nothing)


def _own(found: re.Match[str], wanted: Sequence[Record]) -> Record | None:
    return next((one for one in wanted if bare(one.entry.plant or "") == found["plant"]), None)


def standing_targets(books: Books, scene: Scene) -> tuple[Record, ...]:
    """The targets that hold and are still to come, the latest of each plant."""
    today = local_day(scene.now, scene.zone)
    latest: dict[str, Record] = {}
    for one in in_order(books.records(acts=("target",))):
        plant = one.entry.plant
        if plant and one.entry.count is not None and one.entry.due:
            latest = {name: before for name, before in latest.items() if not same_plant(name, plant)} | {plant: one}
    return tuple(one for one in latest.values() if one.entry.count and one.entry.due and one.entry.due >= today)


def with_sale_day(books: Books, scene: Scene, reading: Reading) -> Reading:
    """The reading with the day of the sale in the targets that name the sale and no day."""
    undated = [at for at, one in enumerate(reading.entries) if one.act is Act.TARGET and one.due is None]
    if not undated or not names_sale(scene.message.text):
        return reading
    days = {one.entry.due for one in _of_the_sale(standing_targets(books, scene))}
    if len(days) != 1 or any(ask.kind == "date" and ask.entry not in undated for ask in reading.asks):
        return reading
    day = days.pop()
    entries = tuple(replace(one, due=day) if at in undated else one for at, one in enumerate(reading.entries))
    asks = tuple(ask for ask in reading.asks if ask.kind != "date" or ask.entry not in undated)
    return replace(reading, entries=entries, asks=asks)


@cache
def _tells() -> frozenset[str]:
    return frozenset(page(_FILE)["tells"]["words"])


def with_next_target(scene: Scene, reading: Reading) -> Reading:
    """The reading; the target of the same day that "and 40 toyon" is, right after another."""
    one = reading.entries[0] if len(reading.entries) == 1 else None
    before = scene.latest[-1].entry if scene.latest else None
    if one is None or before is None or before.due is None:
        return reading
    if any(told.entry.act is not Act.TARGET for told in scene.latest):
        return reading
    undated = one.act is Act.TARGET and [ask.kind for ask in reading.asks] == ["date"]
    if not (undated or (one.act is Act.NOTE and one.plant)) or one.lots or one.trays:
        return reading
    found = _next().fullmatch(bare(scene.message.text))
    if found is None or not (found["lead"] or found["too"]):
        return reading
    told = read(f"need {found['wanted']}", scene.local_now, scene.names)
    target = told.entries[0] if len(told.entries) == 1 else None
    if target is None or target.act is not Act.TARGET or target.rest or [ask.kind for ask in told.asks] != ["date"]:
        return reading
    return Reading(entries=(replace(target, due=before.due),), repairs=reading.repairs)


@cache
def _next() -> re.Pattern[str]:
    lead, need, too = (one_of(tuple(page(_FILE)["next"][key])) for key in ("lead", "need", "too"))
    return re.compile(rf"(?P<lead>(?:(?:{lead}) )*)(?:(?:{need}) )?(?P<wanted>\S.*?)(?P<too>(?: (?:{too}))*)")


def day_of_sale(text: str) -> str:
    """The words for a day in "the sale is on 18 april"; nothing in other words."""
    words = bare(text)
    sale, of_day = one_of(tuple(page(_FILE)["words"]["sale"])), one_of(tuple(page(_FILE)["words"]["of_day"]))
    found = re.fullmatch(rf"(?:the |our )?(?:{sale}) (?:{of_day}) (?P<day>\S.*)", words)
    return found["day"] if found is not None else ""


def names_sale(text: str) -> bool:
    """Whether some words speak of the sale."""
    return re.search(rf"\b(?:{one_of(tuple(page(_FILE)['words']['sale']))})\b", text.lower()) is not None


def _answers(
    books: Books, scene: Scene, how: str, found: re.Match[str], wanted: Sequence[Record]
) -> tuple[Answer, ...]:
    parts = found.groupdict()
    day = _day(scene, parts["day"]) if parts.get("day") else None
    if parts.get("day") and day is None:
        return ()
    if how == "moved":
        return _moved(books, scene, day, wanted) if day is not None else ()
    own = _own(found, wanted)
    if own is None:
        return ()
    count = (read_answer("count", parts["count"], scene.local_now) or {}).get("count")
    if not isinstance(count, int) or not count:
        return ()
    after = replace(own.entry, count=count, count_max=None, approx=False, due=day or own.entry.due)
    return (amend_record(books, scene, own.number, after),)


def _moved(books: Books, scene: Scene, day: date, wanted: Sequence[Record]) -> tuple[Answer, ...]:
    wanted = _of_the_sale(wanted)
    days = sorted({one.entry.due for one in wanted if one.entry.due is not None})
    if len(days) > 1:
        return (Refused(why="which_sale", facts={"days": [one.isoformat() for one in days]}),)
    answers = [amend_record(books, scene, one.number, replace(one.entry, due=day)) for one in wanted]
    # One button takes back all that this note corrected.
    told = [replace(one, choices=()) if isinstance(one, Corrected) else one for one in answers[:-1]]
    changed = [one for one in (*told, *answers[-1:]) if isinstance(one, Corrected)]
    return tuple(changed or answers[:1])


def _of_the_sale(wanted: Sequence[Record]) -> tuple[Record, ...]:
    """The targets of a day that a note of one of them names as the sale's; all, where none does."""
    named = tuple(one for one in wanted if names_sale(one.said))
    days = {one.entry.due for one in named or wanted}
    return tuple(one for one in wanted if one.entry.due in days)


def _day(scene: Scene, words: str) -> date | None:
    due = (read_answer("date", words, scene.local_now) or {}).get("due")
    return due if isinstance(due, date) else None
