"""How many "the rest" are, or "the rooted ones", by what the books hold and the note has told so far.

Rules
1. "The rooted ones" are as many as the books have, of several lots as many of each; "the rest" may mean several
   numbers, and is asked with them. A lot of which a look found none is left out; alone, it is asked which is meant.
2. "Them all", right after so many were counted with roots, are those; "the whole lot" is not.
3. That the rest is green is no count of the lot; that the rest is not rooted says out of how many were.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache

from core.answers import Choice
from core.conversation.heard import either, heard
from core.conversation.recording import Pending
from core.conversation.scene import Scene
from core.entries import Act, Entry
from core.lots import Lot
from core.lots.phrases import lost_of, says
from core.storage import Books

_WORDS = "the_rest"
_MOST_OFFERED = 4
_GOING = frozenset({Act.SELL, Act.GIVE, Act.PLANT_OUT})
_OF_THE_COUNTED = frozenset({Act.POT, *_GOING})
_OF_A_KIND = frozenset({Act.POT, Act.LOSE, Act.SPLIT, *_GOING})


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """What a lot holds in the middle of a note: how many are left, of these with roots, of these in pots."""

    left: int
    rooted: int
    potted: int
    looked: bool = False
    """Whether its roots were counted just before."""

    def after(self, entry: Entry) -> Held:
        """What it holds once this entry is recorded too."""
        count = entry.count or 0
        match entry.act:
            case Act.CHECK if entry.state == "rooted" and not entry.sample and entry.count is not None:
                return replace(self, rooted=self.rooted + count if entry.more else count, looked=True)
            case Act.CHECK if entry.state == "rooted" and not entry.sample and entry.share is not None:
                return replace(self, rooted=round(entry.share * self.left), looked=True)
            case Act.POT:
                return replace(self, potted=self.potted + count, rooted=max(self.rooted, self.potted + count))
            case Act.LOSE:
                return replace(self, left=self.left - count)
            case act if act in _GOING or act is Act.SPLIT:
                return replace(self, left=self.left - count, potted=max(self.potted - count, 0))
            case _:
                return self


@cache
def _patterns() -> tuple[re.Pattern[str], re.Pattern[str]]:
    """ "The rest" and nothing more; "the rest not"."""
    rest, beside, no = (either(_WORDS, "rest", key) for key in ("says", "beside", "not"))
    alone = rf"(?:(?:{beside})\s+)*(?:{rest})(?:\s+(?:{beside}))*"
    return re.compile(alone), re.compile(rf"(?:{rest})\s+(?:(?:{beside})\s+)?(?:{no})(?:\s+rooted)?")


def with_the_rest(
    books: Books, scene: Scene, placed: Sequence[Entry | Pending]
) -> list[Entry | Pending]:
    """The parts of a note with the number that "the rest" or "the rooted ones" come to, as a question or filled in."""
    told: list[Entry | Pending] = []
    held: dict[str, Held] = {}
    for part in (one for several in placed for one in _of_lots_with_some(books, scene, _each_of_kind(several))):
        entry = part.entries[0] if isinstance(part, Pending) and len(part.entries) == 1 else part
        lot = _only_lot(books, scene, entry) if isinstance(entry, Entry) else None
        if lot is None or lot.left is None or not isinstance(entry, Entry):
            told.append(part)
            continue
        now = held.get(lot.number) or _held_now(scene, lot, lot.left)
        known = _which_has_some(books, scene, _counted(scene, part, entry, lot, now))
        told.append(known)
        held[lot.number] = now.after(known) if isinstance(known, Entry) else now
    return told


def _held_now(scene: Scene, lot: Lot, left: int) -> Held:
    """What a lot holds before this note; its roots were just counted where the note before did nothing else there."""
    counts = [one.entry for one in scene.latest if one.lot == lot.number]
    looked = bool(counts) and all(one.act is Act.CHECK and one.state == "rooted" for one in counts)
    return Held(left=left, rooted=lot.rooted or 0, potted=lot.potted, looked=looked)


def _each_of_kind(part: Entry | Pending) -> list[Entry | Pending]:
    """A part of a note that is of all plants of a kind in several lots, as a part for each lot."""
    entry = part.entries[0] if isinstance(part, Pending) and len(part.entries) == 1 else part
    if not isinstance(entry, Entry) or len(entry.lots) < 2 or lost_of(entry.rest) is None:
        return [part]
    each = [replace(entry, lots=(lot,)) for lot in entry.lots]
    if isinstance(part, Entry):
        return list(each) if _takes_all_of_kind(entry) else [part]
    counts = part.kind == "count" and entry.act in _OF_A_KIND - {Act.SPLIT}
    return [replace(part, entries=(one,)) for one in each] if counts else [part]


def _of_lots_with_some(books: Books, scene: Scene, parts: list[Entry | Pending]) -> list[Entry | Pending]:
    """The parts of a note without the lots of which a look found none of the kind, where others have some."""
    return [one for one in parts if not _has_none(books, scene, one)] or parts if len(parts) > 1 else parts


def _has_none(books: Books, scene: Scene, part: Entry | Pending) -> bool:
    entry = part if isinstance(part, Entry) else part.entries[0]
    lot = _only_lot(books, scene, entry)
    if lot is None or lot.left is None or lot.rooted is None or lost_of(entry.rest) not in ("rooted", "potted"):
        return False
    return not _of_kind(lost_of(entry.rest), _held_now(scene, lot, lot.left))


def _which_has_some(books: Books, scene: Scene, part: Entry | Pending) -> Entry | Pending:
    """The question which lot is meant, in place of how many, where the lot is of the talk and has none of the kind."""
    if not isinstance(part, Pending) or part.kind != "count" or re.search(r"\d", scene.message.text):
        return part
    entry = part.entries[0]
    plant = next((lot.plant for one in entry.lots if (lot := books.lot(one)) is not None), None)
    if not _has_none(books, scene, part) or (plant and plant in scene.message.text.lower()):
        return part
    kind = lost_of(entry.rest)
    some = {one.number: _of_kind(kind, _held_now(scene, one, one.left)) for one in books.lots() if one.left}
    fills = {number: {"lots": [number], "count": count} for number, count in some.items() if count}
    choices = tuple(Choice(label=f"lot {number}", action={"fill": fill}) for number, fill in fills.items())
    asked = replace(part, kind="lot", entries=(replace(entry, lots=()),), choices=choices, more=("count",))
    return asked if 0 < len(choices) <= _MOST_OFFERED else part


def _takes_all_of_kind(entry: Entry) -> bool:
    """Whether an entry that asks nothing may be of all plants of a kind ("moved the rooted ones")."""
    if entry.act is Act.MOVE:
        return entry.count is None and re.match(rf"(?:{either(_WORDS, 'those')})\b", entry.rest or "") is not None
    return entry.all_of and entry.act in _OF_A_KIND


def _counted(scene: Scene, part: Entry | Pending, entry: Entry, lot: Lot, now: Held) -> Entry | Pending:
    alone, not_so = _patterns()
    rest = (entry.rest or "").lower()
    if isinstance(part, Entry):
        if entry.act is Act.CHECK and entry.state == "rooted" and entry.of is None and not_so.fullmatch(rest):
            whole = entry.count is not None and not now.potted and entry.count <= now.left
            return replace(entry, of=now.left, rest=None) if whole else entry
        if _takes_all_of_kind(entry) and (count := _of_kind(lost_of(rest), now)):
            return replace(entry, all_of=False, count=count)
        if entry.all_of and now.looked and entry.act in _OF_THE_COUNTED and not _is_whole_lot(scene, entry):
            in_trays = now.rooted - now.potted
            return replace(entry, all_of=False, count=in_trays) if 0 < in_trays < now.left else entry
        return entry
    if part.kind != "count":
        return part
    if alone.fullmatch(rest):
        if entry.act is Act.CHECK and entry.state == "alive":
            return Entry(act=Act.NOTE, lots=entry.lots, trays=entry.trays, text=_words_of_the_rest(scene))
        return _asked(part, replace(entry, rest=None), lot, now)
    count = _of_kind(lost_of(rest), now) if entry.act in _OF_A_KIND else 0
    return replace(entry, count=count) if count else part


def _is_whole_lot(scene: Scene, entry: Entry) -> bool:
    """Whether "all" is said of the lot, and not of the plants just counted ("potted all of lot 5", "the whole lot")."""
    words = scene.message.text.lower()
    if says(words, heard(_WORDS, "whole_lot")):
        return True
    told = any(re.search(rf"\ball (?:of )?(?:lot )?#?{re.escape(lot)}\b", words) for lot in entry.lots)
    return told or bool(re.search(r"\ball of (?:lot|tray)\b", words))


def _of_kind(kind: str | None, now: Held) -> int:
    """How many there are of the rooted, the unrooted or the potted ones; 0 where the words name none of them."""
    counts = {"rooted": now.rooted - now.potted, "unrooted": now.left - now.rooted, "potted": now.potted}
    return max(counts.get(kind or "", 0), 0) if now.rooted else 0


def _asked(part: Pending, entry: Entry, lot: Lot, now: Held) -> Pending:
    """The question how many, with what the rest may come to: one number as yes or no, two as two buttons."""
    meant = _meant(entry, now)
    if len(meant) == 1:
        count = next(iter(meant))
        choices = (
            Choice(label="yes", action={"fill": {"count": count}}),
            Choice(label="no", action={"ask": "count"}),
        )
        return replace(part, entries=(entry,), choices=choices, facts={"rest": count, "lot": lot.number})
    return replace(
        part,
        entries=(entry,),
        choices=tuple(Choice(label=label, action={"fill": {"count": count}}) for count, label in meant.items()),
    )


def _meant(entry: Entry, now: Held) -> dict[int, str]:
    """The numbers that the rest may come to for this act, each with its label."""
    unpotted, unrooted, in_trays = now.left - now.potted, now.left - now.rooted, now.rooted - now.potted
    found: list[tuple[int, str]]
    match entry.act:
        case Act.CHECK:
            found = [(unrooted, "")]
        case Act.LOSE if now.rooted:
            found = [(unrooted, f"{unrooted} unrooted")]
            found += [(unpotted, f"all {unpotted} not potted")] if now.potted else []
        case Act.POT:
            found = [(in_trays, f"{in_trays} rooted")] if now.rooted else []
            found += [(unpotted, f"all {unpotted}")]
        case act if act in _GOING and now.potted:
            found = [(now.potted, f"{now.potted} potted"), (now.left, f"all {now.left}")]
        case _:
            found = [(now.left, f"all {now.left}")]
    return {count: label[:1].upper() + label[1:] for count, label in found if count > 0}


def _words_of_the_rest(scene: Scene) -> str:
    """The part of the message that tells of the rest, as it was typed."""
    parts = re.split(r"[,;\n]|\.(?!\d)", scene.message.text)
    said = [part.strip() for part in parts if any(phrase in part.lower() for phrase in heard(_WORDS, "rest"))]
    return said[0] if said else scene.message.text


def _only_lot(books: Books, scene: Scene, entry: Entry) -> Lot | None:
    number = books.resolve(entry.lots[0], scene.year()) if len(entry.lots) == 1 else None
    return books.lot(number) if number is not None else None
