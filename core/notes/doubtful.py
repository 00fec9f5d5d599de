"""Which of its readings does a note have, where one word may mean several acts: settled by the rest of it, or asked?

Rules
1. The rest settles it where only one reading leaves nothing over, says nothing twice (`17 roted, 5 rotted`), and pots
   no plants that it has just lost (`12 roted, potted those 12`).
2. Where it is asked, only the statement of the word is in doubt; what else the note tells stands.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import pairwise
from typing import Any, Final

from core.entries import Act, Entry
from core.notes.words.values import Ask, Reading
from core.vocabulary.loading import read_toml

_OUT_OF: Final = re.compile(r"(?:out )?of (?:the |those )?\d+$")
_TOLD_ONCE: Final = (Act.CHECK, Act.LOSE)


def settled(readings: Sequence[Reading]) -> int | None:
    """Which of several readings is the only one that makes sense; None where that is not clear."""
    whole = [place for place, one in enumerate(readings) if _is_whole(one)]
    likely = [place for place in whole if not _says_twice(readings[place]) and not _pots_the_lost(readings[place])]
    if len(readings) < 2 or len(likely) != 1:
        return None
    fewest = min(len(one.entries) for one in readings)
    return likely[0] if len(readings[likely[0]].entries) == fewest else None


def unclear_among(readings: Sequence[Reading]) -> int | None:
    """The place of the one entry that several readings differ in, among others that are the same in all; None where
    there is no such.
    """
    if len({len(one.entries) for one in readings}) != 1 or len(readings[0].entries) < 2:
        return None
    differ = [place for place, same in enumerate(zip(*(one.entries for one in readings), strict=True)) if _differ(same)]
    if len(differ) != 1:
        return None
    others = [[ask for ask in one.asks if ask.entry != differ[0]] for one in readings]
    return differ[0] if all(asks == others[0] for asks in others) else None


def asked_among(readings: Sequence[Reading], place: int, text: str) -> Reading:
    """What all readings tell, with the entry at a place as a note of its words, of which is asked what was done."""
    each = [one.entries[place] for one in readings]
    named = {name: named for name in ("lots", "trays", "plant", "on", "by") if (named := _same(each, name))}
    entries = list(readings[0].entries)
    entries[place] = Entry(act=Act.NOTE, text=text, **named)
    asks = [ask for ask in readings[0].asks if ask.entry != place]
    asks.append(Ask(kind="act", entry=place, choices=_choices(each)))
    return Reading(entries=tuple(entries), asks=tuple(asks))


def asked_first(readings: Sequence[Reading]) -> Ask:
    """The question of a note as a whole: which of the first entries of its readings it tells."""
    return Ask(kind="act", entry=0, choices=_choices([one.entries[0] for one in readings if one.entries]))


def _choices(entries: Sequence[Entry]) -> tuple[Entry, ...]:
    """The entries to choose from: none that tell no deed."""
    return tuple(entry for entry in entries if entry.act is not Act.NOTE)


def _differ(same: Sequence[Entry]) -> bool:
    return any(one != same[0] for one in same)


def _same(entries: Sequence[Entry], name: str) -> Any:
    """What all entries hold under a name; None where they differ."""
    held = [getattr(entry, name) for entry in entries]
    return held[0] if all(one == held[0] for one in held) else None


def _is_whole(reading: Reading) -> bool:
    """Whether a reading asks nothing but a plant, which may just be left out, and leaves nothing over but out of how
    many, which a loss may be told of too. What is told of all but some only a loss can hold, so it settles nothing.
    """
    if any(entry.left is not None for entry in reading.entries):
        return False
    if any(ask.kind != "plant" for ask in reading.asks):
        return False
    return all(_says_nothing(entry.rest or "") for entry in reading.entries)


def _says_nothing(rest: str) -> bool:
    remark = next((said for said in read_toml("asides.toml")["remarks"] if rest.endswith(said)), "")
    left = rest.removesuffix(remark).strip()
    return not left or _OUT_OF.match(left) is not None


def _says_twice(reading: Reading) -> bool:
    """Whether of the same lots or trays the same is counted twice, each time another number."""
    told = [
        (entry.act, entry.state, entry.cause, entry.lots, entry.trays, entry.plant)
        for entry in reading.entries
        if entry.act in _TOLD_ONCE and entry.count is not None
    ]
    return len(set(told)) < len(told)


def _pots_the_lost(reading: Reading) -> bool:
    """Whether as many are potted of the same as have just been lost."""
    told = pairwise(reading.entries)
    then = ((lost, potted) for lost, potted in told if lost.act is Act.LOSE and potted.act is Act.POT)
    return any(_counted(lost) == _counted(potted) for lost, potted in then)


def _counted(entry: Entry) -> tuple[Any, ...]:
    return entry.lots, entry.trays, entry.plant, entry.count
