"""Which sale or gift a return belongs to: "2 sage came back", "returned 2 of lot 5", "a buyer brought one back".

Rules
1. What came back was never gone: the sale is corrected, once the crew says yes to it. Nothing is changed unasked.
2. Only the latest sale or gift of a lot that was of so many is meant; where several lots were sold, it is asked which.
3. Words that say more than who, what and when ("came back to life") are no return.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import timedelta
from functools import cache

from core.answers import Answer, Choice
from core.conversation.asking import put_question
from core.conversation.correcting import ask_before_changing, ask_which_record
from core.conversation.correction_words import bare, said
from core.conversation.heard import either
from core.conversation.recording import Pending
from core.conversation.scene import Scene
from core.entries import Act, Entry
from core.lots.by_plant import lots_of_plant
from core.lots.trays import lots_in
from core.notes import Reading, read
from core.records import Record
from core.storage import Books

_REACH = timedelta(days=30)
_TALK_REACH = timedelta(days=8)
_GONE = frozenset({Act.SELL, Act.GIVE})
_TABLE = "came_back"


def hear_came_back(books: Books, scene: Scene, reading: Reading) -> tuple[Answer, ...]:
    """The question whether a sale is to be corrected by what came back of it; none for other words."""
    if "?" in scene.message.text or any(one.act not in (Act.NOTE, Act.MOVE) for one in reading.entries):
        return ()
    back = _came_back(scene)
    if back is None or not back.count:
        return ()
    sales = _sales(books, scene, back)
    if not sales:
        return ()
    fits = [(one, _less(one.entry, back.count)) for one in sales]
    if len(fits) > 1:
        return (ask_which_record(books, scene, Entry(act=Act.AMEND), [one for one in fits if one[1].count]),)
    sale, after = fits[0]
    if after.count:
        return (ask_before_changing(books, scene, Entry(act=Act.AMEND), sale, after),)
    return (_ask_to_take_back(books, scene, sale),)


@cache
def _patterns() -> tuple[re.Pattern[str], ...]:
    """ "2 came back", "returned 2", "brought 2 back": what stands at the place of the plants, and who."""
    after, before, opens, who = (either("corrections", _TABLE, key) for key in ("after", "before", "opens", "who"))
    by = rf"(?: (?:{either('corrections', _TABLE, 'beside')})(?: .*)?)?"
    lead = rf"(?:(?:.* )?(?:{who}) )?"
    return (
        re.compile(rf"{lead}(?:{opens}) (?P<what>.+?) (?:{either('corrections', _TABLE, 'closes')}){by}"),
        re.compile(rf"(?:{lead}|[\w ]{{0,40}}? )(?:{before}) (?P<what>.+?){by}"),
        re.compile(rf"(?P<what>.+?) (?:{after}){by}"),
    )


def _ways(words: str) -> Iterator[str]:
    """What the words say came back, in each way in which they may be read."""
    for one in _patterns():
        found = one.fullmatch(words)
        if found is not None:
            yield found["what"]


def _came_back(scene: Scene) -> Entry | None:
    """What came back, as the sale that it then was not."""
    told_first = re.split(r"[,;\n]", scene.message.text)[0]
    for what in (*_ways(bare(scene.message.text)), *_ways(bare(told_first))):
        told = read(f"sold {what}", scene.local_now, scene.names).entries
        one = told[0] if len(told) == 1 else None
        if one is not None and one.act is Act.SELL and one.count and not one.to and not _says_more(one):
            return one
    return None


def _says_more(one: Entry) -> bool:
    return bool(set(bare(one.rest or "").split()) - set(said(_TABLE, "fillers")))


def _sales(books: Books, scene: Scene, back: Entry) -> list[Record]:
    """The latest sale or gift of so many of each lot that may be meant, the latest last."""
    if scene.replied_records:
        told: Sequence[Record] = scene.replied_records
    elif back.lots or back.trays or back.plant:
        told = [one for number in _named(books, scene, back) for one in books.lot_records(number)]
        told = [one for one in told if scene.message.said_at - one.said_at <= _REACH]
    else:
        told = books.told_in(scene.chat, since=scene.message.said_at - _TALK_REACH)
        told = _of_latest_note(told)
    gone = [one for one in told if one.holds() and one.entry.act in _GONE and one.lot is not None]
    enough = [one for one in gone if (one.entry.count or 0) >= (back.count or 0)]
    latest = {one.lot: one for one in sorted(enough, key=lambda one: one.number)}
    return sorted(latest.values(), key=lambda one: one.number)


def _of_latest_note(told: Iterable[Record]) -> list[Record]:
    """The sales and gifts of the note that told of one last."""
    gone = [one for one in told if one.holds() and one.entry.act in _GONE]
    return [one for one in gone if one.message == gone[-1].message]


def _named(books: Books, scene: Scene, back: Entry) -> list[str]:
    every = books.lots(open_only=False)
    if back.lots:
        found = (books.resolve(one, scene.year(), closed_too=True) for one in back.lots)
        return [number for number in found if number is not None]
    if back.trays:
        return [lot.number for tray in back.trays for lot in lots_in(tray, every)]
    return [lot.number for lot in lots_of_plant(back.plant or "", every)]


def _less(entry: Entry, count: int) -> Entry:
    left = (entry.count or 0) - count
    return replace(entry, count=left) if left else replace(entry, count=None, all_of=False)


def _ask_to_take_back(books: Books, scene: Scene, sale: Record) -> Answer:
    """All that was sold came back: the sale itself is shown, to be taken back."""
    day = sale.said_at.astimezone(scene.zone).date().isoformat()
    facts = {"by": sale.told_by, "day": day, "said": sale.said}
    choices = (
        Choice(label="yes", action={"take_back_record": sale.number}),
        Choice(label="no", action={"drop": True}),
    )
    pending = Pending(kind="denied", entries=(sale.entry,), choices=choices, facts=facts)
    return put_question(books, scene, [pending])
