"""Counts that are put right lot by lot: "oops 4 in 14", "should be 3 in 14 and 2 in 15", "no 3 each".

Rules
1. The words open as a correction does; each part is one count in one lot or tray, with what was counted or without.
2. "No 3 each" is of all lots of the note just told, where they had one count.
3. A count that stands behind its lot is so only in a list of several.
"""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache

from core.answers import Answer, Refused
from core.conversation.claims import Claim, kind_of, without_openers
from core.conversation.correcting import amend_record
from core.conversation.correction_words import bare, said
from core.conversation.heard import either
from core.conversation.left_out import one_undo
from core.conversation.scene import Scene
from core.storage import Books

_PARTS = re.compile(r",|;|\n|\band\b|&")
_MOST_PARTS = 6


@cache
def _each() -> re.Pattern[str]:
    return re.compile(rf"(?P<count>\d{{1,5}}) (?:{either('corrections', 'lots_restated', 'each')})")


@cache
def _ways() -> tuple[re.Pattern[str], re.Pattern[str]]:
    """ "3 dead in lot 14", and "lot 14 lost 3"."""
    where, after = (either("corrections", "lots_restated", key) for key in ("where", "after"))
    lot, count = r"(?P<noun>lot |tray )?(?P<lot>\d{1,4}|\d{2}-\d{1,4})", r"(?P<count>\d{1,5})"
    return (
        re.compile(rf"{count}(?: (?P<kind>[a-z ]+?))? (?:{where}) {lot}(?: (?:{after}))*"),
        re.compile(rf"{lot}(?: (?P<kind>[a-z ]+?))? {count}(?: (?:{after}))*"),
    )


def hear_each(books: Books, scene: Scene) -> tuple[Answer, ...]:
    """The answer to "no 3 each": the right number of each of the lots just counted; none for other words."""
    found = _each().fullmatch(_without_openers(bare(scene.message.text)))
    told = [one for one in scene.replied_records or scene.latest if one.holds()]
    opened = _without_openers(bare(scene.message.text)) != bare(scene.message.text)
    counted = {one.entry: one for one in told if one.entry.count is not None}
    same = {(one.act, one.state, one.count) for one in counted}
    if found is None or not opened or len(same) != 1 or len({one.lot for one in told}) < 2:
        return ()
    count = int(found["count"])
    if any(one.count == count for one in counted):
        return (Refused(why="nothing_changed"),)
    right = [(one.number, replace(entry, count=count)) for entry, one in counted.items()]
    return one_undo([amend_record(books, scene, number, after) for number, after in right])


def claims_in_lots(scene: Scene, text: str) -> tuple[Claim, ...]:
    """The claims that a text is from end to end, each a count of a lot; none for other words."""
    parts = [bare(part) for part in _PARTS.split(text.lower()) if bare(part)]
    if not parts or len(parts) > _MOST_PARTS or "?" in text:
        return ()
    told = [_without_openers(part) for part in parts]
    opened = any(len(one) < len(part) for one, part in zip(told, parts, strict=True))
    told = [one for one in told if one]
    found = [_claim(scene, one, listed=len(told) > 1) for one in told]
    return tuple(one for one in found if one is not None) if opened and all(found) else ()


def _without_openers(part: str) -> str:
    more = said("lots_restated", "opens")
    if part in (*more, *said("restated", "opens"), *said("opens")):
        return ""
    return " ".join(without_openers(part.split(), more))


def _claim(scene: Scene, words: str, *, listed: bool) -> Claim | None:
    in_lot, of_lot = _ways()
    found = in_lot.fullmatch(words) or (of_lot.fullmatch(words) if listed else None)
    if found is None:
        return None
    named = (found["kind"] or "").strip()
    kind = kind_of(named, scene.local_now) if named else None
    if named and kind is None and named not in said("restated", "verbs"):
        return None
    lot = (found["lot"],)
    trays, lots = (lot, ()) if found["noun"] == "tray " else ((), lot)
    return Claim(count=int(found["count"]), kind=kind, lots=lots, trays=trays, sure=True)
