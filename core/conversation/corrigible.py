"""Which notes a correction may mean: the one replied to, else what was told within the hour of the same talk.

Rules
1. A correction means the speaker's latest note of the hour that has a place for what it says; after an undo, the note
   that was taken back.
2. What another person told since may be meant as well; where the words are of one's own slip ("make that", "sorry"),
   only what another did since with the same lot.
3. A lot that the correction names beside something else is what was told of it. Only a plant or a material of a lot
   named reaches back further than the hour.
4. A number that is said to be wrong ("21, not 31") is looked for in the notes of the week; a count of another number
   is shown before it is changed.
5. A deed that the correction names beside its number ("lost 5, not 3") is the only one that it means.
6. While the bot asks whether to take back or change a note, a correction means that note, and is asked about.
7. What is older than the hour is never corrected unasked, and what is older than three days only by its lot or number.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import timedelta

from core.conversation.asking import pending_of
from core.conversation.claims import is_kind, kind_of
from core.conversation.correction_words import has_one
from core.conversation.fitting import fitted, given
from core.conversation.heard import either
from core.conversation.scene import TALK_LASTS, Scene
from core.conversation.taking_back import MARKS, what_a_mark_did
from core.entries import Act, Entry
from core.records import Record
from core.storage import Books

_SHOWN_FOR = timedelta(days=3)
"""How old the latest note may be and still be shown as what a correction without a name may mean."""
_NUMBERS_REACH = timedelta(days=7)
OF_A_RECORD = frozenset({"undo_old", "undo_of_a_day", "denied", "amend_old"})
"""The kinds of question that show one note of the books."""
_FAR_BACK = frozenset({"plant", "cutting", "wood", "hormone", "medium", "source"})
"""What a lot is or was made of: its name alone says which record that corrects."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Meant:
    """The records that a correction may mean, each with what it would then say; `old` where it must be asked first.

    `reached` is True where there was something to correct, whether it fits or not; `latest` is the speaker's last note.
    """

    fits: tuple[tuple[Record, Entry], ...] = ()
    old: bool = False
    reached: bool = False
    latest: Record | None = None


def meant(books: Books, scene: Scene, told: Entry) -> Meant:
    """What this correction may mean."""
    if scene.replied_records:
        held = [one for one in scene.replied_records if one.holds()]
        return Meant(fits=_fits(scene, held, told), reached=bool(held))
    shown = _asked_about(books, scene)
    if shown:
        return Meant(fits=_fits(scene, shown, told), old=True, reached=True)
    recent = books.told_in(scene.chat, since=scene.message.said_at - TALK_LASTS, until=scene.message.said_at)
    number = _lot_beside(books, scene, told)
    if number is not None:
        return _of_lot(books, scene, told, recent, number)
    own = [one for one in recent if one.told_by == scene.speaker]
    if own and own[-1].entry.act is Act.UNDO:
        back = what_a_mark_did(books, own[-1])[0]
        return Meant(fits=_fits(scene, back, told), reached=bool(back))
    wrong = wrong_number(told)
    if wrong is not None:
        named = _with_number(scene, own, told, wrong)
        if named:
            return Meant(fits=named, reached=True)
        far = books.told_in(scene.chat, since=scene.message.said_at - _NUMBERS_REACH)
        named = _with_number(scene, [one for one in far if one.told_by == scene.speaker], told, wrong)
        if named:
            return Meant(fits=named, old=True, reached=True)
    mine = _latest_that_fits(scene, own, told)
    if wrong is not None and mine and not any(_may_have_had(one, wrong) for one, _ in mine):
        return Meant(fits=mine, old=True, reached=True)
    theirs = _told_since(scene, recent, own, told)
    if mine and has_one(scene.message.text, "own"):
        theirs = tuple(one for one in theirs if _goes_on_from(one[0], mine[-1][0]))
    if mine or theirs:
        return Meant(fits=(*mine, *theirs), old=not mine, reached=True, latest=own[-1] if own else None)
    if own:
        return Meant(reached=True, latest=own[-1])
    last = books.last_message_with_records(scene.speaker, scene.chat, but=MARKS)
    held = [one for one in books.records_of_message(last) if one.holds()] if last is not None else []
    if all(scene.message.said_at - one.said_at > _SHOWN_FOR for one in held):
        return Meant()
    fits = _fits(scene, held, told)
    return Meant(fits=fits, old=bool(fits), reached=bool(held))


def _asked_about(books: Books, scene: Scene) -> list[Record]:
    """What the bot has just asked whether to take back or to change: a correction then means that."""
    if scene.question is None or scene.question.kind not in OF_A_RECORD:
        return []
    shown: list[Record | None] = []
    for action in (one.action for one in pending_of(scene.question)[0].choices):
        if "take_back" in action:
            shown += books.records_of_message(action["take_back"])
        elif "amend" in action:
            shown.append(books.record(action["amend"]))
    return [one for one in shown if one is not None and one.holds()]


def wrong_number(told: Entry) -> int | None:
    """The number that a correction says was wrong ("36 not 63", "i said 63 but its 36"), where it says one."""
    found = re.search(rf"\b(?:not|{either('corrections', 'i_said')}) (\d+)\b(?!\.\d|%)", told.rest or "")
    return int(found.group(1)) if found else None


def _with_number(scene: Scene, records: Sequence[Record], told: Entry, number: int) -> tuple[tuple[Record, Entry], ...]:
    named = [one for one in records if number in (one.entry.count, one.entry.of)]
    return _latest_that_fits(scene, named, told)


def _may_have_had(record: Record, number: int) -> bool:
    """Whether a number may be what was wrong in a record: it tells no other count, or is of that lot or tray."""
    entry = record.entry
    named = {one.rpartition("-")[2].lstrip("0") for one in (record.lot or "", *entry.lots, *entry.trays, *record.trays)}
    return entry.count is None or number in (entry.count, entry.of) or str(number) in named


def _lot_beside(books: Books, scene: Scene, told: Entry) -> str | None:
    """The lot that a correction names beside what it corrects."""
    if not told.lots or not set(given(told)) - {"trays"}:
        return None
    return books.resolve(told.lots[0], scene.year())


def _of_lot(books: Books, scene: Scene, told: Entry, recent: Sequence[Record], number: str) -> Meant:
    wrong = wrong_number(told)
    here = [one for one in recent if one.lot == number and wrong in (None, one.entry.count, one.entry.of)]
    fits = _latest_that_fits(scene, here, told)
    if fits:
        return Meant(fits=fits, reached=True)
    own = [one for one in recent if one.told_by == scene.speaker and _may_move(books, scene, told, one)]
    moved = _latest_that_fits(scene, own, told)
    if moved and not set(given(told)) & _FAR_BACK:
        return Meant(fits=tuple((one, replace(after, lots=told.lots)) for one, after in moved), reached=True)
    every = [
        one
        for one in books.lot_records(number)
        if one.holds() and wrong in (None, one.entry.count, one.entry.of)
    ]
    fits = _latest_that_fits(scene, every, told)
    return Meant(fits=fits, old=bool(fits) and not set(given(told)) & _FAR_BACK, reached=bool(every))


def _may_move(books: Books, scene: Scene, told: Entry, record: Record) -> bool:
    """Whether a correction that names another lot may mean this record: by the number or lot that was wrong, or as it
    names the same deed with the same number."""
    wrong = wrong_number(told)
    if wrong is not None and wrong in (record.entry.count, record.entry.of):
        return True
    if wrong is not None and record.lot != books.resolve(str(wrong), scene.year()):
        return False
    return (wrong is None and _deed_named(told, scene) is None) or record.entry.count == told.count


def _fits(scene: Scene, records: Iterable[Record], told: Entry) -> tuple[tuple[Record, Entry], ...]:
    found: dict[Entry, tuple[Record, Entry]] = {}
    kind = _deed_named(told, scene)
    for record in (one for one in records if one.entry.act not in MARKS and not _only_denies(one.entry)):
        if kind is not None and not is_kind(record.entry, kind):
            continue
        after = fitted(record.entry, told, scene.message.text, scene.local_now)
        if after is not None:
            found[record.entry] = (record, after)
    return tuple(found.values())


def _deed_named(told: Entry, scene: Scene) -> Entry | None:
    """The deed that a correction names beside its number ("correction, lost 5 in lot 1"); None where it names none."""
    words = re.sub(r"\bnot \d+\b", "", told.rest or "").strip()
    return kind_of(words, scene.local_now) if words and told.count is not None and told.did is None else None


def _only_denies(entry: Entry) -> bool:
    """A kept "no it wasn't" is no note that anybody corrects."""
    return entry.act is Act.NOTE and re.match(r"(?:no|not|nope)\b", (entry.text or "").lower()) is not None


def _latest_that_fits(scene: Scene, records: Sequence[Record], told: Entry) -> tuple[tuple[Record, Entry], ...]:
    """What fits of the latest note that it fits; words that name nothing at all come after every deed."""
    for told_of in ([one for one in records if not _is_bare(one)], records):
        for message in dict.fromkeys(one.message for one in reversed(told_of)):
            fits = _fits(scene, [one for one in told_of if one.message == message], told)
            fits = tuple(one for one in fits if one[0].message == records[-1].message or not _is_bare_look(one[0]))
            if fits:
                return fits
    return ()


def _is_bare_look(record: Record) -> bool:
    """ "Checked tray 1" holds no count: a number told after another deed is not what was wrong with it."""
    entry = record.entry
    return entry.act is Act.CHECK and entry.count is None and entry.share is None and entry.state is None


def _is_bare(record: Record) -> bool:
    return record.entry.act is Act.NOTE and record.lot is None and not record.trays and not record.entry.plant


def _goes_on_from(theirs: Record, mine: Record) -> bool:
    """Whether the talk went on from my note to another deed with that lot: mei counted roots, and bo potted some."""
    return theirs.lot is not None and theirs.lot == mine.lot and theirs.entry.act is not mine.entry.act


def _told_since(
    scene: Scene, recent: Sequence[Record], own: Sequence[Record], told: Entry
) -> tuple[tuple[Record, Entry], ...]:
    """What others told since this person's latest note, the last message alone."""
    since = own[-1].number if own else 0
    others = [one for one in recent if one.number > since and one.told_by != scene.speaker]
    others = [one for one in others if one.entry.act is not Act.NOTE]
    last = [one for one in others if one.message == others[-1].message] if others else []
    return _fits(scene, last, told)
