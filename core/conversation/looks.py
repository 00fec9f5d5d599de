"""What a look found that a reminder asked for: which reminders ask for a count, and "none yet" said of it.

Rules
1. "None yet" is a look that found none: of the lot that it names, else of the reminders replied to, else of the only
   one open where nobody has said anything since.
2. Of a lot that it names it is so also without a reminder, as long as the books have none; after talk of losses it says
   that nothing was lost, and is a note.
3. "None" and nothing more is an answer only as a reply to what asks how many.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import timedelta
from functools import cache

from core.conversation.answer_words import core_of
from core.conversation.correction_words import bare
from core.conversation.heard import either, heard
from core.conversation.scene import Scene, words_before
from core.entries import Act, Entry
from core.lots import Lot, lots_in
from core.lots.by_plant import lots_of_plant
from core.notes import Reading, read, read_answer
from core.reminders import Due
from core.storage import Books, StoredReminder

LOOKS = {"root_check": "rooted", "germination_check": "germinated"}
"""The kinds of reminder that ask for a look, and the state that is looked for."""
_COUNTS = {**LOOKS, "old_count": "alive"}
_WORDS = "answers_heard"
_SOON = timedelta(minutes=15)


def counts_for(due: Due) -> str | None:
    """The state that a reminder of a lot asks to count (`rooted`, `germinated`, `alive`), or None."""
    return _COUNTS.get(due.kind) if due.subject.kind == "lot" else None


def said_last(books: Books, scene: Scene, reminders: Sequence[StoredReminder]) -> bool:
    """Whether nobody has said anything in this chat since the last of these reminders was sent."""
    sent = [one.sent_at for one in reminders if one.sent_at is not None]
    message = scene.message
    if not sent:
        return False
    return books.words_before(scene.chat, since=max(sent), until=message.said_at, but=message.message_id) is None


def replied_to(books: Books, scene: Scene) -> tuple[StoredReminder, ...]:
    """The reminders of the message replied to."""
    return tuple(row for row in map(books.reminder, scene.replied_reminders) if row is not None)


def none_found(books: Books, scene: Scene, reading: Reading) -> Reading:
    """The looks that "none yet" tells of, or the reading for other words."""
    if len(reading.entries) != 1 or reading.entries[0].act is not Act.NOTE:
        return reading
    told = _told(scene)
    if told is None:
        return reading
    looks = [one for one in books.open_reminders(chat=scene.chat, sent=True) if one.due.kind in LOOKS]
    if told.name is None:
        found = _asked_for(books, scene, looks, alone=not told.yet)
    else:
        found = _of_name(books, scene, told, {one.due.subject.name: LOOKS[one.due.kind] for one in looks})
    entries = tuple(Entry(act=Act.CHECK, lots=(lot,), state=state, count=0) for lot, state in found.items())
    if not entries and told.name is not None and told.yet and looks and not _talk_of_losses(books, scene):
        entries = _unknown(books, scene, told.name)
    return Reading(entries=entries, repairs=reading.repairs) if entries else reading


@dataclass(frozen=True, slots=True, kw_only=True)
class _Told:
    """ "None", with the lot or tray that it names, and whether "yet" or "still" says that some are awaited."""

    name: str | None
    yet: bool


@cache
def _patterns() -> tuple[re.Pattern[str], ...]:
    none, yet = (either(_WORDS, "none_yet", key) for key in ("says", "after"))
    before, has, bare_ones, within = (either(_WORDS, "none_yet", key) for key in ("before", "has", "bare", "within"))
    still = rf"(?P<still>(?:{before}) )?"
    said = rf"(?:{has} )?{still}(?:{has} )?(?:(?:{none})(?P<yet> (?:{yet}))?|(?P<bare>{bare_ones}))"
    return (
        re.compile(said),
        re.compile(rf"(?P<name>\S.*?) {said}"),
        re.compile(rf"{said} (?:{within}) (?P<name>\S.*?)(?P<late> (?:{yet}))?"),
    )


def _told(scene: Scene) -> _Told | None:
    words = bare(scene.message.text.replace(":", " ").replace(",", " "))
    if "?" in scene.message.text:
        return None
    alone = core_of(words)
    if alone in heard(_WORDS, "none_yet", "alone"):
        return _Told(name=None, yet=False)
    for way in _patterns():
        found = way.fullmatch(words)
        if found is None:
            continue
        marked = bool(found["still"] or found["yet"] or found.groupdict().get("late"))
        name = found.groupdict().get("name")
        if name is not None and not read_answer("lot", name, scene.local_now):
            continue
        if found["bare"] and not found["still"]:
            return None
        return _Told(name=name, yet=marked)
    return None


def _asked_for(books: Books, scene: Scene, looks: Sequence[StoredReminder], *, alone: bool) -> dict[str, str]:
    """The lots whose reminders are meant where none is named, with the state looked for."""
    if scene.replied_reminders:
        replied = replied_to(books, scene)
        if alone and not all(counts_for(one.due) for one in replied):
            return {}
        return {one.due.subject.name: LOOKS[one.due.kind] for one in replied if one.due.kind in LOOKS}
    if alone or len(looks) != 1 or scene.message.replied_to is not None or not said_last(books, scene, looks):
        return {}
    return {looks[0].due.subject.name: LOOKS[looks[0].due.kind]}


def _of_name(books: Books, scene: Scene, told: _Told, looks: dict[str, str]) -> dict[str, str]:
    """The lots that are named, with the state that is looked for in each; none where any of them has some already."""
    lots = _lots_named(books, scene, told.name or "")
    replied = {one.due.subject.name for one in replied_to(books, scene) if counts_for(one.due)}
    asked = replied or (looks if told.yet else {})
    if not lots or (not told.yet and not {lot.number for lot in lots} <= {*asked}):
        return {}
    if not scene.replied_reminders and _talk_of_losses(books, scene):
        return {}
    states = {lot.number: looks.get(lot.number) or _awaited(lot) for lot in lots}
    return {number: state for number, state in states.items() if state} if all(states.values()) else {}


def _awaited(lot: Lot) -> str | None:
    """The state that is looked for in a lot of which the books have none so far; None where there is no such state."""
    if lot.kind == "seed":
        return "germinated" if lot.sown_at is not None and not lot.germinated else None
    return "rooted" if lot.kind == "cuttings" and not lot.rooted and not lot.potted else None


def _lots_named(books: Books, scene: Scene, name: str) -> list[Lot]:
    """The open lots that a name means; of a tray or a plant with several lots none."""
    named = read_answer("lot", name, scene.local_now) or {}
    open_lots = books.lots()
    found: list[Lot] = []
    for texted in named.get("lots", ()):
        number = books.resolve(texted, scene.year())
        standing = [lot for lot in open_lots if lot.number == number]
        if not standing:
            return []
        found += standing
    for tray in named.get("trays", ()):
        standing = list(lots_in(tray, open_lots))
        if len(standing) != 1:
            return []
        found += standing
    if named.get("plant"):
        found += lots_of_plant(named["plant"], open_lots)
    return found if len(found) == 1 or "plant" not in named else []


def _unknown(books: Books, scene: Scene, name: str) -> tuple[Entry, ...]:
    """The look at a lot whose number the books do not know, so that it is asked which is meant; else none."""
    lots = (read_answer("lot", name, scene.local_now) or {}).get("lots", ())
    if len(lots) != 1 or books.resolve(lots[0], scene.year(), closed_too=True) is not None:
        return ()
    return (Entry(act=Act.CHECK, lots=tuple(lots), state="rooted", count=0),)


def _talk_of_losses(books: Books, scene: Scene) -> bool:
    """Whether losses were told or asked of just before, by anybody."""
    deeds = [one.act for one in scene.earlier if one.act is not Act.NOTE]
    if deeds and deeds[-1] is Act.LOSE:
        return True
    words = words_before(books, scene, None, _SOON)
    told = read(words, scene.local_now, scene.names).entries if words else ()
    return any(one.act is Act.LOSE or one.did == "lose" for one in told)
