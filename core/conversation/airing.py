"""Whether an airing just noted is over or has only just begun, and the button that says the other.

Rules
1. What neither the words nor the time decide has just begun: a reminder too many is better than an open tray.
2. The button writes the record anew under its own words; the first is superseded, never changed.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from core import answers
from core.answers import Answer, Choice, Noted, Refused
from core.conversation.airing_words import SAID
from core.conversation.correcting import draft_after
from core.conversation.recording import subjects_of
from core.conversation.replanning import replan
from core.conversation.scene import Scene
from core.conversation.taking_back import refold_all
from core.entries import Act
from core.lots import air_is_over
from core.records import Record
from core.storage import Books


def tell_over(act: answers.Act, records: Sequence[Record]) -> answers.Act:
    """The act with what became of its airing: over, or just begun. Other acts as they are."""
    airing = _airings(act, records)
    if not airing:
        return act
    closed = any(one.entry.act is Act.COVER and one.order() > airing[0].order() for one in records)
    return replace(act, over=closed or air_is_over(airing[0]))


def choice_of_other(acts: Sequence[answers.Act], records: Sequence[Record]) -> tuple[Choice, ...]:
    """The button that says the other of the last airing, where it could be either."""
    told = [act for act in acts if act.over is not None]
    if not told:
        return ()
    airing, over = _airings(told[-1], records), bool(told[-1].over)
    if air_is_over(replace(airing[0], said=SAID[not over])) == over:
        return ()
    if over and any(one.entry.act is Act.COVER for one in records):
        return ()
    action = {"air": [one.number for one in airing], "over": not over}
    return (Choice(label="air_begun" if over else "air_over", action=action),)


def retell(books: Books, scene: Scene, numbers: Sequence[int], *, over: bool) -> Answer:
    """Writes an airing anew as over or just begun, by its button."""
    found = [record for record in map(books.record, numbers) if record is not None and record.holds()]
    if not found:
        return Refused(why="old_button")
    written: list[Record] = []
    for record in found:
        after = books.write(replace(draft_after(scene, record, record.entry), said=SAID[over]))
        books.supersede([record.number], by=after.number)
        written.append(after)
    numbers_of_lots = refold_all(books, scene, found)
    plan = replan(books, subjects_of(found), scene.now)
    lots = tuple(lot for lot in map(books.lot, numbers_of_lots) if lot is not None)
    act = answers.Act(entry=found[0].entry, lots=lots, trays=found[0].trays, over=over)
    return Noted(acts=(act,), plan=plan, choices=(Choice(label="undo", action={"undo": scene.key}),))


def _airings(act: answers.Act, records: Sequence[Record]) -> list[Record]:
    return [one for one in records if one.entry.act is Act.AIR and one.entry == act.entry]
