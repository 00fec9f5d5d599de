"""When a correction says that another deed was done: "make that sold", "make that 4 given to kit", "no, they died".

Rules
1. What leaves, dies, is potted or counted may be put in place of one another; so may two ways of tending; and what was
   told as lost may only have wilted. Nothing else.
2. A deed with a count of its own after a mere "no" may be a note of its own: that is asked.
3. The count, lot, day and person of the record stand unless the correction says others.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from core.conversation.correction_words import bare, said
from core.conversation.scene import Scene
from core.entries import Act, Entry
from core.errors import BadEntry
from core.notes import read
from core.records import Record

_COUNTED = frozenset({Act.LOSE, Act.POT, Act.SELL, Act.GIVE, Act.PLANT_OUT, Act.RESERVE, Act.CHECK})
_TENDED = frozenset({Act.WATER, Act.TEND})
_GOING = frozenset({Act.SELL, Act.GIVE, Act.PLANT_OUT, Act.RESERVE})
_KEPT = ("lots", "trays", "plant", "on", "by", "count", "count_max", "approx", "all_of")


def other_deed(scene: Scene, text: str, latest: Sequence[Record]) -> Entry | None:
    """The correction (act amend, `did` the deed) that the words come to after the latest records, or None."""
    opener = next((one for one in said("opens") if bare(text).startswith(f"{one} ")), None)
    if opener is None or not latest:
        return None
    words = bare(text).removeprefix(opener).strip()
    words = re.split(rf"(?: |^)(?:{'|'.join(said('numbers', 'instead_of'))}) ", words)[0]
    told = read(words, scene.local_now, scene.names).entries if words else ()
    deed = told[0] if len(told) == 1 else None
    before = latest[0].entry
    if deed is None or deed.lots or deed.trays or deed.plant or deed.more or deed.rest:
        return None
    if deed.act is before.act and deed.count is not None and deed.act in _COUNTED and says_instead(text):
        return replace(deed, act=Act.AMEND)
    if not _may_be(before, deed):
        return None
    return replace(deed, act=Act.AMEND, did=deed.act.value)


def says_instead(text: str) -> bool:
    """Whether the words open as a correction and nothing else ("make that", not "no")."""
    return any(bare(text).startswith(f"{one} ") for one in said("opens", "of_a_place"))


def _may_be(before: Entry, deed: Entry) -> bool:
    if before.act is deed.act or (deed.act is Act.CHECK and deed.state is None):
        return False
    if (before.act, deed.act) == (Act.LOSE, Act.WILT):
        return True
    return any(before.act in group and deed.act in group for group in (_COUNTED, _TENDED))


def as_deed(target: Entry, told: Entry) -> Entry | None:
    """`target` as the other deed that a correction says it was, or None where it cannot be that."""
    deed = replace(told, act=Act(told.did or target.act), did=None, rest=None)
    if not _may_be(target, deed):
        return None
    given = {name: getattr(target, name) for name in _KEPT if getattr(deed, name) in (None, (), False)}
    if target.act in _GOING and deed.act in _GOING and deed.to is None:
        given["to"] = target.to
    if deed.count is not None:
        given = {name: value for name, value in given.items() if name not in ("count_max", "approx", "all_of")}
    try:
        return replace(deed, **given)
    except BadEntry:
        return None
