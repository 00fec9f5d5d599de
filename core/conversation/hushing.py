"""Who wants no reminders, of which lot or tray nobody does, and how they come back.

Rules
1. "stop reminding me" stops what is addressed to the speaker; the crew's own go on. "remind me again" ends it.
   Both are records, folded into a setting that a tick reads.
2. "remind us of lot 14 again" ends a stop of that lot or tray. It is a record, so that it can be undone.
3. What fell due meanwhile and is still of use comes at the next tick.
"""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Final

from core.answers import Answer, Asked, Choice, Confirmed
from core.conversation.recording import subjects_of
from core.conversation.replanning import replan
from core.conversation.scene import Scene
from core.entries import Act, Entry
from core.records import in_order
from core.storage import Books

KEPT_AS: Final = "quiet"
_ON: Final = (
    r"(?:start|begin|resume|restart) (?:to )?remind(?:ing|ers?)?(?: (?:me|us))?"
    r"|(?:start|resume|restart) (?:the |my |all )?reminders"
    r"|remind (?:me|us)(?= (?:again|(?:of|about|for) .* again))"
    r"|(?:(?:turn|switch) )?(?:the |my )?reminders (?:back )?on|(?:turn|switch) (?:back )?on (?:the |my )?reminders"
)
_OFF: Final = (
    r"(?:stop|quit) (?:to )?remind(?:ing)?(?: (?:me|us))?|(?:stop|no more|no) (?:the |my |all )?reminders"
    r"|(?:(?:turn|switch) )?(?:the |my )?reminders off|(?:turn|switch) off (?:the |my )?reminders"
    r"|(?:don't|dont|do not) remind (?:me|us)"
)
_WORDS: Final = re.compile(
    rf"(?:please )?(?:(?P<on>{_ON})|(?P<off>{_OFF}))(?: again| anymore| any more)?"
    r"(?: (?:of|for|about) (?:(?:(?P<lot>lots?)|(?P<tray>trays?)) )?#?(?P<names>[\w-]*\d[\w-]*"
    r"(?:(?: and |, ?| & )#?[\w-]*\d[\w-]*)*))?(?: again| anymore| any more)?[ .!]*"
)


def who_is_quiet(books: Books) -> frozenset[str]:
    """The members who asked for no reminders, in lower case."""
    text = books.setting(KEPT_AS)
    return frozenset(text.split("\n")) - {""} if text else frozenset()


def hush(books: Books, scene: Scene, answer: str = "stop") -> Answer:
    """Leaves the speaker out of all reminders from now on (`stop`), or takes the speaker back in (`yes`)."""
    books.write(scene.draft(Entry(act=Act.REPLY, answer=answer)))
    recall_who_is_quiet(books)
    if answer != "stop":
        _bring_forward(books, scene)
    undo = (Choice(label="undo", action={"undo": scene.key}),)
    return Confirmed(how="stop_all" if answer == "stop" else "start_all", dues=(), choices=undo)


def recall_who_is_quiet(books: Books) -> None:
    """Folds from the records who wants no reminders, so that an undo or an import holds."""
    last: dict[str, str | None] = {}
    for record in in_order(books.records(acts=("reply",))):
        entry = record.entry
        if record.reminder is None and record.lot is None and not record.trays and entry.answer in ("stop", "yes"):
            last[record.told_by.lower()] = entry.answer
    books.settle(KEPT_AS, "\n".join(sorted(name for name, answer in last.items() if answer == "stop")))


def hear_wish(books: Books, scene: Scene) -> Answer | None:
    """The answer to words that end reminders, or ask for them again; None where these are other words."""
    found = _WORDS.fullmatch(" ".join(scene.message.text.lower().split()))
    if found is None:
        return None
    answer = "stop" if found["off"] else "yes"
    if found["names"] is not None:
        names = tuple(re.findall(r"[\w-]*\d[\w-]*", found["names"]))
        is_tray = found["tray"] is not None
        entry = Entry(act=Act.REPLY, answer=answer, lots=() if is_tray else names, trays=names if is_tray else ())
        return stop_or_start(books, scene, entry)
    return hush(books, scene, answer)


def stop_or_start(books: Books, scene: Scene, entry: Entry) -> Answer:
    """Writes that the lots and trays of `entry` are left alone (answer `stop`) or asked for again (`yes`)."""
    numbers = [books.resolve(texted, scene.year()) for texted in entry.lots]
    if None in numbers:
        return Asked(kind="lot", entry=entry, facts={"unknown": entry.lots[numbers.index(None)]})
    lots = [lot for number in numbers if number and (lot := books.lot(number)) is not None]
    draft = scene.draft(entry, trays=entry.trays)
    # what is said of a lot is kept with its trays too: a tray whose every lot is left alone asks for nothing
    drafts = [replace(draft, lot=lot.number, trays=lot.trays) for lot in lots]
    written = [books.write(one) for one in (drafts if lots else [draft])]
    plan = replan(books, subjects_of(written), scene.now)
    undo = (Choice(label="undo", action={"undo": scene.key}),)
    return Confirmed(how="stop" if entry.answer == "stop" else "start", dues=(), plan=plan, choices=undo)


def _bring_forward(books: Books, scene: Scene) -> None:
    """What waited for this speaker comes at the next tick, where it has fallen due."""
    for one in books.open_reminders(sent=False):
        mine = (one.due.to or "").lower() == scene.speaker.lower() or one.due.chat == scene.chat
        if mine and one.due.due_at < scene.now < one.due_at:
            books.postpone(one.number, scene.now)
