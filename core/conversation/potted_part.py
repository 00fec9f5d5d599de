"""Which plants are meant once a part of a lot stands in pots: "moved them to the lath", "lost 2 of them", "the pots".

Rules
1. "Them", right after some of a lot were potted, are those; what is said of the lot without such a word is of the lot.
   In one note "potted 30 of lot 3 and moved to the lath" is of those too, and "the rest" is of the others.
2. "Half of those died" is of those just potted; where something else was told since then, it is asked how many.
3. Where all that is left is potted, there is nothing to tell apart.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from core.conversation.scene import TALK_LASTS, Scene
from core.entries import Act, Entry
from core.lots import Lot, moves_part
from core.lots.phrases import lost_of, phrases, says
from core.notes import Ask, Reading
from core.storage import Books
from core.vocabulary.loading import small_words

_OF_THE_POTTED = "of the potted ones"
_PART_ENDS = re.compile(r"[,;.:]| and | then | & ")
_BEFORE_PLACES = small_words("places", "articles") | small_words("place_leads", "move")


def of_the_potted(books: Books, scene: Scene, before: Reading, reading: Reading) -> tuple[Reading, tuple[str, ...]]:
    """The reading with "them" as the plants just potted, and a few words for the receipt where that was so.

    `before` is the reading as the words alone gave it.
    """
    entries, took, asks = list(reading.entries), list[str](), list(reading.asks)
    for place, one in enumerate(entries):
        if one.act not in (Act.MOVE, Act.LOSE):
            continue
        lot = _only_lot(books, scene, one)
        here = _potted_before(entries[:place], one)
        potted = (lot.potted if lot is not None else 0) + here
        if lot is None or not lot.left or not 0 < potted < lot.left:
            continue
        named_here = place < len(before.entries) and bool(before.entries[place].lots)
        if here:
            told = here if _is_of_them(scene.message.text, one) else None
        else:
            told = None if named_here else _just_potted(books, scene, lot)
        if one.act is Act.MOVE and one.count is None and not one.all_of and lost_of(one.rest) == "potted":
            entries[place] = replace(one, count=potted)
            took.append(f"the {potted} in pots")
        elif told is not None and one.act is Act.MOVE and one.count is None and not one.all_of and not moves_part(one):
            entries[place] = replace(one, count=told)
            took.append(f"the {told} potted")
        elif here and one.act is Act.MOVE and one.count is None and (one.rest or "").lower() in phrases().moved_rest:
            entries[place] = replace(one, count=lot.left - potted)
            took.append(f"the {lot.left - potted} not potted")
        elif told is None and not named_here and _is_share_of_some(books, scene, one, lot):
            entries[place] = replace(one, share=None)
            asks.append(Ask(kind="count", entry=place))
        elif told is not None and one.act is Act.LOSE and lost_of(one.rest) is None:
            entries[place] = replace(_counted(one, told), rest=_of_the_potted(one))
    return replace(reading, entries=tuple(entries), asks=tuple(asks)), tuple(took)


def _of_the_potted(one: Entry) -> str:
    return " ".join(filter(None, (one.rest, _OF_THE_POTTED)))


def _counted(one: Entry, told: int) -> Entry:
    """The loss of a share of so many plants, as a count: half of the 18 just potted are 9."""
    if one.share is None or one.count is not None:
        return one
    count = round(one.share * told)
    return replace(one, share=None, count=count, approx=one.approx or count != one.share * told)


def _only_lot(books: Books, scene: Scene, one: Entry) -> Lot | None:
    number = books.resolve(one.lots[0], scene.year()) if len(one.lots) == 1 else None
    return books.lot(number) if number is not None else None


def _potted_before(entries: Sequence[Entry], one: Entry) -> int:
    """How many of the lot of an entry the same note has potted before it; none where nobody counted them."""
    counts = [told.count for told in entries if told.act is Act.POT and told.lots == one.lots]
    return 0 if None in counts else sum(count for count in counts if count is not None)


def _is_of_them(text: str, one: Entry) -> bool:
    """Whether the part of a note that tells a move or a loss is of "them", or names nothing ("and moved to the
    lath")."""
    low = " ".join(text.lower().split())
    at = low.rfind(one.to or "\0") if one.act is Act.MOVE else low.rfind(f" {one.count} ")
    if at < 0:
        return False
    before = _PART_ENDS.split(low[:at])[-1]
    after = _PART_ENDS.split(low[at:])[0] if one.act is Act.LOSE else ""
    if says(before + after, phrases().them):
        return True
    return one.act is Act.MOVE and len([word for word in before.split() if word not in _BEFORE_PLACES]) == 1


def _is_share_of_some(books: Books, scene: Scene, one: Entry, lot: Lot) -> bool:
    """Whether a share of "them" was lost in a talk in which some of the lot were potted."""
    if one.act is not Act.LOSE or one.share is None or not says(scene.message.text, phrases().them):
        return False
    told = books.told_by(scene.speaker, scene.chat, since=scene.message.said_at - TALK_LASTS)
    return any(record.holds() and record.entry.act is Act.POT and record.lot == lot.number for record in told)


def _just_potted(books: Books, scene: Scene, lot: Lot) -> int | None:
    """How many of this lot were potted last, where the words are of "them" and the talk is still of those plants."""
    if not says(scene.message.text, phrases().them):
        return None
    since = scene.message.said_at - TALK_LASTS
    told = scene.replied_records or books.told_by(scene.speaker, scene.chat, since=since)
    for one in reversed([one for one in told if one.holds()]):
        entry = one.entry
        if entry.act is Act.POT and one.lot == lot.number:
            return entry.count if entry.count and entry.count <= lot.potted + lot.lost else None
        of_them = (entry.act is Act.MOVE and entry.count is not None) or lost_of(entry.rest) == "potted"
        if one.lot != lot.number or not of_them:
            return None
    return None
