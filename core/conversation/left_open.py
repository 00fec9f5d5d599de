"""What a note leaves out that stands open in the books: "poured it out", "brought it back in".

Rules
1. A solution thrown out is the only one that stands open, the hormone poured for sticking among them; of several it is
   asked which. "The leftover powder" is that hormone.
2. What is brought back in goes back to where it stood; what is taken out, of a lot in the cold, comes out of the cold.
3. What was looked at, and nothing counted ("checked 14, all good"), is the open lot of that number.
"""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache

from core.conversation.heard import either, heard
from core.conversation.named_last import context_of
from core.conversation.scene import Scene
from core.entries import Act, Entry
from core.lots.phrases import says
from core.notes import Ask, Reading
from core.records import in_order
from core.storage import Books

_WORDS = "answers_heard"
_LEFT_OVER = "hormone_leftover"


@cache
def _patterns() -> tuple[re.Pattern[str], re.Pattern[str]]:
    """What is brought back in, what is taken out."""
    verbs, things, ends = (either(_WORDS, "taken_out", key) for key in ("verbs", "things", "ends"))
    return (
        re.compile(rf"\b(?:{either(_WORDS, 'back_in')})\W*$"),
        re.compile(rf"\b(?:{verbs}) (?:{things}) (?:{ends})\W*$"),
    )


def with_what_is_open(books: Books, scene: Scene, reading: Reading) -> Reading:
    """The reading, with what the books know to stand open in place of what the words leave out."""
    if len(reading.entries) != 1:
        return reading
    one, words = reading.entries[0], " ".join(scene.message.text.lower().split())
    back_in, out = _patterns()
    if one.act is Act.POUR_OUT and one.solution is None:
        return _poured(books, reading, one)
    if one.act is Act.MOVE and one.to is None and back_in.search(words):
        return _without_ask(reading, replace(one, to="inside"), "to")
    if one.act is Act.MOVE and one.to is None and out.search(words):
        return _out_of_the_cold(books, scene, reading, one)
    if one.act is Act.CHECK and one.state is None and one.count is not None and one.of is None:
        return _looked_at(books, scene, reading, one)
    return reading


def _looked_at(books: Books, scene: Scene, reading: Reading, one: Entry) -> Reading:
    """A look at the open lot whose number is all that the words count; a number of plants else."""
    number = books.resolve(str(one.count), scene.year())
    lot = books.lot(number) if number is not None else None
    if lot is None or lot.closed or one.lots or one.trays or one.plant or one.more or one.approx:
        return reading
    asks = tuple(ask for ask in reading.asks if ask.kind not in ("lot", "state"))
    return replace(reading, entries=(replace(one, lots=(lot.number,), count=None),), asks=asks)


def _poured(books: Books, reading: Reading, one: Entry) -> Reading:
    standing: dict[str, bool] = {}
    for record in in_order(books.records(acts=("mix", "pour_out"))):
        if record.entry.solution:
            standing[record.entry.solution] = record.entry.act is Act.MIX
    if books.open_reminders(kinds=[_LEFT_OVER]):
        standing["hormone"] = True
    if "hormone" in standing and says(one.rest or "", heard(_WORDS, "left_over", "hormone")):
        return _without_ask(reading, replace(one, solution="hormone"), "solution")
    left = [solution for solution, stands in standing.items() if stands]
    if len(left) == 1:
        return replace(reading, entries=(replace(one, solution=left[0]),))
    ask = Ask(kind="solution", entry=0, choices=tuple(left))
    return replace(reading, asks=(*reading.asks, ask))


def _out_of_the_cold(books: Books, scene: Scene, reading: Reading, one: Entry) -> Reading:
    context = context_of(books, scene, reading)
    source = context.replied or context.asked or context.latest
    numbers = one.lots or (source.lots if source else ())
    found = books.resolve(numbers[0], scene.year()) if len(numbers) == 1 else None
    lot = books.lot(found) if found else None
    running = [cold for cold in lot.colds if cold.running] if lot is not None else []
    if len(running) != 1:
        return reading
    out = replace(one, act=Act.TREAT, treatment=running[0].treatment, ends=True)
    return _without_ask(reading, out, "to")


def _without_ask(reading: Reading, entry: Entry, kind: str) -> Reading:
    return replace(reading, entries=(entry,), asks=tuple(ask for ask in reading.asks if ask.kind != kind))
